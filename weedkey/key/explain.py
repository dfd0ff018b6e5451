"""Why: the looks for and against each candidate, what the next look would settle, what would change the decision.

Every function returns ``Step`` values with ids and numbers; sentences are made by ``weedkey.report``.
Evidence is counted in bits: exponent x log2( P(look | weed) / mean P(look) over the priors ). Bits of all looks and
the prior add up to the belief, whatever the order.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import fsum, log2
from operator import mul

from weedkey.key.answers import find_seen
from weedkey.key.belief import Evidence, find_belief, find_likelihood, fit_look, sort_evidence
from weedkey.key.context import explain_prior
from weedkey.key.decide import STOP_RULE, Decision, StopRule, decide
from weedkey.key.score import (
    ASKING_SECONDS,
    LIVE_BELIEF,
    find_members,
    group_by_action,
    group_by_name,
    region_of,
    separate_pair,
)
from weedkey.key.table import Table
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Look
from weedkey.model.region import Region
from weedkey.model.trace import Step

#: Evidence smaller than this many bits neither speaks for nor against.
SILENT_BITS = 0.1
#: A look separates two weeds if their answers overlap less than this (Bhattacharyya coefficient 0.5).
SEPARATES = 0.5
#: Candidates shown under one answer of the next look.
SHOWN_WEEDS = 6


def explain_weed(table: Table, looks: Iterable[Look], weed: str, knowledge: Knowledge | None = None) -> Step:
    """For one weed: prior, belief, and every look as for, against or silent, strongest first.

    With ``knowledge`` the steps carry the sources of the facts. Raises UnknownName for a weed not in the table.
    """
    taxon = table.find_taxon(weed)
    evidence = sort_evidence(table, looks)
    belief = find_belief(table, evidence)
    children = [
        _explain_one(table, look, exponent, taxon, knowledge)
        for look, exponent in zip(evidence.looks, evidence.exponents, strict=True)
    ]
    children.sort(key=lambda step: (-abs(float(str(step.facts["bits"]))), str(step.facts["trait"])))
    prior = Step("key.prior", "given", {"weed": weed, "prior": table.prior[taxon]})
    if knowledge is not None and weed in knowledge.weeds:
        prior = explain_prior(knowledge.weeds[weed], table.context, table.prior[taxon])
    facts = {"weed": weed, "belief": belief[taxon], "prior": table.prior[taxon]}
    return Step("key.weed", weed, facts, children=(prior, *children))


def _explain_one(table: Table, look: Look, exponent: float, taxon: int, knowledge: Knowledge | None) -> Step:
    likelihood = find_likelihood(table, look)
    mean = fsum(map(mul, table.prior, likelihood))
    bits = exponent * log2(likelihood[taxon] / mean) if mean > 0 and likelihood[taxon] > 0 else 0.0
    outcome = "silent" if abs(bits) < SILENT_BITS else "for" if bits > 0 else "against"
    column = table.column(look.trait)
    facts: dict[str, object] = {
        "trait": look.trait,
        "states": look.states,
        "bits": bits,
        "chance": likelihood[taxon],
        "fit": fit_look(table, look, taxon),
        "known": column.known[taxon],
        "both": look.both,
        "unsure": look.unsure,
    }
    sources: tuple[str, ...] = ()
    weed = table.taxa[taxon]
    if knowledge is not None and weed in knowledge.weeds:
        seen = find_seen(knowledge.weeds[weed], table.traits[look.trait])
        facts["shows"] = tuple(row.state for row in seen)
        sources = tuple(dict.fromkeys(source for row in seen for source in row.sources))
    return Step("key.look", outcome, facts, sources)


def explain_look(table: Table, looks: Iterable[Look], trait: str, regions: Mapping[str, Region] | None = None) -> Step:
    """What the look would settle: for each answer its chance, the weeds that would lead, and the regions left.

    Raises UnknownName for a trait that the table does not have.
    """
    from weedkey.errors import UnknownName

    if trait not in table.traits:
        raise UnknownName("trait", trait)
    evidence = sort_evidence(table, looks)
    belief = find_belief(table, evidence)
    column = table.column(trait)
    children = []
    for place, answer in enumerate(column.answers):
        joint = [weight * row[place] for weight, row in zip(belief, column.rows, strict=True)]
        chance = fsum(joint)
        if chance > LIVE_BELIEF:
            children.append(_explain_answer(table, answer, joint, chance, regions))
    children.sort(key=lambda step: (-float(str(step.facts["chance"])), str(step.facts["state"])))
    facts = {"trait": trait, "cost_seconds": column.trait.cost_seconds + ASKING_SECONDS}
    return Step("key.next_look", "settles", facts, column.trait.sources, tuple(children))


def _explain_answer(
    table: Table, answer: str, joint: Sequence[float], chance: float, regions: Mapping[str, Region] | None
) -> Step:
    after = [weight / chance for weight in joint]
    listed = [taxon for taxon in range(len(after)) if taxon != table.reserved]
    top = sorted(listed, key=lambda taxon: (-after[taxon], table.taxa[taxon]))[:SHOWN_WEEDS]
    facts: dict[str, object] = {
        "state": answer or "cannot_tell",
        "chance": chance,
        "weeds": tuple((table.taxa[taxon], after[taxon]) for taxon in top if after[taxon] > 0.01),
    }
    if regions is not None:
        decision, safe = decide(after, find_members(table, regions))
        facts.update(kind=decision.kind, probability=decision.probability, settles=safe, actions=decision.actions)
    return Step("key.answer", answer or "cannot_tell", facts)


@dataclass(frozen=True, slots=True)
class Rival:
    """Another weed that is still possible, and the look that separates it best per second (None if there is none).

    ``same_treatment``: both accept the action of the decision, so it does not matter here.
    """

    weed: str
    belief: float
    trait: str | None
    separation: float
    states: tuple[str, ...]
    rival_states: tuple[str, ...]
    same_treatment: bool


def find_rivals(
    table: Table, looks: Iterable[Look], regions: Mapping[str, Region] | None = None, most: int = 5
) -> tuple[Rival, ...]:
    """The nearest rivals of the likeliest weed, each with the one look that tells the two apart."""
    evidence = sort_evidence(table, looks)
    belief = find_belief(table, evidence)
    listed = [taxon for taxon in range(len(belief)) if taxon != table.reserved]
    if not listed:
        return ()
    ranked = sorted(listed, key=lambda taxon: (-belief[taxon], table.taxa[taxon]))
    answered = {look.trait for look in evidence.looks}
    first = ranked[0]
    return tuple(
        _make_rival(table, belief, first, other, answered=answered, regions=regions) for other in ranked[1 : most + 1]
    )


def _make_rival(
    table: Table,
    belief: Sequence[float],
    first: int,
    other: int,
    *,
    answered: set[str],
    regions: Mapping[str, Region] | None,
) -> Rival:
    best = find_separating_look(table, first, other, answered)
    same = False
    if regions is not None:
        one, two = region_of(table, regions, first), region_of(table, regions, other)
        same = one == two or bool(one.actions & two.actions)
    if best is None:
        return Rival(table.taxa[other], belief[other], None, 0.0, (), (), same)
    trait, separation = best
    return Rival(
        table.taxa[other],
        belief[other],
        trait,
        separation,
        list_likely_states(table, trait, first),
        list_likely_states(table, trait, other),
        same,
    )


def find_separating_look(
    table: Table, first: int, second: int, answered: Iterable[str] = ()
) -> tuple[str, float] | None:
    """The look, not yet answered, with most separation per second between two weeds; None if nothing separates them."""
    skip = set(answered)
    best: tuple[str, float] | None = None
    best_rate = 0.0
    for trait_id, trait in table.traits.items():
        if trait_id in skip:
            continue
        column = table.column(trait_id)
        if not (column.known[first] and column.known[second]):
            continue
        separation = separate_pair(table, first, second, trait_id)
        rate = separation / (trait.cost_seconds + ASKING_SECONDS)
        if separation >= SILENT_BITS and rate > best_rate:
            best, best_rate = (trait_id, separation), rate
    return best


def list_likely_states(table: Table, trait: str, taxon: int) -> tuple[str, ...]:
    """The answers that one may expect of a weed: those with at least a third of the chance of the likeliest."""
    column = table.column(trait)
    row = column.rows[taxon]
    top = max(row[:-1])
    return tuple(answer for answer, chance in zip(column.answers[:-1], row[:-1], strict=True) if chance >= top / 3.0)


def ask_again(table: Table, looks: Iterable[Look], regions: Mapping[str, Region] | None = None) -> Step | None:
    """The answer to "are you sure": the look that most of the belief hangs on; None before any answer.

    It is the look without which the leading action (or name) loses most belief.
    """
    given = tuple(looks)
    evidence = sort_evidence(table, given)
    if not any(look.states for look in evidence.looks):
        return None
    now, lead = _lead(table, evidence, regions)
    best: tuple[float, Look, float] | None = None
    for look in evidence.looks:
        if look.states:
            rest = sort_evidence(table, [other for other in evidence.looks if other != look])
            without = _support(table, rest, regions, lead)
            if best is None or now - without > best[0]:
                best = (now - without, look, without)
    if best is None:
        return None
    drop, look, without = best
    facts = {"trait": look.trait, "states": look.states, "lead": lead, "with": now, "without": without, "drop": drop}
    return Step("key.ask_again", "hangs_on" if drop > 0 else "nothing_hangs_on_one", facts)


def _lead(table: Table, evidence: Evidence, regions: Mapping[str, Region] | None) -> tuple[float, str]:
    belief = find_belief(table, evidence)
    if regions is not None:
        decision, _ = decide(belief, find_members(table, regions))
        if decision.actions:
            return decision.probability, decision.actions[0]
    best = max(range(len(belief)), key=lambda taxon: belief[taxon])
    return belief[best], table.taxa[best]


def _support(table: Table, evidence: Evidence, regions: Mapping[str, Region] | None, lead: str) -> float:
    belief = find_belief(table, evidence)
    if lead in table.index:
        return belief[table.index[lead]]
    return fsum(weight for taxon, weight in enumerate(belief) if lead in region_of(table, regions or {}, taxon).actions)


def list_what_would_change(
    table: Table,
    looks: Iterable[Look],
    regions: Mapping[str, Region],
    rule: StopRule = STOP_RULE,
    most: int = 5,
) -> tuple[Step, ...]:
    """Single looks that, answered otherwise, would have led to another treatment; likeliest slip first.

    For each look every other state is tried in its place. ``chance``: how likely the other answer was for the
    weeds now believed in.
    """
    evidence = sort_evidence(table, looks)
    belief = find_belief(table, evidence)
    now, _ = decide(belief, find_members(table, regions), rule)
    found: list[Step] = []
    for look in evidence.looks:
        if look.states:
            found.extend(_try_other_states(table, evidence.looks, look, belief, regions=regions, now=now, rule=rule))
    found.sort(key=lambda step: (-float(str(step.facts["chance"])), str(step.facts["trait"]), str(step.facts["state"])))
    return tuple(found[:most])


def _try_other_states(
    table: Table,
    looks: Sequence[Look],
    look: Look,
    belief: Sequence[float],
    *,
    regions: Mapping[str, Region],
    now: Decision,
    rule: StopRule,
) -> Iterable[Step]:
    rest = [other for other in looks if other != look]
    column = table.column(look.trait)
    for place, state in enumerate(column.answers[:-1]):
        if state in look.states:
            continue
        other = find_belief(table, sort_evidence(table, [*rest, Look(look.trait, (state,))]))
        decision, safe = decide(other, find_members(table, regions), rule)
        if decision.kind == now.kind and set(decision.actions) & set(now.actions):
            continue
        chance = fsum(weight * row[place] for weight, row in zip(belief, column.rows, strict=True))
        facts = {
            "trait": look.trait,
            "given": look.states,
            "state": state,
            "chance": chance,
            "kind": decision.kind,
            "actions": decision.actions,
            "probability": decision.probability,
            "settles": safe,
        }
        yield Step("key.would_change", decision.kind, facts)


def list_split(table: Table, looks: Iterable[Look], regions: Mapping[str, Region] | None = None) -> Step:
    """The groups that are still open (by action, or by name) with their belief and weeds, most belief first."""
    belief = find_belief(table, sort_evidence(table, looks))
    if regions is None:
        grouping = group_by_name(table, belief)
    else:
        grouping = group_by_action(belief, find_members(table, regions))
    children = []
    for start, end in grouping.bounds:
        weeds = sorted(grouping.taxa[start:end], key=lambda taxon: (-belief[taxon], table.taxa[taxon]))
        facts = {
            "belief": fsum(belief[taxon] for taxon in weeds),
            "weeds": tuple((table.taxa[taxon], belief[taxon]) for taxon in weeds),
        }
        children.append(Step("key.group", table.taxa[weeds[0]] if weeds else "", facts))
    children.sort(key=lambda step: (-float(str(step.facts["belief"])), step.outcome))
    return Step(
        "key.groups", "open" if len(children) > 1 else "one", {"groups": len(children)}, children=tuple(children)
    )
