"""Why a result came out as it did, as a value. Only the report layer turns it into sentences."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Step:
    """One rule applied: its stable id, what went in, what came out, whose facts it rests on, the steps
    beneath it.

    ``facts`` holds ids, numbers and words of the vocabulary, no prose.
    """

    rule: str
    outcome: str
    facts: Mapping[str, object] = field(default_factory=dict)
    sources: tuple[str, ...] = ()
    children: tuple[Step, ...] = ()
