"""Which look to take next: Bhattacharyya edge cutting on the decision, per second of field cost.

    gain(q)  = sum over d != d' of L(d,d') [ p_d p_d' - sum over answers x of m_d(x) m_d'(x) ]
    m_d(x)   = sum over t in d of p_t sqrt(P(x | t))
    score(q) = gain(q) / cost(q)

Weeds are put into groups by the action that serves them (``group_by_action``), so the gain is the belief that still
stands between different treatments and would be cut. For the name every weed is a group of its own.
A look that cannot separate two groups scores exactly 0; for exact answers the rule is equivalence class edge cutting
(Golovin, Krause & Ray 2010). Docs: docs/key.md.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from math import fsum, log2
from operator import mul
from typing import NamedTuple

from weedkey.key.belief import LIKELY, Evidence, damp
from weedkey.key.column import Column
from weedkey.key.context import NOT_IN_LIST
from weedkey.key.table import Table
from weedkey.model.region import Region

#: Weeds below this belief take no part in the score; too little to change which look is best.
LIVE_BELIEF = 1e-5
#: Seconds to read a question, find a shoot and answer, on top of the field cost of the look (judgement, from memory).
ASKING_SECONDS = 15.0
#: Scores that differ by less than this part are ties.
TIE = 1e-12
#: A gain below this is rounding: such a look separates nothing.
ROUNDING = 1e-13
#: Groups by action are formed until this many exist; the rest stands together.
MOST_GROUPS = 12
#: What the key assumes of a weed for which no decision was given: no action is known to be acceptable.
NOT_KNOWN = Region("not_known", "not_known", frozenset())
OUTSIDE = Region(NOT_IN_LIST, NOT_IN_LIST, frozenset())


class LookGain(NamedTuple):
    """What one look is worth: gain in edge weight, gain per second, seconds, chance that the user can tell."""

    trait: str
    gain: float
    score: float
    cost_seconds: float
    told: float


class Grouping(NamedTuple):
    """Live weeds sorted by group: taxa, their belief, the bounds of each group in the two, and the steps of harm."""

    taxa: tuple[int, ...]
    belief: tuple[float, ...]
    bounds: tuple[tuple[int, int], ...]
    steps: tuple[tuple[float, int], ...]


def region_of(table: Table, regions: Mapping[str, Region], taxon: int) -> Region:
    """The region of one taxon; weeds without one, and the plant outside the list, have no acceptable action."""
    if taxon == table.reserved:
        return OUTSIDE
    return regions.get(table.taxa[taxon], NOT_KNOWN)


def find_members(table: Table, regions: Mapping[str, Region]) -> Mapping[Region, Sequence[int]]:
    """Taxa by region, in the order of the table. Remembered for the mapping seen last, which must not change."""
    if table.members is None or table.members[0] is not regions:
        members: dict[Region, list[int]] = {}
        for taxon in range(len(table.taxa)):
            members.setdefault(region_of(table, regions, taxon), []).append(taxon)
        table.members = (regions, members)
    return table.members[1]


def weigh_actions(weights: Mapping[Region, float]) -> dict[str, float]:
    """P(action is acceptable) for every action, from the belief of the regions; actions in alphabetical order."""
    parts: dict[str, list[float]] = {}
    for region, weight in weights.items():
        for action in region.actions:
            parts.setdefault(action, []).append(weight)
    return {action: fsum(parts[action]) for action in sorted(parts)}


def group_by_action(belief: Sequence[float], members: Mapping[Region, Sequence[int]]) -> Grouping:
    """Live weeds grouped by the action that serves most of the belief, then the rest by its best action, and so on.

    Two weeds that share the best action need not be told apart; where regions do not overlap, the groups are the
    regions. The harm of a group is the least harm of a region that accepts its action (a region with little harm
    holds no harmful action).
    """
    live = {region: [taxon for taxon in taxa if belief[taxon] > LIVE_BELIEF] for region, taxa in members.items()}
    left = {region: fsum(belief[taxon] for taxon in taxa) for region, taxa in live.items() if taxa}
    groups: list[tuple[list[Region], float]] = []
    while left and len(groups) < MOST_GROUPS:
        actions = weigh_actions(left)
        if not actions:
            break
        best = max(actions, key=lambda action: actions[action])  # first of equals: alphabetical
        inside = [region for region in left if best in region.actions]
        groups.append((inside, min(region.harm for region in inside)))
        for region in inside:
            del left[region]
    kinds: dict[tuple[str, bool], list[Region]] = {}
    for region in left:
        kinds.setdefault((region.id, bool(region.actions)), []).append(region)
    groups.extend((inside, min(region.harm for region in inside)) for inside in kinds.values())
    return _lay_out(belief, [([taxon for region in inside for taxon in live[region]], harm) for inside, harm in groups])


def group_by_name(table: Table, belief: Sequence[float]) -> Grouping:
    """Every live weed a group of its own, all harms 1."""
    live = [taxon for taxon in range(len(table.taxa)) if belief[taxon] > LIVE_BELIEF]
    return _lay_out(belief, [([taxon], 1.0) for taxon in live])


def _lay_out(belief: Sequence[float], groups: Iterable[tuple[Sequence[int], float]]) -> Grouping:
    """The groups one behind the other, the least harmful first (the order is otherwise kept)."""
    taxa: list[int] = []
    bounds: list[tuple[int, int]] = []
    harms: list[float] = []
    for inside, harm in sorted(groups, key=lambda group: group[1]):
        bounds.append((len(taxa), len(taxa) + len(inside)))
        taxa.extend(inside)
        harms.append(harm)
    return Grouping(tuple(taxa), tuple(belief[t] for t in taxa), tuple(bounds), _find_steps(harms))


def _find_steps(harms: Sequence[float]) -> tuple[tuple[float, int], ...]:
    """Harm as steps: (height, groups below it). max(a, b) is the sum of the steps that at least one of both reaches."""
    steps: list[tuple[float, int]] = []
    below = 0.0
    for place, harm in enumerate(harms):
        if harm > below:
            steps.append((harm - below, place))
            below = harm
    return tuple(steps)


def find_edges(grouping: Grouping) -> float:
    """Weight of all ordered pairs in different groups, sum of max(harm) p_d p_d': what is still unsettled."""
    sums = [sum(grouping.belief[start:end]) for start, end in grouping.bounds]
    return sum(height * (_pairs(sums) - _pairs(sums[:low])) for height, low in grouping.steps)


def _pairs(sums: Sequence[float]) -> float:
    whole = sum(sums)
    own: float = sum(map(mul, sums, sums))
    return whole * whole - own


def find_gain(column: Column, grouping: Grouping, edges: float) -> float:
    """Edge weight of ``edges`` that the look is expected to cut (the formula at the head of this module).

    Three ways to the same sums, chosen by size: by name, weeds with one row are added up first; by decision the same
    within each group where that is shorter; else weed by weed.
    """
    if len(grouping.bounds) == len(grouping.belief) and len(grouping.steps) == 1:
        kept = _keep_by_name(column, grouping)
    else:
        kept = 0.0
        for sums in _sum_groups(column, grouping):
            for height, low in grouping.steps:
                kept += height * (_pairs(sums) - (_pairs(sums[:low]) if low > 1 else 0.0))
    gain = edges - kept
    return gain if gain > ROUNDING else 0.0


def _keep_by_name(column: Column, grouping: Grouping) -> float:
    """Sum over answers of (sum of p_t sqrt P)^2 - sum of p_t^2 P, times the one height of harm; rows sum to 1."""
    weights = _add_by_kind(column, grouping.taxa, grouping.belief)
    whole = 0.0
    for answer in column.root_columns:
        part: float = sum(map(mul, weights, answer))
        whole += part * part
    own: float = sum(map(mul, grouping.belief, grouping.belief))
    return grouping.steps[0][0] * (whole - own)


def _add_by_kind(column: Column, taxa: Iterable[int], belief: Iterable[float]) -> list[float]:
    """Belief added up over the weeds that share a row."""
    which = column.which
    weights = [0.0] * len(column.kinds)
    for taxon, weight in zip(taxa, belief, strict=True):
        weights[which[taxon]] += weight
    return weights


def _sum_groups(column: Column, grouping: Grouping) -> Iterator[list[float]]:
    """For each answer the sums m_d of all groups."""
    bounds, belief = grouping.bounds, grouping.belief
    if len(column.kinds) * len(bounds) < 2 * len(belief):
        weights = [_add_by_kind(column, grouping.taxa[start:end], belief[start:end]) for start, end in bounds]
        for answer in column.root_columns:
            yield [sum(map(mul, group, answer)) for group in weights]
        return
    roots = column.roots
    for answer in zip(*[roots[taxon] for taxon in grouping.taxa], strict=True):
        parts = list(map(mul, belief, answer))
        yield [sum(parts[start:end]) for start, end in bounds]


def find_information(column: Column, taxa: Sequence[int], belief: Sequence[float]) -> float:
    """Bits that the look tells about the name: H(answer) - sum of p_t H(answer | t). Breaks ties."""
    whole = fsum(belief) or 1.0
    rows = [column.rows[taxon] for taxon in taxa]
    inside = fsum(weight * entropy_bits(row) for weight, row in zip(belief, rows, strict=True)) / whole
    means = [fsum(map(mul, belief, answer)) / whole for answer in zip(*rows, strict=True)]
    return max(0.0, entropy_bits(means) - inside)


def entropy_bits(weights: Iterable[float]) -> float:
    """Shannon entropy in bits of weights (they need not sum to 1)."""
    values = [weight for weight in weights if weight > 0]
    whole = fsum(values)
    return log2(whole) - fsum(value * log2(value) for value in values) / whole if values else 0.0


def rank_looks(
    table: Table,
    grouping: Grouping,
    evidence: Evidence,
    budget_seconds: float | None = None,
) -> tuple[LookGain, ...]:
    """Every look that can still be taken, best first: not answered yet, applies more likely than not, within budget.

    Ties: lower cost, then more information on the name, then the order of the traits.
    """
    answered = {look.trait for look in evidence.looks}
    sizes: dict[str, set[str]] = {}
    for look in evidence.looks:
        name = table.traits[look.trait].correlated
        if name and look.states:
            sizes.setdefault(name, set()).add(look.trait)
    found: list[LookGain] = []
    edges = find_edges(grouping)
    for trait_id, trait in table.traits.items():
        cost = trait.cost_seconds + ASKING_SECONDS
        if trait_id in answered or (budget_seconds is not None and cost > budget_seconds):
            continue
        if not _is_offered(table, trait_id, grouping):
            continue
        column = table.column(trait_id)
        gain = find_gain(column, grouping, edges)
        if trait.correlated in sizes:
            gain *= damp(len(sizes[trait.correlated]) + 1)
        told = column.expect_tells(grouping.taxa, grouping.belief)
        found.append(LookGain(trait_id, gain, gain / cost, cost, told))
    return _sort_looks(table, found, grouping)


def _is_offered(table: Table, trait: str, grouping: Grouping) -> bool:
    applies = table.applies(trait)
    if applies is None:
        return True
    share: float = sum(map(mul, grouping.belief, [applies[taxon] for taxon in grouping.taxa]))
    return share > LIKELY * sum(grouping.belief)


def _sort_looks(table: Table, found: list[LookGain], grouping: Grouping) -> tuple[LookGain, ...]:
    """Best score first; the tie rule is applied to the looks that tie for the first place."""
    ranked = sorted(found, key=lambda look: -look.score)
    if len(ranked) < 2:
        return tuple(ranked)
    best = ranked[0].score
    tied = [look for look in ranked if look.score >= best * (1.0 - TIE)]
    if len(tied) > 1:
        order = {trait: place for place, trait in enumerate(table.traits)}
        tied.sort(
            key=lambda look: (
                look.cost_seconds,
                -round(find_information(table.column(look.trait), grouping.taxa, grouping.belief), 12),
                order[look.trait],
            )
        )
        ranked[: len(tied)] = tied
    return tuple(ranked)


def separate_pair(table: Table, first: int, second: int, trait: str) -> float:
    """1 - Bhattacharyya coefficient of two weeds in one look: 0 cannot tell them apart, 1 always does."""
    column = table.column(trait)
    roots, which = column.root_kinds, column.which
    overlap: float = sum(map(mul, roots[which[first]], roots[which[second]]))
    return max(0.0, 1.0 - overlap)
