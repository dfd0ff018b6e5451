"""Every control with a word about a weed, each with all its gates: offered first, shut ones with what shuts them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from weedkey.control.gatebook import GateBook, in_order, kills_turf, open_book
from weedkey.control.responses import Reading
from weedkey.control.results import RESULT_ORDER, Choice, ForWeed, GateResult
from weedkey.control.setting import Setting
from weedkey.control.weed_calendar import window_text
from weedkey.errors import UnknownName
from weedkey.model.base import Knowledge
from weedkey.model.control import Control
from weedkey.model.source import is_published
from weedkey.model.trace import Step
from weedkey.model.weed import Weed

#: Candidates up to this belief do not decide what is offered; they are still shown.
IGNORED_BELIEF = 0.02
_STATES = {"open": 0, "ask": 1, "shut": 2}
_TOLERANCE_ORDER = ("safe", "caution", "not_known", "not_labelled", "injures")


def list_choices(knowledge: Knowledge, weeds: str | Mapping[str, float], setting: Setting) -> tuple[Choice, ...]:
    """The choices for one weed, or for a set that is not settled (weed id -> belief).

    For a set a control is offered only if it is acceptable for every candidate above 2 %. Raises UnknownName for a
    weed or turf that the knowledge does not hold.
    """
    candidates = read_candidates(knowledge, weeds)
    if setting.turf not in knowledge.turfs:
        raise UnknownName("turf", setting.turf)
    return choices_in(open_book(knowledge, setting), candidates)


def read_candidates(knowledge: Knowledge, weeds: str | Mapping[str, float]) -> tuple[tuple[Weed, float], ...]:
    """The candidates with their belief, most probable first. Raises UnknownName for an unknown id."""
    beliefs = {weeds: 1.0} if isinstance(weeds, str) else dict(weeds)
    for weed in beliefs:
        if weed not in knowledge.weeds:
            raise UnknownName("weed", weed)
    ordered = sorted(beliefs.items(), key=lambda pair: (-pair[1], pair[0]))
    return tuple((knowledge.weeds[weed], belief) for weed, belief in ordered)


def deciding(candidates: tuple[tuple[Weed, float], ...]) -> tuple[tuple[Weed, float], ...]:
    """The candidates that count: above 2 %, or all of them if none is."""
    return tuple(pair for pair in candidates if pair[1] > IGNORED_BELIEF) or candidates


def choices_in(book: GateBook, candidates: tuple[tuple[Weed, float], ...]) -> tuple[Choice, ...]:
    """The choices of an open book, sorted."""
    counted = deciding(candidates)
    controls: dict[str, Control] = {}
    for weed, _ in counted:
        for control in book.controls_about(weed):
            controls.setdefault(control.id, control)
    found = [choice for control in controls.values() for choice in _best_choice(book, control, candidates)]
    return tuple(sorted(found, key=rank_choice))


def rank_choice(choice: Choice) -> tuple[object, ...]:
    """Offered first, then spot use, result, care, fewest shut gates, published before memory, fewest questions, id."""
    shut = [gate for gate in choice.gates if not gate.lets_pass]
    return (
        not choice.offered,
        not choice.spot,
        RESULT_ORDER.index(choice.result),
        _TOLERANCE_ORDER.index(choice.tolerance),
        len(shut),
        not all(is_published(for_weed.sources) for for_weed in choice.weeds),
        len(choice.to_ask),
        choice.control,
    )


def choice_for(
    book: GateBook, control: Control, candidates: tuple[tuple[Weed, float], ...], timing: str
) -> Choice | None:
    """The choice at one timing; None if there is no word about any of the candidates that count."""
    counted = {weed.id for weed, _ in deciding(candidates)}
    readings = {weed.id: book.reading(weed, control, timing) for weed, _ in candidates}
    if all(readings[weed] is None for weed in counted):
        return None
    gates, offered = _gates_of(book, control, candidates, counted, use=book.use, timing=timing)
    is_killer = kills_turf(control)
    spot_gates, spot = gates, offered
    if book.use != "spot":
        spot_gates, spot = _gates_of(book, control, candidates, counted, use="spot", timing=timing)
    tolerance = book.tolerance(control, timing)
    spares = not is_killer or tolerance.result in ("safe", "caution")
    for_weeds = tuple(
        _for_weed(weed, belief, readings[weed.id], offered.get(weed.id, False) and spares)
        for weed, belief in candidates
    )
    return Choice(
        control=control.id,
        offered=spares and _all_pass(gates),
        result=_worst_result([item for item in for_weeds if item.weed in counted]),
        tolerance=tolerance.result,
        gates=gates,
        timing=timing,
        kind=control.kind,
        spot=all(spot.get(weed, False) for weed in counted) and _all_pass(spot_gates),
        weeds=for_weeds,
        spot_gates=spot_gates if is_killer else (),
    )


def _best_choice(book: GateBook, control: Control, candidates: tuple[tuple[Weed, float], ...]) -> Iterable[Choice]:
    """One choice a control: of its timings the one that is offered, else the one nearer to being offered."""
    found = [
        choice
        for timing in book.timings(control)
        if (choice := choice_for(book, control, candidates, timing)) is not None
    ]
    if found:
        yield min(found, key=lambda choice: (rank_choice(choice), choice.timing == "pre_emergence"))


def _gates_of(
    book: GateBook,
    control: Control,
    candidates: tuple[tuple[Weed, float], ...],
    counted: set[str],
    *,
    use: str,
    timing: str,
) -> tuple[tuple[GateResult, ...], dict[str, bool]]:
    """The gates of the control and, merged over the candidates that count, those about the weed."""
    fixed = book.control_gates(control, use, timing)
    by_weed = {weed.id: book.weed_gates(control, use, timing, weed) for weed, _ in candidates}
    is_fixed_open = _all_pass(fixed)
    offered = {weed: is_fixed_open and _all_pass(gates) for weed, gates in by_weed.items()}
    merged = _merge([by_weed[weed.id] for weed, _ in candidates if weed.id in counted])
    return in_order((*fixed, *merged)), offered


def _merge(by_weed: list[tuple[GateResult, ...]]) -> tuple[GateResult, ...]:
    """For each gate the strictest state over the candidates; the steps of all of them stay as children."""
    if len(by_weed) == 1:
        return by_weed[0]
    merged = []
    for results in zip(*by_weed, strict=True):
        worst = max(results, key=lambda result: (_STATES[result.state], result.needed))
        step = worst.step
        joint = Step(step.rule, step.outcome, step.facts, step.sources, tuple(result.step for result in results))
        merged.append(GateResult(worst.gate, worst.state, joint, worst.needed))
    return tuple(merged)


def _for_weed(weed: Weed, belief: float, reading: Reading | None, offered: bool) -> ForWeed:
    if reading is None:
        return ForWeed(weed.id, belief, "not_known", offered=False)
    months = sorted({window_text(window) for row in reading.all_rows for window in row.months})
    return ForWeed(
        weed=weed.id,
        probability=belief,
        result=reading.result,
        offered=offered,
        worst=reading.worst,
        best=reading.best,
        percent=reading.percent,
        judged_weeks=reading.judged_weeks,
        sequence=reading.sequence,
        fallback=reading.fallback,
        sources=reading.sources,
        months=tuple(months),
    )


def _worst_result(items: list[ForWeed]) -> str:
    """The result over a set is that of the candidate it serves worst."""
    return max((item.result for item in items), key=RESULT_ORDER.index)


def _all_pass(gates: tuple[GateResult, ...]) -> bool:
    return all(gate.lets_pass for gate in gates)
