"""What a control does to a weed in this setting: which rated rows speak, how much each counts, what they say together.

Contradictory rows stay side by side: the answer is the weighted lower median of the grades that speak, and the spread
is kept with it. A row counts more if it states this stage, this month, this turf, or was published; less if it was
seen in another turf, at a low rate, or judged within weeks although later ratings of this perennial exist. A row for
another month or another stage, for a rate above the label, or for a sequence with a control that cannot be used
here, does not speak. A listed use carries no grade and speaks only where no graded row does.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from weedkey.control.setting import Setting
from weedkey.control.weed_calendar import occurrence
from weedkey.model.base import Knowledge
from weedkey.model.control import Control, WorksOn
from weedkey.model.source import is_published
from weedkey.model.weed import Response, Weed
from weedkey.model.weed import Sequence as Sprays
from weedkey.model.window import Window

GRADES = {"excellent": 4, "good": 3, "fair": 2, "poor": 1, "none": 0}
#: A rating taken this early says little about a perennial if a later one exists (dallisgrass, HortScience 51(6), 2016).
EARLY_WEEKS = 12
LATE_WEEKS = 26
#: Days between the sprays of a sequence whose source states none: about a month (common practice).
USUAL_GAP_DAYS = 28
_ANY_DAY = date(2001, 1, 1)
_EARLY_STAGES = ("seedling", "young")


@dataclass(frozen=True, slots=True)
class Reading:
    """``result`` is a grade, listed, hint or not_known. ``off_months``/``off_stages``: rows exist, but not for now.

    ``rows`` are the rows that speak; ``all_rows`` all rows for this control and timing. ``fallback`` as in ForWeed.
    """

    weed: str
    control: str
    timing: str
    result: str
    worst: str
    best: str
    rows: tuple[Response, ...]
    all_rows: tuple[Response, ...]
    percent: tuple[float, float] | None
    judged_weeks: tuple[float, float] | None
    sequence: Sprays | None
    fallback: str
    sources: tuple[str, ...]
    off_months: bool = False
    off_stages: bool = False
    stage_decides: bool = False
    susceptible_only: bool = False


def read_response(
    weed: Weed,
    control: Control,
    setting: Setting,
    timing: str,
    *,
    rows: Sequence[Response],
    can_join: Callable[[str], bool] | None = None,
) -> Reading | None:
    """What the weed's own rows for this control say, or None if none of them is about this timing.

    ``rows``: the weed's rows for this control. ``can_join``: may this other control of a
    sequence be used here? Rows of a sequence speak only if all its controls may.
    """
    fitting = tuple(row for row in rows if not control.is_chemical or _fits_timing(row.timing, timing))
    if not fitting:
        return None
    may_join = can_join or _may_always
    usable = [row for row in fitting if row.rate != "above_label" and _sequence_may_run(row, control.id, may_join)]
    in_month = [row for row in usable if _fits_month(row, setting)]
    speaking = [row for row in in_month if _fits_stage(row, setting.weed_stage, timing)]
    if not speaking:
        off_months = bool(usable) and not in_month
        nothing = "not_known"
        return _reading(
            weed, control, timing, result=nothing, all_rows=fitting, off_months=off_months, off_stages=bool(in_month)
        )
    graded = [row for row in speaking if row.result in GRADES] or speaking
    weights = [_weight(row, weed, setting, graded) for row in graded]
    return _reading(
        weed,
        control,
        timing,
        result=_weighted_lower_median([row.result for row in graded], weights),
        rows=tuple(graded),
        all_rows=fitting,
        stage_decides=_stage_decides(graded, setting.weed_stage),
    )


def _may_always(_: str) -> bool:
    return True


def _reading(
    weed: Weed,
    control: Control,
    timing: str,
    result: str,
    *,
    rows: tuple[Response, ...] = (),
    all_rows: tuple[Response, ...] = (),
    off_months: bool = False,
    off_stages: bool = False,
    stage_decides: bool = False,
) -> Reading:
    ordered = sorted({row.result for row in rows}, key=lambda word: GRADES.get(word, 2))
    percents = [row.percent for row in rows if row.percent]
    weeks = [row.judged_weeks for row in rows if row.judged_weeks is not None]
    same = [row for row in rows if row.result == result]
    return Reading(
        weed=weed.id,
        control=control.id,
        timing=timing,
        result=result,
        worst=ordered[0] if ordered else "not_known",
        best=ordered[-1] if ordered else "not_known",
        rows=rows,
        all_rows=all_rows,
        percent=(min(low for low, _ in percents), max(high for _, high in percents)) if percents else None,
        judged_weeks=(min(weeks), max(weeks)) if weeks else None,
        sequence=next((row.sequence for row in same if row.sequence), None),
        fallback="",
        sources=tuple(dict.fromkeys(source for row in (rows or all_rows) for source in row.sources)),
        off_months=off_months,
        off_stages=off_stages,
        stage_decides=stage_decides,
        susceptible_only=any(row.susceptible_only for row in same),
    )


def _fits_timing(row_timing: str, timing: str) -> bool:
    return row_timing == "any" or (row_timing == "pre_emergence") == (timing == "pre_emergence")


def _fits_month(row: Response, setting: Setting) -> bool:
    """True unless the row is for other months; of several sprays the last must still fall into them.

    Months too short to hold the whole sequence with some room are read as those in which it begins.
    """
    if not row.months:
        return True
    days = _days_of_sequence(row)
    last = replace(setting, on=setting.on + timedelta(days=days)) if days else setting
    return any(
        setting.holds(window) and (_length_days(window) < days * 1.5 or last.holds(window)) for window in row.months
    )


def _days_of_sequence(row: Response) -> int:
    """Days from the first to the last spray of the same control; 0 for one spray."""
    if row.sequence is None or len(row.sequence.order) > 1:
        return 0
    gap = row.sequence.interval_days[0] if row.sequence.interval_days else USUAL_GAP_DAYS
    return gap * max((row.sequence.sprays or 1) - 1, 0)


def _length_days(window: Window) -> int:
    span = occurrence(window, _ANY_DAY)
    return (span.last - span.first).days + 1


def _fits_stage(row: Response, stage: str | None, timing: str) -> bool:
    """True unless the row is for another stage; a flowering plant is a mature one; a barrier meets seed, not plants."""
    if timing == "pre_emergence" or stage in (None, "any"):
        return True
    stages = row.stages or (_EARLY_STAGES if row.timing == "early_post_emergence" else ())
    if not stages or "any" in stages:
        return True
    return stage in stages or (stage == "flowering" and "mature" in stages)


def _sequence_may_run(row: Response, control: str, can_join: Callable[[str], bool]) -> bool:
    """False if the rating belongs to a sequence with another control that cannot be used here."""
    if row.sequence is None:
        return True
    return all(other == control or can_join(other) for other in row.sequence.order)


def _weight(row: Response, weed: Weed, setting: Setting, rows: Sequence[Response]) -> float:
    weight = 2.0 if is_published(row.sources) else 1.0
    if row.months:
        weight *= 2
    if row.stages and setting.weed_stage not in (None, "any"):
        weight *= 2
    if row.in_turf:
        weight *= 2 if setting.turf in row.in_turf else 0.5
    if row.sites and setting.site is not None and setting.site not in row.sites:
        weight *= 0.5
    if row.rate == "low":
        weight *= 0.5
    if weed.is_perennial and row.judged_weeks is not None and row.judged_weeks <= EARLY_WEEKS:
        has_late = any(other.judged_weeks is not None and other.judged_weeks >= LATE_WEEKS for other in rows)
        weight *= 0.5 if has_late else 1
    return weight


def _weighted_lower_median(words: Sequence[str], weights: Sequence[float]) -> str:
    """The worst grade at which at least half of the weight is reached, counted from the worst; listed if ungraded."""
    if words[0] not in GRADES:
        return words[0]
    half = sum(weights) / 2
    reached = 0.0
    for word, weight in sorted(zip(words, weights, strict=True), key=lambda pair: GRADES[pair[0]]):
        reached += weight
        if reached >= half:
            return word
    return words[0]


def _stage_decides(rows: Sequence[Response], stage: str | None) -> bool:
    """True if the stage is not known and rows of different stages differ in result."""
    return stage in (None, "any") and any(row.stages for row in rows) and len({row.result for row in rows}) > 1


def read_stand_in(knowledge: Knowledge, weed: Weed, control: Control, stage: str | None, timing: str) -> Reading | None:
    """What stands in where the weed has no row of its own for the control: its kind of plant, or a hint from turf."""
    return _read_works_on(weed, control, timing, stage) or _read_turf_elsewhere(knowledge, weed, control, timing)


def _read_works_on(weed: Weed, control: Control, timing: str, stage: str | None) -> Reading | None:
    """The control's rating for this kind of plant, where the weed has no row of its own."""
    rows = [
        row
        for row in control.works_on
        if (not control.is_chemical or _fits_timing(row.timing, timing)) and is_such_a_plant(row, weed)
    ]
    if not rows:
        return None
    fitting = [row for row in rows if stage in (None, "any") or not row.stages or stage in row.stages]
    words = [row.result for row in fitting if row.result in GRADES] or [row.result for row in fitting]
    result = _weighted_lower_median(words, [1.0] * len(words)) if words else "not_known"
    spread = sorted(set(words), key=lambda word: GRADES.get(word, 2)) or ["not_known"]
    return Reading(
        weed=weed.id,
        control=control.id,
        timing=timing,
        result=result,
        worst=spread[0],
        best=spread[-1],
        rows=(),
        all_rows=(),
        percent=None,
        judged_weeks=None,
        sequence=None,
        fallback="works_on",
        sources=tuple(dict.fromkeys(source for row in (fitting or rows) for source in row.sources)),
        off_stages=not fitting,
    )


def is_such_a_plant(row: WorksOn, weed: Weed) -> bool:
    """True if the weed is surely of the kind that the row names; an unknown spread fits no row that asks for one."""
    if row.groups and weed.group not in row.groups:
        return False
    cycles = [cycle.kind for cycle in weed.life_cycles]
    if row.life_cycles and not (cycles and all(_is_cycle(kind, row.life_cycles) for kind in cycles)):
        return False
    if row.conditions and not any(sign.condition in row.conditions and not sign.against for sign in weed.signs):
        return False
    if not row.spreads_by and not row.not_spreads_by:
        return True
    if weed.spread is None:
        return False
    spread = set(weed.spread.by)
    return (not row.spreads_by or not spread.isdisjoint(row.spreads_by)) and spread.isdisjoint(row.not_spreads_by)


def _is_cycle(kind: str, allowed: tuple[str, ...]) -> bool:
    return kind in allowed or ("annual" in allowed and kind.endswith("_annual"))


def _read_turf_elsewhere(knowledge: Knowledge, weed: Weed, control: Control, timing: str) -> Reading | None:
    """A weed that is another lawn's turf: what injures that turf may hit the weed. Only ever a hint."""
    if weed.turf is None or not control.is_chemical or timing == "pre_emergence":
        return None
    season = knowledge.turfs[weed.turf].season if weed.turf in knowledge.turfs else ""
    rows = [
        row
        for row in control.tolerance
        if row.result == "injures"
        and row.turf in (weed.turf, f"any_{season}_season")
        and not row.when.stand
        and row.when.rate != "above_label"
        and (row.when.timing is None or row.when.timing != "pre_emergence")
    ]
    if not rows:
        return None
    return Reading(
        weed=weed.id,
        control=control.id,
        timing=timing,
        result="hint",
        worst="not_known",
        best="not_known",
        rows=(),
        all_rows=(),
        percent=None,
        judged_weeks=None,
        sequence=None,
        fallback="turf_elsewhere",
        sources=tuple(dict.fromkeys(source for row in rows for source in row.sources)),
    )
