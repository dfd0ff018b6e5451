"""From looks to belief: likelihoods, damping of looks that repeat each other, fit, and what was wrong with a look.

The looks are put in one fixed order before anything is added up, so the order in which they were given cannot
change a digit, and taking one back is the same as never having given it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import exp, fsum, log, prod

from weedkey.key.answers import DOES_NOT_APPLY, PLANTS_SEEN
from weedkey.key.table import Table, take_logs
from weedkey.model.lawn import Look
from weedkey.model.trace import Step

#: Likeness of two looks in one set of traits that repeat each other (judgement, from memory).
#: m looks count as m / (1 + (m - 1) rho): the design effect of m observations of one cluster (Kish 1965, from memory).
LIKENESS = 0.5
#: The set of all looks that could not be answered.
CANNOT_TELL = "cannot tell"
#: Weight of what was seen when the user is unsure; the rest is spread evenly.
UNSURE_WEIGHT = 0.5
#: No weed shows a state if it fits every one of them worse than this ("rarely" fits 0.05 as well as "always").
SHOWN_BY_NONE = 0.04
#: More likely than not.
LIKELY = 0.5


@dataclass(frozen=True, slots=True)
class Ignored:
    """A look, or states of it, that could not be used. ``reason``: unknown_trait, unknown_state, answered_since."""

    look: Look
    reason: str
    states: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Evidence:
    """Looks made ready: usable ones in the fixed order with their exponents, and those that had to be set aside."""

    looks: tuple[Look, ...]
    exponents: tuple[float, ...]
    ignored: tuple[Ignored, ...]


def sort_evidence(table: Table, looks: Iterable[Look]) -> Evidence:
    """Sift and order the looks, and find the exponent of each.

    Unknown traits and states are set aside, never dropped. "Can't tell" gives way to a later or earlier real answer
    on the same trait. Answers on one trait count together as one look; looks of one correlated set are damped.
    """
    usable: list[Look] = []
    ignored: list[Ignored] = []
    for look in looks:
        kept = _sift(table, look, ignored)
        if kept is not None:
            usable.append(kept)
    told = {look.trait for look in usable if look.states}
    waiting = [look for look in usable if not look.states and look.trait in told]
    ignored.extend(Ignored(look, "answered_since") for look in waiting)
    chosen = sorted((look for look in usable if look.states or look.trait not in told), key=_order_look)
    return Evidence(tuple(chosen), tuple(_find_exponents(table, chosen)), tuple(sorted(ignored, key=_order_ignored)))


def _order_look(look: Look) -> tuple[str, tuple[str, ...], bool, bool]:
    return (look.trait, look.states, look.both, look.unsure)


def _order_ignored(entry: Ignored) -> tuple[str, str, tuple[str, ...]]:
    return (entry.look.trait, entry.reason, entry.look.states)


def _sift(table: Table, look: Look, ignored: list[Ignored]) -> Look | None:
    """The look with known states in fixed order, or None if nothing of it can be used."""
    if look.trait not in table.traits:
        ignored.append(Ignored(look, "unknown_trait", look.states))
        return None
    known = (*table.traits[look.trait].state_ids, DOES_NOT_APPLY)
    wanted = set(look.states)
    strange = tuple(state for state in look.states if state not in known)
    if strange:
        ignored.append(Ignored(look, "unknown_state", strange))
        if wanted.issubset(strange):
            return None
    return Look(look.trait, tuple(state for state in known if state in wanted), look.both, look.unsure)


def _find_exponents(table: Table, looks: Sequence[Look]) -> list[float]:
    """1 for a look of its own; 1/r for r answers on one trait; 1/(1 + (m - 1) rho) for m traits of one set."""
    answers: dict[str, int] = {}
    sets: dict[str, set[str]] = {}
    for look in looks:
        answers[look.trait] = answers.get(look.trait, 0) + 1
        sets.setdefault(_find_set(table, look), set()).add(look.trait)
    return [damp(len(sets[_find_set(table, look)])) / answers[look.trait] for look in looks]


def _find_set(table: Table, look: Look) -> str:
    """The set of looks that this one repeats. All "can't tell" form one: they mostly have one cause (no flower yet)."""
    if not look.states:
        return CANNOT_TELL
    return table.traits[look.trait].correlated or f"alone {look.trait}"


def damp(size: int) -> float:
    """Exponent of each of ``size`` looks that repeat each other."""
    return 1.0 / (1.0 + (size - 1) * LIKENESS)


def find_likelihood(table: Table, look: Look) -> list[float]:
    """P(look | weed) for every weed; see theory of the answer model in docs/key.md for each kind of answer."""
    return table.weigh(("likelihood", look), lambda: _make_likelihood(table, look))


def _make_likelihood(table: Table, look: Look) -> list[float]:
    column = table.column(look.trait)
    if not look.states:
        return [row[-1] for row in column.rows]
    places = [column.position[state] for state in look.states if state in column.position]
    if not places or (len(places) == len(column.answers) - 1 and not look.both):
        # Nobody lacks the part, or "one of all": nothing was said.
        return [1.0] * len(column.rows)
    spread = len(places) / (len(column.answers) - 1)
    chances: list[float] = []
    for row in column.kinds:
        told = 1.0 - row[-1]
        chance = _chance_of(row, places, told, both=look.both)
        if look.unsure:
            chance = UNSURE_WEIGHT * chance + (1.0 - UNSURE_WEIGHT) * spread
        chances.append(chance * told)
    return [chances[kind] for kind in column.which]


def _chance_of(row: Sequence[float], places: Sequence[int], told: float, *, both: bool) -> float:
    """Chance of the states given that the user can tell: a sum for "one of these", a product for "I see both"."""
    if told <= 0:
        return 1.0
    if both and len(places) > 1:
        return prod(1.0 - (1.0 - row[place] / told) ** PLANTS_SEEN for place in places)
    return min(1.0, sum(row[place] for place in places) / told)


def find_log_weights(table: Table, evidence: Evidence) -> list[float]:
    """Log of prior x damped likelihoods, not yet normalised."""
    totals = table.weigh("log prior", lambda: take_logs(table.prior))
    for look, exponent in zip(evidence.looks, evidence.exponents, strict=True):
        logs = table.weigh(("log", look), lambda look=look: take_logs(find_likelihood(table, look)))  # type: ignore[misc]
        if exponent == 1.0:
            totals = [total + value for total, value in zip(totals, logs, strict=True)]
        else:
            totals = [total + exponent * value for total, value in zip(totals, logs, strict=True)]
    return totals


def find_belief(table: Table, evidence: Evidence) -> list[float]:
    """Posterior over the taxa of the table, summing to 1 (Bayes with damped likelihoods)."""
    totals = find_log_weights(table, evidence)
    if not totals:
        return []
    top = max(totals)
    weights = [exp(total - top) for total in totals]
    whole = fsum(weights)
    return [weight / whole for weight in weights]


def find_fit(table: Table, evidence: Evidence, taxon: int) -> float:
    """R of the fit: product of P(look | weed) / best P(look | weed) over all answers, damped like the belief, 0 to 1.

    After the R score of Wayne et al. 1984, J Clin Microbiol 20:722. "Can't tell" takes no part.
    """
    total = 0.0
    for look, exponent in zip(evidence.looks, evidence.exponents, strict=True):
        total += exponent * log(max(fit_look(table, look, taxon), 1e-300))
    return exp(total)


def fit_look(table: Table, look: Look, taxon: int) -> float:
    """How well one look fits one weed: its chance over that of the weed's own likeliest answer, at most 1."""
    column = table.column(look.trait)
    places = [column.position[state] for state in look.states if state in column.position]
    if not places:
        return 1.0
    row = column.rows[taxon]
    told = 1.0 - row[-1]
    best = sorted(range(len(row) - 1), key=lambda place: -row[place])[: len(places) if look.both else 1]
    chance = _chance_of(row, places, told, both=look.both)
    top = _chance_of(row, best, told, both=look.both)
    if look.unsure:
        spread = 1.0 / (len(row) - 1)
        chance, top = (UNSURE_WEIGHT * value + (1.0 - UNSURE_WEIGHT) * spread for value in (chance, top))
    return min(1.0, chance / top) if top > 0 else 1.0


def find_contradictions(table: Table, evidence: Evidence, belief: Sequence[float]) -> tuple[Step, ...]:
    """Looks that cannot all be right, each named: two answers on one trait, a state that no weed shows, a part that
    the plants still possible do not have. All of them stay in the count.
    """
    found: list[Step] = []
    by_trait: dict[str, list[Look]] = {}
    for look in evidence.looks:
        by_trait.setdefault(look.trait, []).append(look)
    for trait, looks in by_trait.items():
        told = [set(look.states) for look in looks if look.states]
        if len(told) > 1 and not set.intersection(*told):
            states = tuple(look.states for look in looks)
            found.append(Step("key.contradiction", "two_answers", {"trait": trait, "states": states}))
    for look in evidence.looks:
        found.extend(_find_oddities(table, look, belief))
    return tuple(found)


def _find_oddities(table: Table, look: Look, belief: Sequence[float]) -> Iterable[Step]:
    if not look.states:
        return
    facts: Mapping[str, object] = {"trait": look.trait, "states": look.states}
    applies = table.applies(look.trait)
    if look.states != (DOES_NOT_APPLY,) and applies is not None:
        share = fsum(weight * value for weight, value in zip(belief, applies, strict=True))
        if share < LIKELY:
            groups = table.traits[look.trait].groups
            asked_if = table.traits[look.trait].asked_if
            yield Step("key.contradiction", "does_not_apply", {**facts, "groups": groups, "asked_if": asked_if})
    if table.weigh(("shown", look), lambda: [_find_best_fit(table, look)])[0] < SHOWN_BY_NONE:
        yield Step("key.contradiction", "no_weed_shows_it", facts)


def _find_best_fit(table: Table, look: Look) -> float:
    """The fit of the weed that the look fits best (0 if no weed can give this answer)."""
    column = table.column(look.trait)
    if not any(state in column.position for state in look.states):
        return 0.0
    taxa = {kind: taxon for taxon, kind in enumerate(column.which) if taxon != table.reserved}
    return max((fit_look(table, look, taxon) for taxon in taxa.values()), default=1.0)
