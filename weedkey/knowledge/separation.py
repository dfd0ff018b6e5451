"""How well looks tell two weeds apart, from the entries alone.

Overlap of two weeds in one look is the Bhattacharyya coefficient of the shares of their states: 1 for the same
shares, 0 if no state is common. A look that is not scored in both entries separates nothing: silence is no difference.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from weedkey.model.trait import Trait
from weedkey.model.weed import Seen, Weed

#: At most this overlap: the look tells the two apart (two plants in three are then named rightly by it alone).
SEPARATES_BELOW = 0.5
#: At most this overlap: the look tells a part; several together may tell two weeds apart.
TELLS_A_PART = 0.6
#: From this overlap upward two entries are the same in the look, as far as the entries say.
SAME_FROM = 0.9
#: States of a look that say that the part is not there.
NOTHING_THERE = ("absent", "none")


def shares(seen: Iterable[Seen]) -> dict[str, float]:
    """State -> share, summing to 1. A state without a stated share counts like the others of its look."""
    rows = list(seen)
    weights: dict[str, float] = {}
    for row in rows:
        weight = 1.0 / len(rows) if row.share is None else row.share
        weights[row.state] = max(weight, weights.get(row.state, 0.0))
    total = sum(weights.values())
    return {state: weight / total for state, weight in weights.items()} if total > 0 else {}


def overlap_or_none(a: Weed, b: Weed, trait: str) -> float | None:
    """Overlap of two weeds in one look, 0 to 1; None if one of them does not score it."""
    first, second = a.looks.get(trait), b.looks.get(trait)
    if not first or not second:
        return None
    left, right = shares(first), shares(second)
    return math.fsum(math.sqrt(left[state] * right[state]) for state in left.keys() & right.keys())


def separating_traits(a: Weed, b: Weed, traits: Mapping[str, Trait]) -> tuple[str, ...]:
    """Ids of the looks that tell the two weeds apart, in the order of ``traits``."""
    found = []
    for name, trait in traits.items():
        overlap = overlap_or_none(a, b, name)
        if overlap is None and has_no_such_part(a, b, trait):
            overlap = 0.0
        if overlap is not None and overlap <= SEPARATES_BELOW:
            found.append(name)
    return tuple(found)


def has_no_such_part(a: Weed, b: Weed, trait: Trait) -> bool:
    """True if one weed shows the part (its entry says how) and plants of the other's kind have none: a liverwort has
    no leaf veins, an onion no ligule. "None" in the first entry is no difference to a plant that lacks the part.
    """
    if (a.group in trait.groups) == (b.group in trait.groups) or trait.asked_if is not None:
        return False
    bearer = a if a.group in trait.groups else b
    stated = shares(bearer.looks.get(trait.id, ()))
    return bool(stated) and math.fsum(stated.get(name, 0.0) for name in NOTHING_THERE) < 1.0 - SEPARATES_BELOW


def is_seen_on_mown_turf(trait: Trait) -> bool:
    """True if eyes or a pulled shoot are enough and regular mowing leaves the look to see."""
    return trait.needs in ("eyes", "shoot") and trait.mown in ("always", "often")


def are_told_apart(a: Weed, b: Weed, traits: Mapping[str, Trait]) -> bool:
    """True if two looks that do not repeat each other tell the weeds apart, one of them on mown turf; or if several
    that each tell a part do so together (their overlaps multiplied: the looks are taken as independent).
    """
    found = separating_traits(a, b, traits)
    independent = {traits[name].correlated or name for name in found}
    if len(independent) >= 2 and any(is_seen_on_mown_turf(traits[name]) for name in found):
        return True
    everywhere, mown = _least_overlaps(a, b, traits, found)
    return (
        len(everywhere) >= 2
        and math.prod(everywhere.values()) <= SEPARATES_BELOW**2
        and math.prod(mown.values()) <= SEPARATES_BELOW
    )


def _least_overlaps(
    a: Weed, b: Weed, traits: Mapping[str, Trait], found: Iterable[str]
) -> tuple[dict[str, float], dict[str, float]]:
    """The least overlap in each set of looks that repeat each other, of those that tell at least a part: all looks,
    and those of mown turf.
    """
    everywhere: dict[str, float] = {}
    mown: dict[str, float] = {}
    for name, trait in traits.items():
        overlap = overlap_or_none(a, b, name)
        if overlap is None:
            overlap = SEPARATES_BELOW if name in found else 1.0  # a part that the other kind of plant lacks
        if overlap > TELLS_A_PART:
            continue
        key = trait.correlated or name
        everywhere[key] = min(overlap, everywhere.get(key, 1.0))
        if is_seen_on_mown_turf(trait):
            mown[key] = min(overlap, mown.get(key, 1.0))
    return everywhere, mown


@dataclass(frozen=True, slots=True)
class NearWeed:
    """A weed that looks much the same: mean overlap (0 to 1) of the looks scored in both, how many, what differs."""

    weed: str
    likeness: float
    shared: int
    differs: tuple[str, ...]


#: Fewer looks in common than this say nothing of likeness.
ENOUGH_SHARED = 3
#: Mean overlap from which a weed is worth proposing as a look-alike.
ALIKE_FROM = 0.6


def find_near_weeds(
    looks: Mapping[str, tuple[Seen, ...]],
    weeds: Mapping[str, Weed],
    traits: Mapping[str, Trait],
    leave_out: str = "",
    limit: int = 5,
) -> list[NearWeed]:
    """Weeds that the looks describe nearly as well, the likest first."""
    found = []
    given = {name: shares(seen) for name, seen in looks.items() if name in traits and seen}
    for weed in weeds.values():
        overlaps = {
            name: math.fsum(math.sqrt(left[state] * right[state]) for state in left.keys() & right.keys())
            for name, left in given.items()
            if (right := shares(weed.looks.get(name, ())))
        }
        if weed.id == leave_out or len(overlaps) < ENOUGH_SHARED:
            continue
        likeness = math.fsum(overlaps.values()) / len(overlaps)
        if likeness >= ALIKE_FROM:
            differs = tuple(name for name in traits if overlaps.get(name, 1.0) <= SEPARATES_BELOW)
            found.append(NearWeed(weed.id, likeness, len(overlaps), differs))
    found.sort(key=lambda near: (-near.likeness, -near.shared, near.weed))
    return found[:limit]
