"""Wetness in figures: prevalence index and dominance test from the National Wetland Plant List.

Prevalence index = sum of weight x cover / sum of cover, with OBL 1, FACW 2, FAC 3, FACU 4, UPL 5; 3.0 or less is
hydrophytic; at least 80 % of the cover must be rated; plants without a status stand in neither sum
(erdc_tr12_5, erdc_tr10_1). Dominance test by the 50/20 rule: the most abundant plants until they hold more than
half of a layer's cover, ties taken together, plus any with a fifth; passed if more than half of the dominants are
OBL, FACW or FAC (erdc_tr08_28, glossary_dominance; the handling of ties from memory).
Neither was made for mown, irrigated turf. The turf itself is left out: it was planted, not chosen by the ground.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import fsum

from weedkey.ground.results import Wetness
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Zone
from weedkey.model.trace import Step
from weedkey.model.vocabulary import WETLAND_STATUSES
from weedkey.model.weed import Wetland
from weedkey.units import exact

INDEX_SOURCES = ("erdc_tr12_5", "erdc_tr10_1")
DOMINANCE_SOURCES = ("erdc_tr08_28", "glossary_dominance")
WEIGHTS = {status: weight for weight, status in enumerate(WETLAND_STATUSES, start=1)}
HYDROPHYTIC_UP_TO = Fraction(3)
RATED_AT_LEAST = Fraction(80)
_HALF, _FIFTH = Fraction(1, 2), Fraction(1, 5)
_WET = ("OBL", "FACW", "FAC")


@dataclass(frozen=True, slots=True)
class RatedCover:
    """Percent cover of one plant with its status; None = not rated."""

    plant: str
    cover: Fraction
    status: str | None


def prevalence_index(cover_by_status: Mapping[str, float | Fraction]) -> Fraction | None:
    """The exact index from summed cover by status, 1 (wet) to 5 (dry); None if nothing is rated.

    Raises ValueError for a status that is not OBL, FACW, FAC, FACU or UPL. Formula: erdc_tr12_5, erdc_tr10_1.
    """
    unknown = [status for status in cover_by_status if status not in WEIGHTS]
    if unknown:
        raise ValueError(f"{unknown[0]!r} is not one of {', '.join(WETLAND_STATUSES)}")
    covers = {status: exact(cover) for status, cover in cover_by_status.items()}
    total = sum(covers.values(), Fraction(0))
    if not total:
        return None
    return sum((WEIGHTS[status] * cover for status, cover in covers.items()), Fraction(0)) / total


def find_dominants(layer: Iterable[RatedCover]) -> tuple[RatedCover, ...]:
    """Dominant plants of one layer by the 50/20 rule, most abundant first, equals in order of name."""
    ranked = sorted((plant for plant in layer if plant.cover > 0), key=lambda plant: (-plant.cover, plant.plant))
    total = sum((plant.cover for plant in ranked), Fraction(0))
    chosen: list[RatedCover] = []
    held, last = Fraction(0), None
    for plant in ranked:
        leads = held <= total * _HALF or plant.cover == last
        if leads or plant.cover >= total * _FIFTH:
            chosen.append(plant)
            held += plant.cover
            last = plant.cover if leads else last
    return tuple(chosen)


def dominance_percent(layers: Sequence[Iterable[RatedCover]]) -> Fraction | None:
    """Percent of the dominants of all layers that are OBL, FACW or FAC; None without dominants. Over 50 passes."""
    dominants = [plant for layer in layers for plant in find_dominants(layer)]
    if not dominants:
        return None
    return Fraction(100 * sum(plant.status in _WET for plant in dominants), len(dominants))


def read_wetness(knowledge: Knowledge, zone: Zone, region: str | None) -> Wetness:
    """Wetness of a zone from the weeds found there, each cover shared out by the belief in the name."""
    rows = _rows_of_zone(knowledge, zone, region)
    plants = [
        RatedCover(weed, exact(cover), row.status if row is not None else None)
        for weed, (cover, row) in sorted(rows.items())
    ]
    total = sum((plant.cover for plant in plants), Fraction(0))
    covers = _cover_by_status(plants)
    rated = sum(covers.values(), Fraction(0))
    share = 100 * rated / total if total else Fraction(0)
    index = prevalence_index(covers) if region is not None else None
    state, reason = _state(region, index, share)
    percent = dominance_percent([plants]) if region is not None and rated else None
    used = [row for _, row in rows.values() if row is not None]
    sources = tuple(dict.fromkeys((*INDEX_SOURCES, *(source for row in used for source in row.sources))))
    facts: dict[str, object] = {"zone": zone.name, "region": region, "made_for_lawns": False}
    facts |= {
        "index": _rounded(index, 2),
        "rated_percent": _rounded(share, 1),
        "dominance_percent": _rounded(percent, 1),
    }
    step = Step("ground.wetness", reason or state, facts, sources)
    return Wetness(
        state=state,
        reason=reason,
        region=region,
        index=index,
        hydrophytic=index <= HYDROPHYTIC_UP_TO if index is not None and state == "computed" else None,
        rated_percent=share,
        cover_by_status=tuple(covers.items()),
        dominants=tuple((plant.plant, plant.status or "") for plant in find_dominants(plants)),
        dominance_percent=percent,
        dominance_passes=percent > 100 * _HALF if percent is not None and state == "computed" else None,
        list_years=tuple(sorted({row.year for row in used if row.year})),
        doubtful=tuple(sorted(weed for weed, (_, row) in rows.items() if row is not None and row.doubtful)),
        sources=sources,
        step=step,
    )


def _rows_of_zone(knowledge: Knowledge, zone: Zone, region: str | None) -> dict[str, tuple[float, Wetland | None]]:
    """Cover and wetland row of each plant of the zone; of several rows for the region the driest status counts."""
    covers: dict[str, list[float]] = {}
    for finding in zone.findings:
        for weed, belief in finding.weeds.items():
            covers.setdefault(weed, []).append(finding.cover_percent * belief)
    rows: dict[str, tuple[float, Wetland | None]] = {}
    for weed, parts in covers.items():
        entry = knowledge.weeds.get(weed)
        found = [row for row in entry.wetland if row.region == region] if entry is not None else []
        rows[weed] = fsum(parts), max(found, key=lambda row: WEIGHTS[row.status], default=None)
    return rows


def _cover_by_status(plants: Iterable[RatedCover]) -> dict[str, Fraction]:
    covers = dict.fromkeys(WETLAND_STATUSES, Fraction(0))
    for plant in plants:
        if plant.status is not None:
            covers[plant.status] += plant.cover
    return covers


def _rounded(value: Fraction | None, digits: int) -> float | None:
    return round(float(value), digits) if value is not None else None


def _state(region: str | None, index: Fraction | None, share: Fraction) -> tuple[str, str]:
    if region is None:
        return "not_computable", "no_region"
    if index is None:
        return "not_computable", "nothing_rated"
    if share < RATED_AT_LEAST:
        return "not_reliable", "too_little_rated"
    return "computed", ""
