"""When a weed does what at this place, from its calendar rows: active, germinating, flowering, setting seed, dying."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from weedkey.control.results import Span
from weedkey.control.setting import Setting
from weedkey.model.weed import CalendarRow, Weed
from weedkey.model.window import Window

#: A barrier goes down in the weeks before the first seed germinates; rough, used only where the season of the place
#: was not worked out (``Setting.barrier_windows``). Common practice.
BARRIER_LEAD_DAYS = 45
#: Whole months are rough: a barrier in the first days of the germination month still stops most of the seed.
BARRIER_GRACE_DAYS = 14
BARRIER_SOURCES = ("common_practice",)


@dataclass(frozen=True, slots=True)
class WeedYear:
    """The windows of one weed in one region; empty = not known. ``annual``: winter, summer, any or empty."""

    weed: str
    annual: str
    comes_from_seed: bool
    active: tuple[Window, ...]
    germinates: tuple[Window, ...]
    flowers: tuple[Window, ...]
    seeds: tuple[Window, ...]
    dies: str | None
    sources: tuple[str, ...]
    barriers: tuple[Span, ...] = ()

    def is_active(self, setting: Setting) -> bool | None:
        """True if the weed is green and growing on the day; None if no window is known."""
        return any(setting.holds(window) for window in self.active) if self.active else None

    def is_seeding(self, setting: Setting) -> bool:
        """True if the weed is known to flower or set seed on the day."""
        return any(setting.holds(window) for window in (*self.flowers, *self.seeds))

    def days_left(self, setting: Setting) -> int | None:
        """Days to the end of the active window that holds the day; None if there is none."""
        ends = [
            (occurrence(setting.window_here(window), setting.on).last - setting.on).days
            for window in self.active
            if setting.holds(window)
        ]
        return max(ends, default=None)

    def next_active_or_none(self, setting: Setting) -> Span | None:
        """The active window that holds the day, or the next one."""
        return _earliest(occurrence(setting.window_here(window), setting.on) for window in self.active)

    def barrier_span_or_none(self, setting: Setting) -> Span | None:
        """The window for a pre-emergence application that is open or comes next."""
        told = [span for span in self.barriers if span.last >= setting.on]
        return _earliest(told) or _earliest(self._rough_barriers(setting))

    def is_still_germinating(self, setting: Setting) -> bool:
        """True inside a germination window: part of the seed is up, part is to come."""
        return any(setting.holds(window) for window in self.germinates)

    def _rough_barriers(self, setting: Setting) -> Iterable[Span]:
        for window in self.germinates:
            here = setting.window_here(window)
            for year in (setting.on.year - 1, setting.on.year, setting.on.year + 1):
                start = _day(year, here.start_month, here.start_day)
                span = Span(
                    start - timedelta(days=BARRIER_LEAD_DAYS), start + timedelta(days=BARRIER_GRACE_DAYS), rough=True
                )
                if span.last >= setting.on:
                    yield span
                    break


def read_year(weed: Weed, region: str | None, barriers: Iterable[Span] = ()) -> WeedYear:
    """The weed's windows: its rows for the region, else those for everywhere, else (rougher) those of other regions.

    ``barriers``: the windows for a barrier that were worked out for the place.
    """
    everywhere = [row for row in weed.calendar if not row.regions]
    here = [row for row in weed.calendar if region in row.regions] if region else list(weed.calendar)

    def windows(name: str) -> tuple[Window, ...]:
        for rows in (here, everywhere, weed.calendar):
            found = dict.fromkeys(window for row in rows for window in getattr(row, name))
            if found:
                return tuple(found)
        return ()

    rows: list[CalendarRow] = here or everywhere
    return WeedYear(
        weed=weed.id,
        annual=_annual_kind(weed),
        comes_from_seed=any("annual" in cycle.kind for cycle in weed.life_cycles),
        active=windows("active"),
        germinates=windows("germinates"),
        flowers=windows("flowers"),
        seeds=windows("seeds"),
        dies=next((row.dies for row in rows if row.dies), None),
        sources=tuple(dict.fromkeys(source for row in rows for source in row.sources)),
        barriers=tuple(barriers),
    )


def occurrence(window: Window, on: date) -> Span:
    """The dates of a yearly window: the occurrence that holds the day, else the next one."""
    for year in (on.year - 1, on.year, on.year + 1):
        first = _day(year, window.start_month, window.start_day)
        last = _day(year + window.wraps, window.end_month, window.end_day)
        if last >= on:
            return Span(first, last, rough=True)
    raise AssertionError("a yearly window always comes again within two years")


def window_text(window: Window) -> str:
    """The window as MM-DD..MM-DD, for facts of a step."""
    return f"{window.start_month:02d}-{window.start_day:02d}..{window.end_month:02d}-{window.end_day:02d}"


def _annual_kind(weed: Weed) -> str:
    if not weed.is_annual:
        return ""
    kinds = {cycle.kind for cycle in weed.life_cycles}
    if kinds == {"winter_annual"}:
        return "winter"
    if kinds == {"summer_annual"}:
        return "summer"
    return "any"


def _earliest(spans: Iterable[Span]) -> Span | None:
    return min(spans, key=lambda span: (span.first, span.last), default=None)


def _day(year: int, month: int, day: int) -> date:
    """The day, or 28 February for the 29th in a common year."""
    try:
        return date(year, month, day)
    except ValueError:
        return date(year, month, 28)
