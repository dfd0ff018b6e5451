"""What the ground says, as plain JSON values (keys documented in docs/json.md)."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from weedkey.ground.lime import LimeAdvice
from weedkey.ground.results import ConditionReading, GroundReport, Wetness, ZoneReport
from weedkey.model.base import Knowledge
from weedkey.report.entry_json import plain_value
from weedkey.report.namer import Namer
from weedkey.report.wording import sentence


def ground_json(knowledge: Knowledge, report: GroundReport) -> dict[str, Any]:
    """Zones with prevalence index, conditions, site values, lime."""
    namer = Namer(knowledge)
    return {
        "zones": [zone_json(zone, namer) for zone in report.zones],
        "wettest_first": list(report.wettest_first),
    }


def zone_json(zone: ZoneReport, namer: Namer) -> dict[str, Any]:
    """One zone."""
    index = zone.wetness.index
    return {
        "zone": zone.zone,
        "prevalence_index": round(float(index), 2) if index is not None else None,
        "wetness": wetness_json(zone.wetness, namer),
        "conditions": [condition_json(reading, namer) for reading in zone.conditions],
        "site_values": [plain_value(axis) for axis in zone.site_values],
        "lime": lime_json(zone.lime, namer),
        "sulfur": {"kind": zone.sulfur.kind, "why": sentence(zone.sulfur.step, namer)},
        "next_test": plain_value(zone.next_test) if zone.next_test else None,
        "next_test_for": zone.next_test_for,
    }


def wetness_json(wetness: Wetness, namer: Namer) -> dict[str, Any]:
    """Prevalence index and dominance test with their coverage and warning."""
    return {
        "state": wetness.state,
        "reason": wetness.reason,
        "region": wetness.region,
        "rated_percent": round(float(wetness.rated_percent), 1),
        "dominance_percent": _number(wetness.dominance_percent),
        "dominance_passes": wetness.dominance_passes,
        "hydrophytic": wetness.hydrophytic,
        "list_years": list(wetness.list_years),
        "doubtful": list(wetness.doubtful),
        "note": sentence(wetness.step, namer),
        "sources": list(wetness.sources),
    }


def condition_json(reading: ConditionReading, namer: Namer) -> dict[str, Any]:
    """One condition: evidence, signs for and against, test, remedy."""
    return {
        "condition": reading.condition,
        "name": namer.condition(reading.condition),
        "evidence": reading.evidence,
        "weight": round(reading.weight, 3),
        "independent_signs": reading.independent,
        "may_spend": reading.may_spend,
        "signs": [plain_value(sign) for sign in reading.signs],
        "against": [plain_value(item) for item in reading.against],
        "measured": [plain_value(item) for item in reading.measured],
        "test": plain_value(reading.test) if reading.test else None,
        "remedy": [plain_value(remedy) for remedy in reading.remedies],
        "if_nothing_changes": reading.if_nothing_changes,
        "why": sentence(reading.step, namer),
        "sources": list(reading.step.sources),
    }


def lime_json(advice: LimeAdvice, namer: Namer) -> dict[str, Any]:
    """Lime: kind, reason, amounts in the units that people buy, applications with their months."""
    return {
        "kind": advice.kind,
        "reason": advice.reason,
        "why": sentence(advice.step, namer),
        "soil_ph": _number(advice.soil_ph),
        "method": advice.method,
        "targets": [plain_value(row) for row in advice.target.rows],
        "lb_per_1000_sqft": _number(advice.lb_per_1000_sqft),
        "tons_per_acre": _number(advice.tons_per_acre),
        "lb_for_area": _number(advice.lb_for_area),
        "bags": advice.bags,
        "lime_type": advice.lime_type,
        "applications": [
            {
                "number": part.number,
                "months_after": list(part.months_after),
                "lb_per_1000_sqft": _number(part.lb_per_1000_sqft),
                "retest_first": part.retest_first,
            }
            for part in advice.applications
        ],
        "shows_after_months": list(advice.shows_after_months),
        "sources": list(advice.step.sources),
    }


def _number(value: Fraction | None) -> float | None:
    return round(float(value), 2) if value is not None else None
