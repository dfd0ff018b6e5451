"""Columns of the table from the knowledge: facts, gaps, parts that a plant cannot have, and who can tell."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import fsum

from weedkey.key.answers import (
    DOES_NOT_APPLY,
    WRONGLY_NOT_APPLYING,
    Row,
    answer_row,
    find_seen,
    needs_flower,
    not_applying_row,
    share_states,
    tell_anyway,
    tell_flower,
)
from weedkey.key.column import Column
from weedkey.key.context import Context
from weedkey.model.base import Knowledge
from weedkey.model.trait import Trait
from weedkey.model.vocabulary import GROUPS
from weedkey.model.weed import Seen, Weed


class ColumnMaker:
    """Builds columns from the knowledge. The neutral row for missing facts is fixed by the priors, not by answers."""

    def __init__(self, knowledge: Knowledge, weeds: tuple[Weed, ...], prior: Sequence[float], context: Context) -> None:
        self.traits = knowledge.traits
        self.weeds = weeds
        self.groups = [weed.group for weed in weeds]
        self.prior = prior
        self.context = context
        self.flowers: list[float | None] | None = None
        self.in_groups: dict[tuple[str, ...], list[float]] = {}
        self.facts: dict[str, list[tuple[int, tuple[Seen, ...]]]] = {}
        for place, weed in enumerate(weeds):
            for trait, seen in weed.looks.items():
                if seen:
                    self.facts.setdefault(trait, []).append((place, seen))

    def find_applies(self, trait_id: str) -> list[float] | None:
        """Share of plants with the part, by group and by the look that must come first; 1 for the reserved."""
        trait = self.traits[trait_id]
        applies = self._find_in_groups(trait.groups)[:]
        stated = [place for place, _ in self.facts.get(trait_id, ())]
        if trait.asked_if is not None and trait.asked_if[0] in self.traits:
            parent, states = self.traits[trait.asked_if[0]], trait.asked_if[1]
            shares = [_share_in(weed, parent, states) for weed in self.weeds]
            known = [share for share in shares if share is not None]
            middle = sum(known) / len(known) if known else 1.0
            applies = [has and (middle if share is None else share) for has, share in zip(applies, shares, strict=True)]
            for place in stated:
                applies[place] = shares[place] or 1.0
        else:
            for place in stated:
                applies[place] = 1.0
        return None if applies.count(1.0) == len(applies) else [*applies, 1.0]

    def _find_in_groups(self, groups: tuple[str, ...]) -> list[float]:
        """1 for the weeds of the groups, 0 for all others."""
        if groups not in self.in_groups:
            self.in_groups[groups] = [1.0 if group in groups else 0.0 for group in self.groups]
        return self.in_groups[groups]

    def _find_tell(self, trait: Trait) -> list[float | None] | None:
        """Share of users who can tell, weed by weed (None: the flowering time is not stated); None if it is the same
        for all.
        """
        if not needs_flower(trait):
            return None
        if self.flowers is None:
            self.flowers = [tell_flower(weed, self.context) for weed in self.weeds]
        anyway = tell_anyway(trait, self.context)
        return [None if share is None else anyway * share for share in self.flowers]

    def _find_stated(self, trait: Trait, shares: Sequence[float]) -> tuple[list[Row], list[tuple[int, int]]]:
        """The different rows P(state named) of the trait, and (weed, row) for every weed with a fact."""
        facts = self.facts.get(trait.id, [])
        if set(trait.state_ids) <= set(GROUPS):
            facts = [(place, find_seen(weed, trait)) for place, weed in enumerate(self.weeds)]
        memory: dict[object, int] = {}
        kinds: list[Row] = []
        which: list[tuple[int, int]] = []
        for place, seen in facts:
            if not seen or shares[place] <= 0:
                continue
            key = (seen[0].state, seen[0].share) if len(seen) == 1 else tuple([(x.state, x.share) for x in seen])
            kind = memory.get(key)
            if kind is None:
                kind = memory[key] = len(kinds)
                pairs = tuple([(x.state, x.share) for x in seen])
                kinds.append(answer_row(trait.state_ids, pairs, trait.misread, trait.ordered))
            which.append((place, kind))
        return kinds, which

    def build(self, trait_id: str) -> Column:
        """The column of one trait: stated rows first, then the neutral row from them, then all rows in order."""
        trait = self.traits[trait_id]
        applies = self.find_applies(trait_id)
        has_gap = applies is not None
        shares: Sequence[float] = applies or [1.0] * (len(self.weeds) + 1)
        stated, facts = self._find_stated(trait, shares)
        tell = self._find_tell(trait)
        flat = _flat_row(len(trait.states), has_gap=has_gap)
        neutral, usual = self._find_neutral(trait, stated, facts, shares=shares, tell=tell, flat=flat)
        chosen = [-1] * len(self.weeds)
        for place, kind in facts:
            chosen[place] = kind
        missing = not_applying_row(trait.state_ids) if has_gap else ()
        memory: dict[tuple[int, float, float], int] = {}
        kinds: list[Row] = []
        which: list[int] = []
        told: Sequence[float | None] = tell or [usual] * len(chosen)
        for key in zip(chosen, shares, [usual if own is None else own for own in told], strict=False):
            number = memory.get(key)
            if number is None:
                number = memory[key] = len(kinds)
                kind, share, can = key
                row = neutral if kind < 0 else stated[kind]
                kinds.append(_full_row(row, share, can if share else usual, missing, has_gap=has_gap))
            which.append(number)
        which.append(len(kinds))
        kinds.append((*[value * usual for value in flat], 1.0 - usual))
        answers = (*trait.state_ids, *((DOES_NOT_APPLY,) if has_gap else ()), "")
        known = [kind >= 0 or share == 0 for kind, share in zip(chosen, shares, strict=False)]
        return Column(trait, answers, kinds=kinds, which=which, applies=shares, known=[*known, True])

    def _find_neutral(
        self,
        trait: Trait,
        stated: Sequence[Row],
        facts: Sequence[tuple[int, int]],
        *,
        shares: Sequence[float],
        tell: Sequence[float | None] | None,
        flat: Row,
    ) -> tuple[Row, float]:
        """Prior-weighted mean answers of the taxa with facts (states only), and the mean share who can tell.

        The reserved taxon takes part with its flat answers, so that a weed without facts stands against all others
        exactly as before when this look is the first.
        """
        prior = self.prior
        usual = tell_anyway(trait, self.context)
        if tell is not None:
            timed = [(prior[place] * shares[place], tell[place]) for place, _ in facts]
            known = [(weight, told) for weight, told in timed if told is not None]
            mass = sum(weight for weight, _ in known)
            usual = sum(weight * told for weight, told in known) / mass if mass > 0 else usual
        parts = [0.0] * len(stated)
        for place, kind in facts:
            own = usual if tell is None else tell[place]
            parts[kind] += prior[place] * shares[place] * (usual if own is None else own)
        sums = [prior[-1] * usual * value for value in flat[: len(trait.states)]]
        for row, part in zip(stated, parts, strict=True):
            sums = [total + part * value for total, value in zip(sums, row, strict=True)]
        total = fsum(sums)
        if total <= 0:
            return (1.0 / len(sums),) * len(sums), usual
        return tuple([value / total for value in sums]), usual


def _share_in(weed: Weed, parent: Trait, states: Iterable[str]) -> float | None:
    """Share of plants of the weed that show one of the states of the parent look; None if nothing is stated."""
    seen = find_seen(weed, parent)
    if not seen:
        return None if weed.group in parent.groups else 0.0
    shares = share_states(parent.state_ids, [(row.state, row.share) for row in seen])
    wanted = set(states)
    return min(1.0, sum(share for state, share in zip(parent.state_ids, shares, strict=True) if state in wanted))


def _flat_row(count: int, *, has_gap: bool) -> Row:
    size = count + (1 if has_gap else 0)
    return (1.0 / size,) * size


def _full_row(row: Row, share: float, told: float, missing: Row, *, has_gap: bool) -> Row:
    """One row of the column: states, "does not apply" if it exists, and can't tell; sums to 1."""
    if not has_gap:
        return (*(value * told for value in row), 1.0 - told)
    has = share * (1.0 - WRONGLY_NOT_APPLYING)
    mixed = [value * has + lack * (1.0 - share) for value, lack in zip(row, missing, strict=False)]
    gap = share * WRONGLY_NOT_APPLYING + missing[-1] * (1.0 - share)
    return (*(value * told for value in mixed), gap * told, 1.0 - told)
