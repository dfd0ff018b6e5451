"""Sets that are not settled: which single look would settle them, and whether the treatment hangs on it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from weedkey.control import Setting, decision_regions
from weedkey.key import Context, build_table, judge
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Finding, Lawn
from weedkey.model.region import Region
from weedkey.plan.results import Target, Unsettled

#: Candidates below this do not decide.
COUNTS_ABOVE = 0.02


def find_unsettled(knowledge: Knowledge, lawn: Lawn, years: Mapping[str, tuple[Setting, ...]]) -> Iterator[Unsettled]:
    """One row for each finding that is still a set."""
    for zone in lawn.zones:
        open_findings = [(place, finding) for place, finding in enumerate(zone.findings) if not finding.is_settled]
        if not open_findings:
            continue
        year = years[zone.name]
        regions = decision_regions(knowledge, year[0], year[1:])
        for place, finding in open_findings:
            yield _judge(knowledge, finding, Target(zone.name, place), year[0], regions)


def _judge(
    knowledge: Knowledge, finding: Finding, target: Target, setting: Setting, regions: Mapping[str, Region]
) -> Unsettled:
    rows = tuple(sorted(finding.weeds.items(), key=lambda row: (-row[1], row[0])))
    counted = [weed for weed, belief in rows if belief > COUNTS_ABOVE]
    matters = not frozenset.intersection(*(regions[weed].actions for weed in counted if weed in regions))
    few = {weed: knowledge.weeds[weed] for weed in counted}
    table = build_table(replace(knowledge, weeds=few), Context(setting.on.month, setting.region, setting.turf))
    standing = judge(table, finding.looks, goal="name")
    return Unsettled(target, rows, standing.could_ask, matters)
