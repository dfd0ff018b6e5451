"""Degree-days by the simple average: (max + min) / 2 - base, a negative day counts as 0 (vt_crab07)."""

from __future__ import annotations

from datetime import date, timedelta

from weedkey.model.place import Place
from weedkey.season.climate import daily_temperature
from weedkey.season.own_record import OwnTemperatures
from weedkey.season.soil import soil_temperature_f

SOURCES = ("vt_crab07",)


def degree_days_of_day(low_f: float, high_f: float, base_f: float) -> float:
    """Degree-days (°F) of one day from its low and high. Source of the formula: vt_crab07."""
    return max(0.0, (high_f + low_f) / 2 - base_f)


def degree_days(
    place: Place,
    start: date,
    end: date,
    base_f: float,
    *,
    depth_in: float | None = None,
    own: OwnTemperatures | None = None,
) -> float:
    """Sum of degree-days (°F) from ``start`` to ``end``, both included; 0 if ``end`` lies before ``start``.

    ``depth_in`` None takes the air, a number the soil at that depth in inches (base and sum in °F there too).
    """
    days = (end - start).days + 1
    return sum(_day(place, start + timedelta(days=day), base_f, depth_in, own) for day in range(max(0, days)))


def date_of_degree_days_or_none(
    place: Place,
    start: date,
    target: float,
    base_f: float,
    *,
    depth_in: float | None = None,
    own: OwnTemperatures | None = None,
) -> date | None:
    """First day on which the sum from ``start`` reaches ``target`` (°F), or None if a year does not bring
    it.
    """
    total = 0.0
    for offset in range(366):
        day = start + timedelta(days=offset)
        total += _day(place, day, base_f, depth_in, own)
        if total >= target:
            return day
    return None


def _day(place: Place, on: date, base_f: float, depth_in: float | None, own: OwnTemperatures | None) -> float:
    if depth_in is not None:
        return max(0.0, soil_temperature_f(place, on, depth_in, own) - base_f)
    low, high = daily_temperature(place, on, own)
    return degree_days_of_day(low, high, base_f)
