"""Start now or wait: the same lawn planned from several days, side by side."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from weedkey.model.base import Knowledge
from weedkey.model.lawn import Lawn
from weedkey.plan.outlook import Band, Outlook, foresee
from weedkey.plan.planner import make_plan
from weedkey.plan.results import FindingPlan, Plan, Target

#: A weed whose visit lies further off than this has to wait.
WAITS_AFTER_DAYS = 45
_MONTHS_SHOWN = 19


@dataclass(frozen=True, slots=True)
class Start:
    """One start. ``handled_percent``: weed cover with a visit, of all weed cover that is not left to die by itself.

    ``waits``: findings whose first visit is more than six weeks after the start, or that have none.
    ``worst_bare_sqft`` and ``turf_on_target`` are bands of the outlook, None where the place is not known.
    """

    start: date
    plan: Plan
    handled_percent: float
    visits: int
    waits: tuple[Target, ...]
    worst_bare_sqft: Band | None
    turf_on_target: Band | None
    target: date
    outlook: Outlook | None


def next_months(first: date, count: int = 12) -> tuple[date, ...]:
    """The day itself, then the first of each following month."""
    days = [first]
    while len(days) < count:
        days.append((days[-1].replace(day=1) + timedelta(days=32)).replace(day=1))
    return tuple(days)


def compare_starts(knowledge: Knowledge, lawn: Lawn, dates: Sequence[date] = ()) -> tuple[Start, ...]:
    """One row a start (the next 12 months if none is given). The cover is taken as it was seen on the visit; the
    target date is the lawn's, else a year after the visit.
    """
    days = tuple(dates) or next_months(lawn.on)
    target = lawn.target or lawn.on + timedelta(days=365)
    return tuple(_row(knowledge, lawn, day, target) for day in days)


def _row(knowledge: Knowledge, lawn: Lawn, day: date, target: date) -> Start:
    plan = make_plan(knowledge, lawn, day, brief=True)
    outlook = foresee(knowledge, lawn, plan, "plan" if day == lawn.on else "wait", _MONTHS_SHOWN)
    bare = outlook.worst_bare if outlook else None
    return Start(
        start=day,
        plan=plan,
        handled_percent=handled_percent(lawn, plan),
        visits=len(plan.visits),
        waits=tuple(_waits(plan, day)),
        worst_bare_sqft=_to_sqft(bare, lawn) if bare else None,
        turf_on_target=_turf_on(outlook, target),
        target=target,
        outlook=outlook,
    )


def handled_percent(lawn: Lawn, plan: Plan) -> float:
    """Share of the weed cover (square feet) that a visit handles; weeds left to die by themselves do not count."""
    areas = {zone.name: zone.area_sqft for zone in lawn.zones}

    def ground(row: FindingPlan) -> float:
        return areas[row.target.zone] * row.finding.cover_percent

    counted = [row for row in plan.findings if row.verdict.kind != "leave_it"]
    total = sum(ground(row) for row in counted)
    return 100.0 if total <= 0 else 100.0 * sum(ground(row) for row in counted if row.handled) / total


def _waits(plan: Plan, day: date) -> list[Target]:
    first = {target: visit.first for visit in reversed(plan.visits) for a in visit.actions for target in a.targets}
    late = day + timedelta(days=WAITS_AFTER_DAYS)
    return [
        row.target for row in plan.findings if row.verdict.kind != "leave_it" and first.get(row.target, date.max) > late
    ]


def _turf_on(outlook: Outlook | None, target: date) -> Band | None:
    if outlook is None:
        return None
    before = [month for month in outlook.months if month.on <= target]
    return before[-1].turf if before and target <= outlook.months[-1].on + timedelta(days=31) else None


def _to_sqft(band: Band, lawn: Lawn) -> Band:
    area = lawn.area_sqft
    return Band(round(band.low * area / 100, 1), round(band.high * area / 100, 1))
