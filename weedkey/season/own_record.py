"""The user's own daily temperatures: text of rows ``date,min,max`` in °F or °C."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from weedkey import units
from weedkey.errors import Issue, LawnError, UnitError, Where

#: Air temperatures outside this range in °F are taken for typing errors.
LOWEST_F, HIGHEST_F = -80.0, 140.0
_COLUMNS = 3


@dataclass(frozen=True, slots=True)
class OwnTemperatures:
    """Low and high in °F by day. Days that are missing fall back to the normals of the place."""

    days: Mapping[date, tuple[float, float]]

    def day_or_none(self, on: date) -> tuple[float, float] | None:
        """Low and high of the day, or None if it was not recorded."""
        return self.days.get(on)


def parse_daily_temperatures(text: str, unit: str = "", where: str = "temperatures") -> OwnTemperatures:
    """Read rows of date (YYYY-MM-DD), min, max; commas, semicolons or tabs between; a heading and # lines
    may stand.

    ``unit`` is F or C; if it is left out the heading must say it (``min_c`` or ``max (F)``), else °F is
    assumed.
    Raises LawnError with every bad row, not the first.
    """
    rows: dict[date, tuple[float, float]] = {}
    issues: list[Issue] = []
    scale = _scale(unit, where, issues)
    for number, line in enumerate(text.lstrip("\ufeff").splitlines(), start=1):
        cells = [cell.strip().strip('"') for cell in re.split(r"[,;\t]", line.split("#")[0])]
        if not any(cells):
            continue
        if not rows and not issues and cells[0].lower() in ("date", "day"):
            scale = unit.upper() or _scale_of_heading(cells)
            continue
        _read_row(cells, scale or "F", Where(where, number), rows, issues)
    if not rows and not issues:
        issues.append(_issue(Where(where), "no row of temperatures was found", "rows of date,min,max"))
    if issues:
        raise LawnError(issues)
    return OwnTemperatures(rows)


def _read_row(
    cells: list[str], scale: str, where: Where, rows: dict[date, tuple[float, float]], issues: list[Issue]
) -> None:
    if len(cells) < _COLUMNS:
        issues.append(_issue(where, f"{len(cells)} values stand here", "three: date, min, max"))
        return
    try:
        day = date.fromisoformat(cells[0])
    except ValueError:
        issues.append(_issue(where, f"{cells[0]!r} is not a date", "a date as YYYY-MM-DD"))
        return
    try:
        low, high = (float(units.convert(cell, scale, "F")) for cell in cells[1:_COLUMNS])
    except UnitError as error:
        issues.append(_issue(where, error.what, error.expected))
        return
    wrong = _wrong_day_or_none(day, low, high, rows)
    if wrong:
        expected = f"min not above max, both {LOWEST_F:.0f} to {HIGHEST_F:.0f} F, each day once"
        issues.append(_issue(where, wrong, expected))
        return
    rows[day] = (low, high)


def _wrong_day_or_none(day: date, low: float, high: float, rows: Mapping[date, object]) -> str | None:
    if day in rows:
        return f"{day} stands twice"
    if low > high:
        return f"the minimum {low:.1f} F is above the maximum {high:.1f} F"
    if low < LOWEST_F or high > HIGHEST_F:
        return f"{low:.1f} to {high:.1f} F cannot be air temperatures"
    return None


def _scale(unit: str, where: str, issues: list[Issue]) -> str:
    if unit.upper() not in ("", "F", "C"):
        issues.append(_issue(Where(where), f"{unit!r} is not a temperature scale", "F or C"))
        return "F"
    return unit.upper()


def _scale_of_heading(cells: list[str]) -> str:
    heading = " ".join(cells[1:_COLUMNS]).lower()
    return "C" if re.search(r"(?:[_ (]|°)c\b|celsius", heading) else "F"


def _issue(where: Where, wrong: str, expected: str) -> Issue:
    return Issue("own-temperatures", "error", where, wrong, expected)
