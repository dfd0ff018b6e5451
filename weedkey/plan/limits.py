"""What the applications of a plan share: yearly maxima, least intervals (published or typed), classes used lately.

Uses of the past year are taken off the maximum, over every mixture that held the active ingredient. A typed maximum
counts whole uses at the typed rate.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from weedkey.control.mixtures import active_ids, groups_of, with_parts, yearly_of
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Lawn
from weedkey.plan.search import Limits
from weedkey.units import exact

#: Days that make one window of the search.
WINDOW_DAYS = 15
#: Classes used within this time count as used lately.
LATELY_DAYS = 730
_YEAR_DAYS = 365


def share_limits(knowledge: Knowledge, lawn: Lawn, controls: set[str], start: date) -> Limits:
    """Limits over these controls for a plan that begins on ``start``; the most cautious of several rows wins."""
    actives: dict[str, frozenset[str]] = {}
    repeats: dict[str, int] = {}
    yearly: dict[str, int] = {}
    interval: dict[str, int] = {}
    used = _classes_used(knowledge, lawn, start)
    for control_id in sorted(controls):
        control = knowledge.controls[control_id]
        actives[control_id] = active_ids(knowledge, control_id) if control.is_chemical else frozenset()
        groups = {name for group in groups_of(knowledge, control) for name in group}
        repeats[control_id] = len(groups & used)
        for active, most, gap_days in _rows(knowledge, lawn, control_id):
            if most is not None:
                left = max(0, most - _past_uses(knowledge, lawn, active, start))
                yearly[active] = min(yearly.get(active, left), left)
            if gap_days is not None:
                gap = -(-gap_days // WINDOW_DAYS)
                interval[active] = max(interval.get(active, gap), gap)
    return Limits(actives, repeats, yearly, interval)


def _rows(knowledge: Knowledge, lawn: Lawn, control_id: str) -> Iterator[tuple[str, int | None, int | None]]:
    """(active, most uses a year, least days between) as published for the control and its parts, then as typed."""
    control = knowledge.controls[control_id]
    ingredients = active_ids(knowledge, control_id)
    for part, row in yearly_of(with_parts(knowledge, control), lawn.turf):
        for active in ingredients if part.id == control_id else frozenset((part.id,)):
            yield active, row.applications, row.interval_days
    for rate in lawn.label_rates:
        if rate.control == control_id:
            most = None
            if rate.yearly_maximum is not None and rate.amount > 0:
                most = int(exact(rate.yearly_maximum) // exact(rate.amount))
            for active in ingredients:
                yield active, most, rate.interval_days


def _past_uses(knowledge: Knowledge, lawn: Lawn, active: str, start: date) -> int:
    """Uses of an active ingredient in the year before the plan."""
    return sum(
        1
        for past in lawn.history
        if 0 <= (start - past.on).days <= _YEAR_DAYS and active in active_ids(knowledge, past.control) | {past.control}
    )


def _classes_used(knowledge: Knowledge, lawn: Lawn, start: date) -> set[str]:
    found: set[str] = set()
    for past in lawn.history:
        control = knowledge.controls.get(past.control)
        if control is not None and 0 <= (start - past.on).days <= LATELY_DAYS:
            found |= {name for group in groups_of(knowledge, control) for name in group}
    return found
