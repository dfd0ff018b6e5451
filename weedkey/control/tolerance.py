"""How this turf stands a control in this setting, from the tolerance rows: true, false or not known, never guessed.

A row that is known false does not speak. Rows that warn (injures, not_labelled, caution) speak unless known false.
A safe row speaks only if all its stated conditions are known true. The most cautious row that speaks decides; no row
that speaks means not_known. The answer is ``certain`` only if a row that permits (safe or caution) is known true.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from weedkey.control.results import KILLING_KINDS
from weedkey.control.setting import Setting
from weedkey.model.control import Control, Tolerance, When
from weedkey.model.turf import Turf

#: From the most to the least cautious.
CAUTION_ORDER = ("injures", "not_labelled", "caution", "safe")
PERMITS = frozenset({"safe", "caution"})
#: The default of a non-selective control: it injures every growing turf, even where no row says so.
NON_SELECTIVE_SOURCES = ("from_memory",)


@dataclass(frozen=True, slots=True)
class RowReading:
    """One row in this setting: ``truth`` of its conditions (None = not known), what it says, what is not known."""

    row: Tolerance
    truth: bool | None
    result: str
    permits: bool
    unknown: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ToleranceReading:
    """The answer for one turf and control: see the module's rule. ``rows``: every row that speaks or might."""

    result: str
    certain: bool
    rows: tuple[RowReading, ...]
    unknown: tuple[str, ...]
    sources: tuple[str, ...]

    @property
    def has_permission(self) -> bool:
        """True if some row calls the use safe or possible with care, be it under conditions that are not known here."""
        return self.certain or any(row.permits for row in self.rows)

    @property
    def deciding(self) -> tuple[RowReading, ...]:
        """The rows that say what was answered."""
        return tuple(row for row in self.rows if row.result == self.result) or self.rows


def read_tolerance(control: Control, setting: Setting, turf: Turf | None, timing: str | None) -> ToleranceReading:
    """Weigh the control's own rows for this turf; ``timing`` None reads the rows of all timings.

    A mixture is judged by its own rows only: its parts say nothing about its safety.
    """
    rows = tuple(_read_rows(control, setting, turf, timing))
    speaking = [row for row in rows if row.truth is not None or row.result != "safe"]
    certain = any(row.permits and row.truth for row in rows)
    result = next((word for word in CAUTION_ORDER if any(row.result == word for row in speaking)), "not_known")
    if result == "not_known" and control.kind in KILLING_KINDS:
        return ToleranceReading("injures", False, rows, (), NON_SELECTIVE_SOURCES)
    if result == "not_known" and not control.is_chemical:
        return ToleranceReading("safe", True, rows, (), control.sources)
    if result == "not_known" and any(row.permits for row in rows):
        result = "caution"
    unknown = () if certain else tuple(dict.fromkeys(name for row in rows for name in row.unknown))
    sources = tuple(dict.fromkeys(source for row in rows for source in row.row.sources))
    return ToleranceReading(result, certain, rows, unknown, sources)


def names_turf(row_turf: str, turf: str, season: str) -> bool:
    """True if the row's turf word covers this turf."""
    return row_turf in (turf, "any") or row_turf == f"any_{season}_season"


def _read_rows(control: Control, setting: Setting, turf: Turf | None, timing: str | None) -> Iterator[RowReading]:
    season = turf.season if turf else ""
    for row in control.tolerance:
        if row.when.rate == "above_label" or not names_turf(row.turf, setting.turf, season):
            continue
        truth, unknown = read_when(row.when, setting, timing)
        mixed = bool(row.when.mixed_with)
        if truth is False or (mixed and row.result == "safe"):
            continue
        result, permits = _weigh(row, mixed)
        yield RowReading(row, truth, result, permits, unknown)


def _weigh(row: Tolerance, mixed: bool) -> tuple[str, bool]:
    """What the row says for label use, and whether it counts as permission.

    Injury at a high rate or only in a mixture with something else is a caution that permits nothing.
    Safety at a low rate is a caution.
    """
    if row.result == "injures" and (row.when.rate == "high" or mixed):
        return "caution", False
    if row.result == "safe" and row.when.rate == "low":
        return "caution", True
    return row.result, row.result in PERMITS and not mixed


def read_when(when: When, setting: Setting, timing: str | None) -> tuple[bool | None, tuple[str, ...]]:
    """Truth of all stated conditions together, and the names of those that are not known."""
    unknown: list[str] = []
    for name, truth in _conditions(when, setting, timing):
        if truth is False:
            return False, ()
        if truth is None:
            unknown.append(name)
    return (None, tuple(unknown)) if unknown else (True, ())


def _conditions(when: When, setting: Setting, timing: str | None) -> Iterator[tuple[str, bool | None]]:
    """The stated conditions by the name of the setting's value that answers them, each true, false or not known."""
    is_barrier = timing == "pre_emergence"
    has_timing = timing is not None and when.timing not in (None, "any")
    checks = (
        ("growth", when.growth, _is_in(setting.growth, when.growth)),
        ("stand", when.stand, _is_in(setting.stand, when.stand)),
        ("stand_age_days", when.stand_min_days, _is_at_least(setting.stand_age_days, when.stand_min_days)),
        ("cultivar", when.cultivars, _is_in(setting.cultivar, when.cultivars)),
        ("cultivar", when.not_cultivars, _is_not_in(setting.cultivar, when.not_cultivars)),
        ("site", when.sites, _is_in(setting.site, when.sites)),
        ("region", when.regions, _is_in(setting.region, when.regions)),
        ("on", when.months, any(setting.holds(window) for window in when.months)),
        ("air_high_f", when.air_above_f, _is_at_least(setting.air_high_f, when.air_above_f)),
        ("air_high_f", when.air_below_f, _is_at_most(setting.air_high_f, when.air_below_f)),
        ("timing", has_timing or None, (when.timing == "pre_emergence") == is_barrier),
    )
    for name, said, truth in checks:
        if said is not None and said != ():
            yield name, truth


def _is_in(value: str | None, allowed: tuple[str, ...]) -> bool | None:
    return None if value is None else value in allowed


def _is_not_in(value: str | None, excepted: tuple[str, ...]) -> bool | None:
    return None if value is None else value not in excepted


def _is_at_least(value: float | None, bound: float | None) -> bool | None:
    return None if value is None or bound is None else value >= bound


def _is_at_most(value: float | None, bound: float | None) -> bool | None:
    return None if value is None or bound is None else value <= bound


def stated(when: When) -> dict[str, object]:
    """The conditions that the row states, for showing; windows as (MM-DD, MM-DD)."""
    shown: dict[str, object] = {}
    for name in ("growth", "stand", "cultivars", "not_cultivars", "sites", "regions", "mixed_with"):
        words = getattr(when, name)
        if words:
            shown[name] = list(words)
    for name in ("air_above_f", "air_below_f", "rate", "timing", "stand_min_days"):
        value = getattr(when, name)
        if value is not None:
            shown[name] = value
    if when.months:
        shown["months"] = [
            [f"{w.start_month:02d}-{w.start_day:02d}", f"{w.end_month:02d}-{w.end_day:02d}"] for w in when.months
        ]
    return shown
