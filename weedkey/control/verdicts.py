"""What to do with one weed, or with a set that is not settled: one of six verdicts, each with its reason as a trace.

Order of judgement: an annual that will soon die by itself is left; chemistry that spares the turf is used now, or
later if it opens later (a fair result now gives way to a good one that opens soon); annuals are met before they come
up; then measures without chemistry; then only the spot, or, past the published thresholds, renovation.
A dated statement "no selective control" stands unless a later published option overturns it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from weedkey.control import general_rules as rules
from weedkey.control.choices import choices_in, deciding, read_candidates
from weedkey.control.gatebook import GateBook, Shelf
from weedkey.control.results import KILLING_KINDS, RESULT_ORDER, WORTH_OFFERING, Alternative, Choice, ForWeed, Verdict
from weedkey.control.routes import WORTH_WAITING_DAYS, Route, Routes
from weedkey.control.setting import Setting
from weedkey.control.statements import is_overturned, statement_step, statements_here
from weedkey.control.thresholds import is_renovation, judge_cover
from weedkey.errors import UnknownName
from weedkey.model.base import Knowledge
from weedkey.model.trace import Step
from weedkey.model.weed import Sequence as Sprays
from weedkey.model.weed import Weed

#: Rule ids that a verdict's trace may carry.
VERDICT_RULES = (
    "verdict.annual_ending",
    "verdict.selective_now",
    "verdict.better_later",
    "verdict.selective_later",
    "verdict.shut_today",
    "verdict.prevent_seed",
    "verdict.measure",
    "verdict.statement_stands",
    "verdict.no_selective_known",
    "verdict.large_share",
    "verdict.nothing_known",
    "verdict.look_first",
)
_GOOD = ("excellent", "good")


@dataclass(frozen=True, slots=True)
class Ruling:
    """Kind, rule and route of one judgement, before it is dressed with reasons and alternatives."""

    kind: str
    rule: str
    route: Route
    second: Alternative | None = None
    sources: tuple[str, ...] = ()


def judge_weed(
    knowledge: Knowledge,
    weeds: str | Mapping[str, float],
    setting: Setting,
    ahead: Sequence[Setting] = (),
    cover_percent: float | None = None,
) -> Verdict:
    """The verdict for a weed or a set. ``ahead``: the same lawn on later days, in order; without them nothing waits.

    ``cover_percent`` is the cover of this weed. Raises UnknownName for a weed or turf that is not known.
    """
    if setting.turf not in knowledge.turfs:
        raise UnknownName("turf", setting.turf)
    candidates = read_candidates(knowledge, weeds)
    counted = tuple(weed for weed, _ in deciding(candidates))
    shelf = Shelf(knowledge, setting, ahead)
    singles = {weed.id: rule_on(shelf, (weed,), cover_percent) for weed in counted}
    ruling = singles[counted[0].id]
    if len(counted) > 1:
        ruling = _rule_on_set(shelf, counted, cover_percent, tuple(singles.values()))
    book = shelf.today
    choices = choices_in(book, candidates)
    each = tuple((weed.id, belief, singles[weed.id].kind if weed.id in singles else "") for weed, belief in candidates)
    return _dress(book, counted, ruling, choices=choices, cover_percent=cover_percent, each=each)


def rule_on(
    shelf: Shelf, weeds: tuple[Weed, ...], cover_percent: float | None = None, *, seconds: bool = True
) -> Ruling:
    """The ruling for weeds that are to be handled together, without the reasons (the fast part).

    ``seconds`` false leaves out the second best, where it would have to be worked out for itself.
    """
    routes = Routes(shelf, weeds)
    now = routes.now()
    if routes.is_ending(cover_percent):
        kinds = {routes.book.year(weed).annual for weed in weeds}
        sources = rules.ANNUAL_ENDING_SOURCES["winter" if kinds == {"winter"} else "summer"]
        second = Alternative("treat_now", now.controls) if now else None
        return Ruling("leave_it", "verdict.annual_ending", Route(()), second, sources)
    later = routes.later() if now is None or now.result not in _GOOD else None
    standing = routes.standing_statement((*(now.controls if now else ()), *(later.controls if later else ())))
    is_large = _is_past_thresholds(routes, cover_percent) and all(weed.is_perennial for weed in weeds)
    is_weak = all(route is None or route.result not in _GOOD for route in (now, later))
    if standing or (is_large and is_weak):
        return _rule_on_spot(routes, now or later, "verdict.statement_stands", is_large)
    return _rule_on_selective(routes, now, later, seconds) or _rule_without_selective(routes, is_large, seconds)


def _rule_on_selective(routes: Routes, now: Route | None, later: Route | None, seconds: bool) -> Ruling | None:
    if now is not None:
        if later is not None and _is_worth_waiting(routes, now, later):
            return Ruling("wait_for", "verdict.better_later", later, Alternative("treat_now", now.controls))
        return Ruling("treat_now", "verdict.selective_now", now, _by_hand_or_spot(routes) if seconds else None)
    if later is None or not _opens_in_time(routes, later):
        return None
    if _is_annual(routes) and not _is_active(routes):
        before = routes.prevent()
        if before is not None:
            instead = Alternative("wait_for", later.controls, later.window)
            return Ruling("prevent", "verdict.prevent_seed", before, instead)
    second = _alternative("treat_now", routes.measures()) if seconds else None
    return Ruling("wait_for", "verdict.selective_later", later, second)


def _by_hand_or_spot(routes: Routes) -> Alternative | None:
    return _alternative("treat_now", routes.hand()) or _alternative("spot_treatment_only", routes.spot())


def _is_worth_waiting(routes: Routes, now: Route, later: Route) -> bool:
    """True if today's best is only fair and something good opens soon, for a plant that lives until then."""
    if now.result != "fair" or later.result not in _GOOD or later.window is None or _is_annual(routes):
        return False
    return (later.window.first - routes.setting.on).days <= WORTH_WAITING_DAYS


def _rule_without_selective(routes: Routes, is_large: bool, seconds: bool) -> Ruling:
    if all(routes.book.year(weed).comes_from_seed for weed in routes.weeds):
        before = routes.prevent()
        if before is not None:
            second = _alternative("treat_now", routes.measures()) if seconds else None
            return Ruling("prevent", "verdict.prevent_seed", before, second)
    shut = None if routes.shelf.has_ahead else routes.shut_today()
    if shut is not None:
        second = _by_hand_or_spot(routes) if seconds else None
        return Ruling("wait_for", "verdict.shut_today", shut, second)
    measures = routes.measures()
    is_moss = all(weed.group == "moss_or_algae" for weed in routes.weeds)
    if measures is not None and (is_moss or (measures.result in _GOOD and not _leaves_a_spot(routes))):
        return Ruling("treat_now", "verdict.measure", measures)
    if routes.spot() is not None:
        return _rule_on_spot(routes, None, "verdict.no_selective_known", is_large)
    if measures is not None:
        return Ruling("treat_now", "verdict.measure", measures)
    return Ruling("leave_it", "verdict.nothing_known", Route(()))


def _leaves_a_spot(routes: Routes) -> bool:
    """Digging out a perennial leaves a bare spot as a spot kill does; pulling a seedling does not."""
    return any(weed.is_perennial for weed in routes.weeds)


def _rule_on_spot(routes: Routes, selective: Route | None, rule: str, is_large: bool) -> Ruling:
    """Only the spot, by hand or by a control that kills the turf there too; renovation past the thresholds."""
    spot, hand = routes.spot(), routes.hand()
    controls = tuple(dict.fromkeys((*(spot.controls if spot else ()), *(hand.controls if hand else ()))))
    route = Route(controls, spot.result if spot else "not_known", spot.window if spot else None)
    second: Alternative | None = (
        Alternative("treat_now" if selective.window is None else "wait_for", selective.controls, selective.window)
        if selective
        else None
    )
    if is_large:
        replant = tuple(c.id for c in routes.knowledge.controls.values() if c.kind == "replant")
        again = Route((*route.controls, *replant), route.result, route.window)
        spot_only = Alternative("spot_treatment_only", controls, route.window)
        return Ruling("renovate", "verdict.large_share", again, second or spot_only)
    return Ruling("spot_treatment_only", rule, route, second)


def _rule_on_set(
    shelf: Shelf, weeds: tuple[Weed, ...], cover_percent: float | None, singles: tuple[Ruling, ...]
) -> Ruling:
    """A set is handled together where one way serves every candidate; otherwise the name is settled first.

    A spot kill is not the way out while one of the candidates could be treated without killing turf.
    """
    joint = rule_on(shelf, weeds, cover_percent)
    kinds = {single.kind for single in singles}
    if kinds == {joint.kind}:
        return joint
    if joint.kind == "treat_now" and joint.rule != "verdict.measure":
        return joint
    if joint.kind in ("wait_for", "prevent") and "treat_now" not in kinds:
        return joint
    best = singles[0]
    return Ruling(
        "wait_for", "verdict.look_first", Route(()), Alternative(best.kind, best.route.controls, best.route.window)
    )


def _dress(
    book: GateBook,
    weeds: tuple[Weed, ...],
    ruling: Ruling,
    *,
    choices: tuple[Choice, ...],
    cover_percent: float | None,
    each: tuple[tuple[str, float, str], ...],
) -> Verdict:
    dated = tuple(_dated_steps(book, weeds, ruling))
    thresholds: tuple[Step, ...] = ()
    if cover_percent is not None:
        thresholds = judge_cover(_season(book), 100.0 - cover_percent, cover_percent)
    first = next((c for c in choices if ruling.route.controls and c.control == ruling.route.controls[0]), None)
    told = first.weeds[0] if first and first.weeds else None
    shown = tuple(gate.step for gate in first.gates if gate.gate in ("turf", "weed_response")) if first else ()
    fired = tuple(step for step in thresholds if step.outcome in ("fires", "near"))
    sources = ruling.sources or (told.sources if told else ())
    judge_weeks, sequence = _how_rated(weeds[0], ruling.route, told)
    return Verdict(
        kind=ruling.kind,
        controls=ruling.route.controls,
        window=ruling.route.window,
        second_best=ruling.second,
        would_change=tuple(_would_change(ruling, choices, each)),
        trace=Step(ruling.rule, ruling.kind, _facts_of(book, weeds, ruling), sources, (*shown, *dated, *fired)),
        dated=dated,
        thresholds=thresholds,
        judge_weeks=judge_weeks,
        sequence=sequence,
        each=each,
        choices=choices,
    )


def _facts_of(book: GateBook, weeds: tuple[Weed, ...], ruling: Ruling) -> dict[str, object]:
    facts: dict[str, object] = {
        "weeds": [weed.id for weed in weeds],
        "turf": book.setting.turf,
        "on": book.setting.on,
        "controls": list(ruling.route.controls),
        "result": ruling.route.result,
    }
    if ruling.route.window:
        facts |= {"from": ruling.route.window.first, "to": ruling.route.window.last}
    return facts


def _how_rated(weed: Weed, route: Route, told: ForWeed | None) -> tuple[tuple[float, float] | None, Sprays | None]:
    """When the first control was judged, and in which sequence; for a later window from the rows with its result."""
    if told is not None and (told.judged_weeks or told.sequence):
        return told.judged_weeks, told.sequence
    rows = [row for row in weed.responses if route.controls[:1] == (row.control,) and row.result == route.result]
    weeks = [row.judged_weeks for row in rows if row.judged_weeks is not None]
    sequence = next((row.sequence for row in rows if row.sequence), None)
    return ((min(weeks), max(weeks)) if weeks else None), sequence


def _dated_steps(book: GateBook, weeds: tuple[Weed, ...], ruling: Ruling) -> Iterator[Step]:
    """The statements on these weeds; one that a control of the verdict overturns is shown as overturned by it."""
    for weed in weeds:
        for row in statements_here(book.knowledge, weed, book.setting):
            by = [
                control
                for control in ruling.route.controls
                if ruling.kind in ("treat_now", "wait_for")
                and is_overturned(book.knowledge, weed, row, book.knowledge.controls[control], book.setting.turf)
            ]
            yield statement_step(book.knowledge, weed, row, by)


def _would_change(
    ruling: Ruling, choices: tuple[Choice, ...], each: tuple[tuple[str, float, str], ...]
) -> Iterator[Step]:
    """The look that would settle the name; then up to three shut choices that would do better, with what shuts them."""
    if ruling.rule == "verdict.look_first":
        facts: dict[str, object] = {"each": [{"weed": weed, "belief": p, "kind": kind} for weed, p, kind in each]}
        yield Step("verdict.look_first", "ask", facts, ("common_practice",))
    best = RESULT_ORDER.index(ruling.route.result) if ruling.kind == "treat_now" else len(RESULT_ORDER)
    better = [
        choice
        for choice in choices
        if not choice.offered
        and choice.kind not in KILLING_KINDS
        and choice.result in WORTH_OFFERING
        and choice.control not in ruling.route.controls
        and RESULT_ORDER.index(choice.result) < best
    ]
    better.sort(key=lambda choice: (len(choice.shut_by), RESULT_ORDER.index(choice.result), choice.control))
    for choice in better[:3]:
        shut = choice.shut_by
        facts = {"control": choice.control, "result": choice.result, "gates": [gate.gate for gate in shut]}
        sources = tuple(dict.fromkeys(source for gate in shut for source in gate.step.sources))
        yield Step("verdict.would_change", "shut", facts, sources, tuple(gate.step for gate in shut))


def _is_past_thresholds(routes: Routes, cover_percent: float | None) -> bool:
    if cover_percent is None:
        return False
    return is_renovation(judge_cover(_season(routes.book), 100.0 - cover_percent, cover_percent))


def _alternative(kind: str, route: Route | None) -> Alternative | None:
    return Alternative(kind, route.controls, route.window) if route else None


def _is_annual(routes: Routes) -> bool:
    return all(routes.book.year(weed).annual for weed in routes.weeds)


def _is_active(routes: Routes) -> bool:
    return any(routes.book.year(weed).is_active(routes.setting) is not False for weed in routes.weeds)


def _opens_in_time(routes: Routes, later: Route) -> bool:
    """False for an annual that stands now and is dead when the window opens."""
    if not _is_annual(routes) or later.window is None:
        return True
    days = (later.window.first - routes.setting.on).days
    left: Callable[[Weed], int | None] = lambda weed: routes.book.year(weed).days_left(routes.setting)  # noqa: E731
    return all((lasts := left(weed)) is None or days <= lasts for weed in routes.weeds)


def _season(book: GateBook) -> str:
    return book.turf.season if book.turf else ""
