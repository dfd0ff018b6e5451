"""Read the ground of a lawn: every condition in every zone, with what to test next and what would mend it.

Evidence of a condition:
  measured  a reliable measurement says yes, and none says no
  none      a measurement says no and none says yes, or no sign has weight
  likely    two or more independent signs with a joint weight of 0.5 or more, not outweighed by the opposite condition
  hint      at least one sign, or measurements that contradict each other
Money is spent on measured and on likely, never on a hint (common practice).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from weedkey.ground.lime import LimeAdvice
from weedkey.ground.lime_advice import advise_lime
from weedkey.ground.measured import (
    is_reliable_ph,
    judge_measurements,
    measurements_of_zone,
    number_or_none,
)
from weedkey.ground.results import (
    ConditionReading,
    Contradiction,
    GroundReport,
    MeasuredReading,
    SignReading,
    ZoneReport,
)
from weedkey.ground.signs import (
    combine_signs,
    read_denials,
    read_signs,
    sources_of_sign,
    strength_of_sign,
)
from weedkey.ground.site_values import read_site_values
from weedkey.ground.sulfur import advise_sulfur
from weedkey.ground.wetness import read_wetness
from weedkey.model.base import Knowledge
from weedkey.model.condition import Condition, GroundTest
from weedkey.model.lawn import Lawn, Measured, Zone
from weedkey.model.source import COMMON_PRACTICE
from weedkey.model.trace import Step
from weedkey.model.turf import Turf

LIKELY_FROM = 0.5
INDEPENDENT_SIGNS = 2
#: Words for the cost of a test, cheapest first; an unknown word comes last.
_COST_ORDER = ("nothing", "a few dollars", "laboratory fee")


def read_ground(knowledge: Knowledge, lawn: Lawn) -> GroundReport:
    """Read every zone of a lawn. Pure: the same knowledge and lawn give the same report."""
    place = knowledge.places.get(lawn.place) if lawn.place else None
    region = place.wetland_region if place is not None else None
    zones = tuple(_read_zone(knowledge, lawn, zone, region) for zone in lawn.zones)
    ranked = sorted(
        (report.wetness.index, report.zone)
        for report in zones
        if report.wetness.index is not None and report.wetness.state == "computed"
    )
    return GroundReport(zones, tuple(zone for _, zone in ranked))


def list_signs(knowledge: Knowledge, condition: str) -> tuple[tuple[str, float, tuple[str, ...], tuple[str, ...]], ...]:
    """Weeds that point to a condition: id, strength, sources for, sources against; strongest first.

    Raises KeyError for an unknown condition.
    """
    if condition not in knowledge.conditions:
        raise KeyError(condition)
    rows = []
    for weed in knowledge.weeds.values():
        sources = sources_of_sign(weed, condition)
        if sources:
            denied = sources_of_sign(weed, condition, against=True)
            rows.append((weed.id, strength_of_sign(weed, condition), sources, denied))
    return tuple(sorted(rows, key=lambda row: (-row[1], row[0])))


def _read_zone(knowledge: Knowledge, lawn: Lawn, zone: Zone, region: str | None) -> ZoneReport:
    turf = knowledge.turfs.get(zone.turf or lawn.turf)
    measured = measurements_of_zone(lawn, zone)
    target = turf if turf is not None else _unknown_turf(zone.turf or lawn.turf)
    lime = advise_lime(target, measured, zone.area_sqft)
    ph = measured.get("soil_ph")
    sulfur = advise_sulfur(target, number_or_none(ph), ph is None or is_reliable_ph(ph))
    signs = {condition: read_signs(knowledge, zone, condition) for condition in knowledge.conditions}
    readings = tuple(
        _read_condition(knowledge, zone, condition, signs, judge_measurements(condition, measured, turf))
        for condition in knowledge.conditions.values()
    )
    barred = _barred_remedies(target, lime, sulfur.kind)
    readings = tuple(_with_remedies(knowledge, reading, barred) for reading in readings)
    readings = tuple(_with_test(knowledge, reading, measured) for reading in readings)
    chosen = _next_test(readings)
    return ZoneReport(
        zone=zone.name,
        wetness=read_wetness(knowledge, zone, region),
        conditions=readings,
        site_values=read_site_values(knowledge, zone),
        lime=lime,
        sulfur=sulfur,
        next_test=chosen.test if chosen is not None else None,
        next_test_for=chosen.condition if chosen is not None else None,
    )


def _read_condition(
    knowledge: Knowledge,
    zone: Zone,
    condition: Condition,
    signs: Mapping[str, tuple[SignReading, ...]],
    measured: tuple[MeasuredReading, ...],
) -> ConditionReading:
    own = signs[condition.id]
    weight = combine_signs(own)
    independent = sum(sign.counts for sign in own)
    against, opposing = _against(knowledge, zone, condition, signs, measured)
    evidence = _evidence(measured, weight, independent, opposing)
    facts = {
        "zone": zone.name,
        "condition": condition.id,
        "weight": round(weight, 3),
        "independent": independent,
        "opposing_weight": round(opposing, 3),
        "measured": tuple((reading.what, reading.value, reading.says) for reading in measured),
    }
    said = [*(row.sources for row in own), *(row.sources for row in measured)]
    sources = tuple(dict.fromkeys(source for sources in said for source in sources))
    return ConditionReading(
        condition=condition.id,
        evidence=evidence,
        signs=own,
        against=against,
        test=None,
        remedies=(),
        step=Step("ground.evidence", evidence, facts, sources, tuple(_sign_step(sign) for sign in own)),
        weight=weight,
        independent=independent,
        may_spend=evidence in ("likely", "measured"),
        measured=measured,
        if_nothing_changes=condition.if_nothing_changes,
    )


def _evidence(measured: tuple[MeasuredReading, ...], weight: float, independent: int, opposing: float) -> str:
    says = {reading.says for reading in measured}
    if "yes" in says and "no" not in says:
        return "measured"
    if "no" in says and "yes" not in says:
        return "none"
    if independent >= INDEPENDENT_SIGNS and weight >= LIKELY_FROM and weight >= opposing:
        return "likely"
    return "hint" if independent or {"yes", "no"} <= says else "none"


def _against(
    knowledge: Knowledge,
    zone: Zone,
    condition: Condition,
    signs: Mapping[str, tuple[SignReading, ...]],
    measured: tuple[MeasuredReading, ...],
) -> tuple[tuple[Contradiction, ...], float]:
    """Everything that speaks against the condition, and the weight of its heaviest opposite."""
    rows = [
        Contradiction("unreliable" if reading.says == "unreliable" else "measurement", reading.what, reading.sources)
        for reading in measured
        if reading.says in ("no", "unreliable")
    ]
    rows += read_denials(knowledge, zone, condition.id)
    heaviest = 0.0
    for other in _opposites(knowledge, condition):
        heaviest = max(heaviest, combine_signs(signs[other]))
        rows += [
            Contradiction("opposite", weed, sign.sources, sign.weight, note=other)
            for sign in signs[other]
            if sign.counts
            for weed in sign.weeds
        ]
    return tuple(rows), heaviest


def _opposites(knowledge: Knowledge, condition: Condition) -> tuple[str, ...]:
    found = [condition.opposite] if condition.opposite else []
    found += [other.id for other in knowledge.conditions.values() if other.opposite == condition.id]
    return tuple(sorted({other for other in found if other in knowledge.conditions}))


def _sign_step(sign: SignReading) -> Step:
    facts = {
        "weeds": sign.weeds,
        "groups": sign.groups,
        "cover_percent": sign.cover_percent,
        "belief": round(sign.belief, 3),
        "strength": round(sign.strength, 3),
        "cover_factor": round(sign.cover_factor, 3),
        "weight": round(sign.weight, 3),
    }
    return Step("ground.sign", "counts" if sign.counts else "shown", facts, sign.sources)


def _barred_remedies(turf: Turf, lime: LimeAdvice, sulfur_kind: str) -> frozenset[str]:
    """Remedies that do not fit here.

    Lime stays out until a laboratory figure asks for it, sulfur until a laboratory pH does; overseeding is for
    cool-season turf, plugs for turf with runners.
    """
    barred = set()
    if lime.kind != "lime":
        barred.add("lime")
    if sulfur_kind != "with_warnings":
        barred.add("sulfur")
    if turf.season != "cool":
        barred.add("overseed")
    if not {"stolons", "rhizomes"} & set(turf.habit):
        barred.add("plug")
    return frozenset(barred)


def _with_remedies(knowledge: Knowledge, reading: ConditionReading, barred: frozenset[str]) -> ConditionReading:
    if reading.evidence == "none":
        return reading
    remedies = knowledge.conditions[reading.condition].remedies
    return replace(reading, remedies=tuple(row for row in remedies if row.control not in barred))


def _with_test(knowledge: Knowledge, reading: ConditionReading, measured: Mapping[str, Measured]) -> ConditionReading:
    """The cheapest test of the condition where something is still open; none where a measurement settled it."""
    settled = any(row.says in ("yes", "no") for row in reading.measured) and reading.evidence != "hint"
    tests = sorted(knowledge.conditions[reading.condition].tests, key=_test_cost)
    if settled or not tests:
        return reading
    open_tests = [test for test in tests if test.id not in measured] or tests
    return replace(reading, test=open_tests[0])


def _test_cost(test: GroundTest) -> tuple[int, float, str]:
    rank = _COST_ORDER.index(test.money) if test.money in _COST_ORDER else len(_COST_ORDER)
    return rank, test.minutes, test.id


def _next_test(readings: tuple[ConditionReading, ...]) -> ConditionReading | None:
    """The reading whose test is worth most: a likely condition before a hint, then the cheapest, then the heaviest."""
    open_rows = [row for row in readings if row.test is not None and row.evidence in ("likely", "hint")]

    def order(row: ConditionReading) -> tuple[bool, tuple[int, float, str], float, str]:
        assert row.test is not None  # noqa: S101 - filtered above
        return row.evidence != "likely", _test_cost(row.test), -row.weight, row.condition

    return min(open_rows, key=order, default=None)


def _unknown_turf(turf: str) -> Turf:
    """A turf without figures, so that nothing is advised for a grass that the knowledge does not hold."""
    return Turf(turf, turf, turf, "warm", (), (COMMON_PRACTICE,))
