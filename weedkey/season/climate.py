"""Daily temperatures of a place: twelve monthly means drawn out smoothly, or the user's own record.

Method: a sum of yearly waves that is forced to give back each monthly mean exactly over the days of that
month (constrained harmonics, jtech_harmonic13). The real lengths of the months are used, 29 February included.
Months are calendar months, so a place south of the equator needs nothing special.
"""

from __future__ import annotations

import math
from calendar import isleap, monthrange
from datetime import date
from functools import lru_cache

from weedkey.model.place import Place
from weedkey.season.own_record import OwnTemperatures

SOURCES = ("jtech_harmonic13",)
#: Five full waves, the mean, and the sine of the sixth: as many unknowns as months.
FULL_WAVES = 5
_MONTHS = 12


def daily_temperature(place: Place, on: date, own: OwnTemperatures | None = None) -> tuple[float, float]:
    """Low and high of a day in °F: from the user's record where it has the day, else the normal of the
    date.
    """
    measured = own.day_or_none(on) if own is not None else None
    if measured is not None:
        return measured
    return normal_of_day(place.low_f, on), normal_of_day(place.high_f, on)


def mean_temperature_f(place: Place, on: date, own: OwnTemperatures | None = None) -> float:
    """Mean air temperature of a day in °F: half of high plus low."""
    low, high = daily_temperature(place, on, own)
    return (low + high) / 2


def normal_of_day(monthly: tuple[float, ...], on: date) -> float:
    """The smooth daily value behind twelve monthly means (January first)."""
    waves = harmonics(monthly, isleap(on.year))
    return sum(part * wave for part, wave in zip(waves, _basis(share_of_year(on)), strict=True))


def share_of_year(on: date) -> float:
    """Where the middle of the day lies in its calendar year, 0 to 1."""
    return (on.timetuple().tm_yday - 0.5) / (366 if isleap(on.year) else 365)


@lru_cache(maxsize=1024)
def harmonics(monthly: tuple[float, ...], leap: bool = False) -> tuple[float, ...]:
    """Coefficients (mean, cos 1, sin 1, … cos 5, sin 5, sin 6) whose monthly averages equal ``monthly``."""
    inverse = _inverse_of_months(leap)
    return tuple(math.fsum(part * value for part, value in zip(row, monthly, strict=True)) for row in inverse)


def _basis(share: float) -> tuple[float, ...]:
    values = [1.0]
    for wave in range(1, FULL_WAVES + 1):
        angle = 2 * math.pi * wave * share
        values += [math.cos(angle), math.sin(angle)]
    values.append(math.sin(2 * math.pi * (FULL_WAVES + 1) * share))
    return tuple(values)


@lru_cache(maxsize=2)
def _inverse_of_months(leap: bool) -> tuple[tuple[float, ...], ...]:
    """Inverse of the matrix of monthly averages of the waves (Gauss-Jordan with row exchange)."""
    year = 2024 if leap else 2023
    rows = []
    for month in range(1, _MONTHS + 1):
        days = [_basis(share_of_year(date(year, month, day))) for day in range(1, monthrange(year, month)[1] + 1)]
        average = [math.fsum(column) / len(days) for column in zip(*days, strict=True)]
        rows.append(average + [1.0 if column == month - 1 else 0.0 for column in range(_MONTHS)])
    for pivot in range(_MONTHS):
        best = max(range(pivot, _MONTHS), key=lambda row: abs(rows[row][pivot]))
        rows[pivot], rows[best] = rows[best], rows[pivot]
        rows[pivot] = [value / rows[pivot][pivot] for value in rows[pivot]]
        for other in range(_MONTHS):
            if other != pivot:
                factor = rows[other][pivot]
                rows[other] = [a - factor * b for a, b in zip(rows[other], rows[pivot], strict=True)]
    return tuple(tuple(row[_MONTHS:]) for row in rows)
