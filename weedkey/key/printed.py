"""The key on paper for one turf and month: numbered, and it stops where the treatment is the same.

A printed key cannot weigh doubt: it keeps a weed as long as every answer is one that the weed may show. It asks
the looks that the engine asks of the weeds that are left, and stops when all of them accept one treatment and the
engine, given the same looks, says the same. An answer without a fact keeps the weed (silence excludes nothing).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import fsum

from weedkey.key.answers import DOES_NOT_APPLY, find_seen
from weedkey.key.belief import Evidence, find_belief, sort_evidence
from weedkey.key.context import NOT_IN_LIST, Context
from weedkey.key.decide import decide
from weedkey.key.score import (
    Grouping,
    find_members,
    group_by_action,
    group_by_name,
    rank_looks,
    region_of,
)
from weedkey.key.table import Table, build_table
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Look
from weedkey.model.region import Region

#: Share of plants from which a state has a branch of its own.
SHOWN_SHARE = 0.03
#: No key goes deeper; what is left then is a short list.
DEEPEST = 30


@dataclass(frozen=True, slots=True)
class StopPoint:
    """An end of the key: the weeds that are left, the verdict for all of them, the actions that all accept.

    ``settled`` is False for a short list that the key cannot part any further. ``shares``: belief of each weed.
    """

    kind: str
    actions: tuple[str, ...]
    weeds: tuple[str, ...]
    shares: tuple[float, ...]
    settled: bool


@dataclass(frozen=True, slots=True)
class Lead:
    """One answer line: the states that lead here, and either the next number or a stop point."""

    states: tuple[str, ...]
    to: int | None
    stop: StopPoint | None


@dataclass(frozen=True, slots=True)
class Couplet:
    """One numbered question; ``came_from`` is the number that leads here (None for the first)."""

    number: int
    trait: str
    leads: tuple[Lead, ...]
    came_from: int | None


@dataclass(frozen=True, slots=True)
class PrintedKey:
    """The whole key. ``start`` is a stop point if nothing needs to be asked, else ``couplets[0]`` comes first."""

    context: Context
    couplets: tuple[Couplet, ...]
    start: StopPoint | None
    by_decision: bool


def printed_key(knowledge: Knowledge, context: Context, regions: Mapping[str, Region] | None = None) -> PrintedKey:
    """The key for a context; with ``regions`` it stops at the treatment, without them at the name."""
    table = build_table(knowledge, context)
    writer = _KeyWriter(knowledge, table, regions)
    alive = [taxon for taxon in range(len(table.taxa)) if taxon != table.reserved]
    stop, _ = writer.write(alive, (), None)
    return PrintedKey(
        context, tuple(writer.couplets[number] for number in sorted(writer.couplets)), stop, regions is not None
    )


def walk_printed_key(key: PrintedKey, answers: Mapping[str, str]) -> tuple[StopPoint | None, tuple[Look, ...]]:
    """Follow the key with one answer a trait: the stop point and the looks taken; None where no line fits."""
    if key.start is not None:
        return key.start, ()
    by_number = {couplet.number: couplet for couplet in key.couplets}
    taken: list[Look] = []
    number: int | None = key.couplets[0].number if key.couplets else None
    while number is not None:
        couplet = by_number[number]
        answer = answers.get(couplet.trait)
        lead = next((lead for lead in couplet.leads if answer in lead.states), None)
        if lead is None:
            return None, tuple(taken)
        taken.append(Look(couplet.trait, (str(answer),)))
        if lead.stop is not None:
            return lead.stop, tuple(taken)
        number = lead.to
    return None, tuple(taken)


class _KeyWriter:
    """Grows the key from the top; couplets get their numbers in reading order."""

    def __init__(self, knowledge: Knowledge, table: Table, regions: Mapping[str, Region] | None) -> None:
        self.knowledge = knowledge
        self.table = table
        self.regions = regions
        self.couplets: dict[int, Couplet] = {}
        self.count = 0
        self._shown: dict[tuple[int, str], frozenset[str] | None] = {}

    def write(
        self, alive: Sequence[int], looks: tuple[Look, ...], came_from: int | None
    ) -> tuple[StopPoint | None, int | None]:
        """Write the part of the key for the weeds ``alive`` after ``looks``: a stop point, or a number."""
        evidence = sort_evidence(self.table, looks)
        full = find_belief(self.table, evidence)
        belief = self._restrict(full, alive)
        stop = self._find_stop(alive, belief, full)
        if stop is not None and stop.settled:
            return stop, None
        branches = self._find_branches(alive, belief, evidence, same=stop is not None) if len(looks) < DEEPEST else None
        if branches is None:
            return self._make_short_list(alive, belief), None
        trait, parts = branches
        self.count += 1
        number = self.count
        leads: list[Lead] = []
        for states, inside in parts:
            step = (*looks, Look(trait, states))
            below, to = self.write(inside, step, number)
            leads.append(Lead(states, to, below))
        self.couplets[number] = Couplet(number, trait, tuple(leads), came_from)
        return None, number

    def _restrict(self, full: Sequence[float], alive: Iterable[int]) -> list[float]:
        belief = [0.0] * len(full)
        alive = list(alive)
        whole = fsum(full[taxon] for taxon in alive)
        for taxon in alive:
            belief[taxon] = full[taxon] / whole if whole > 0 else 1.0 / len(alive)
        return belief

    def _find_stop(self, alive: Sequence[int], belief: Sequence[float], full: Sequence[float]) -> StopPoint | None:
        """A stop point if one treatment serves all; not settled while the engine, weighing doubt, says otherwise."""
        if self.regions is None:
            return self._make_stop(alive, belief, "name", (), settled=True) if len(alive) == 1 else None
        regions = [region_of(self.table, self.regions, taxon) for taxon in alive]
        common = frozenset.intersection(*(region.actions for region in regions))
        if not common:
            same = len({region.id for region in regions}) == 1
            return self._make_stop(alive, belief, regions[0].kind, (), settled=True) if same else None
        weights: dict[str, float] = {}
        for region, taxon in zip(regions, alive, strict=True):
            weights[region.kind] = weights.get(region.kind, 0.0) + belief[taxon]
        kind = min(weights, key=lambda name: (-weights[name], name))
        decision, _ = decide(full, find_members(self.table, self.regions))
        return self._make_stop(alive, belief, kind, tuple(sorted(common)), settled=decision.actions[0] in common)

    def _make_stop(
        self, alive: Sequence[int], belief: Sequence[float], kind: str, actions: tuple[str, ...], *, settled: bool
    ) -> StopPoint:
        ranked = sorted(alive, key=lambda taxon: (-belief[taxon], self.table.taxa[taxon]))
        weeds = tuple(self.table.taxa[taxon] for taxon in ranked)
        return StopPoint(kind, actions, weeds, tuple(belief[taxon] for taxon in ranked), settled)

    def _make_short_list(self, alive: Sequence[int], belief: Sequence[float]) -> StopPoint:
        """The end of a branch that no look parts: the weeds with the actions that all of them accept, if any."""
        kind, actions = "short_list", frozenset[str]()
        if self.regions is not None:
            regions = [region_of(self.table, self.regions, taxon) for taxon in alive]
            actions = frozenset.intersection(*(region.actions for region in regions))
            if actions:
                kind = regions[0].kind
        return self._make_stop(alive, belief, kind, tuple(sorted(actions)), settled=False)

    def _find_branches(
        self, alive: Sequence[int], belief: Sequence[float], evidence: Evidence, *, same: bool
    ) -> tuple[str, list[tuple[tuple[str, ...], list[int]]]] | None:
        """The best look that parts the weeds, and its answers with the weeds that may show them.

        ``same``: one treatment serves all already; then a look that only confirms is taken as well.
        """
        for gain in rank_looks(self.table, self._group(belief), evidence):
            if gain.gain <= 0 and not same:
                break
            parts = self._part(alive, gain.trait)
            if len(parts) > 1 and all(len(inside) < len(alive) for _, inside in parts):
                return gain.trait, parts
        return None

    def _group(self, belief: Sequence[float]) -> Grouping:
        if self.regions is None:
            return group_by_name(self.table, belief)
        grouping = group_by_action(belief, find_members(self.table, self.regions))
        return grouping if len(grouping.bounds) > 1 else group_by_name(self.table, belief)

    def _part(self, alive: Sequence[int], trait: str) -> list[tuple[tuple[str, ...], list[int]]]:
        """Answers of a look with the weeds that may show them; answers with the same weeds share a line.

        A weed of which nothing is stated may show any state, also one that no other weed shows.
        """
        shown = {taxon: self._list_shown(taxon, trait) for taxon in alive}
        states = self.table.traits[trait].state_ids
        parts: dict[tuple[int, ...], list[str]] = {}
        for answer in self.table.column(trait).answers[:-1]:
            inside = tuple(
                taxon for taxon in alive if (answer in states if (own := shown[taxon]) is None else answer in own)
            )
            if inside:
                parts.setdefault(inside, []).append(answer)
        return [(tuple(answers), list(inside)) for inside, answers in parts.items()]

    def _list_shown(self, taxon: int, trait_id: str) -> frozenset[str] | None:
        """The answers that an error-free user may give for a weed; None if nothing is stated (any answer)."""
        key = (taxon, trait_id)
        if key not in self._shown:
            self._shown[key] = list_shown(self.knowledge, self.table, self.table.taxa[taxon], trait_id)
        return self._shown[key]


def list_shown(knowledge: Knowledge, table: Table, weed: str, trait_id: str) -> frozenset[str] | None:
    """The answers that an error-free user may give in front of a weed; None if the knowledge says nothing."""
    if weed == NOT_IN_LIST:
        return None
    applies = table.applies(trait_id)
    share = 1.0 if applies is None else applies[table.find_taxon(weed)]
    trait = table.traits[trait_id]
    seen = find_seen(knowledge.weeds[weed], trait)
    if share == 0:
        return frozenset({DOES_NOT_APPLY})
    if not seen:
        return None
    states = {row.state for row in seen if row.share is None or row.share >= SHOWN_SHARE}
    stated = fsum(row.share for row in seen if row.share is not None)
    if all(row.share is not None for row in seen) and stated < 1.0 - SHOWN_SHARE:
        states = set(trait.state_ids)
    if share < 1:
        states.add(DOES_NOT_APPLY)
    return frozenset(states)
