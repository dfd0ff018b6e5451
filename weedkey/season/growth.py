"""How strongly a turf grows on a day, and in which state it stands.

Growth potential: GP = exp(-0.5 * ((t - to) / var)^2) of the mean air temperature t in °C; to = 20, var = 5.5
for cool-season (C3), to = 31, var = 7 for warm-season (C4) turf, the latter held at 1 above 31 (gp_atc14).

State, from the soil at 4 inches unless it says air.
Warm-season: dormant below 50 °F (udel_temp07); semi-dormant above that while the mean air is below 55 °F, the
base of clipping growth (msst_temp17: 12.5-13.2 °C), and from the first autumn frost on; while warming,
green-up until the soil holds 65 °F (uga_sav10, uga_colq25: no nitrogen before).
Cool-season: dormant below 40 °F, heat stress above 77 °F where root growth stops (udel_temp07); green-up while
warming from 40 to 50 °F where the winter was colder than 40 °F.
A place whose normal winter brings neither frost nor these figures has no rest and no green-up.
"""

from __future__ import annotations

import math
from datetime import date, timedelta
from functools import lru_cache

from weedkey.model.place import Place
from weedkey.model.trace import Step
from weedkey.model.turf import Turf
from weedkey.season.climate import mean_temperature_f
from weedkey.season.frost import FrostReading, first_autumn_frost_or_none
from weedkey.season.own_record import OwnTemperatures
from weedkey.season.soil import coldest_soil_f, is_warming, soil_temperature_f, turning_days
from weedkey.units import to_celsius

GROWTH_SOURCES = ("gp_atc14",)
#: season -> (optimum °C, spread °C)
_POTENTIAL = {"warm": (31.0, 7.0), "cool": (20.0, 5.5)}
WARM_DORMANT_BELOW_F = 50.0
WARM_FULL_GROWTH_FROM_F = 65.0
WARM_AIR_BASE_F = 55.0
COOL_DORMANT_BELOW_F = 40.0
COOL_GREEN_UP_ENDS_F = 50.0
COOL_HEAT_ABOVE_F = 77.0
DORMANCY_SOURCES = ("udel_temp07",)
GREEN_UP_SOURCES = ("uga_sav10", "uga_colq25")
AIR_BASE_SOURCES = ("msst_temp17",)
#: States in which a warm-season turf does not spread.
RESTING = ("dormant", "semi_dormant")


def growth_potential(season: str, mean_f: float) -> float:
    """Growth potential 0 to 1 of warm or cool season turf at a mean air temperature in °F (gp_atc14).

    Raises ValueError for another season.
    """
    if season not in _POTENTIAL:
        raise ValueError(f"season {season!r} is neither warm nor cool")
    optimum_c, spread_c = _POTENTIAL[season]
    distance_c = to_celsius(mean_f) - optimum_c
    if season == "warm" and distance_c > 0:
        return 1.0
    return math.exp(-0.5 * (distance_c / spread_c) ** 2)


def growth_state(turf: Turf, place: Place, on: date, own: OwnTemperatures | None = None) -> tuple[str, Step]:
    """The state of GROWTH_STATES that place and date suggest, and the step that explains it.

    Drought cannot be read from temperatures; the operator's own observation always overrides this.
    """
    soil_f = soil_temperature_f(place, on, own=own)
    air_f = mean_temperature_f(place, on, own)
    warming = is_warming(place, on)
    if turf.season == "warm":
        state, sources, frost = _warm_state(turf, place, on, (soil_f, air_f))
    else:
        state, sources, frost = (*_cool_state(turf, place, soil_f, warming), None)
    facts: dict[str, object] = {
        "turf": turf.id,
        "place": place.id,
        "on": on.isoformat(),
        "soil_f": round(soil_f, 1),
        "depth_in": 4,
        "air_mean_f": round(air_f, 1),
        "warming": warming,
        "own_record": own is not None,
    }
    if frost is not None:
        facts |= {"first_frost": frost.on.isoformat(), "frost_estimated": frost.estimated}
        sources = (*sources, *frost.sources)
    return state, Step("season.growth_state", state, facts, tuple(dict.fromkeys((*sources, *place.sources))))


def dormant_below_f(turf: Turf) -> tuple[float, tuple[str, ...]]:
    """Soil temperature in °F below which the turf rests: the lowest figure in its entry, else that of its
    season.
    """
    rows = [row for row in turf.dormant_below_f if "air" not in row.unit.lower()]
    if rows:
        lowest = min(rows, key=lambda row: row.low)
        return lowest.low, lowest.sources
    return (WARM_DORMANT_BELOW_F if turf.season == "warm" else COOL_DORMANT_BELOW_F), DORMANCY_SOURCES


@lru_cache(maxsize=4096)
def green_up_or_none(turf: Turf, place: Place, year: int) -> tuple[date, date] | None:
    """First and last day of green-up in the spring that lies in ``year``; None if the turf never rests here."""
    days = _growing_year(turf, place, year)
    found = [day for day, state in days if state == "green_up"]
    return (found[0], found[-1]) if found else None


def last_green_up_or_none(turf: Turf, place: Place, on: date) -> tuple[date, date] | None:
    """First and last day of the latest green-up that had begun on a day; None if the turf never rests here."""
    for year in (on.year, on.year - 1):
        found = green_up_or_none(turf, place, year)
        if found is not None and found[0] <= on:
            return found
    return None


@lru_cache(maxsize=4096)
def dormancy_or_none(turf: Turf, place: Place, year: int) -> tuple[date, date] | None:
    """First day of rest (semi-dormant or dormant) in the autumn that begins in ``year``, and first fully
    dormant day.

    The second equals the first day of the next green-up if full dormancy never comes; None if the turf never
    rests.
    """
    start = _warmest_day(place, year)
    resting: date | None = None
    for offset in range(300):
        day = start + timedelta(days=offset)
        state, _ = growth_state(turf, place, day)
        if resting is None and state in RESTING:
            resting = day
        if resting is not None and state != "semi_dormant":
            return resting, day
    return None


def _warm_state(
    turf: Turf, place: Place, on: date, temperatures_f: tuple[float, float]
) -> tuple[str, tuple[str, ...], FrostReading | None]:
    soil_f, air_f = temperatures_f
    limit_f, sources = dormant_below_f(turf)
    if soil_f < limit_f:
        return "dormant", sources, None
    if air_f < WARM_AIR_BASE_F:
        return "semi_dormant", AIR_BASE_SOURCES, None
    if is_warming(place, on):
        greening = soil_f < WARM_FULL_GROWTH_FROM_F and _has_rest(place, limit_f)
        return ("green_up" if greening else "growing"), GREEN_UP_SOURCES, None
    frost = _frost_before_or_none(place, on)
    if frost is not None:
        return "semi_dormant", (), frost
    return "growing", AIR_BASE_SOURCES, None


def _cool_state(turf: Turf, place: Place, soil_f: float, warming: bool) -> tuple[str, tuple[str, ...]]:
    limit_f, sources = dormant_below_f(turf)
    if soil_f < limit_f:
        return "dormant", sources
    if soil_f > COOL_HEAT_ABOVE_F:
        return "heat_stress", DORMANCY_SOURCES
    if warming and soil_f < COOL_GREEN_UP_ENDS_F and coldest_soil_f(place) < limit_f:
        return "green_up", DORMANCY_SOURCES
    return "growing", DORMANCY_SOURCES


@lru_cache(maxsize=512)
def _has_rest(place: Place, limit_f: float) -> bool:
    """True if a normal winter brings frost, cold soil or cool air to the place."""
    if coldest_soil_f(place) < limit_f or first_autumn_frost_or_none(place, 2023) is not None:
        return True
    coldest, _ = turning_days(place)
    return mean_temperature_f(place, date(2023, 1, 1) + timedelta(days=int(coldest * 365))) < WARM_AIR_BASE_F


def _frost_before_or_none(place: Place, on: date) -> FrostReading | None:
    """The first autumn frost of the running cold season if the day lies on or after it (the place is
    cooling).
    """
    readings = [
        reading
        for reading in (first_autumn_frost_or_none(place, on.year - 1), first_autumn_frost_or_none(place, on.year))
        if reading is not None and reading.on <= on
    ]
    last = readings[-1] if readings else None
    return last if last is not None and (on - last.on).days < 180 else None


def _warmest_day(place: Place, year: int) -> date:
    _, warmest = turning_days(place)
    return date(year, 1, 1) + timedelta(days=int(warmest * 365))


def _growing_year(turf: Turf, place: Place, year: int) -> list[tuple[date, str]]:
    """Every day of the warming half whose spring lies in ``year``, with its state."""
    end = _warmest_day(place, year + 1 if place.is_southern else year)
    days = [end - timedelta(days=offset) for offset in range(240, -1, -1)]
    return [(day, growth_state(turf, place, day)[0]) for day in days if is_warming(place, day) or day == end]
