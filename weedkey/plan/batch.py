"""Many lawns: one result for each, a bad one reported and passed over. Pure: reading and writing is the caller's."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from collections.abc import Set as AbstractSet
from dataclasses import dataclass

from weedkey.errors import WeedkeyError
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Lawn
from weedkey.plan.planner import make_plan
from weedkey.plan.results import Plan


@dataclass(frozen=True, slots=True)
class BatchRecord:
    """One record of the input: its line number from 1, and the lawn, or why it cannot be read."""

    line: int
    lawn: Lawn | None
    error: WeedkeyError | None = None


@dataclass(frozen=True, slots=True)
class BatchResult:
    """One result: a plan, or the error of its record."""

    line: int
    plan: Plan | None
    error: WeedkeyError | None = None


def plan_many(
    knowledge: Knowledge, records: Iterable[BatchRecord], done: AbstractSet[int] = frozenset()
) -> Iterator[BatchResult]:
    """Results in the order of the records; lines in ``done`` are passed over, so that a broken run goes on."""
    for record in records:
        if record.line not in done:
            yield plan_one(knowledge, record)


def plan_one(knowledge: Knowledge, record: BatchRecord) -> BatchResult:
    """The plan of one record, or its error; other errors are defects and are raised."""
    if record.lawn is None:
        return BatchResult(record.line, None, record.error)
    try:
        return BatchResult(record.line, make_plan(knowledge, record.lawn))
    except WeedkeyError as error:
        return BatchResult(record.line, None, error)
