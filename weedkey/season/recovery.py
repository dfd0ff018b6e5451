"""Will the turf close a bare spot before it stops growing? From published spread rates and growth potential.

The turf closes a round spot from its whole edge: distance to go = radius. A day's progress = rate * GP(day) /
GP of the days in which the rate was measured (1 for a rate of the best weeks; the mean GP of its months at
this place for a season-long rate). Rates of the closing edge are used as published; a rate of one runner's tip
is turned into an edge rate by 0.27 to 0.44, which is what the edge and tip rates of the same four zoysiagrasses
in one trial give (asa_zoy05; arithmetic in docs/season.md). Rates of cover (percent) say nothing about one spot
and are not used. Days count from the day the spot is bare; a weed under a systemic spray stays about two weeks
longer (common practice).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache

from weedkey.model.place import Place
from weedkey.model.trace import Step
from weedkey.model.turf import Establish, SpreadRate, Turf
from weedkey.season.climate import mean_temperature_f
from weedkey.season.growth import RESTING, growth_potential, growth_state
from weedkey.season.windows import dates_of_window

TIP_TO_EDGE = (0.27, 0.44)
TIP_SOURCES = ("asa_zoy05",)
_MM_AN_INCH = 25.4
_HORIZON_DAYS = 3 * 365
#: A turf that never rests has a year; what takes longer is not called closed.
_A_YEAR = 365
_LEAST_REFERENCE = 0.05
_USABLE = ("gap_closing", "tip_growth")


@dataclass(frozen=True, slots=True)
class SpotClosure:
    """Whether a spot closes. ``closes``: yes (even at the slow rate), perhaps (at the fast rate only), no,
    not_known.

    ``days_low``, ``days_high``: days to closure at the fast and the slow rate, None if not within three
    years.
    ``last_date``: last day on which such a spot, if bare then, still closes at the slow rate before growth
    stops;
    ``last_date_fast`` the same at the fast rate; ``stops`` the day on which growth stops (None = all year).
    """

    days_low: int | None
    days_high: int | None
    closes: str
    last_date: date | None
    step: Step
    last_date_fast: date | None = None
    stops: date | None = None


@dataclass(frozen=True, slots=True)
class Repair:
    """What to do with a bare spot: ``let_it_close``, ``replant`` (``methods`` with dates) or ``wait``; with
    its reason.
    """

    kind: str
    closure: SpotClosure
    methods: tuple[tuple[Establish, date, date], ...]
    fill_in: tuple[SpreadRate, ...]
    step: Step


def close_spot(turf: Turf, place: Place, on: date, diameter_in: float, cultivar: str | None = None) -> SpotClosure:
    """Days to closure of a bare spot of this diameter (inches) from ``on``, and the last day that still
    works.

    Raises ValueError for a diameter that is not above 0.
    """
    if diameter_in <= 0:
        raise ValueError(f"a spot of {diameter_in} in is no spot")
    rates = _rates(turf, cultivar)
    facts: dict[str, object] = {
        "turf": turf.id,
        "place": place.id,
        "on": on.isoformat(),
        "diameter_in": diameter_in,
        "cultivar": cultivar,
    }
    if not rates:
        step = Step("season.close_spot", "not_known", facts, turf.sources)
        return SpotClosure(None, None, "not_known", None, step)
    slow, fast = _edge_rates(rates, turf, place, on.year)
    radius_mm = diameter_in * _MM_AN_INCH / 2
    days_high, days_low = (_days_to_close(turf, place, on, radius_mm, rate) for rate in (slow, fast))
    stops = _growth_stops_or_none(turf, place, on)
    closes = _verdict(on, stops, days_low, days_high)
    last, last_fast = (_last_date_or_none(turf, place, on, radius_mm, rate) for rate in (slow, fast))
    facts |= {
        "edge_mm_a_day": (round(slow, 3), round(fast, 3)),
        "rates": tuple((rate.what, rate.low, rate.high, rate.cultivar) for rate in rates),
        "stops": stops.isoformat() if stops else None,
        "days": (days_low, days_high),
    }
    sources = [source for rate in rates for source in rate.sources]
    if any(rate.what == "tip_growth" for rate in rates):
        sources += TIP_SOURCES
    step = Step("season.close_spot", closes, facts, tuple(dict.fromkeys((*sources, "gp_atc14", *place.sources))))
    return SpotClosure(days_low, days_high, closes, last, step, last_fast, stops)


def advise_repair(turf: Turf, place: Place, on: date, diameter_in: float, cultivar: str | None = None) -> Repair:
    """Let the spot close, replant it (sod, plugs, seed in the windows of the turf's entry), or wait for
    such a window.

    ``fill_in`` holds the published fill-in figures of plugs and the like, for the report to show.
    """
    closure = close_spot(turf, place, on, diameter_in, cultivar)
    methods = []
    for row in turf.establish:
        if row.regions and place.region not in row.regions:
            continue
        for year in (on.year - 1, on.year, on.year + 1):
            start, end = dates_of_window(row.window, place, year)
            if end >= on:
                methods.append((row, max(start, on), end))
                break
    open_now = tuple(method for method in methods if method[1] == on)
    if closure.closes == "yes":
        kind = "let_it_close"
    else:
        kind = "replant" if open_now else "wait"
    ordered = tuple(sorted(methods, key=lambda method: (method[1], method[0].method)))
    fill_in = tuple(rate for rate in turf.spread_rates if rate.what not in _USABLE)
    facts = {"turf": turf.id, "diameter_in": diameter_in, "closes": closure.closes, "methods": len(ordered)}
    sources = tuple(dict.fromkeys(source for method in ordered for source in method[0].sources))
    return Repair(kind, closure, ordered, fill_in, Step("season.repair", kind, facts, sources, (closure.step,)))


def _rates(turf: Turf, cultivar: str | None) -> tuple[SpreadRate, ...]:
    """The rows that speak of an edge, else those of a tip; those of the cultivar where it has any."""
    for what in _USABLE:
        rows = tuple(rate for rate in turf.spread_rates if rate.what == what)
        own = tuple(rate for rate in rows if cultivar is not None and rate.cultivar == cultivar)
        general = tuple(rate for rate in rows if rate.cultivar is None) if cultivar is not None else ()
        chosen = own or general or rows
        if chosen:
            return chosen
    return ()


def _edge_rates(rates: tuple[SpreadRate, ...], turf: Turf, place: Place, year: int) -> tuple[float, float]:
    """Slowest and fastest rate of the edge in mm a day at a growth potential of 1."""
    slow, fast = [], []
    for rate in rates:
        reference = 1.0 if rate.peak else max(_LEAST_REFERENCE, _mean_potential(turf, place, year, rate))
        low, high = TIP_TO_EDGE if rate.what == "tip_growth" else (1.0, 1.0)
        slow.append(rate.low * low / reference)
        fast.append(rate.high * high / reference)
    return min(slow), max(fast)


def _mean_potential(turf: Turf, place: Place, year: int, rate: SpreadRate) -> float:
    days = [date(year, 1, 1) + timedelta(days=offset) for offset in range(365)]
    if rate.months is not None:
        window = rate.months.shifted_half_a_year() if place.is_southern else rate.months
        days = [day for day in days if window.holds(day)]
    return math.fsum(_potential(turf.season, place, day) for day in days) / len(days)


@lru_cache(maxsize=32768)
def _potential(season: str, place: Place, on: date) -> float:
    return growth_potential(season, mean_temperature_f(place, on))


def _progress(turf: Turf, place: Place, on: date) -> float:
    """Growth potential of the day, nothing while the turf rests."""
    return 0.0 if _rests(turf, place, on) else _potential(turf.season, place, on)


@lru_cache(maxsize=32768)
def _rests(turf: Turf, place: Place, on: date) -> bool:
    return growth_state(turf, place, on)[0] in RESTING


def _days_to_close(turf: Turf, place: Place, on: date, radius_mm: float, rate: float) -> int | None:
    gone = 0.0
    for offset in range(_HORIZON_DAYS):
        gone += rate * _progress(turf, place, on + timedelta(days=offset))
        if gone >= radius_mm:
            return offset + 1
    return None


def _growth_stops_or_none(turf: Turf, place: Place, on: date) -> date | None:
    """First resting day from ``on`` (``on`` itself if the turf rests now); None if it grows all year."""
    for offset in range(366):
        day = on + timedelta(days=offset)
        if _rests(turf, place, day):
            return day
    return None


def _verdict(on: date, stops: date | None, days_low: int | None, days_high: int | None) -> str:
    left = (stops - on).days if stops is not None else _A_YEAR
    if days_high is not None and days_high <= left:
        return "yes"
    return "perhaps" if days_low is not None and days_low <= left else "no"


def _last_date_or_none(turf: Turf, place: Place, on: date, radius_mm: float, rate: float) -> date | None:
    """Last day of the running growing season (or the next, if the turf rests) from which the spot still
    closes.
    """
    start = on
    while _rests(turf, place, start):
        start += timedelta(days=1)
        if (start - on).days > 366:
            return None
    stops = _growth_stops_or_none(turf, place, start)
    if stops is None:
        return None
    gone, day = 0.0, stops
    while not _rests(turf, place, day - timedelta(days=1)) and (stops - day).days < 366:
        day -= timedelta(days=1)
        gone += rate * _progress(turf, place, day)
        if gone >= radius_mm:
            return day
    return None
