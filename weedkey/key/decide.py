"""The judgement after any number of looks: name, decision and fit as three figures, and whether to stop.

Stop when P(best action is acceptable) >= 1 - delta (0.05; 0.01 where the action cannot be taken back); else when no
look is worth taking (gain floor) or affordable (budget). A stop counts as settled only if the plant fits the list.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import fsum

from weedkey.key.belief import (
    Evidence,
    Ignored,
    find_belief,
    find_contradictions,
    find_fit,
    sort_evidence,
)
from weedkey.key.calibration import calibrate
from weedkey.key.score import (
    Grouping,
    LookGain,
    find_edges,
    find_members,
    group_by_action,
    group_by_name,
    rank_looks,
    separate_pair,
    weigh_actions,
)
from weedkey.key.table import Table
from weedkey.model.lawn import Look
from weedkey.model.region import Region
from weedkey.model.trace import Step

#: How many candidates are searched for the pair that a look separates best.
PAIRS_AMONG = 12


@dataclass(frozen=True, slots=True)
class StopRule:
    """When to stop. ``delta``: accepted chance that the action is wrong; ``delta_irreversible`` for spot kill and
    renovation; ``gain_floor``: share of the standing edge weight that a look must promise; ``fit_floor``: least R;
    ``outside``: most belief in "not in this list".
    """

    delta: float = 0.05
    delta_irreversible: float = 0.01
    gain_floor: float = 0.02
    fit_floor: float = 0.001
    outside: float = 0.5


STOP_RULE = StopRule()


@dataclass(frozen=True, slots=True)
class Decision:
    """What to do, without knowing the name for certain.

    ``kind``: the verdict with most belief among the weeds that accept the best action. ``actions``: all actions that
    are as safe as the rule asks (the best one alone if none is). ``probability``: P(best action acceptable);
    ``confidence``: the same after calibration. ``regions``: belief by region id, most first.
    """

    kind: str
    probability: float
    confidence: float
    actions: tuple[str, ...]
    regions: tuple[tuple[str, float], ...]
    irreversible: bool = False


@dataclass(frozen=True, slots=True)
class NextLook:
    """The look to take next, with its states in order (the last may be "does not apply") and what it would separate."""

    trait: str
    question: str
    states: tuple[str, ...]
    cost_seconds: float
    gain: float
    score: float
    why: Step


@dataclass(frozen=True, slots=True)
class Standing:
    """Where the naming stands.

    ``candidates``: (weed, belief), best first, together with ``not_in_list`` summing to 1. ``stop``: settled,
    gain_floor, budget, nothing_left, or None while there is a look to take. ``settled``: stopped by the stop rule
    and the plant fits. ``fit``: False for "fits nothing here"; ``fit_score`` is R. ``next_look`` is None once
    stopped; ``could_ask`` is the best look even then. ``left_pair``: the two weeds that a short list turns on.
    """

    candidates: tuple[tuple[str, float], ...]
    not_in_list: float
    name_confidence: float
    name_settled: bool
    settled: bool
    stop: str | None
    decision: Decision | None
    fit: bool
    fit_score: float
    next_look: NextLook | None
    could_ask: NextLook | None
    gains: tuple[LookGain, ...]
    looks: tuple[Look, ...]
    ignored: tuple[Ignored, ...]
    contradictions: tuple[Step, ...]
    left_pair: tuple[str, str] | None = None


def judge(
    table: Table,
    looks: Iterable[Look],
    regions: Mapping[str, Region] | None = None,
    budget_seconds: float | None = None,
    *,
    goal: str = "decision",
    rule: StopRule = STOP_RULE,
) -> Standing:
    """Belief, decision, fit and next look after ``looks``, in any order.

    ``regions``: weed id -> Region; without them, or with ``goal="name"``, the key asks for the name.
    ``budget_seconds``: field time left. Nothing in ``looks`` raises; what cannot be used is listed in ``ignored``.
    """
    given = tuple(looks)
    evidence = sort_evidence(table, given)
    belief = find_belief(table, evidence)
    ranked = _rank_taxa(table, belief)
    fit, fit_score = judge_fit(table, evidence, belief, rule)
    decision = None
    if regions is not None:
        members = find_members(table, regions)
        decision, safe = decide(belief, members, rule)
    name_settled = bool(ranked) and ranked[0][1] >= 1.0 - rule.delta and fit
    if regions is None or goal == "name":
        grouping = group_by_name(table, belief)
        safe = bool(ranked) and ranked[0][1] >= 1.0 - rule.delta
    else:
        grouping = group_by_action(belief, members)
    gains = rank_looks(table, grouping, evidence, budget_seconds)
    stop = _find_stop(table, gains, grouping, evidence, budget_seconds=budget_seconds, rule=rule, safe=safe)
    could_ask = describe_look(table, gains[0], belief, grouping) if gains and gains[0].gain > 0 else None
    return Standing(
        candidates=ranked,
        not_in_list=belief[table.reserved] if table.reserved is not None else 0.0,
        name_confidence=calibrate("name", ranked[0][1]) if ranked else 0.0,
        name_settled=name_settled,
        settled=stop == "settled" and fit,
        stop=stop,
        decision=decision,
        fit=fit,
        fit_score=fit_score,
        next_look=could_ask if stop is None else None,
        could_ask=could_ask,
        gains=gains,
        looks=given,
        ignored=evidence.ignored,
        contradictions=find_contradictions(table, evidence, belief),
        left_pair=find_left_pair(table, belief, grouping) if stop not in (None, "settled") else None,
    )


def _rank_taxa(table: Table, belief: Sequence[float]) -> tuple[tuple[str, float], ...]:
    pairs = [(taxon, weight) for taxon, weight in zip(table.taxa, belief, strict=True)]
    if table.reserved is not None:
        del pairs[table.reserved]
    pairs.sort(key=lambda pair: (-pair[1], pair[0]))
    return tuple(pairs)


def judge_fit(table: Table, evidence: Evidence, belief: Sequence[float], rule: StopRule) -> tuple[bool, float]:
    """Whether the plant fits the list, and R of the listed weed with most belief (1 while nothing was told)."""
    listed = [taxon for taxon in range(len(belief)) if taxon != table.reserved]
    if not listed:
        return False, 0.0
    best = max(listed, key=lambda taxon: belief[taxon])
    score = find_fit(table, evidence, best)
    outside = belief[table.reserved] if table.reserved is not None else 0.0
    return score >= rule.fit_floor and outside < rule.outside, score


def decide(
    belief: Sequence[float], members: Mapping[Region, Sequence[int]], rule: StopRule = STOP_RULE
) -> tuple[Decision, bool]:
    """The action that is acceptable for most of the belief, and whether that is as safe as the rule asks.

    An action counts as irreversible if every region that accepts it is. Among actions that are safe enough,
    reversible ones come first, then the more probable, then the alphabet.
    """
    weights = {region: fsum(belief[taxon] for taxon in taxa) for region, taxa in members.items()}
    actions = weigh_actions(weights)
    if not actions:
        return Decision("not_known", 0.0, 0.0, (), _sum_by_id(weights)), False
    final = {action: all(region.irreversible for region in weights if action in region.actions) for action in actions}
    safe = [
        action
        for action, chance in actions.items()
        if chance >= 1.0 - (rule.delta_irreversible if final[action] else rule.delta)
    ]
    best = min(safe or actions, key=lambda action: (bool(safe) and final[action], -actions[action], action))
    chosen = tuple(sorted(safe, key=lambda action: (final[action], -round(actions[action], 12), action))) or (best,)
    kinds: dict[str, float] = {}
    for region, weight in weights.items():
        if best in region.actions:
            kinds[region.kind] = kinds.get(region.kind, 0.0) + weight
    kind = min(kinds, key=lambda name: (-kinds[name], name))
    chance = min(1.0, actions[best])
    decision = Decision(kind, chance, calibrate("decision", chance), chosen, _sum_by_id(weights), final[best])
    return decision, bool(safe)


def _sum_by_id(weights: Mapping[Region, float]) -> tuple[tuple[str, float], ...]:
    sums: dict[str, float] = {}
    for region, weight in weights.items():
        sums[region.id] = sums.get(region.id, 0.0) + weight
    return tuple(sorted(sums.items(), key=lambda pair: (-pair[1], pair[0])))


def _find_stop(
    table: Table,
    gains: Sequence[LookGain],
    grouping: Grouping,
    evidence: Evidence,
    *,
    budget_seconds: float | None,
    rule: StopRule,
    safe: bool,
) -> str | None:
    if safe:
        return "settled"
    if not gains:
        answered = {look.trait for look in evidence.looks}
        return "budget" if budget_seconds is not None and len(answered) < len(table.traits) else "nothing_left"
    if max(look.gain for look in gains) < rule.gain_floor * find_edges(grouping):
        return "gain_floor"
    return None


def describe_look(table: Table, gain: LookGain, belief: Sequence[float], grouping: Grouping) -> NextLook:
    """The look with its question and the pair of weeds, with different treatments, that it separates best."""
    trait = table.traits[gain.trait]
    column = table.column(gain.trait)
    group = {}
    for number, (start, end) in enumerate(grouping.bounds):
        for taxon in grouping.taxa[start:end]:
            group[taxon] = number
    pair = find_best_pair(table, belief, group, gain.trait)
    facts: dict[str, object] = {"trait": gain.trait, "gain": gain.gain, "cost_seconds": gain.cost_seconds}
    if pair is not None:
        facts["first"], facts["second"] = table.taxa[pair[0]], table.taxa[pair[1]]
    why = Step("key.next_look", "separates" if pair else "no_pair", facts, trait.sources)
    states = tuple(answer for answer in column.answers if answer)
    return NextLook(gain.trait, trait.question, states, gain.cost_seconds, gain.gain, gain.score, why)


def _list_top(table: Table, belief: Sequence[float], group: Mapping[int, int]) -> list[int]:
    listed = [taxon for taxon in group if taxon != table.reserved]
    return sorted(listed, key=lambda taxon: (-belief[taxon], table.taxa[taxon]))[:PAIRS_AMONG]


def find_best_pair(
    table: Table, belief: Sequence[float], group: Mapping[int, int], trait: str
) -> tuple[int, int] | None:
    """The two likely weeds of different groups for which the look cuts most belief; None if it cuts none."""
    top = _list_top(table, belief, group)
    best: tuple[float, tuple[int, int] | None] = (0.0, None)
    for place, first in enumerate(top):
        for second in top[place + 1 :]:
            if group[first] != group[second]:
                cut = belief[first] * belief[second] * separate_pair(table, first, second, trait)
                if cut > best[0]:
                    best = (cut, (first, second))
    return best[1]


def find_left_pair(table: Table, belief: Sequence[float], grouping: Grouping) -> tuple[str, str] | None:
    """The two likeliest weeds that stand in different groups: what a short list turns on."""
    group = {}
    for number, (start, end) in enumerate(grouping.bounds):
        for taxon in grouping.taxa[start:end]:
            group[taxon] = number
    top = _list_top(table, belief, group)
    if not top:
        return None
    for other in top[1:]:
        if group[other] != group[top[0]]:
            return table.taxa[top[0]], table.taxa[other]
    return None
