"""The form of a sentence maker."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from weedkey.model.trace import Step
from weedkey.report.dates import day_words
from weedkey.report.namer import Namer

Words = Callable[[Step, Namer], str]


def fact(step: Step, name: str) -> str:
    """One fact of a step as text; KeyError if the rule did not record it (a defect that tests find)."""
    return str(step.facts[name])


def day_fact(step: Step, name: str) -> str:
    """A date recorded as YYYY-MM-DD in words, or "not known"."""
    value = step.facts.get(name)
    return day_words(date.fromisoformat(str(value))) if value else "not known"
