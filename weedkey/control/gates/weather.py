"""The day: air, rain, irrigation, wind, mowing. Without a forecast these gates ask."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from weedkey.control import general_rules as rules
from weedkey.control.gates.base import Gate, Question
from weedkey.control.general_rules import Rule
from weedkey.control.mixtures import highest_limit_or_none, limits_of, lowest_limit_or_none
from weedkey.control.results import GateResult


class AirTemperatureGate(Gate):
    """Ceilings and floors of the day: the control's own, then the ones published for the class and the turf."""

    id: ClassVar[str] = "air_temperature"
    outcomes: ClassVar[tuple[str, ...]] = (
        "fits",
        "not_a_spray_on_leaves",
        "not_known",
        "above_ceiling",
        "below_floor",
        "avoid_heat",
        "slow_in_cold",
        "night_too_cold",
        "poor_on_dormant",
    )
    idle_without: ClassVar[tuple[str, ...]] = ("air_high_f",)

    def check(self, question: Question) -> GateResult:
        """Shut beyond a stop; ask beyond an advice, and without a temperature."""
        setting = question.setting
        facts: dict[str, object] = {"air_high_f": setting.air_high_f, "air_low_f": setting.air_low_f}
        ceilings = list(self._ceilings(question))
        floors = list(self._floors(question))
        if not ceilings and not floors:
            return self._open("not_a_spray_on_leaves", facts)
        if setting.air_high_f is None:
            lowest = min((rule for rule in ceilings if rule.word == "stop"), key=lambda r: r.value, default=None)
            if lowest is not None:
                facts |= {"limit_f": lowest.value}
            return self._ask("not_known", facts, lowest.sources if lowest else ())
        shut = self._stop_or_none(question, facts, ceilings, floors)
        return shut or self._advice_or_open(question, facts, ceilings, floors)

    def _stop_or_none(
        self, question: Question, facts: dict[str, object], ceilings: list[Rule], floors: list[Rule]
    ) -> GateResult | None:
        high, low = question.setting.air_high_f, question.setting.air_low_f
        if high is None:
            return None
        spread = question.setting.air_spread_f
        hot = [rule for rule in ceilings if rule.word == "stop" and high - spread > rule.value]
        if hot:
            rule = min(hot, key=lambda rule: rule.value)
            return self._shut("above_ceiling", facts | {"limit_f": rule.value, "rule": rule.id}, rule.sources)
        cold = [rule for rule in floors if rule.word == "stop" and high + spread < rule.value]
        if cold:
            rule = max(cold, key=lambda rule: rule.value)
            return self._shut("below_floor", facts | {"limit_f": rule.value, "rule": rule.id}, rule.sources)
        for active in question.actives:
            night = rules.NIGHT_STOPS_F.get(active)
            if night and low is not None and low + spread < night.value:
                return self._shut("night_too_cold", facts | {"limit_f": night.value, "part": active}, night.sources)
        return None

    def _advice_or_open(
        self, question: Question, facts: dict[str, object], ceilings: list[Rule], floors: list[Rule]
    ) -> GateResult:
        high, low = question.setting.air_high_f, question.setting.air_low_f
        if high is None:
            return self._ask("not_known", facts)
        for rule in ceilings:
            if high > rule.value:
                return self._ask("avoid_heat", facts | {"limit_f": rule.value, "rule": rule.id}, rule.sources)
        for rule in floors:
            if high < rule.value:
                outcome = "poor_on_dormant" if rule is rules.DORMANT_SPRAY_POOR_F else "slow_in_cold"
                return self._ask(outcome, facts | {"limit_f": rule.value, "rule": rule.id}, rule.sources)
        night = rules.SYSTEMIC_NIGHT_FLOOR_F
        if question.is_foliar and low is not None and low < night.value and question.setting.growth != "dormant":
            return self._ask("slow_in_cold", facts | {"limit_f": night.value, "rule": night.id}, night.sources)
        return self._open("fits", facts)

    @staticmethod
    def _ceilings(question: Question) -> Iterator[Rule]:
        setting = question.setting
        for limit in limits_of(question.parts, "air_max_f", setting.turf):
            yield Rule("own_ceiling", limit.value, "stop", limit.sources)
        if not question.is_foliar or question.is_spot_kill:
            return
        for active in question.actives:
            if active in rules.VAPOUR_CEILINGS_F:
                yield rules.VAPOUR_CEILINGS_F[active]
        season = question.turf.season if question.turf else ""
        for rule in rules.AIR_CEILINGS_F:
            if rule.turfs and setting.turf not in rule.turfs:
                continue
            if rule.season and rule.season != season:
                continue
            if rule.turfs and question.use == "spot":
                yield Rule(rule.id, rule.value, "avoid", rule.sources)  # the source speaks of broadcast work
            else:
                yield rule

    @staticmethod
    def _floors(question: Question) -> Iterator[Rule]:
        setting = question.setting
        for limit in limits_of(question.parts, "air_min_f", setting.turf):
            yield Rule("own_floor", limit.value, "stop", limit.sources)
        if not question.is_foliar:
            return
        for active in question.actives:
            if active in rules.DAY_STOPS_F:
                yield rules.DAY_STOPS_F[active]
        if question.control.kind == "non_selective" and question.use == "broadcast":
            yield from (rules.DORMANT_SPRAY_STOP_F, rules.DORMANT_SPRAY_POOR_F)
        yield rules.SYSTEMIC_DAY_FLOOR_F


class RainGate(Gate):
    """Hours without rain after a spray on leaves; rain or water for a barrier."""

    id: ClassVar[str] = "rain"
    outcomes: ClassVar[tuple[str, ...]] = ("dry_long_enough", "not_known", "too_soon", "short_of_24", "needs_water")
    idle_without: ClassVar[tuple[str, ...]] = ("hours_to_rain",)

    def check(self, question: Question) -> GateResult:
        """Shut if rain comes before the control's own rain-free time (24 hours where none is known)."""
        setting = question.setting
        if question.timing == "pre_emergence" and question.control.kind == "pre_emergence":
            return self._check_barrier(question)
        own = highest_limit_or_none(question.parts, "rain_free_hours", setting.turf)
        hours = own.value if own else rules.RAIN_FREE_HOURS.value
        sources = own.sources if own else rules.RAIN_FREE_HOURS.sources
        facts = {"hours_to_rain": setting.hours_to_rain, "hours_needed": hours}
        if setting.hours_to_rain is None:
            return self._ask("not_known", facts, sources)
        if setting.hours_to_rain < hours:
            return self._shut("too_soon", facts, sources)
        if setting.hours_to_rain < rules.RAIN_FREE_HOURS.value:
            return self._ask("short_of_24", facts, rules.RAIN_FREE_HOURS.sources)
        return self._open("dry_long_enough", facts, sources)

    def _check_barrier(self, question: Question) -> GateResult:
        own = highest_limit_or_none(question.parts, "water_in_inches", question.setting.turf)
        inches = own.value if own else rules.WATER_IN_INCHES.value
        sources = own.sources if own else rules.WATER_IN_INCHES.sources
        return self._ask("needs_water", {"inches": inches, "hours_to_rain": question.setting.hours_to_rain}, sources)


class IrrigationGate(Gate):
    """Sprinklers off after a spray on leaves."""

    id: ClassVar[str] = "irrigation"
    outcomes: ClassVar[tuple[str, ...]] = ("not_irrigated", "off_long_enough", "barrier", "not_known", "too_soon")
    idle_without: ClassVar[tuple[str, ...]] = ("hours_to_irrigation",)

    def check(self, question: Question) -> GateResult:
        """Shut if water comes before the control's own time (12 hours where none is known)."""
        setting = question.setting
        if question.timing == "pre_emergence":
            return self._open("barrier", {})
        own = highest_limit_or_none(question.parts, "no_irrigation_hours", setting.turf)
        hours = own.value if own else rules.NO_IRRIGATION_HOURS.value
        sources = own.sources if own else rules.NO_IRRIGATION_HOURS.sources
        facts: dict[str, object] = {
            "hours_to_irrigation": setting.hours_to_irrigation,
            "hours_needed": hours,
            "irrigation_days_a_week": setting.irrigation_days_a_week,
        }
        if setting.irrigation_days_a_week == 0 and setting.hours_to_irrigation is None:
            return self._open("not_irrigated", facts)
        if setting.hours_to_irrigation is None:
            return self._ask("not_known", facts, sources)
        if setting.hours_to_irrigation < hours:
            return self._shut("too_soon", facts, sources)
        return self._open("off_long_enough", facts, sources)


class WindGate(Gate):
    """Wind carries droplets; a calm morning may hold an inversion."""

    id: ClassVar[str] = "wind"
    outcomes: ClassVar[tuple[str, ...]] = ("fits", "not_known", "too_strong", "suspect_inversion")
    idle_without: ClassVar[tuple[str, ...]] = ("wind_mph",)

    def check(self, question: Question) -> GateResult:
        """Shut above the strictest limit (8 mph where none is known); ask below 3 mph."""
        setting = question.setting
        own = lowest_limit_or_none(question.parts, "wind_max_mph", setting.turf)
        general = rules.WIND_MAX_MPH
        limit = min(own.value, general.value) if own else general.value
        sources = own.sources if own and own.value <= general.value else general.sources
        facts = {"wind_mph": setting.wind_mph, "limit_mph": limit, "label_mph": rules.WIND_LABEL_MPH.value}
        if setting.wind_mph is None:
            return self._ask("not_known", facts, sources)
        if setting.wind_mph > limit:
            return self._shut("too_strong", facts, sources)
        if setting.wind_mph < rules.WIND_CALM_MPH.value:
            return self._ask("suspect_inversion", facts, rules.WIND_CALM_MPH.sources)
        return self._open("fits", facts, sources)


class MowingGate(Gate):
    """Days without mowing before and after a spray on leaves."""

    id: ClassVar[str] = "mowing"
    outcomes: ClassVar[tuple[str, ...]] = (
        "fits",
        "barrier",
        "dormant",
        "not_known",
        "too_soon_after",
        "too_soon_before",
    )
    idle_without: ClassVar[tuple[str, ...]] = ("days_since_mowing", "days_to_mowing")

    def check(self, question: Question) -> GateResult:
        """Shut inside the control's own gap (3 days before, 2 after where none is known)."""
        setting = question.setting
        if question.timing == "pre_emergence":
            return self._open("barrier", {})
        if setting.growth == "dormant":
            return self._open("dormant", {"growth": setting.growth})
        before, before_sources = self._days(question, "no_mow_days_before", rules.NO_MOW_BEFORE_DAYS)
        after, after_sources = self._days(question, "no_mow_days_after", rules.NO_MOW_AFTER_DAYS)
        facts: dict[str, object] = {
            "days_since_mowing": setting.days_since_mowing,
            "days_to_mowing": setting.days_to_mowing,
            "days_before": before,
            "days_after": after,
            "some_labels_days": rules.CAREFUL_MOW_DAYS.value,
        }
        sources = tuple(dict.fromkeys((*before_sources, *after_sources)))
        if setting.days_since_mowing is not None and setting.days_since_mowing < before:
            return self._shut("too_soon_after", facts, before_sources)
        if setting.days_to_mowing is not None and setting.days_to_mowing < after:
            return self._shut("too_soon_before", facts, after_sources)
        if setting.days_since_mowing is None or setting.days_to_mowing is None:
            return self._ask("not_known", facts, sources)
        return self._open("fits", facts, sources)

    @staticmethod
    def _days(question: Question, kind: str, general: Rule) -> tuple[float, tuple[str, ...]]:
        own = highest_limit_or_none(question.parts, kind, question.setting.turf)
        if own and own.value >= general.value:
            return own.value, own.sources
        return general.value, general.sources
