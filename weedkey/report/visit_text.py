"""The parts of a lawn and the findings in them, a line each."""

from __future__ import annotations

from weedkey.model.lawn import Finding, Zone
from weedkey.report.namer import Namer
from weedkey.report.style import join_words


def zone_line(zone: Zone, namer: Namer) -> str:
    """For example: drive edge, 260 sq ft: goosegrass 35 %."""
    found = ", ".join(f"{finding_words(finding, namer)} {finding.cover_percent:g} %" for finding in zone.findings)
    return f"{zone.name}, {zone.area_sqft:,.0f} sq ft: {found or 'nothing entered yet'}"


def finding_words(finding: Finding, namer: Namer) -> str:
    """A weed, or "yellow nutsedge or green kyllinga" for a set that is not settled."""
    rows = sorted(finding.weeds.items(), key=lambda row: (-row[1], row[0]))
    return join_words([namer.marked_weed(weed) for weed, _ in rows[:4]], "or") + (" or others" if len(rows) > 4 else "")
