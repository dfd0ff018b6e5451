"""Look-alikes of a weed that is being entered: nearest first, what differs so far, and which look to enter next.

The measure is that of ``separation``: the mean overlap (Bhattacharyya coefficient) of the looks that both entries
score. The next look is the one that most probably tells the nearest weeds from the new one, if the new weed is like
an average plant of its group in it.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from weedkey.knowledge.build import Report, build_entry
from weedkey.knowledge.checks.looks import ENOUGH_LOOKS
from weedkey.knowledge.separation import (
    SEPARATES_BELOW,
    are_told_apart,
    find_near_weeds,
    is_seen_on_mown_turf,
    overlap_or_none,
    separating_traits,
    shares,
)
from weedkey.model.base import Knowledge
from weedkey.model.trait import Trait
from weedkey.model.weed import Seen, Weed

#: Look-alikes that are shown, and that the next look is chosen for.
MOST_SHOWN = 5
#: A look that is hard to see on a lawn is worth this much of one that is easy.
_HARD_TO_SEE = 0.4
#: Parts of the list of looks that say where and when it grows, not what it looks like.
_NOT_THE_PLANT = ("site", "season")
#: Of looks that help equally, the cheaper one: seconds of field cost that halve the worth.
_HALF_WORTH_SECONDS = 60.0


@dataclass(frozen=True, slots=True)
class Alike:
    """One look-alike. ``differs``: looks that tell it apart; ``told_apart``: two of them, one seen on mown turf."""

    weed: str
    name: str
    likeness: float
    shared: int
    differs: tuple[str, ...]
    told_apart: bool


@dataclass(frozen=True, slots=True)
class Separation:
    """``entered``: looks so far; ``wanted``: how many an entry should have; ``next_look``: which would help most, and
    ``against``: the weeds that it would tell apart.
    """

    alike: tuple[Alike, ...]
    entered: int
    wanted: int
    next_look: str | None = None
    against: tuple[str, ...] = ()

    @property
    def unseparated(self) -> tuple[Alike, ...]:
        """Look-alikes that the entry does not yet tell apart."""
        return tuple(near for near in self.alike if not near.told_apart)


def separate(
    values: Mapping[str, Any], knowledge: Knowledge, limit: int = MOST_SHOWN, skipped: Collection[str] = ()
) -> Separation:
    """What the values of a weed entered so far (as a file writes them) say of its look-alikes. Never raises for
    values that are incomplete or wrong: they are left out. ``skipped``: looks that the user could not tell.
    """
    weed = draft_weed(values)
    weeds = {name: other for name, other in knowledge.weeds.items() if other.group == weed.group or not weed.group}
    near = find_near_weeds(weed.looks, weeds, knowledge.traits, weed.id, limit)
    alike = tuple(_alike(weed, knowledge.weeds[row.weed], row.likeness, row.shared, knowledge) for row in near)
    applying = [trait for trait in knowledge.traits.values() if weed.group in trait.groups]
    against = [row.weed for row in alike if not row.told_apart]
    usual = _Usual(weed.group, knowledge)
    next_look = _next_look_or_none(weed, against, usual, skipped)
    told = [name for name in against if next_look and _chance(weed, knowledge.weeds[name], next_look, usual) > 0]
    return Separation(alike, len(weed.looks), min(ENOUGH_LOOKS, len(applying)), next_look, tuple(told))


def draft_weed(values: Mapping[str, Any]) -> Weed:
    """A weed of the values so far, good enough to be compared; what cannot be read is left out."""
    looks: dict[str, tuple[Seen, ...]] = {}
    given = values.get("looks")
    for trait, rows in given.items() if isinstance(given, Mapping) else ():
        seen = [build_entry(Seen, _sourced(row), Report()) for row in rows] if isinstance(rows, list) else []
        if found := tuple(row for row in seen if row is not None):
            looks[str(trait)] = found
    group = values.get("group")
    if not group and "plant_group" in looks:
        group = looks["plant_group"][0].state
    name = str(values.get("name") or "")
    return Weed(str(values.get("id") or ""), name, "", "", str(group or ""), "both", (), looks)


def _sourced(row: Any) -> Any:
    return {"sources": ["from_memory"], **row} if isinstance(row, Mapping) else row


def _alike(weed: Weed, other: Weed, likeness: float, shared: int, knowledge: Knowledge) -> Alike:
    differs = separating_traits(weed, other, knowledge.traits)
    return Alike(
        other.id, other.name, likeness, shared, differs, told_apart=are_told_apart(weed, other, knowledge.traits)
    )


class _Usual:
    """Mean shares of the states of each look over the weeds of a group that score it, worked out once."""

    def __init__(self, group: str, knowledge: Knowledge) -> None:
        self.knowledge = knowledge
        self._weeds = [weed for weed in knowledge.weeds.values() if weed.group == group or not group]
        self._known: dict[str, dict[str, float]] = {}

    def of(self, name: str) -> dict[str, float]:
        """State -> mean share; empty if no weed of the group scores the look."""
        if name not in self._known:
            total: dict[str, float] = {}
            for weed in self._weeds:
                for state, share in shares(weed.looks.get(name, ())).items():
                    total[state] = total.get(state, 0.0) + share
            whole = math.fsum(total.values())
            self._known[name] = {state: share / whole for state, share in total.items()} if whole else {}
        return self._known[name]


def _next_look_or_none(weed: Weed, against: Sequence[str], usual: _Usual, skipped: Collection[str]) -> str | None:
    """The look with the greatest chance of telling the look-alikes apart; without any, the one that varies most."""
    best: tuple[float, str] | None = None
    for trait in usual.knowledge.traits.values():
        if trait.id in weed.looks or trait.id in skipped or not _may_be_asked(weed, trait):
            continue
        if against:
            gain = math.fsum(_chance(weed, usual.knowledge.weeds[name], trait.id, usual) for name in against)
        else:
            gain = 1.0 - math.fsum(share * share for share in usual.of(trait.id).values()) if usual.of(trait.id) else 0
        worth = gain * (1.0 if _is_seen_now(trait) else _HARD_TO_SEE)
        worth /= 1.0 + trait.cost_seconds / _HALF_WORTH_SECONDS
        if worth > 0 and (best is None or worth > best[0]):
            best = (worth, trait.id)
    return best[1] if best else None


def _is_seen_now(trait: Trait) -> bool:
    """True for a mark of the plant itself that can be seen on mown turf all year."""
    return is_seen_on_mown_turf(trait) and trait.months is None and trait.part not in _NOT_THE_PLANT


def _may_be_asked(weed: Weed, trait: Trait) -> bool:
    if weed.group and weed.group not in trait.groups:
        return False
    if trait.asked_if is None:
        return True
    first, states = trait.asked_if
    return any(row.state in states for row in weed.looks.get(first, ()))


def _chance(weed: Weed, other: Weed, name: str, usual: _Usual) -> float:
    """How probably the look differs from the other weed's, for an average plant of the group; 0 if it is not scored,
    or if it repeats a look that differs already.
    """
    there = shares(other.looks.get(name, ()))
    trait = usual.knowledge.traits[name]
    if not there or (trait.correlated and _differs_already(weed, other, trait.correlated, usual.knowledge)):
        return 0.0
    return 1.0 - math.fsum(share * there.get(state, 0.0) for state, share in usual.of(name).items())


def _differs_already(weed: Weed, other: Weed, correlated: str, knowledge: Knowledge) -> bool:
    same = [name for name, trait in knowledge.traits.items() if trait.correlated == correlated]
    overlaps = [overlap_or_none(weed, other, name) for name in same]
    return any(overlap is not None and overlap <= SEPARATES_BELOW for overlap in overlaps)
