"""The ways in which a weed (or a set) could be handled here: now, later, before it comes up, by hand, on the spot.

Each route is worked out only when it is asked for, on the same gates as the choices.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from weedkey.control.gatebook import GateBook, Shelf, kills_turf
from weedkey.control.results import RESULT_ORDER, WORTH_OFFERING, GateResult, Span
from weedkey.control.statements import is_overturned, statements_here
from weedkey.model.control import Control
from weedkey.model.source import is_published
from weedkey.model.weed import OnlyNonSelective, Weed

#: A winter annual that is this near to its end, and any other annual that is this near, is left to die.
ENDING_DAYS = {"winter": 60, "summer": 45, "any": 45}
#: Crabgrass and its like in cool-season turf from the middle of August: about this long before frost (K-State, 2021).
COOL_TURF_ENDING_DAYS = 78
#: "A small stand is best ignored": taken as up to this cover.
SMALL_COVER_PERCENT = 10
#: A fair result now is not worth it if a good one opens within this time.
WORTH_WAITING_DAYS = 90
_GOOD = ("excellent", "good")
#: A window is cut to the day on which its first control was seen open, unless that is about its start anyway.
_ABOUT_THE_START = timedelta(days=10)
#: Gates that the day shuts and another day opens.
_OF_THE_DAY = frozenset(
    {"growth", "air_temperature", "time_of_year", "mowing", "rain", "irrigation", "wind", "interval", "seeding"}
)
#: What may be open in a window months ahead: the day's growth and air are not known yet.
_OPEN_LATER = frozenset({"growth", "air_high_f"})


@dataclass(frozen=True, slots=True)
class Route:
    """Controls, best first, with the window in which they are open and the best result among them."""

    controls: tuple[str, ...]
    result: str = "not_known"
    window: Span | None = None


class Routes:
    """The routes for the candidates that count, in one setting, with the settings ahead."""

    def __init__(self, shelf: Shelf, weeds: tuple[Weed, ...]) -> None:
        self.shelf = shelf
        self.knowledge = shelf.knowledge
        self.weeds = weeds
        self.book = shelf.today
        self.setting = shelf.today.setting
        self.controls = self.book.controls_about(weeds[0])

    def now(self) -> Route | None:
        """Chemistry that spares the turf and may be used over it today."""
        return self._route(self.book, self._selective(), "post_emergence")

    def later(self) -> Route | None:
        """The first stretch of the settings ahead in which such chemistry opens; good results before fair ones."""
        found: list[tuple[bool, Route]] = []
        open_since: dict[str, tuple[GateBook, GateBook]] = {}
        closed: set[str] = set()
        for book in self.shelf.ahead:
            for control in self._selective():
                if control.id in closed:
                    continue
                if self._is_offered(book, control, "post_emergence"):
                    first, _ = open_since.get(control.id, (book, book))
                    open_since[control.id] = (first, book)
                elif control.id in open_since:
                    closed.add(control.id)
        for control_id, (first, last) in open_since.items():
            result = self._result(first, self.knowledge.controls[control_id], "post_emergence")
            span = Span(first.setting.on, self.shelf.last_day(last), rough=True)
            found.append((result not in _GOOD, Route((control_id,), result, span)))
        return _join_first(found)

    def shut_today(self) -> Route | None:
        """Chemistry that spares the turf and is kept back by the day only; the window is the weed's next active season.

        For judging without the settings ahead: what is shut by growth, weather or season today opens again.
        """
        spans = [self.book.year(weed).next_active_or_none(self.setting) for weed in self.weeds]
        span = spans[0] if spans[0] is not None and spans[0].first > self.setting.on else None
        return self._route(self.book, self._selective(), "post_emergence", window=span, accepts=self._is_shut_by_day)

    def prevent(self) -> Route | None:
        """A barrier before the seed germinates: the window that is open or comes next."""
        spans = [self.book.year(weed).barrier_span_or_none(self.setting) for weed in self.weeds]
        span = spans[0]
        if span is None or not all(self.book.year(weed).comes_from_seed for weed in self.weeds):
            return None
        barriers = [c for c in self.controls if c.is_chemical and "pre_emergence" in self.book.timings(c)]
        books = [book for book in (self.book, *self.shelf.ahead) if span.first <= book.setting.on <= span.last]
        accepts = self._is_offered
        if not books:
            accepts = self._may_open
            books = [self.shelf.unknown_day(day) for day in _days_within(max(span.first, self.setting.on), span.last)]
        return self._join_days(books, barriers, span, accepts)

    def _join_days(
        self, books: Sequence[GateBook], barriers: Sequence[Control], span: Span, accepts: Callable[..., bool]
    ) -> Route | None:
        """Barriers that are open on any of these days of a window, best first; the window from the first such day."""
        found: dict[str, tuple[tuple[object, ...], str, str]] = {}
        opens = None
        for book in books:
            for control in barriers:
                if control.id not in found and accepts(book, control, "pre_emergence"):
                    rank = self._rank(book, control, "pre_emergence")
                    found[control.id] = (rank, control.id, self._result(book, control, "pre_emergence"))
                    opens = opens or book.setting.on
        if opens is None:
            return None
        best = sorted(found.values())
        is_late = opens != books[0].setting.on or opens - span.first > _ABOUT_THE_START
        window = replace(span, first=max(span.first, opens)) if is_late else span
        return Route(tuple(control for _, control, _ in best), best[0][2], window)

    def measures(self) -> Route | None:
        """Hand, mower, water, soil, light, feed: what helps without chemistry."""
        chosen = [c for c in self.controls if not c.is_chemical and not kills_turf(c) and c.kind != "replant"]
        return self._route(self.book, chosen, "post_emergence")

    def hand(self) -> Route | None:
        """Digging or pulling."""
        return self._route(self.book, [c for c in self.controls if c.kind == "hand"], "post_emergence")

    def spot(self) -> Route | None:
        """Controls that kill the turf in the spot too; today, or in the first stretch ahead in which they are open."""
        chosen = [c for c in self.controls if kills_turf(c)]
        route = self._route(self.book, chosen, "post_emergence", use="spot")
        if route is not None:
            return route
        for book in self.shelf.ahead:
            route = self._route(book, chosen, "post_emergence", use="spot")
            if route is not None:
                return replace(route, window=Span(book.setting.on, self.shelf.last_day(book), rough=True))
        return None

    def is_ending(self, cover_percent: float | None) -> bool:
        """True if every candidate is an annual that will soon die by itself."""
        return all(self._is_ending(weed, cover_percent) for weed in self.weeds)

    def standing_statement(self, controls: tuple[str, ...]) -> bool:
        """True if a statement "no selective control" holds for a candidate and none of these controls overturns it."""
        return any(
            row.holds and not any(self._overturns(weed, row_control, row) for row_control in controls)
            for weed in self.weeds
            for row in statements_here(self.knowledge, weed, self.setting)
        )

    def _overturns(self, weed: Weed, control_id: str, row: OnlyNonSelective) -> bool:
        return is_overturned(self.knowledge, weed, row, self.knowledge.controls[control_id], self.setting.turf)

    def _is_ending(self, weed: Weed, cover_percent: float | None) -> bool:
        year = self.book.year(weed)
        if not year.annual:
            return False
        left = year.days_left(self.setting)
        if left is None:
            return False
        turf = self.knowledge.turfs.get(self.setting.turf)
        limit = ENDING_DAYS[year.annual]
        is_small = cover_percent is None or cover_percent <= SMALL_COVER_PERCENT
        if year.annual == "summer" and turf is not None and turf.season == "cool" and is_small:
            limit = COOL_TURF_ENDING_DAYS
        if left <= limit:
            return True
        spring = (3, 4, 5, 6) if not self.setting.southern else (9, 10, 11, 12)
        in_flower = self.setting.weed_stage == "flowering" or year.is_seeding(self.setting)
        return year.annual == "winter" and self.setting.on.month in spring and in_flower

    def _selective(self) -> tuple[Control, ...]:
        return self.book.sprays_about(self.weeds[0])

    def _route(
        self,
        book: GateBook,
        controls: Sequence[Control],
        timing: str,
        *,
        window: Span | None = None,
        use: str | None = None,
        accepts: Callable[..., bool] | None = None,
    ) -> Route | None:
        accepts = accepts or self._is_offered
        found = [
            (self._rank(book, control, timing), control.id)
            for control in controls
            if accepts(book, control, timing, use)
        ]
        if not found:
            return None
        found.sort()
        best = self.knowledge.controls[found[0][1]]
        return Route(tuple(control for _, control in found), self._result(book, best, timing), window)

    def _is_offered(self, book: GateBook, control: Control, timing: str, use: str | None = None) -> bool:
        how = use or book.use
        if not book.passes(control, how, timing):
            return False
        if how != "spot" and kills_turf(control) and book.tolerance(control, timing).result not in ("safe", "caution"):
            return False
        return all(book.is_offered(control, how, timing, weed) for weed in self.weeds)

    def _may_open(self, book: GateBook, control: Control, timing: str, use: str | None = None) -> bool:
        """As far as can be seen months ahead: nothing is shut, and only growth and air are still to be known."""
        how = use or book.use
        readings = [book.reading(weed, control, timing) for weed in self.weeds]
        if any(reading is None or reading.result not in WORTH_OFFERING for reading in readings):
            return False
        unknown = book.tolerance(control, timing).unknown
        return all(_is_still_unknown(gate, unknown) for gate in book.obstacles(control, how, timing, self.weeds))

    def _is_shut_by_day(self, book: GateBook, control: Control, timing: str, use: str | None = None) -> bool:
        how = use or book.use
        if kills_turf(control) or not all(_is_of_the_day(gate) for gate in book.obstacles(control, how, timing, ())):
            return False
        readings = [book.reading(weed, control, timing) for weed in self.weeds]
        for reading in readings:
            if reading is None or not (reading.result in WORTH_OFFERING or reading.off_months):
                return False
        return all(_is_of_the_day(gate) for gate in book.obstacles(control, how, timing, self.weeds))

    def _result(self, book: GateBook, control: Control, timing: str) -> str:
        """The result for the candidate that is served worst."""
        words = [
            reading.result if (reading := book.reading(weed, control, timing)) else "not_known" for weed in self.weeds
        ]
        return max(words, key=RESULT_ORDER.index)

    def _rank(self, book: GateBook, control: Control, timing: str) -> tuple[object, ...]:
        reading = book.reading(self.weeds[0], control, timing)
        return (
            RESULT_ORDER.index(self._result(book, control, timing)),
            book.tolerance(control, timing).result != "safe",
            reading is None or not is_published(reading.sources),
            len(control.parts),
        )


def _days_within(first: date, last: date) -> tuple[date, ...]:
    """First, middle and last of the half months that begin in a window: days that many windows have in common."""
    days = [day for day in (first + timedelta(days=n) for n in range((last - first).days + 1)) if day.day in (1, 16)]
    return tuple(dict.fromkeys((days[0], days[len(days) // 2], days[-1]))) if days else (first,)


def _join_first(found: list[tuple[bool, Route]]) -> Route | None:
    """The controls that open first, good ones before fair ones, in one window."""
    if not found:
        return None
    best_class = min(is_weak for is_weak, _ in found)
    same = [route for is_weak, route in found if is_weak == best_class and route.window is not None]
    start = min(route.window.first for route in same if route.window)
    near = [route for route in same if route.window and route.window.first <= start + timedelta(days=16)]
    near.sort(key=lambda route: (RESULT_ORDER.index(route.result), route.controls))
    last = max(route.window.last for route in near if route.window)
    return Route(
        tuple(control for route in near for control in route.controls), near[0].result, Span(start, last, rough=True)
    )


def _is_of_the_day(gate: GateResult) -> bool:
    """True if the obstacle is one of today only; a rating for other months speaks again in those months."""
    return gate.gate in _OF_THE_DAY or (gate.gate == "weed_response" and gate.step.facts["result"] == "not_known")


def _is_still_unknown(gate: GateResult, unknown: tuple[str, ...]) -> bool:
    """True if the obstacle is a condition of growth or air that nobody can know months ahead."""
    return gate.state == "ask" and gate.gate == "turf" and bool(unknown) and set(unknown) <= _OPEN_LATER
