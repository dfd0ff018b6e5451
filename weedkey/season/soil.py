"""Soil temperature at a depth: the yearly waves of the air, damped and delayed on their way down.

T(z, t) = soil mean + sum over waves k of A_k * exp(-z/d_k) * cos(k w t - phase_k - z/d_k),
d_k = sqrt(2 D / (k w)): the model as okstate_soiltemp gives it, with the thermal diffusivity
D = 0.50e-6 m2/s that okstate_rainshine works with. The mean of the soil is not that of the air:
mean soil = 2.49 + 0.91 * mean air in °C, fitted on 69 eastern stations (saj_mast21). The waves at the surface
are taken as large as those of the air: own assumption, right within a few degrees under turf without snow.

The user's own air temperatures differ from the normals; the difference is carried down by the same heat
equation (step response erfc(z / sqrt(4 D t))), day by day for the last weeks.
"""

from __future__ import annotations

import math
from calendar import isleap
from datetime import date, timedelta
from functools import lru_cache

from weedkey.model.place import Place
from weedkey.season.climate import FULL_WAVES, harmonics, mean_temperature_f, share_of_year
from weedkey.season.own_record import OwnTemperatures
from weedkey.units import to_celsius, to_fahrenheit

SOURCES = ("okstate_soiltemp", "okstate_rainshine", "saj_mast21")
DIFFUSIVITY_M2_S = 0.50e-6
MEAN_OFFSET_C, MEAN_SLOPE = 2.49, 0.91
#: Depth at which the trade states turf figures, and the depth of germinating seed.
TURF_DEPTH_IN, SEED_DEPTH_IN = 4.0, 1.0
_METRES_AN_INCH = 0.0254
_DAY_S = 86400.0
_YEAR_S = 365.2425 * _DAY_S
#: Own days further back than this no longer matter at the depths of turf.
_MEMORY_DAYS = 60


def soil_temperature_f(
    place: Place, on: date, depth_in: float = TURF_DEPTH_IN, own: OwnTemperatures | None = None
) -> float:
    """Mean soil temperature of a day in °F at a depth in inches. Raises ValueError for a depth below 0."""
    if depth_in < 0:
        raise ValueError(f"depth {depth_in} in is above the ground")
    normal = _normal_soil_f(place, on, depth_in)
    if own is None:
        return normal
    shift = 0.0
    for lag, weight in enumerate(_answer_to_days(depth_in)):
        day = on - timedelta(days=lag)
        if own.day_or_none(day) is not None:
            shift += weight * (mean_temperature_f(place, day, own) - mean_temperature_f(place, day))
    return normal + shift


def turning_days(place: Place) -> tuple[float, float]:
    """Share of the year at which the turf's soil is coldest and warmest (0 is 1 January)."""
    return _turning_days(place)


def is_warming(place: Place, on: date) -> bool:
    """True between the coldest and the warmest day of the year, in whichever hemisphere."""
    coldest, warmest = _turning_days(place)
    return (share_of_year(on) - coldest) % 1.0 < (warmest - coldest) % 1.0


def coldest_soil_f(place: Place) -> float:
    """Lowest normal of the year at 4 inches, in °F."""
    return min(_year_of_soil(place, TURF_DEPTH_IN))


@lru_cache(maxsize=65536)
def _normal_soil_f(place: Place, on: date, depth_in: float) -> float:
    means = tuple((low + high) / 2 for low, high in zip(place.low_f, place.high_f, strict=True))
    waves = harmonics(means, isleap(on.year))
    total = to_fahrenheit(MEAN_OFFSET_C + MEAN_SLOPE * to_celsius(waves[0]))
    share = share_of_year(on)
    for wave in range(1, FULL_WAVES + 2):
        damping = depth_in * _METRES_AN_INCH / _damping_depth_m(wave)
        angle = 2 * math.pi * wave * share - damping
        if wave <= FULL_WAVES:
            swing = waves[2 * wave - 1] * math.cos(angle) + waves[2 * wave] * math.sin(angle)
        else:
            swing = waves[-1] * math.sin(angle)
        total += math.exp(-damping) * swing
    return total


def _damping_depth_m(wave: int) -> float:
    return math.sqrt(2 * DIFFUSIVITY_M2_S / (wave * 2 * math.pi / _YEAR_S))


@lru_cache(maxsize=64)
def _answer_to_days(depth_in: float) -> tuple[float, ...]:
    """Share of today's and of each earlier day's warmth that is felt at the depth today."""
    depth_m = depth_in * _METRES_AN_INCH

    def felt(days: int) -> float:
        return math.erfc(depth_m / math.sqrt(4 * DIFFUSIVITY_M2_S * days * _DAY_S)) if days else 0.0

    return tuple(felt(day + 1) - felt(day) for day in range(_MEMORY_DAYS))


@lru_cache(maxsize=256)
def _year_of_soil(place: Place, depth_in: float) -> tuple[float, ...]:
    first = date(2023, 1, 1)
    return tuple(_normal_soil_f(place, first + timedelta(days=day), depth_in) for day in range(365))


@lru_cache(maxsize=256)
def _turning_days(place: Place) -> tuple[float, float]:
    year = _year_of_soil(place, TURF_DEPTH_IN)
    return (year.index(min(year)) + 0.5) / len(year), (year.index(max(year)) + 0.5) / len(year)
