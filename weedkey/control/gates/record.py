"""What was put down before: yearly maximum, least interval, class rotation, resistance."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from typing import ClassVar

from weedkey.control import general_rules as rules
from weedkey.control.gates.base import Gate, Question
from weedkey.control.mixtures import active_ids, groups_of, with_parts, yearly_of
from weedkey.control.results import GateResult
from weedkey.model.control import Resistance, Yearly
from weedkey.model.lawn import LabelRate, PastApplication

_YEAR_DAYS = 365


class YearlyMaximumGate(Gate):
    """Applications and amounts of an active ingredient in the last 365 days, over every mixture that held it."""

    id: ClassVar[str] = "yearly_maximum"
    outcomes: ClassVar[tuple[str, ...]] = ("none_recorded", "left", "used_up", "amount_not_known", "label_decides")
    idle_without: ClassVar[tuple[str, ...]] = ("history", "label_rates")

    def check(self, question: Question) -> GateResult:
        """Shut when a published or typed maximum is reached; ask when the record does not say how much was used."""
        setting = question.setting
        results = [
            self._check_published(question, active.id, yearly)
            for active, yearly in yearly_of(question.parts, setting.turf)
        ]
        results += [self._check_typed(question, rate) for rate in _typed_rates(question) if rate.yearly_maximum]
        found = [result for result in results if result is not None]
        if found:
            return max(found, key=lambda result: {"open": 0, "ask": 1, "shut": 2}[result.state])
        if any(_past(question, active, _YEAR_DAYS) for active in _actives(question)):
            return self._ask("label_decides", {"control": question.control.id}, rules.LABEL_SOURCES)
        return self._open("none_recorded", {})

    def _check_published(self, question: Question, active: str, yearly: Yearly) -> GateResult | None:
        past = _past(question, active, _YEAR_DAYS)
        facts: dict[str, object] = {"active": active, "applications": len(past), "days": _YEAR_DAYS}
        if yearly.applications is not None:
            facts |= {"maximum": yearly.applications}
            if len(past) >= yearly.applications:
                return self._shut("used_up", facts, yearly.sources)
            return self._open("left", facts | {"left": yearly.applications - len(past)}, yearly.sources)
        if yearly.amount is None:
            return None
        facts |= {"maximum": yearly.amount, "unit": yearly.unit}
        return self._weigh(facts, past, maximum=yearly.amount, unit=yearly.unit, planned=0.0, sources=yearly.sources)

    def _check_typed(self, question: Question, rate: LabelRate) -> GateResult:
        past = _past(question, rate.control, _YEAR_DAYS)
        maximum = rate.yearly_maximum or 0.0
        unit = rate.unit
        facts: dict[str, object] = {"control": rate.control, "maximum": maximum, "unit": unit, "typed": True}
        return self._weigh(facts, past, maximum=maximum, unit=unit, planned=rate.amount, sources=rules.LABEL_SOURCES)

    def _weigh(
        self,
        facts: dict[str, object],
        past: list[PastApplication],
        *,
        maximum: float,
        unit: str,
        planned: float,
        sources: tuple[str, ...],
    ) -> GateResult:
        """Sum what was used in the same unit; another unit or a missing amount can only be asked about."""
        used = sum(application.amount or 0.0 for application in past if application.unit == unit)
        facts |= {"used": used, "planned": planned}
        if used + planned > maximum or (past and used >= maximum):
            return self._shut("used_up", facts, sources)
        if any(application.amount is None or application.unit != unit for application in past):
            return self._ask("amount_not_known", facts, sources, needed=True)
        return self._open("left", facts | {"left": maximum - used}, sources)


class IntervalGate(Gate):
    """Least days between two applications of the same active ingredient."""

    id: ClassVar[str] = "interval"
    outcomes: ClassVar[tuple[str, ...]] = ("none_recorded", "long_enough", "too_soon", "not_known")
    idle_without: ClassVar[tuple[str, ...]] = ("history",)

    def check(self, question: Question) -> GateResult:
        """Shut inside a published or typed interval."""
        setting = question.setting
        past = [item for active in _actives(question) for item in _past(question, active, _YEAR_DAYS)]
        if not past:
            return self._open("none_recorded", {})
        last = max(item.on for item in past)
        days = (setting.on - last).days
        intervals = [
            (yearly.interval_days, yearly.sources)
            for _, yearly in yearly_of(question.parts, setting.turf)
            if yearly.interval_days is not None
        ]
        intervals += [
            (rate.interval_days, rules.LABEL_SOURCES)
            for rate in _typed_rates(question)
            if rate.interval_days is not None
        ]
        facts: dict[str, object] = {"last": last, "days": days}
        if not intervals:
            return self._ask("not_known", facts, rules.LABEL_SOURCES)
        needed, sources = max(intervals)
        facts |= {"days_needed": needed, "earliest": last + timedelta(days=needed)}
        if days < needed:
            return self._shut("too_soon", facts, sources)
        return self._open("long_enough", facts, sources)


class RotationGate(Gate):
    """The same class year after year breeds resistant weeds: change it where resistance is known in turf."""

    id: ClassVar[str] = "class_rotation"
    outcomes: ClassVar[tuple[str, ...]] = (
        "no_risk_known",
        "class_not_used",
        "other_class_in_mix",
        "used_last_year",
        "used_before",
    )
    about_weed: ClassVar[bool] = True
    idle_without: ClassVar[tuple[str, ...]] = ("history",)

    def check(self, question: Question) -> GateResult:
        """Shut if every class was used last year and the weed has known resistance; ask on other weeds at risk."""
        weed = question.weed
        if weed is None or not question.control.is_chemical:
            return self._open("no_risk_known", {})
        known = list(_resistance_rows(question))
        if not known and weed.id not in rules.HIGH_RISK_WEEDS:
            return self._open("no_risk_known", {"weed": weed.id})
        used = self._groups_used(question)
        groups = groups_of(question.knowledge, question.control)
        repeated = [bool(group) and group <= used for group in groups]
        facts: dict[str, object] = {
            "weed": weed.id,
            "groups": sorted({name for group in groups for name in group}),
            "used": sorted(used),
        }
        sources = tuple(dict.fromkeys(s for row in known for s in row.sources)) or rules.HIGH_RISK_WEEDS[weed.id]
        if not any(repeated):
            return self._open("class_not_used", facts, sources)
        if not all(repeated):
            return self._open("other_class_in_mix", facts, sources)
        if known:
            return self._shut("used_last_year", facts, sources)
        return self._ask("used_before", facts, sources)

    @staticmethod
    def _groups_used(question: Question) -> frozenset[str]:
        """Groups used in the two years before this programme."""
        found: set[str] = set()
        for item in question.setting.history:
            age = (question.setting.on - item.on).days
            past = question.knowledge.controls.get(item.control)
            if past is not None and rules.SAME_PROGRAMME_DAYS < age <= rules.ROTATION_DAYS:
                for groups in groups_of(question.knowledge, past):
                    found |= groups
        return frozenset(found)


class ResistanceGate(Gate):
    """Resistant populations published in turf: the rating holds for susceptible ones. Lists are minimum lists."""

    id: ClassVar[str] = "resistance"
    outcomes: ClassVar[tuple[str, ...]] = (
        "none_published",
        "part_still_works",
        "susceptible_only",
        "susceptible_somewhere",
    )
    about_weed: ClassVar[bool] = True
    only_asks: ClassVar[bool] = True

    def check(self, question: Question) -> GateResult:
        """Ask if resistance to every ingredient is published; a partner without it keeps the gate open."""
        weed, reading = question.weed, question.reading
        if weed is None or not question.control.is_chemical:
            return self._open("none_published", {})
        rows = list(_resistance_rows(question))
        own = [row for row in question.control.resistance if row.weed == weed.id]
        parts = question.parts[1:] or (question.control,)
        resisted = [any(row.weed == weed.id for row in part.resistance) for part in parts]
        facts: dict[str, object] = {
            "weed": weed.id,
            "places": sorted({place for row in rows for place in row.places}),
            "state": question.setting.state,
        }
        sources = tuple(dict.fromkeys(source for row in rows for source in row.sources))
        if own or all(resisted):
            return self._ask("susceptible_only" if facts["places"] else "susceptible_somewhere", facts, sources)
        if rows:
            return self._open("part_still_works", facts, sources)
        if reading is not None and reading.susceptible_only:
            return self._ask("susceptible_somewhere", facts, reading.sources)
        return self._open("none_published", facts)


def _actives(question: Question) -> frozenset[str]:
    return active_ids(question.knowledge, question.control.id) | {question.control.id}


def _past(question: Question, control: str, days: int) -> list[PastApplication]:
    """Applications of the last ``days`` days that held this control or active ingredient."""
    return [
        item
        for item in question.setting.history
        if 0 <= (question.setting.on - item.on).days <= days
        and (item.control == control or control in active_ids(question.knowledge, item.control))
    ]


def _typed_rates(question: Question) -> Iterator[LabelRate]:
    for rate in question.setting.label_rates:
        if rate.control == question.control.id:
            yield rate


def _resistance_rows(question: Question) -> Iterator[Resistance]:
    weed = question.weed
    for part in with_parts(question.knowledge, question.control):
        for row in part.resistance:
            if weed is not None and row.weed == weed.id:
                yield row
