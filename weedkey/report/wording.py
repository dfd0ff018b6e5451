"""Sentences for the steps of a trace: one small function for each rule id, kept beside its package's other
words.

A rule without words is a defect that a test finds; at run time it is shown as its id and facts rather than
hidden.
"""

from __future__ import annotations

from functools import cache
from importlib import import_module

from weedkey.model.trace import Step
from weedkey.report.namer import Namer
from weedkey.report.wording_form import Words

_HOMES = (
    "weedkey.report.wording_control",
    "weedkey.report.wording_key",
    "weedkey.report.wording_ground",
    "weedkey.report.wording_season",
    "weedkey.report.wording_plan",
)


@cache
def all_rules() -> dict[str, Words]:
    """Every rule id with its words."""
    rules: dict[str, Words] = {}
    for home in _HOMES:
        rules.update(import_module(home).RULES)
    return rules


def has_words(rule: str) -> bool:
    """True if the rule has a sentence of its own."""
    return rule in all_rules()


def sentence(step: Step, namer: Namer) -> str:
    """The step in one or two plain sentences, without its sources and children."""
    words = all_rules().get(step.rule)
    if words is not None:
        return words(step, namer)
    facts = ", ".join(f"{key} {namer.many(value)}" for key, value in step.facts.items())
    return f"{step.rule}: {step.outcome}" + (f" ({facts})" if facts else "")


def sentences(step: Step, namer: Namer, depth: int = 0) -> list[tuple[int, str, tuple[str, ...]]]:
    """The step and everything beneath it: (depth, sentence, sources)."""
    found = [(depth, sentence(step, namer), step.sources)]
    for child in step.children:
        found += sentences(child, namer, depth + 1)
    return found
