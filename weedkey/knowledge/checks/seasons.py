"""Calendars of weeds, climates of places, and figures that must stand in order."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from weedkey.errors import Issue
from weedkey.knowledge.checks.base import Check, Subject
from weedkey.knowledge.entries import RawEntry
from weedkey.model.place import Place
from weedkey.model.weed import CalendarRow, Weed
from weedkey.model.window import Window

_MONTHS = range(1, 13)


def months_of(windows: Iterable[Window]) -> set[int]:
    """Every month that some window touches."""
    return {month for window in windows for month in _MONTHS if window.holds_month(month)}


class CalendarSane(Check):
    """A calendar that contradicts itself sends somebody out in the wrong month."""

    id = "calendar"
    severity = "warning"
    about = "The windows of a weed fit each other and its life cycle."

    def find(self, subject: Subject) -> Iterator[Issue]:
        """Calendar rows that contradict themselves."""
        for raw, weed in subject.of_kind("weed"):
            for place, row in enumerate(weed.calendar):
                for key, wrong, expected in _row_problems(weed, row):
                    yield self.issue(raw, ("calendar", place, *key), wrong, expected)


def _row_problems(weed: Weed, row: CalendarRow) -> Iterator[tuple[tuple[str, ...], str, str]]:
    active, germinates, flowers = months_of(row.active), months_of(row.germinates), months_of(row.flowers)
    if active and flowers and not flowers & active:
        yield ("flowers",), "it flowers while it is not active", "windows that overlap"
    if active and germinates and not germinates & (active | {month % 12 + 1 for month in germinates}):
        yield ("germinates",), "it germinates long before it is active", "windows that meet"
    if len(germinates) > 9:
        yield ("germinates",), f"it germinates in {len(germinates)} months of the year", "at most nine months"
    if row.germinates_soil_f is not None and row.germinates_soil_f[0] > row.germinates_soil_f[1]:
        yield ("germinates_soil_f",), "the lower temperature stands second", "[lowest, highest]"
    kinds = {cycle.kind for cycle in weed.life_cycles}
    if row.dies in ("frost", "heat", "drought") and kinds <= {"perennial", "biennial"}:
        yield ("dies",), f"{row.dies} is said to end a perennial", "none, or an annual life cycle too"
    if kinds == {"summer_annual"} and row.dies == "heat":
        yield ("dies",), "heat is said to end a summer annual", "frost"
    if kinds == {"winter_annual"} and row.dies == "frost":
        yield ("dies",), "frost is said to end a winter annual", "heat"


class LifeCycleCalendar(Check):
    """A summer annual germinates in spring and summer, a winter annual from late summer on."""

    id = "calendar-life-cycle"
    severity = "warning"
    about = "Germination windows fit the life cycle."

    def find(self, subject: Subject) -> Iterator[Issue]:
        """Annuals that germinate only in the wrong half of the year."""
        for raw, weed in subject.of_kind("weed"):
            kinds = {cycle.kind for cycle in weed.life_cycles}
            for place, row in enumerate(weed.calendar):
                months = months_of(row.germinates)
                if months and kinds == {"summer_annual"} and not months & {2, 3, 4, 5, 6, 7}:
                    yield self.issue(
                        raw,
                        ("calendar", place, "germinates"),
                        "a summer annual germinates outside spring and summer",
                        "a window from February to July",
                    )
                if months and kinds == {"winter_annual"} and not months & {8, 9, 10, 11, 12, 1}:
                    yield self.issue(
                        raw,
                        ("calendar", place, "germinates"),
                        "a winter annual germinates outside autumn and winter",
                        "a window from August to January",
                    )


class ClimateSane(Check):
    """Windows of a place hang on its twelve means; a swapped row would move every date."""

    id = "climate"
    about = "The monthly means and frost dates of a place fit each other."

    def find(self, subject: Subject) -> Iterator[Issue]:
        """Places whose figures contradict each other."""
        for raw, place in subject.of_kind("place"):
            yield from self._months(raw, place)
            yield from self._frost(raw, place)

    def _months(self, raw: RawEntry, place: Place) -> Iterator[Issue]:
        for month in range(12):
            if place.high_f[month] <= place.low_f[month]:
                yield self.issue(
                    raw,
                    ("monthly", "high_f", month),
                    "the mean high is not above the mean low of the month",
                    "high_f above low_f",
                )
        warm, cold = (0, 6) if place.is_southern else (6, 0)
        if place.high_f[warm] < place.high_f[cold]:
            yield self.issue(
                raw,
                ("monthly",),
                "the summer of this latitude is colder than its winter",
                "January first, and latitude south as negative",
            )

    def _frost(self, raw: RawEntry, place: Place) -> Iterator[Issue]:
        spring = range(7, 13) if place.is_southern else range(1, 7)
        for row, frost in enumerate(place.frost):
            if (frost.event == "last_spring") != (frost.month in spring):
                yield self.issue(
                    raw,
                    ("frost", row, "date"),
                    f"{frost.month:02d}-{frost.day:02d} is not in the half year of {frost.event}",
                    "the day of that frost",
                )


class FigureOrder(Check):
    """Pairs of figures stand with the lower one first."""

    id = "figure-order"
    about = "The lower figure of a pair stands first."

    def find(self, subject: Subject) -> Iterator[Issue]:
        """Pairs that stand the wrong way round."""
        for raw, entry in subject.of_kind("weed", "control"):
            for list_key, key in (("responses", "percent"), ("tolerance", "injury_percent")):
                for row, item in enumerate(getattr(entry, list_key, ())):
                    pair = getattr(item, key)
                    if pair is not None and pair[0] > pair[1]:
                        yield self.issue(
                            raw, (list_key, row, key), "the higher figure stands first", "[lowest, highest]"
                        )
        for raw, turf in subject.of_kind("turf"):
            for list_key in ("soil_ph", "nitrogen", "spread_rates"):
                for row, item in enumerate(getattr(turf, list_key)):
                    if item.low > item.high:
                        yield self.issue(raw, (list_key, row), "the higher figure stands first", "low, then high")
