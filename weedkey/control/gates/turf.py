"""Does this turf stand it: species, cultivar, age of the stand, state of growth."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import ClassVar

from weedkey.control import general_rules as rules
from weedkey.control.gates.base import Gate, Question
from weedkey.control.mixtures import highest_limit_or_none
from weedkey.control.results import KILLING_KINDS, GateResult
from weedkey.control.tolerance import RowReading, stated
from weedkey.control.weed_calendar import window_text
from weedkey.model.control import Gate as GateRow
from weedkey.model.trace import Step

_OLD_STANDS = ("established",)


class TurfGate(Gate):
    """The tolerance rows of this turf decide. Silence shuts the gate."""

    id: ClassVar[str] = "turf"
    outcomes: ClassVar[tuple[str, ...]] = (
        "safe",
        "caution",
        "no_chemistry",
        "spot_kills",
        "dormant_spray",
        "injures",
        "not_labelled",
        "not_known",
        "only_warnings",
        "non_selective",
        "dormant_other_turf",
        "depends",
    )
    without_chemistry: ClassVar[bool] = True

    def check(self, question: Question) -> GateResult:
        """Open if a row that permits is known true and none that speaks forbids."""
        if question.control.kind in KILLING_KINDS:
            return self._check_killing(question)
        reading = question.tolerance
        if not question.control.is_chemical and not reading.rows:
            return self._open("no_chemistry", {"turf": question.setting.turf}, question.control.sources)
        if reading.result in ("injures", "not_labelled", "not_known"):
            return self._result(question, "shut", reading.result)
        if not reading.has_permission:
            return self._result(question, "shut", "only_warnings")
        if not reading.certain:
            return self._result(question, "ask", "depends")
        return self._result(question, "open", reading.result)

    def _check_killing(self, question: Question) -> GateResult:
        """Over the turf only where a row permits it on this turf fully dormant; else on the spot, which turns brown."""
        reading, setting = question.tolerance, question.setting
        if question.use == "spot":
            if reading.result in ("safe", "caution") and reading.certain:
                return self._result(question, "open", "caution")
            return self._result(question, "open", "spot_kills")
        named = [row for row in reading.rows if row.permits and row.truth and "dormant" in row.row.when.growth]
        permitted = reading.result in ("safe", "caution") and bool(named) and setting.growth == "dormant"
        if not permitted:
            return self._result(question, "shut", "non_selective")
        if setting.turf not in rules.DORMANT_BROADCAST_TURFS:
            return self._result(question, "shut", "dormant_other_turf", rules.DORMANT_BROADCAST_OTHER)
        return self._result(question, "open", "dormant_spray", rules.DORMANT_BROADCAST_TURFS[setting.turf])

    def _result(self, question: Question, state: str, outcome: str, sources: tuple[str, ...] = ()) -> GateResult:
        reading, setting = question.tolerance, question.setting
        shown = reading.rows if outcome in ("depends", "only_warnings") else reading.deciding
        facts: dict[str, object] = {"turf": setting.turf, "result": reading.result, "growth": setting.growth}
        if outcome == "depends":
            facts["unknown"] = list(reading.unknown)
        used = sources or tuple(dict.fromkeys(source for row in shown for source in row.row.sources))
        step = Step(
            f"{self.id}.{outcome}", state, facts, used or reading.sources, tuple(_row_step(row) for row in shown)
        )
        return GateResult(self.id, state, step, needed=outcome == "depends")


class CultivarGate(Gate):
    """Some cultivars stand less, or more, than their species."""

    id: ClassVar[str] = "cultivar"
    outcomes: ClassVar[tuple[str, ...]] = ("no_difference", "stated", "not_known")
    only_asks: ClassVar[bool] = True

    def check(self, question: Question) -> GateResult:
        """Ask for the cultivar where a row that still speaks depends on it."""
        rows = [row for row in question.tolerance.rows if row.row.when.cultivars or row.row.when.not_cultivars]
        cultivar = question.setting.cultivar
        facts: dict[str, object] = {"turf": question.setting.turf, "cultivar": cultivar}
        if not rows or question.is_spot_kill:
            return self._open("no_difference", facts)
        sources = tuple(dict.fromkeys(source for row in rows for source in row.row.sources))
        facts["cultivars"] = sorted(
            {name for row in rows for name in (*row.row.when.cultivars, *row.row.when.not_cultivars)}
        )
        if cultivar is None:
            return self._ask("not_known", facts, sources)
        return self._open("stated", facts, sources)


class StandGate(Gate):
    """Young turf: three mowings before any herbicide, a year before a barrier, unless a row is for this very stage."""

    id: ClassVar[str] = "stand"
    outcomes: ClassVar[tuple[str, ...]] = (
        "established",
        "row_for_stage",
        "mown_enough",
        "spot_kills",
        "not_known",
        "mowings_not_known",
        "too_few_mowings",
        "too_young",
        "age_not_known",
    )

    def check(self, question: Question) -> GateResult:
        """Shut while the stand is younger than the control's own limit or the general rules."""
        setting = question.setting
        facts: dict[str, object] = {"stand": setting.stand, "stand_age_days": setting.stand_age_days}
        if question.is_spot_kill:
            return self._open("spot_kills", facts)
        if setting.stand is None:
            return self._ask("not_known", facts, rules.THREE_MOWINGS.sources, needed=True)
        if self._has_row_for_stage(question):
            return self._open("row_for_stage", facts, question.tolerance.sources)
        if setting.stand not in _OLD_STANDS:
            return self._check_young(question, facts)
        return self._check_age(question, facts)

    @staticmethod
    def _has_row_for_stage(question: Question) -> bool:
        stand = question.setting.stand
        if stand in _OLD_STANDS:
            return False
        return any(row.permits and row.truth and stand in row.row.when.stand for row in question.tolerance.rows)

    def _check_young(self, question: Question, facts: dict[str, object]) -> GateResult:
        setting = question.setting
        if question.timing == "pre_emergence":
            return self._shut("too_young", facts, rules.PRE_EMERGENCE_STAND_DAYS.sources)
        limit = highest_limit_or_none(question.parts, "mowings_before", setting.turf)
        needed = max(rules.THREE_MOWINGS.value, limit.value if limit else 0)
        sources = limit.sources if limit and limit.value >= needed else rules.THREE_MOWINGS.sources
        facts |= {"mowings": setting.mowings_since_seeding, "mowings_needed": needed}
        if setting.mowings_since_seeding is None:
            return self._ask("mowings_not_known", facts, sources, needed=True)
        if setting.mowings_since_seeding < needed:
            return self._shut("too_few_mowings", facts, sources)
        return self._age_or(question, facts, "mown_enough", sources)

    def _check_age(self, question: Question, facts: dict[str, object]) -> GateResult:
        age, general = question.setting.stand_age_days, rules.PRE_EMERGENCE_STAND_DAYS
        if question.timing == "pre_emergence" and age is not None and age < general.value:
            return self._shut("too_young", facts | {"days_needed": general.value}, general.sources)
        return self._age_or(question, facts, "established", ())

    def _age_or(
        self, question: Question, facts: dict[str, object], outcome: str, sources: tuple[str, ...]
    ) -> GateResult:
        limit = highest_limit_or_none(question.parts, "stand_age_days", question.setting.turf)
        if limit is None:
            return self._open(outcome, facts, sources)
        facts |= {"days_needed": limit.value}
        age = question.setting.stand_age_days
        if age is None:
            return self._ask("age_not_known", facts, limit.sources)
        if age < limit.value:
            return self._shut("too_young", facts, limit.sources)
        return self._open(outcome, facts, limit.sources)


class GrowthGate(Gate):
    """No post-emergence herbicide on turf at green-up, in heat or in drought; dormancy is a matter of the rows."""

    id: ClassVar[str] = "growth"
    outcomes: ClassVar[tuple[str, ...]] = (
        "fits",
        "spot_kills",
        "not_known",
        "green_up",
        "green_up_cool_season",
        "too_soon_after_green_up",
        "days_since_green_up_not_known",
        "heat_stress",
        "drought_stress",
        "stressed_barrier",
        "dry_weed",
        "measure_waits",
        "measure_months",
        "measure_condition",
        "breaks_barrier",
    )
    without_chemistry: ClassVar[bool] = True

    def check(self, question: Question) -> GateResult:
        """Shut by green-up on warm-season turf and by stress, for anything sprayed on leaves."""
        growth = question.setting.growth
        facts: dict[str, object] = {"growth": growth, "turf": question.setting.turf}
        if not question.control.is_chemical:
            return self._check_measure(question, facts)
        if question.is_spot_kill:
            return self._check_spot(growth, facts)
        if growth in ("heat_stress", "drought_stress"):
            if question.is_foliar:
                return self._shut(growth, facts, rules.STRESS_SOURCES)
            return self._ask("stressed_barrier", facts, rules.STRESS_SOURCES)
        if growth == "green_up" and question.is_foliar:
            return self._check_green_up(question, facts)
        return self._check_days(question, facts)

    def _check_spot(self, growth: str | None, facts: dict[str, object]) -> GateResult:
        if growth == "drought_stress":
            return self._ask("dry_weed", facts, rules.STRESS_SOURCES)
        return self._open("spot_kills", facts)

    def _check_green_up(self, question: Question, facts: dict[str, object]) -> GateResult:
        if question.turf is None or question.turf.season == "warm":
            return self._shut("green_up", facts, rules.GREEN_UP_SOURCES)
        return self._ask("green_up_cool_season", facts, rules.GREEN_UP_SOURCES)

    def _check_days(self, question: Question, facts: dict[str, object]) -> GateResult:
        setting = question.setting
        limit = highest_limit_or_none(question.parts, "days_after_green_up", setting.turf)
        if setting.growth is None:
            return self._ask("not_known", facts, limit.sources if limit else rules.GREEN_UP_SOURCES)
        if limit is None or setting.growth in ("dormant", "semi_dormant"):
            return self._open("fits", facts)
        facts |= {"days": setting.days_since_green_up, "days_needed": limit.value}
        if setting.growth == "green_up":
            return self._shut("too_soon_after_green_up", facts, limit.sources)
        if setting.days_since_green_up is None:
            return self._ask("days_since_green_up_not_known", facts, limit.sources)
        if setting.days_since_green_up < limit.value:
            return self._shut("too_soon_after_green_up", facts, limit.sources)
        return self._open("fits", facts, limit.sources)

    def _check_measure(self, question: Question, facts: dict[str, object]) -> GateResult:
        for row in self._rows_that_shut(question):
            shut = facts | {"rule": row.rule, "states": list(row.growth)}
            if row.months:
                windows = [question.setting.window_here(window) for window in row.months]
                shut |= {
                    "only_in" if row.rule.startswith("only") else "not_in": [window_text(window) for window in windows]
                }
                return self._shut("measure_months", shut, row.sources)
            return self._shut("measure_waits", shut, row.sources)
        asked = [row for row in _measure_rows(question) if not row.growth and not row.months]
        for row in asked:
            if "barrier" not in row.rule:
                continue
            last = _last_barrier_or_none(question)
            if last is not None:
                return self._shut("breaks_barrier", facts | {"rule": row.rule, "last": last}, row.sources)
        told = [row for row in asked if "barrier" not in row.rule]
        if told:
            sources = tuple(dict.fromkeys(source for row in told for source in row.sources))
            return self._ask("measure_condition", facts | {"conditions": [row.rule for row in told]}, sources)
        return self._open("fits", facts)

    @staticmethod
    def _rows_that_shut(question: Question) -> Iterator[GateRow]:
        """Rows ``only_while …`` shut when their state is known not to hold, all other rows when it holds."""
        setting = question.setting
        for row in _measure_rows(question):
            in_growth = None if setting.growth is None else setting.growth in row.growth
            in_month = any(setting.holds(window) for window in row.months)
            only = row.rule.startswith("only")
            growth_shuts = bool(row.growth) and in_growth is not None and in_growth != only
            month_shuts = bool(row.months) and in_month != only
            if growth_shuts or month_shuts:
                yield row


def _measure_rows(question: Question) -> Iterator[GateRow]:
    """The control's own conditions on this turf; the ones about a new sowing belong to the gate ``seeding``."""
    season = question.turf.season if question.turf else ""
    names = {question.setting.turf, f"any_{season}_season", "any"}
    for row in question.control.gates:
        if row.days_after_seeding is None and (not row.turfs or names & set(row.turfs)):
            yield row


def _last_barrier_or_none(question: Question) -> date | None:
    """The last day on which a barrier went down within the months that it may hold."""
    controls, setting = question.knowledge.controls, question.setting
    days = [
        item.on
        for item in setting.history
        if item.control in controls
        and controls[item.control].kind == "pre_emergence"
        and 0 <= (setting.on - item.on).days <= rules.BARRIER_SEED_DAYS.value
    ]
    return max(days, default=None)


def _row_step(row: RowReading) -> Step:
    facts: dict[str, object] = {"result": row.row.result, "when": stated(row.row.when), "listed": row.row.listed}
    if row.row.year:
        facts["year"] = row.row.year
    truth = {True: "true", False: "false", None: "not_known"}[row.truth]
    return Step("turf.row", truth, facts, row.row.sources)
