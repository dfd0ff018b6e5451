"""Measurements of a zone and how they speak for a condition. A measurement outweighs all signs.

The zone's own value wins over the lawn's; of several values of one kind the latest date counts. What the lawn
file says elsewhere (mowing height, irrigation days, turf cover) is read as a measurement too. Bounds stand in the
condition's entry; mowing height, soil pH and hours of sun are judged by the turf's own figures where its entry
has them: too low for every source is yes, enough for every source is no, between them the value says nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date

from weedkey.ground.lime_tables import UNRELIABLE_PH_METHODS
from weedkey.ground.results import MeasuredReading
from weedkey.model.condition import Condition, Measurement
from weedkey.model.lawn import Lawn, Measured, Zone
from weedkey.model.turf import Range, SoilPh, Turf


@dataclass(frozen=True, slots=True)
class _TurfBound:
    """A bound that the turf's entry gives: ``side`` below means that a value under it confirms the condition."""

    what: str
    field: str
    side: str


_BY_TURF = {
    "mown_too_short": _TurfBound("mowing_height_in", "mowing_in", "below"),
    "mown_too_high": _TurfBound("mowing_height_in", "mowing_in", "above"),
    "acid_soil": _TurfBound("soil_ph", "soil_ph", "below"),
    "alkaline_soil": _TurfBound("soil_ph", "soil_ph", "above"),
    "shade": _TurfBound("sun_hours", "sun_hours", "below"),
}


def measurements_of_zone(lawn: Lawn, zone: Zone) -> Mapping[str, Measured]:
    """The measurement that counts for each kind, by kind in alphabetical order."""
    found: dict[str, Measured] = {}
    for measured in (*_from_fields(lawn), *_latest(lawn.measured)):
        found[measured.what] = measured
    for measured in (*_from_zone(zone), *_latest(zone.measured)):
        found[measured.what] = measured
    return dict(sorted(found.items()))


def judge_measurements(
    condition: Condition, measured: Mapping[str, Measured], turf: Turf | None
) -> tuple[MeasuredReading, ...]:
    """What each fitting measurement says of the condition, in the order of the condition's entry."""
    readings: dict[str, MeasuredReading] = {}
    for row in condition.measurements:
        value = measured.get(row.what)
        if value is None or not _speaks(row):
            continue
        reading = _judge(row, value, _turf_row_or_none(condition.id, row, turf))
        earlier = readings.get(row.what)
        if earlier is None or (earlier.says == "unclear" and reading.says != "unclear"):
            readings[row.what] = reading
    return tuple(readings.values())


def is_reliable_ph(measured: Measured) -> bool:
    """False for a pH from a probe meter, a colour kit or a strip: such a value only asks for a laboratory test."""
    return measured.method.strip().lower().replace(" ", "_") not in UNRELIABLE_PH_METHODS


def number_or_none(measured: Measured | None) -> float | None:
    """The value as a number; None if it was not given or is a word."""
    if measured is None or isinstance(measured.value, str):
        return None
    return float(measured.value)


def word_or_none(measured: Measured | None) -> str | None:
    """The value as a word in small letters; None if it was not given or is a number."""
    if measured is None or not isinstance(measured.value, str):
        return None
    return measured.value.strip().lower().replace(" ", "_")


def _latest(rows: Iterable[Measured]) -> list[Measured]:
    """One row a kind: the latest date; undated rows are the oldest; equal dates go by value, never by order."""
    best: dict[str, Measured] = {}
    for row in rows:
        other = best.get(row.what)
        if other is None or _age(row) > _age(other):
            best[row.what] = row
    return list(best.values())


def _age(row: Measured) -> tuple[date, str, str]:
    return row.on or date.min, str(row.value), row.method


def _from_fields(lawn: Lawn) -> list[Measured]:
    rows = []
    if lawn.mowing_height_in is not None:
        rows.append(Measured("mowing_height_in", lawn.mowing_height_in))
    if lawn.irrigation_days_a_week is not None:
        rows.append(Measured("irrigation_days_a_week", lawn.irrigation_days_a_week))
    if lawn.stand != "established":
        rows.append(Measured("stand", lawn.stand))
    return rows


def _from_zone(zone: Zone) -> list[Measured]:
    if zone.turf_cover_percent is None:
        return []
    return [Measured("turf_cover_percent", zone.turf_cover_percent)]


def _turf_row_or_none(condition: str, row: Measurement, turf: Turf | None) -> Measurement | None:
    """The bounds of the turf's own entry in place of the general ones, or None if it has none for this."""
    bound = _BY_TURF.get(condition)
    if bound is None or turf is None or row.what != bound.what:
        return None
    rows: tuple[Range | SoilPh, ...] = getattr(turf, bound.field)
    if not rows:
        return None
    sources = tuple(dict.fromkeys(source for figure in rows for source in figure.sources))
    plain = replace(row, yes_below=None, yes_above=None, no_below=None, no_above=None, sources=sources)
    if bound.side == "below":
        lows = [figure.low for figure in rows]
        return replace(plain, yes_below=min(lows), no_above=max(lows))
    highs = [figure.high for figure in rows]
    return replace(plain, yes_above=max(highs), no_below=min(highs))


def _judge(row: Measurement, value: Measured, by_turf: Measurement | None) -> MeasuredReading:
    used = by_turf or row
    if row.what == "soil_ph" and not is_reliable_ph(value):
        method = value.method.strip().lower().replace(" ", "_")
        return MeasuredReading(row.what, value.value, "unreliable", UNRELIABLE_PH_METHODS[method])
    word, number = word_or_none(value), number_or_none(value)
    says = "unclear"
    if word is not None:
        says = "yes" if word in used.yes_words else "no" if word in used.no_words else "unclear"
    elif number is not None:
        says = _judge_number(used, number)
    return MeasuredReading(row.what, value.value, says, used.sources, used.yes_below, used.yes_above)


def _speaks(row: Measurement) -> bool:
    """False for a reading that only the lime advice uses."""
    bounds = (row.yes_below, row.yes_above, row.no_below, row.no_above)
    return bool(row.yes_words or row.no_words) or any(bound is not None for bound in bounds)


def _judge_number(row: Measurement, number: float) -> str:
    """Yes wins over no where bounds meet; a bound itself counts as no."""
    if (row.yes_below is not None and number < row.yes_below) or (row.yes_above is not None and number > row.yes_above):
        return "yes"
    if (row.no_above is not None and number >= row.no_above) or (row.no_below is not None and number <= row.no_below):
        return "no"
    return "unclear"
