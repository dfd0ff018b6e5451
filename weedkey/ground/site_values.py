"""A second opinion from Ellenberg-type indicator values: cover-weighted means with spread.

The values (pign05) describe the behaviour of species in the Italian flora, not in mown turf; many species are
indifferent, most of all for reaction. So each mean comes with its spread and with the share of the cover that
is indifferent or without a value.
"""

from __future__ import annotations

from math import fsum, sqrt

from weedkey.ground.results import SiteAxis
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Zone
from weedkey.model.weed import SiteValues

AXES = ("light", "moisture", "reaction", "nutrients", "salinity")


def read_site_values(knowledge: Knowledge, zone: Zone) -> tuple[SiteAxis, ...]:
    """The five axes of a zone: light 1-12, moisture 1-12, reaction 1-9, nutrients 1-9, salinity 0-3."""
    covers: dict[str, list[float]] = {}
    for finding in zone.findings:
        for weed, belief in finding.weeds.items():
            covers.setdefault(weed, []).append(finding.cover_percent * belief)
    rows = []
    for weed, parts in sorted(covers.items()):
        entry = knowledge.weeds.get(weed)
        rows.append((fsum(parts), entry.site_values if entry is not None else None))
    return tuple(_read_axis(axis, rows) for axis in AXES)


def _read_axis(axis: str, rows: list[tuple[float, SiteValues | None]]) -> SiteAxis:
    total = fsum(cover for cover, _ in rows)
    speaking: list[tuple[float, int]] = []
    indifferent: list[float] = []
    sources: dict[str, None] = {}
    for cover, values in rows:
        if values is None:
            continue
        value: int | None = getattr(values, axis)
        if value is not None:
            speaking.append((cover, value))
        elif axis in values.indifferent:
            indifferent.append(cover)
        else:
            continue
        sources |= dict.fromkeys(values.sources)
    weight = fsum(cover for cover, _ in speaking)
    mean = fsum(cover * value for cover, value in speaking) / weight if weight else None
    spread = None
    if mean is not None:
        spread = sqrt(fsum(cover * (value - mean) ** 2 for cover, value in speaking) / weight)
    blank = fsum(indifferent)
    return SiteAxis(
        axis=axis,
        mean=mean,
        spread=spread,
        indifferent_percent=100 * blank / total if total else 0.0,
        unknown_percent=100 * max(0.0, total - weight - blank) / total if total else 0.0,
        weeds=len(speaking),
        sources=tuple(sources),
    )
