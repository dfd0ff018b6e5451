"""Frost dates of a place: the published ones, or a rough estimate from its monthly lows that says so.

Estimate: in the places with published dates the mean daily low stands at 45 °F on the average last spring
frost (mean error 5 days, largest 16) and at 43 °F on the average first autumn frost (4 and 10).
Own fit on the shipped places, stated in docs/season.md; used only where nothing is published.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from weedkey.model.place import FrostDate, Place
from weedkey.season.climate import normal_of_day
from weedkey.season.soil import turning_days

SPRING_LOW_F, AUTUMN_LOW_F = 45.0, 43.0
#: Published bases from the most usual meaning to the least.
_BASES = ("mean", "average", "50 percent", "range", "typical", "state summary", "20 percent", "10 percent")


@dataclass(frozen=True, slots=True)
class FrostReading:
    """A frost date of one year. ``estimated``: not published, drawn from the monthly lows."""

    event: str
    on: date
    basis: str
    sources: tuple[str, ...]
    estimated: bool = False


def frost_dates(place: Place, year: int) -> tuple[FrostReading, ...]:
    """Every published date of the place, as dates of the year, usual meaning first; else the estimates."""

    def order(row: FrostDate) -> tuple[bool, int, int, int]:
        return row.event != "last_spring", _rank(row), row.month, row.day

    published = sorted(place.frost, key=order)
    if published:
        return tuple(_reading(row, place, year) for row in published)
    return tuple(
        reading
        for reading in (_estimate_or_none(place, year, "last_spring"), _estimate_or_none(place, year, "first_autumn"))
        if reading is not None
    )


def last_spring_frost_or_none(place: Place, year: int) -> FrostReading | None:
    """Average last frost of the cold season that ends in ``year``; None where a normal year has no frost."""
    return _first_or_none(place, year, "last_spring")


def first_autumn_frost_or_none(place: Place, year: int) -> FrostReading | None:
    """Average first frost of the cold season that begins in ``year``; None where a normal year has no
    frost.
    """
    return _first_or_none(place, year, "first_autumn")


def _first_or_none(place: Place, year: int, event: str) -> FrostReading | None:
    rows = [row for row in place.frost if row.event == event]
    if rows:
        return _reading(min(rows, key=lambda row: (_rank(row), row.month, row.day)), place, year)
    return _estimate_or_none(place, year, event)


def _rank(row: FrostDate) -> int:
    found = [rank for rank, word in enumerate(_BASES) if word in row.basis.lower()]
    return min(found, default=len(_BASES))


def _reading(row: FrostDate, place: Place, year: int) -> FrostReading:
    # A first frost in January (Florida) belongs to the cold season that began the year before.
    runs_over = row.event == "first_autumn" and not place.is_southern and row.month <= 3
    day = date(year + 1 if runs_over else year, row.month, min(row.day, 28) if row.month == 2 else row.day)
    return FrostReading(row.event, day, row.basis, row.sources)


def _estimate_or_none(place: Place, year: int, event: str) -> FrostReading | None:
    limit = SPRING_LOW_F if event == "last_spring" else AUTUMN_LOW_F
    middle = _depth_of_winter(place, year, event)
    if normal_of_day(place.low_f, middle) >= AUTUMN_LOW_F:
        return None
    step = 1 if event == "last_spring" else -1
    for offset in range(200):
        day = middle + timedelta(days=step * offset)
        if normal_of_day(place.low_f, day) >= limit:
            found = day if step > 0 else day + timedelta(days=1)
            return FrostReading(event, found, f"estimated from mean low {limit:.0f} F", place.sources, estimated=True)
    return None


def _depth_of_winter(place: Place, year: int, event: str) -> date:
    """Coldest day of the cold season meant: the one that ends in ``year``, or the one that begins in it."""
    coldest, _ = turning_days(place)
    early_in_year = coldest < 0.5
    if not place.is_southern and event == "first_autumn" and early_in_year:
        year += 1
    if not place.is_southern and event == "last_spring" and not early_in_year:
        year -= 1
    return date(year, 1, 1) + timedelta(days=int(coldest * 365))
