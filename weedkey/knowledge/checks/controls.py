"""Controls: mixtures and their names, classes, and what is called unknown."""

from __future__ import annotations

from collections.abc import Iterator

from weedkey.errors import Issue
from weedkey.knowledge.checks.base import Check, Subject

_NEEDS_CLASS = "not classified"


class MixtureParts(Check):
    """Outside tables match a mixture by its name, so that name follows from its parts."""

    id = "mixture-parts"
    about = "A mixture has two parts or more, its id and its name join theirs."

    def find(self, subject: Subject) -> Iterator[Issue]:
        """Mixtures whose id or name does not follow from their parts, and mixture-like names without parts."""
        known = subject.knowledge.controls
        for raw, control in subject.of_kind("control"):
            if not control.parts:
                if " + " in control.name or "_plus_" in control.id:
                    yield self.issue(
                        raw,
                        ("name",),
                        "the name is that of a mixture, but there are no parts",
                        "the ids of its parts",
                        "parts: [" + ", ".join(control.id.split("_plus_")) + "]",
                    )
                continue
            if len(control.parts) < 2:
                yield self.issue(raw, ("parts",), "a mixture of one part", "two parts or more")
            if control.id != "_plus_".join(control.parts):
                yield self.issue(
                    raw, ("id",), "the id does not join the ids of the parts", "", "_plus_".join(control.parts)
                )
            names = [known[part].name for part in control.parts if part in known]
            if len(names) == len(control.parts) and control.name != " + ".join(names):
                yield self.issue(
                    raw,
                    ("name",),
                    f"the name {control.name!r} does not join the names of the parts",
                    "",
                    " + ".join(names),
                )


class ClassMissing(Check):
    """Without a class the log of classes cannot warn of resistance."""

    id = "class-missing"
    severity = "warning"
    about = "A single active ingredient has its group and mode of action."

    def find(self, subject: Subject) -> Iterator[Issue]:
        """Single ingredients without a class."""
        for raw, control in subject.of_kind("control"):
            if control.is_chemical and not control.parts and control.control_class is None:
                yield self.issue(
                    raw,
                    ("class",),
                    "the control has no class",
                    "group and mode of action",
                    f'class: {{hrac: "{_NEEDS_CLASS}", wssa: …, mode: …, sources: […]}}',
                )


class KnownAndNotKnown(Check):
    """A turf cannot be unknown and rated at once."""

    id = "known-and-not-known"
    about = "A turf that has a tolerance row is not listed as not known."

    def find(self, subject: Subject) -> Iterator[Issue]:
        """Turfs that stand in both places."""
        for raw, control in subject.of_kind("control"):
            rated = {row.turf for row in control.tolerance}
            for place, turf in enumerate(control.not_known):
                if turf in rated:
                    yield self.issue(
                        raw,
                        ("not_known", place),
                        f"{turf} has a tolerance row and is called not known",
                        "one of the two",
                    )


class OnlyDated(Check):
    """Such rules change: yesterday's "nothing works" is today's selective option."""

    id = "only-undated"
    severity = "warning"
    about = "A statement that only non-selective control exists has its year."

    def find(self, subject: Subject) -> Iterator[Issue]:
        """Statements without a year."""
        for raw, weed in subject.of_kind("weed"):
            for row, only in enumerate(weed.only_non_selective):
                if not only.year:
                    yield self.issue(
                        raw,
                        ("only_non_selective", row),
                        "the statement has no year",
                        "the year of the guidance as text",
                        'year: "not stated"',
                    )
