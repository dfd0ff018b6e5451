"""Repair or start again: every published rule for the whole lawn and for each zone, side by side."""

from __future__ import annotations

from weedkey.control.thresholds import is_renovation, judge_cover
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Lawn, Zone
from weedkey.model.trace import Step
from weedkey.plan.results import LawnVerdict
from weedkey.plan.situation import latest_number, zone_turf


def judge_lawn(knowledge: Knowledge, lawn: Lawn) -> LawnVerdict:
    """Covers are weighted by area. ``renovate`` if a published rule for the whole lawn fires, else ``overseed`` or
    ``repair``; the rules disagree, so all of them are kept.
    """
    area = lawn.area_sqft
    turf = knowledge.turfs.get(lawn.turf)
    season = turf.season if turf else ""
    weeds = sum(zone.area_sqft * weed_percent(zone) for zone in lawn.zones) / area if area else 0.0
    bare = sum(zone.area_sqft * zone.bare_percent for zone in lawn.zones) / area if area else 0.0
    known = [zone for zone in lawn.zones if zone.turf_cover_percent is not None]
    desirable = None
    if area and len(known) == len(lawn.zones):
        desirable = sum(zone.area_sqft * (zone.turf_cover_percent or 0.0) for zone in known) / area
    steps = judge_cover(season, desirable, weeds, bare, latest_number(lawn.measured, "thatch_in"))
    overseed = any(step.outcome == "fires" and step.facts.get("says") == "overseed" for step in steps)
    kind = "renovate" if is_renovation(steps) else "overseed" if overseed else "repair"
    zones = tuple((zone.name, _judge_zone(knowledge, lawn, zone)) for zone in lawn.zones)
    return LawnVerdict(kind, desirable, weeds, bare, steps, zones)


def _judge_zone(knowledge: Knowledge, lawn: Lawn, zone: Zone) -> tuple[Step, ...]:
    turf = knowledge.turfs.get(zone_turf(lawn, zone))
    season = turf.season if turf else ""
    return judge_cover(season, zone.turf_cover_percent, weed_percent(zone), zone.bare_percent)


def weed_percent(zone: Zone) -> float:
    """Percent of the zone under weeds; overlapping covers never count above 100."""
    return min(100.0, sum(finding.cover_percent for finding in zone.findings))
