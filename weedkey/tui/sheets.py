"""Makes the texts of the season's sheets; the slow part is done here, the width is applied when the page shows."""

from __future__ import annotations

from collections.abc import Callable

from weedkey.model.base import Knowledge
from weedkey.model.lawn import Lawn
from weedkey.plan.results import Plan
from weedkey.report.style import Style

Maker = Callable[[Style], str]


def sheet_maker(knowledge: Knowledge, lawn: Lawn, plan: Plan, sheet: str) -> Maker:
    """The text of a sheet for any width. Raises KeyError for a sheet that does not exist."""
    return _MAKERS[sheet](knowledge, lawn, plan)


def _operator(knowledge: Knowledge, lawn: Lawn, plan: Plan) -> Maker:  # noqa: ARG001 - all makers have one form
    from weedkey.report.plan_text import operator_text

    return lambda style: operator_text(knowledge, plan, style)


def _owner(knowledge: Knowledge, lawn: Lawn, plan: Plan) -> Maker:  # noqa: ARG001 - all makers have one form
    from weedkey.report.plan_text import owner_text

    return lambda style: owner_text(knowledge, plan, style)


def _outlook(knowledge: Knowledge, lawn: Lawn, plan: Plan) -> Maker:
    from weedkey.plan.outlook import foresee
    from weedkey.report.outlook_text import outlook_text

    made = (foresee(knowledge, lawn, None, "nothing"), foresee(knowledge, lawn, plan, "plan"))
    found = [outlook for outlook in made if outlook is not None]
    return lambda style: (
        outlook_text(knowledge, found, style) if found else "No outlook: the lawn names no place with climate."
    )


def _starts(knowledge: Knowledge, lawn: Lawn, plan: Plan) -> Maker:  # noqa: ARG001 - all makers have one form
    from weedkey.plan.starts import compare_starts
    from weedkey.report.outlook_text import starts_text

    starts = compare_starts(knowledge, lawn, ())
    return lambda style: starts_text(knowledge, starts, style)


def _record(knowledge: Knowledge, lawn: Lawn, plan: Plan) -> Maker:  # noqa: ARG001 - all makers have one form
    from weedkey.plan.record import plan_records
    from weedkey.report.record_text import record_text

    records = plan_records(knowledge, plan, "")
    return lambda style: record_text(knowledge, records, style)


def _applied(knowledge: Knowledge, lawn: Lawn, plan: Plan) -> Maker:  # noqa: ARG001 - all makers have one form
    from weedkey.report.application_text import applications_text

    return lambda style: applications_text(knowledge, lawn, style)


_MAKERS: dict[str, Callable[[Knowledge, Lawn, Plan], Maker]] = {
    "operator": _operator,
    "owner": _owner,
    "outlook": _outlook,
    "starts": _starts,
    "record": _record,
    "applied": _applied,
}
