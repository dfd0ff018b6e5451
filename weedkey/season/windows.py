"""When a weed germinates at a place, and when a pre-emergence barrier must lie to be in time.

Soil at 1 inch decides where the entry gives a range (depth of cropsci_dd96 and udel_crab09): a spring
germinator starts when the warming soil reaches the low end and is in full flush at the high end; an autumn
germinator starts when the cooling soil falls below the high end and is in full flush at the low end. Else the
calendar of the entry. Years differ: the last spring frost of 12 North Carolina stations scatters by 10 to 17
days, mostly 11 or 12 (standard deviation, ncsu_frost), so the barrier is due 11 days before germination of a
normal year.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from weedkey.model.place import Place
from weedkey.model.trace import Step
from weedkey.model.weed import CalendarRow, Weed
from weedkey.model.window import Window
from weedkey.season.own_record import OwnTemperatures
from weedkey.season.soil import SEED_DEPTH_IN, is_warming, soil_temperature_f, turning_days

#: Standard deviation of last spring frost dates, North Carolina stations (ncsu_frost: 10 to 17 days, mostly
#: 11).
EARLY_YEAR_DAYS = 11
#: How long before it is needed a barrier may go down, and the least warning given.
LEAD_DAYS = 28
#: Second half of a split barrier (uf_split16).
SPLIT_DAYS = 42
#: A soil crossing earlier than this before the calendar window of a second flush does not belong to it.
SAME_FLUSH_DAYS = 45
TIMING_SOURCES = ("ncsu_frost",)
SPLIT_SOURCES = ("uf_split16",)
_FROM_SEED = ("seed", "spores")


@dataclass(frozen=True, slots=True)
class GerminationWindow:
    """One flush: first day, day of full flush (None if not known), last day; ``basis`` is soil or calendar."""

    weed: str
    season: str
    start: date
    peak: date | None
    end: date
    basis: str
    step: Step

    @property
    def early_start(self) -> date:
        """First day in an early year."""
        return self.start - timedelta(days=EARLY_YEAR_DAYS)


@dataclass(frozen=True, slots=True)
class PreEmergenceWindow:
    """The days in which a barrier against one flush goes down: not before ``opens``, not after ``closes``."""

    weed: str
    season: str
    opens: date
    closes: date
    germination: GerminationWindow
    step: Step

    @property
    def second_half(self) -> tuple[date, date]:
        """The days for the second half of a split barrier, six weeks after the first."""
        gap = timedelta(days=SPLIT_DAYS)
        return self.opens + gap, self.closes + gap

    def outlasts(self, lasts_weeks: float) -> bool:
        """True if the flush runs on after a barrier laid on the last day has worn off."""
        return self.germination.end > self.closes + timedelta(days=round(lasts_weeks * 7))


@dataclass(frozen=True, slots=True)
class _Flush:
    """What the entry says of one flush: its half of the year, calendar dates, soil range, sources.

    ``is_first``: the first flush of that half of the year, to which the soil may give any earlier date.
    """

    season: str
    dates: tuple[date, date] | None
    soil_f: tuple[float, float] | None
    sources: tuple[str, ...]
    is_first: bool = True


def germination_windows(
    weed: Weed, place: Place, year: int, own: OwnTemperatures | None = None
) -> tuple[GerminationWindow, ...]:
    """Every flush that starts in ``year`` at the place, earliest first; empty if nothing is known.

    Calendar and soil range may stand in different rows of the entry; each is taken from the row nearest to the place.
    """
    windows = [_germination(weed, flush, place, year, own) for flush in _flushes(weed, place, year)]
    found = {(window.start, window.end): window for window in windows if window is not None}
    return tuple(found[key] for key in sorted(found))


def pre_emergence_windows(
    weed: Weed, place: Place, year: int, own: OwnTemperatures | None = None
) -> tuple[PreEmergenceWindow, ...]:
    """When a barrier must go down against each flush from seed; empty for a weed that does not come from
    seed.
    """
    if not comes_from_seed(weed):
        return ()
    return tuple(_barrier(window) for window in germination_windows(weed, place, year, own))


def comes_from_seed(weed: Weed) -> bool:
    """True if the entry says that the weed spreads by seed, or, where it is silent, that it is an annual."""
    if weed.spread is not None:
        return any(way in _FROM_SEED for way in weed.spread.by)
    return weed.is_annual


def is_barrier_alive(applied: date, lasts_weeks: float, flush: GerminationWindow) -> str:
    """``yes`` if the barrier lies through the whole flush, ``partly``, or ``no``."""
    worn_off = applied + timedelta(days=round(lasts_weeks * 7))
    if applied > flush.end or worn_off < flush.start:
        return "no"
    return "yes" if applied <= flush.start and worn_off >= flush.end else "partly"


def _nearest_row_or_none(rows: Iterable[CalendarRow], place: Place) -> CalendarRow | None:
    """The row of the place's region, else one without a region, else the first of another region."""
    found = list(rows)
    for fitting in (
        [row for row in found if place.region in row.regions],
        [row for row in found if not row.regions],
        found,
    ):
        if fitting:
            return fitting[0]
    return None


def dates_of_window(window: Window, place: Place, year: int) -> tuple[date, date]:
    """First and last day of a yearly window that starts in ``year``; half a year later south of the
    equator.
    """
    turned = window.shifted_half_a_year() if place.is_southern else window
    start = _day(year, turned.start_month, turned.start_day)
    return start, _day(year + 1 if turned.wraps else year, turned.end_month, turned.end_day)


def soil_crossing_or_none(
    place: Place, year: int, limit_f: float, rising: bool, own: OwnTemperatures | None = None
) -> date | None:
    """First day of the year's warming (or cooling) half on which the seed-depth soil passes the limit, or
    None.
    """
    for day in _half_year(place, year, rising):
        soil_f = soil_temperature_f(place, day, SEED_DEPTH_IN, own)
        if (soil_f >= limit_f) if rising else (soil_f < limit_f):
            return None if day == next(_half_year(place, year, rising)) else day
    return None


def _flushes(weed: Weed, place: Place, year: int) -> Iterator[_Flush]:
    """One flush for each calendar window; from the growth season of the weed where only the soil is known."""
    dated = _nearest_row_or_none((row for row in weed.calendar if row.germinates), place)
    soiled = _nearest_row_or_none((row for row in weed.calendar if row.germinates_soil_f), place)
    soil_f = soiled.germinates_soil_f if soiled is not None else None
    sources = tuple(dict.fromkeys(source for row in (dated, soiled) if row is not None for source in row.sources))
    if dated is not None:
        seen: set[str] = set()
        for dates in sorted(dates_of_window(window, place, year) for window in dated.germinates):
            season = "spring" if is_warming(place, dates[0]) else "autumn"
            yield _Flush(season, dates, soil_f, sources, season not in seen)
            seen.add(season)
    elif soil_f is not None:
        if weed.growth_season in ("warm", "both"):
            yield _Flush("spring", None, soil_f, sources)
        if weed.growth_season in ("cool", "both"):
            yield _Flush("autumn", None, soil_f, sources)


def _germination(
    weed: Weed, flush: _Flush, place: Place, year: int, own: OwnTemperatures | None
) -> GerminationWindow | None:
    facts: dict[str, object] = {"weed": weed.id, "place": place.id, "year": year, "season": flush.season}
    soil = _soil_dates_or_none(flush, place, year, own)
    if soil is not None:
        start, peak = soil
        end = flush.dates[1] if flush.dates else start + timedelta(days=LEAD_DAYS)
        end, basis = max(end, peak or start), "soil"
        facts |= {"soil_f": flush.soil_f, "depth_in": SEED_DEPTH_IN}
        facts |= {"calendar_start": flush.dates[0].isoformat() if flush.dates else None}
    elif flush.dates is not None:
        (start, end), peak, basis = flush.dates, None, "calendar"
    else:
        return None
    facts |= {"start": start.isoformat(), "end": end.isoformat()}
    step = Step("season.germination", basis, facts, tuple(dict.fromkeys((*flush.sources, *place.sources))))
    return GerminationWindow(weed.id, flush.season, start, peak, end, basis, step)


def _soil_dates_or_none(
    flush: _Flush, place: Place, year: int, own: OwnTemperatures | None
) -> tuple[date, date | None] | None:
    """First day and full flush by the soil; None if the soil never crosses, or outside the calendar."""
    if flush.soil_f is None:
        return None
    low_f, high_f = flush.soil_f
    rising = flush.season == "spring"
    first, full = (
        soil_crossing_or_none(place, year, limit_f, rising, own)
        for limit_f in ((low_f, high_f) if rising else (high_f, low_f))
    )
    if first is None or not _belongs(first, flush):
        return None
    return first, full


def _belongs(day: date, flush: _Flush) -> bool:
    """True if a soil crossing lies in the calendar window or before it; not long before, for a second flush."""
    if flush.dates is None:
        return True
    start, end = flush.dates
    return day <= end and (flush.is_first or day >= start - timedelta(days=SAME_FLUSH_DAYS))


def _barrier(flush: GerminationWindow) -> PreEmergenceWindow:
    closes = flush.early_start
    opens = closes - timedelta(days=LEAD_DAYS)
    facts = {
        "weed": flush.weed,
        "season": flush.season,
        "opens": opens.isoformat(),
        "closes": closes.isoformat(),
        "early_year_days": EARLY_YEAR_DAYS,
        "lead_days": LEAD_DAYS,
    }
    step = Step("season.pre_emergence", flush.basis, facts, TIMING_SOURCES, (flush.step,))
    return PreEmergenceWindow(flush.weed, flush.season, opens, closes, flush, step)


def _half_year(place: Place, year: int, rising: bool) -> Iterator[date]:
    """Days of the warming (cooling) half of the year whose middle lies in ``year``."""
    coldest, warmest = turning_days(place)
    start, length = (coldest, warmest - coldest) if rising else (warmest, coldest - warmest)
    first = date(year, 1, 1) + timedelta(days=int(start * 365))
    length %= 1.0
    if start + length / 2 >= 1.0:
        first = date(year - 1, 1, 1) + timedelta(days=int(start * 365))
    for offset in range(int(length * 365) + 1):
        yield first + timedelta(days=offset)


def _day(year: int, month: int, day: int) -> date:
    """The date, with 29 February moved to the 28th in a common year."""
    try:
        return date(year, month, day)
    except ValueError:
        return date(year, month, day - 1)
