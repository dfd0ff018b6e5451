"""From a lawn (or a few words about one) to the settings that the gates ask: one for a zone and a day, and
the year ahead.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from weedkey.control import Setting
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Lawn, Measured, Tree, Zone
from weedkey.model.place import Place
from weedkey.model.trace import Step
from weedkey.model.turf import Turf
from weedkey.season.climate import daily_temperature
from weedkey.season.growth import growth_state, last_green_up_or_none
from weedkey.season.own_record import OwnTemperatures
from weedkey.season.soil import soil_temperature_f
from weedkey.season.windows import pre_emergence_windows

#: A year is looked at in half months: close enough for windows that are published to the week.
STEPS_A_YEAR = 24
#: A single day differs from the mean of its date by about this much (from memory: the standard deviation of daily
#: highs is 6 to 9 °F over the southern and transition states in the growing season), so a ceiling that near asks.
NORMAL_SPREAD_F = 6.0
#: Soil temperature is asked at the depth from which weed seed comes up.
SEED_DEPTH_IN = 2.0


@dataclass(frozen=True, slots=True)
class Weather:
    """A forecast or an observation that the user typed: °F, mph, hours."""

    high_f: float | None = None
    low_f: float | None = None
    wind_mph: float | None = None
    hours_to_rain: float | None = None


def place_of(knowledge: Knowledge, place_id: str | None) -> Place | None:
    """The place, or None if none is named or known."""
    return knowledge.places.get(place_id) if place_id else None


def zone_turf(lawn: Lawn, zone: Zone | None) -> str:
    """The turf of a zone: its own, else the lawn's."""
    return zone.turf if zone is not None and zone.turf else lawn.turf


def setting_for(
    knowledge: Knowledge,
    lawn: Lawn,
    zone: Zone | None = None,
    on: date | None = None,
    weather: Weather | None = None,
    *,
    barriers: bool = True,
    own: OwnTemperatures | None = None,
) -> Setting:
    """The setting of a zone on a day. What the user typed stands above what place and date suggest.

    ``own``: the user's record of daily temperatures; it stands above the normals on the days that it has.

    ``barriers`` False leaves out the worked-out pre-emergence windows (the key does not need them: the weeds' own
    calendars tell treatments apart). A growth state or temperature that was typed holds on the day of the visit
    only; other days take the place's normals.
    """
    day = on or lawn.on
    place = place_of(knowledge, lawn.place)
    turf = zone_turf(lawn, zone)
    today = day == lawn.on
    high, low = _temperatures(place, day, weather, lawn if today else None, own)
    recorded = place is not None and own is not None and own.day_or_none(day) is not None
    seen_growth = lawn.growth if today else None
    measured = (*lawn.measured, *(zone.measured if zone else ()))
    return Setting(
        turf=turf,
        on=day,
        site=lawn.site,
        region=place.region if place else None,
        place_id=lawn.place,
        state=lawn.state or (place.state if place else ""),
        southern=place.is_southern if place else False,
        cultivar=lawn.cultivar,
        stand=lawn.stand,
        stand_age_days=_stand_age_days(lawn, day),
        mowings_since_seeding=_mowings(lawn),
        growth=seen_growth or growth_of(knowledge, turf, place, day, own),
        days_since_green_up=_days_since_green_up(knowledge, turf, place, day),
        air_high_f=high,
        air_low_f=low,
        air_spread_f=0.0 if recorded or _is_typed(weather, lawn if today else None) else NORMAL_SPREAD_F,
        soil_temperature_f=soil_temperature_f(place, day, SEED_DEPTH_IN, own) if place else None,
        wind_mph=weather.wind_mph if weather else None,
        hours_to_rain=weather.hours_to_rain if weather else None,
        irrigation_days_a_week=lawn.irrigation_days_a_week,
        trees=_trees(lawn, zone),
        under_trees=zone.under_trees if zone else None,
        well=lawn.well,
        water_distance_ft=lawn.water_distance_ft,
        seedings=lawn.seedings,
        history=lawn.history,
        label_rates=lawn.label_rates,
        paid=lawn.paid,
        licensed=lawn.licensed,
        children=lawn.children,
        pets=lawn.pets,
        soil_ph=latest_number(measured, "soil_ph"),
        barrier_windows=barrier_windows(knowledge, place, day.year) if place and barriers else (),
    )


def settings_ahead(
    knowledge: Knowledge,
    lawn: Lawn,
    zone: Zone | None,
    on: date,
    *,
    steps: int = STEPS_A_YEAR,
    barriers: bool = True,
    own: OwnTemperatures | None = None,
) -> tuple[Setting, ...]:
    """The settings of the next ``steps`` half months, the first one after ``on``."""
    days = half_months(on, steps)
    return tuple(setting_for(knowledge, lawn, zone, day, barriers=barriers, own=own) for day in days)


def half_months(after: date, steps: int) -> tuple[date, ...]:
    """The next ``steps`` days that are a 1st or a 16th of a month, after a day."""
    found: list[date] = []
    day = after
    while len(found) < steps:
        if day.day < 16:
            day = day.replace(day=16)
        else:
            day = (day.replace(day=1) + timedelta(days=32)).replace(day=1)
        found.append(day)
    return tuple(found)


def half_month_end(day: date) -> date:
    """The last day of the half month that starts on (or holds) a day."""
    if day.day < 16:
        return day.replace(day=15)
    return (day.replace(day=1) + timedelta(days=32)).replace(day=1) - timedelta(days=1)


def growth_of(
    knowledge: Knowledge, turf: str, place: Place | None, on: date, own: OwnTemperatures | None = None
) -> str | None:
    """Growth state of a turf at a place on a day, or None where either is not known."""
    step = growth_step(knowledge, turf, place, on, own)
    return step.outcome if step else None


def growth_step(
    knowledge: Knowledge, turf: str, place: Place | None, on: date, own: OwnTemperatures | None = None
) -> Step | None:
    """The same with its trace."""
    entry: Turf | None = knowledge.turfs.get(turf)
    if place is None or entry is None:
        return None
    state, step = growth_state(entry, place, on, own)
    return Step(step.rule, state, step.facts, step.sources, step.children)


def latest_number(measured: Iterable[Measured], what: str) -> float | None:
    """The newest numeric value of a kind of measurement, or None."""
    rows = [m for m in measured if m.what == what and isinstance(m.value, int | float)]
    if not rows:
        return None
    newest = max(rows, key=lambda row: row.on or date.min)
    return float(newest.value)


def barrier_windows(knowledge: Knowledge, place: Place, year: int) -> tuple[tuple[str, date, date], ...]:
    """(weed, first day, last day) of every pre-emergence window at a place in this and the next year."""
    key = (knowledge.digest, id(knowledge), place.id, year)
    if key not in _BARRIERS:
        if len(_BARRIERS) > 32:
            _BARRIERS.clear()
        _BARRIERS[key] = tuple(_barrier_rows(knowledge, place, year))
    return _BARRIERS[key]


_BARRIERS: dict[tuple[str, int, str, int], tuple[tuple[str, date, date], ...]] = {}


def _barrier_rows(knowledge: Knowledge, place: Place, year: int) -> Iterable[tuple[str, date, date]]:
    for weed in knowledge.weeds.values():
        for which in (year, year + 1):
            for window in pre_emergence_windows(weed, place, which):
                yield weed.id, window.opens, window.closes


def _temperatures(
    place: Place | None, day: date, weather: Weather | None, lawn: Lawn | None, own: OwnTemperatures | None
) -> tuple[float | None, float | None]:
    normal_low, normal_high = daily_temperature(place, day, own) if place else (None, None)
    typed_high = weather.high_f if weather else None
    typed_low = weather.low_f if weather else None
    high = _first(typed_high, lawn.air_high_f if lawn else None, normal_high)
    low = _first(typed_low, lawn.air_low_f if lawn else None, normal_low)
    return high, low


def _is_typed(weather: Weather | None, lawn: Lawn | None) -> bool:
    """True if the day's high was given rather than taken from the normals."""
    return (weather is not None and weather.high_f is not None) or (lawn is not None and lawn.air_high_f is not None)


def _first(*values: float | None) -> float | None:
    return next((value for value in values if value is not None), None)


def _stand_age_days(lawn: Lawn, day: date) -> int | None:
    done = [seeding.on for seeding in lawn.seedings if seeding.done and seeding.on <= day]
    if done:
        return (day - max(done)).days
    if lawn.stand_age_years is None:
        return None
    return round(lawn.stand_age_years * 365.25) + (day - lawn.on).days


def _mowings(lawn: Lawn) -> int | None:
    counts = [seeding.mowings_since for seeding in lawn.seedings if seeding.done]
    known = [count for count in counts if count is not None]
    return min(known) if known else None


def _trees(lawn: Lawn, zone: Zone | None) -> tuple[Tree, ...] | None:
    if lawn.trees is None or zone is None:
        return lawn.trees
    return tuple(tree for tree in lawn.trees if not tree.zones or zone.name in tree.zones)


def _days_since_green_up(knowledge: Knowledge, turf: str, place: Place | None, day: date) -> int | None:
    entry = knowledge.turfs.get(turf)
    if place is None or entry is None:
        return None
    green_up = last_green_up_or_none(entry, place, day)
    return None if green_up is None else (day - green_up[0]).days


def beliefs_of(weeds: Mapping[str, float]) -> str | dict[str, float]:
    """A settled finding as one id, an unsettled one as its beliefs: the form that the control package
    takes.
    """
    return next(iter(weeds)) if len(weeds) == 1 else dict(weeds)
