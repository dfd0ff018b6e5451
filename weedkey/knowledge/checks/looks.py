"""The marks of a weed: do they apply, are their shares sane, are there enough of them."""

from __future__ import annotations

from collections.abc import Iterator

from weedkey.errors import Issue
from weedkey.knowledge.checks.base import Check, Subject

#: Fewer looks than this leave a weed hard to name and hard to tell from others.
ENOUGH_LOOKS = 14
#: Shares of one look are taken state by state, so they need not sum to 1; far from it they cannot be meant.
LEAST_SUM, MOST_SUM = 0.5, 1.7


class LookGroup(Check):
    """A ligule on a broadleaf plant is a slip of the pen."""

    id = "look-group"
    about = "A look applies to the plant group of the weed."

    def find(self, subject: Subject) -> Iterator[Issue]:
        """Looks that the weed's group does not have."""
        for raw, weed in subject.of_kind("weed"):
            for name in weed.looks:
                trait = subject.knowledge.traits.get(name)
                if trait is not None and weed.group not in trait.groups:
                    yield self.issue(
                        raw,
                        ("looks", name),
                        f"the look {name} does not apply to the group {weed.group}",
                        "a look of this group: " + ", ".join(trait.groups) + " have this one",
                    )


class LookOrder(Check):
    """Leaflets are asked only once leaflets were seen."""

    id = "look-asked-if"
    severity = "warning"
    about = "A look that is asked only after another one stands beside that other one with the right state."

    def find(self, subject: Subject) -> Iterator[Issue]:
        """Looks whose opening look is not scored, or is scored with other states only."""
        for raw, weed in subject.of_kind("weed"):
            for name in weed.looks:
                trait = subject.knowledge.traits.get(name)
                if trait is None or trait.asked_if is None:
                    continue
                first, states = trait.asked_if
                seen = {row.state for row in weed.looks.get(first, ())}
                if not seen & set(states):
                    asked = " or ".join(states)
                    wrong = f"the look {name} is asked only after {first} is {asked}, which this weed does not show"
                    yield self.issue(raw, ("looks", name), wrong, f"{first} with that state, or not this look")


class ShareSum(Check):
    """Shares say how many plants of a hundred show a state."""

    id = "share-sum"
    severity = "warning"
    about = "The shares of the states of one look fit each other."

    def find(self, subject: Subject) -> Iterator[Issue]:
        """Looks whose shares leave most plants without a state, or give most plants two."""
        for raw, weed in subject.of_kind("weed"):
            for name, seen in weed.looks.items():
                if not seen or any(row.share is None for row in seen):
                    continue
                best: dict[str, float] = {}
                for row in seen:
                    best[row.state] = max(row.share, best.get(row.state, 0.0))
                total = sum(best.values())
                if not LEAST_SUM <= total <= MOST_SUM:
                    yield self.issue(
                        raw,
                        ("looks", name),
                        f"the shares of {name} sum to {total:g}",
                        f"a sum from {LEAST_SUM:g} to {MOST_SUM:g}",
                    )


class ThinMarks(Check):
    """A weed with few marks cannot be told from many others."""

    id = "thin-marks"
    severity = "warning"
    about = f"A weed has at least {ENOUGH_LOOKS} looks."

    def find(self, subject: Subject) -> Iterator[Issue]:
        """Weeds with too few looks; moss and algae have few looks by nature."""
        for raw, weed in subject.of_kind("weed"):
            applies = sum(weed.group in trait.groups for trait in subject.knowledge.traits.values())
            wanted = min(ENOUGH_LOOKS, applies)
            if len(weed.looks) < wanted:
                yield self.issue(raw, ("looks",), f"only {len(weed.looks)} looks are scored", f"at least {wanted}")
