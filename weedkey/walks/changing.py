"""A walk archived, brought back, or taken as the start of a new one. Nothing is ever deleted."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

from weedkey.errors import WalkError
from weedkey.knowledge.lawn_file import read_lawn
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Lawn, Measured, Zone
from weedkey.storage import ARCHIVED_FILE, LAWN_FILE, write_atomic
from weedkey.visit import Visit, start_visit

_DAYS_A_YEAR = 365.25


def archive_walk(folder: Path, today: date) -> None:
    """Take a walk out of the list; everything stays in its folder. Raises WalkError if it cannot be written."""
    try:
        write_atomic(folder / ARCHIVED_FILE, f"archived on {today.isoformat()}\n")
    except OSError as error:
        raise WalkError(f"{folder}: the walk could not be archived ({error.strerror or error}).") from error


def bring_back(folder: Path) -> None:
    """Put an archived walk into the list again. Raises WalkError if that fails."""
    try:
        (folder / ARCHIVED_FILE).unlink(missing_ok=True)
    except OSError as error:
        raise WalkError(f"{folder}: the walk could not be brought back ({error.strerror or error}).") from error


def duplicate_walk(folder: Path, knowledge: Knowledge, today: date, *, keep_weeds: bool) -> Visit:
    """A new walk of the same lawn today. Raises LawnError if the old one cannot be read, WalkError if the new one
    cannot be written.
    """
    return start_visit(lawn_today(read_lawn(folder / LAWN_FILE, knowledge), today, keep_weeds=keep_weeds))


def lawn_today(lawn: Lawn, today: date, *, keep_weeds: bool) -> Lawn:
    """The setting of a lawn on another day.

    What belonged to the old day goes: weather, growth, photos, and (unless ``keep_weeds``) weeds and estimated cover.
    Measurements stay and keep the day on which they were made; the stand is as much older as days have passed.
    """
    age = lawn.stand_age_years
    if age is not None:
        age = max(0.0, round(age + (today - lawn.on).days / _DAYS_A_YEAR, 2))
    return replace(
        lawn,
        on=today,
        growth=None,
        air_high_f=None,
        air_low_f=None,
        stand_age_years=age,
        measured=_dated(lawn.measured, lawn.on),
        target=lawn.target if lawn.target is None or lawn.target >= today else None,
        zones=tuple(_zone_today(zone, lawn.on, keep_weeds=keep_weeds) for zone in lawn.zones),
    )


def _zone_today(zone: Zone, was: date, *, keep_weeds: bool) -> Zone:
    findings = tuple(replace(row, photos=()) for row in zone.findings) if keep_weeds else ()
    return replace(
        zone,
        findings=findings,
        measured=_dated(zone.measured, was),
        photos=(),
        turf_cover_percent=zone.turf_cover_percent if keep_weeds else None,
        bare_percent=zone.bare_percent if keep_weeds else 0.0,
    )


def _dated(rows: tuple[Measured, ...], was: date) -> tuple[Measured, ...]:
    """A measurement without a day was made on the day of its walk."""
    return tuple(replace(row, on=row.on or was) for row in rows)
