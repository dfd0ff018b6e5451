"""Ids that one entry uses of another."""

from __future__ import annotations

from collections.abc import Iterator

from weedkey.errors import Issue
from weedkey.knowledge.checks.base import Check, Subject
from weedkey.knowledge.references import CHECK_ID, find_reference_issues


class Reference(Check):
    """An id that leads nowhere loses the fact that it carries."""

    id = CHECK_ID
    about = "Looks, states, controls, turfs, weeds, conditions and cultivars that an entry names exist."

    def find(self, subject: Subject) -> Iterator[Issue]:
        """Ids that name nothing."""
        for raw, entry in subject.of_kind("weed", "control", "turf", "trait", "condition"):
            for problem in find_reference_issues(entry, subject.knowledge):
                yield self.issue(raw, problem.path, problem.wrong, problem.expected, problem.write)
