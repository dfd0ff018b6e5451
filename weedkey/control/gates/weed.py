"""What the control does to the weed, at this stage, in this month."""

from __future__ import annotations

from typing import ClassVar

from weedkey.control import general_rules as rules
from weedkey.control.gates.base import Gate, Question
from weedkey.control.responses import Reading
from weedkey.control.results import WORTH_OFFERING, GateResult
from weedkey.control.weed_calendar import BARRIER_SOURCES, window_text
from weedkey.model.source import is_published
from weedkey.model.trace import Step
from weedkey.model.weed import Response


class WeedStageGate(Gate):
    """Seedling, tillered, dormant: some controls only reach one of them."""

    id: ClassVar[str] = "weed_stage"
    outcomes: ClassVar[tuple[str, ...]] = ("fits", "any_stage", "not_known", "wrong_stage", "dormant", "barrier")
    about_weed: ClassVar[bool] = True
    without_chemistry: ClassVar[bool] = True

    def check(self, question: Question) -> GateResult:
        """Shut if every row is for another stage, or the weed is dormant; ask if the stage decides and is not known."""
        setting, reading = question.setting, question.reading
        facts: dict[str, object] = {"stage": setting.weed_stage, "weed": reading.weed if reading else ""}
        if question.timing == "pre_emergence":
            return self._open("barrier", facts)
        if setting.weed_stage == "dormant" and question.is_foliar:
            return self._shut("dormant", facts, rules.DORMANT_WEED_SOURCES)
        if reading is None:
            return self._open("any_stage", facts)
        if reading.off_stages:
            stages = sorted({stage for row in reading.all_rows for stage in row.stages})
            return self._shut("wrong_stage", facts | {"stages": stages}, reading.sources)
        if reading.stage_decides:
            children = tuple(_response_step(row) for row in reading.rows)
            return self._ask("not_known", facts, reading.sources, children=children)
        return self._open("fits" if setting.weed_stage else "any_stage", facts)


class TimeOfYearGate(Gate):
    """Is the weed there to be hit (or its seed about to sprout), and is this a month for which the rating was made?"""

    id: ClassVar[str] = "time_of_year"
    outcomes: ClassVar[tuple[str, ...]] = (
        "fits",
        "measure",
        "weed_not_active",
        "other_months",
        "calendar_not_known",
        "barrier_window",
        "part_has_sprouted",
        "outside_barrier_window",
        "germination_not_known",
    )
    about_weed: ClassVar[bool] = True
    without_chemistry: ClassVar[bool] = True

    def check(self, question: Question) -> GateResult:
        """Shut outside the months of the rating, outside the weed's active season, outside the window of a barrier."""
        reading, year, setting = question.reading, question.year, question.setting
        facts: dict[str, object] = {"weed": reading.weed if reading else "", "on": setting.on}
        if reading is not None and reading.off_months:
            months = sorted(
                {window_text(setting.window_here(window)) for row in reading.all_rows for window in row.months}
            )
            return self._shut("other_months", facts | {"months": months}, reading.sources)
        if not question.control.is_chemical:
            return self._open("measure", facts)
        if question.timing == "pre_emergence":
            return self._check_barrier(question, facts)
        active = year.is_active(setting) if year else None
        if year is None or active is None:
            return self._ask("calendar_not_known", facts)
        if not active:
            nearest = year.next_active_or_none(setting)
            facts |= {"from": nearest.first if nearest else None, "to": nearest.last if nearest else None}
            return self._shut("weed_not_active", facts, year.sources)
        return self._open("fits", facts, year.sources)

    def _check_barrier(self, question: Question, facts: dict[str, object]) -> GateResult:
        year, setting = question.year, question.setting
        span = year.barrier_span_or_none(setting) if year else None
        if year is None or span is None:
            return self._ask("germination_not_known", facts, BARRIER_SOURCES, needed=True)
        facts |= {"from": span.first, "to": span.last, "rough": span.rough}
        if span.first <= setting.on:
            return self._open("barrier_window", facts, year.sources)
        if year.is_still_germinating(setting):
            return self._ask("part_has_sprouted", facts, year.sources)
        return self._shut("outside_barrier_window", facts, year.sources)


class WeedResponseGate(Gate):
    """Does it work on this weed? Poor and none shut the gate; a hint or no fact does not open it."""

    id: ClassVar[str] = "weed_response"
    outcomes: ClassVar[tuple[str, ...]] = (
        "works",
        "works_on_kind",
        "listed",
        "sources_differ",
        "from_memory",
        "weak",
        "hint",
        "not_known",
        "seedlings_only",
    )
    about_weed: ClassVar[bool] = True
    without_chemistry: ClassVar[bool] = True

    def check(self, question: Question) -> GateResult:
        """Open for fair and better, with the rows behind it as children."""
        reading = question.reading
        if reading is None:
            weed = question.weed.id if question.weed else ""
            return self._shut("not_known", {"weed": weed, "result": "not_known"}, ("from_memory",))
        facts: dict[str, object] = {
            "weed": reading.weed,
            "result": reading.result,
            "worst": reading.worst,
            "best": reading.best,
        }
        if reading.percent:
            facts["percent"] = list(reading.percent)
        if reading.judged_weeks:
            facts["judged_weeks"] = list(reading.judged_weeks)
        children = tuple(_response_step(row) for row in reading.rows)
        if reading.result == "hint":
            return self._ask("hint", facts, reading.sources, needed=True)
        if reading.result not in WORTH_OFFERING:
            outcome = "not_known" if reading.result == "not_known" else "weak"
            return self._shut(outcome, facts, reading.sources, children)
        return self._works(question, reading, facts, children)

    def _works(
        self, question: Question, reading: Reading, facts: dict[str, object], children: tuple[Step, ...]
    ) -> GateResult:
        weed = question.weed
        if question.timing == "pre_emergence" and weed is not None and not _comes_from_seed(question):
            return self._ask(
                "seedlings_only", facts, (*reading.sources, *rules.PERENNIAL_BARRIER_SOURCES), children=children
            )
        step_of = self._opening_word(reading)
        step = Step(f"{self.id}.{step_of}", "open", facts, reading.sources, children)
        return GateResult(self.id, "open", step)

    @staticmethod
    def _opening_word(reading: Reading) -> str:
        if reading.fallback == "works_on":
            return "works_on_kind"
        if reading.result == "listed":
            return "listed"
        if reading.worst in ("poor", "none"):
            return "sources_differ"
        return "works" if is_published(reading.sources) else "from_memory"


class BeesGate(Gate):
    """Flowering weeds draw bees in: mow first."""

    id: ClassVar[str] = "bees"
    outcomes: ClassVar[tuple[str, ...]] = ("not_in_flower", "mow_first")
    about_weed: ClassVar[bool] = True
    only_asks: ClassVar[bool] = True

    def check(self, question: Question) -> GateResult:
        """Ask to mow while the weed flowers and is sprayed."""
        setting, weed = question.setting, question.weed
        if weed is None or not question.is_foliar or weed.group != "broadleaf":
            return self._open("not_in_flower", {})
        in_window = question.year is not None and any(setting.holds(window) for window in question.year.flowers)
        if setting.weed_stage == "flowering" or (setting.weed_stage in (None, "any") and in_window):
            return self._ask("mow_first", {"weed": weed.id}, rules.BEES_SOURCES)
        return self._open("not_in_flower", {"weed": weed.id})


def _comes_from_seed(question: Question) -> bool:
    return question.year is not None and question.year.comes_from_seed


def _response_step(row: Response) -> Step:
    facts: dict[str, object] = {"control": row.control, "result": row.result, "timing": row.timing}
    for name in ("percent", "judged_weeks", "rate"):
        value = getattr(row, name)
        if value is not None:
            facts[name] = list(value) if isinstance(value, tuple) else value
    for name in ("stages", "in_turf", "sites"):
        words = getattr(row, name)
        if words:
            facts[name] = list(words)
    if row.months:
        facts["months"] = [window_text(window) for window in row.months]
    if row.year:
        facts["year"] = row.year
    if row.sequence is not None:
        facts |= {"sprays": row.sequence.sprays, "interval_days": row.sequence.interval_days}
        facts |= {"order": list(row.sequence.order), "seasons": row.sequence.seasons}
    return Step("weed_response.row", row.result, facts, row.sources)
