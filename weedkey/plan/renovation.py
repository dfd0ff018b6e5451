"""Starting again: reckoned back from the day on which the turf can be set."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from weedkey.model.base import Knowledge
from weedkey.model.lawn import Lawn
from weedkey.model.trace import Step
from weedkey.model.turf import Establish
from weedkey.plan.situation import place_of
from weedkey.season.windows import dates_of_window

#: Two kills, two weeks apart, then a week before seed by most labels (Kansas State; the label in hand decides).
SECOND_KILL_DAYS = 14
SEED_AFTER_DAYS = 7
KILL_SOURCES = ("ksu_berm21", "ksu_lawn20")


def plan_renovation(knowledge: Knowledge, lawn: Lawn, start: date) -> tuple[Step, ...]:
    """Steps with dates, for each way to set the turf whose window can still be met; what blocks seed comes first."""
    turf, place = knowledge.turfs.get(lawn.turf), place_of(knowledge, lawn.place)
    if turf is None or place is None:
        return (Step("plan.renovation_not_known", "not_known", {"turf": lawn.turf}),)
    rows = [row for row in turf.establish if not row.regions or place.region in row.regions] or list(turf.establish)
    steps = list(_blocked(knowledge, lawn, start))
    for row in rows:
        steps += _steps_for(row, lawn, start, *_window(row, lawn, knowledge, start))
    if len(steps) == 0:
        return (Step("plan.renovation_not_known", "not_known", {"turf": lawn.turf}, turf.sources),)
    return tuple(steps)


def _window(row: Establish, lawn: Lawn, knowledge: Knowledge, start: date) -> tuple[date, date]:
    place = place_of(knowledge, lawn.place)
    need = timedelta(days=SECOND_KILL_DAYS + SEED_AFTER_DAYS)
    for year in (start.year - 1, start.year, start.year + 1, start.year + 2):
        if place is not None:
            first, last = dates_of_window(row.window, place, year)
            if last >= start + need:
                return max(first, start + need), last
    raise ValueError(f"no window of {row.method} lies within two years of {start}")


def _steps_for(row: Establish, lawn: Lawn, start: date, first: date, last: date) -> Iterator[Step]:
    second = first - timedelta(days=SEED_AFTER_DAYS)
    kill = second - timedelta(days=SECOND_KILL_DAYS)
    facts: dict[str, object] = {
        "turf": lawn.turf,
        "method": row.method,
        "first": first,
        "last": last,
        "kill": max(kill, start),
        "second_kill": second,
    }
    yield Step("plan.renovation", row.method, facts, tuple(dict.fromkeys((*row.sources, *KILL_SOURCES))))


def _blocked(knowledge: Knowledge, lawn: Lawn, start: date) -> Iterator[Step]:
    """Applications of the past that may still keep seed from growing."""
    for past in lawn.history:
        control = knowledge.controls.get(past.control)
        for row in control.reseeding if control else ():
            until = past.on + timedelta(days=row.after_days) if row.after_days else None
            if row.blocks_seed or (until is not None and until > start):
                facts: dict[str, object] = {"control": past.control, "on": past.on, "until": until}
                yield Step("plan.blocks_seed", "wait", facts, row.sources)
