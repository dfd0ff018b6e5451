"""Can two plants be told apart by what the entries say?"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from weedkey.errors import Issue
from weedkey.knowledge.checks.base import Check, Subject
from weedkey.knowledge.separation import SAME_FROM, are_told_apart, overlap_or_none, separating_traits
from weedkey.model.base import Knowledge
from weedkey.model.weed import LookAlike, Weed


def _other_or_none(alike: LookAlike, knowledge: Knowledge) -> Weed | None:
    """The weed that is confused; for a turf, the weed entry of the same grass."""
    found = knowledge.weeds.get(alike.weed)
    if found is None:
        found = next((weed for weed in knowledge.weeds.values() if weed.turf == alike.weed), None)
    return found


class LookAlikeTell(Check):
    """A tell that is the same in both plants misleads at the moment of doubt."""

    id = "look-alike-tell"
    about = "The looks that are said to tell two look-alikes apart differ between their entries."

    def find(self, subject: Subject) -> Iterator[Issue]:
        """Looks named as a tell that are the same in both entries."""
        for raw, weed in subject.of_kind("weed"):
            for row, alike in enumerate(weed.look_alikes):
                other = _other_or_none(alike, subject.knowledge)
                if other is None:
                    continue
                for place, name in enumerate(alike.traits):
                    overlap = overlap_or_none(weed, other, name)
                    if overlap is not None and overlap >= SAME_FROM:
                        wrong = f"the look {name} is the same in {weed.id} and {other.id}"
                        yield self.issue(
                            raw, ("look_alikes", row, "traits", place), wrong, "a look whose states differ"
                        )


class LookAlikeUnscored(Check):
    """A tell that is missing in an entry cannot help the key."""

    id = "look-alike-unscored"
    severity = "warning"
    about = "The looks that are said to tell two look-alikes apart are scored in both entries."

    def find(self, subject: Subject) -> Iterator[Issue]:
        """Looks named as a tell that one of the entries does not score."""
        for raw, weed in subject.of_kind("weed"):
            for row, alike in enumerate(weed.look_alikes):
                other = _other_or_none(alike, subject.knowledge)
                for place, name in enumerate(alike.traits):
                    lacking = [
                        entry.id
                        for entry in (weed, other)
                        if entry is not None and _lacks(entry, name, subject.knowledge)
                    ]
                    if lacking:
                        wrong = f"the look {name} is not scored in {' and '.join(lacking)}"
                        yield self.issue(raw, ("look_alikes", row, "traits", place), wrong, "the look in both entries")


def _lacks(weed: Weed, name: str, knowledge: Knowledge) -> bool:
    """True if a look that applies to the weed is not scored."""
    trait = knowledge.traits.get(name)
    return name not in weed.looks and (trait is None or weed.group in trait.groups)


class PairUnseparated(Check):
    """Two weeds that need different treatments must be told apart before anybody sprays."""

    id = "pair-unseparated"
    severity = "warning"
    about = "Weeds with different treatments differ in two looks, one of which can be seen on mown turf."

    def find(self, subject: Subject) -> Iterator[Issue]:
        """Pairs that the looks do not tell apart: those with different treatments, or without that, look-alikes."""
        knowledge = subject.knowledge
        for first, second in self._pairs(subject):
            a, b = knowledge.weeds[first], knowledge.weeds[second]
            if are_told_apart(a, b, knowledge.traits):
                continue
            raw = subject.raw_or_none("weed", first) or subject.raw_or_none("weed", second)
            if raw is not None:
                found = ", ".join(separating_traits(a, b, knowledge.traits)) or "no look"
                wrong = f"{first} and {second} are told apart only by {found}"
                yield self.issue(
                    raw, ("looks",), wrong, "two looks that differ, one of them seen by eye or on a shoot of mown turf"
                )

    def _pairs(self, subject: Subject) -> Iterator[tuple[str, str]]:
        weeds = subject.knowledge.weeds
        if subject.regions is not None:
            regions = subject.regions
            for first, second in combinations(sorted(set(weeds) & set(regions)), 2):
                if regions[first].id != regions[second].id:
                    yield first, second
            return
        declared = {
            tuple(sorted((weed.id, alike.weed)))
            for weed in weeds.values()
            for alike in weed.look_alikes
            if alike.weed in weeds and alike.weed != weed.id
        }
        for first, second in sorted(declared):
            yield first, second
