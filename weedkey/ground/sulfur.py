"""Sulfur for alkaline ground: only after a laboratory test, in small steps, with the usual warnings (clem_sulf)."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from weedkey.model.trace import Step
from weedkey.model.turf import Turf
from weedkey.units import exact

SOURCES = ("clem_sulf",)
#: Ceiling of one application on a lawn in lb per 1000 sq ft, hottest air, months between two (clem_sulf).
CAP_LB_PER_1000_SQFT = (5, 10)
AIR_BELOW_F = 75
REPEAT_MONTHS = (2, 3)
#: Ids of the warnings; the report words them. Free lime (chalky ground) cannot be turned by sulfur: from memory.
WARNINGS = (
    "sulfur_burns_turf",
    "sulfur_only_cool",
    "sulfur_water_in",
    "sulfur_small_steps",
    "sulfur_free_lime",
    "sulfur_retest",
)


@dataclass(frozen=True, slots=True)
class SulfurAdvice:
    """``kind``: none, test_first (the reading settles nothing) or with_warnings; the laboratory names the amount."""

    kind: str
    warnings: tuple[str, ...]
    cap_lb_per_1000_sqft: tuple[int, int] | None
    air_below_f: int | None
    repeat_months: tuple[int, int] | None
    step: Step


def advise_sulfur(turf: Turf, soil_ph: float | Fraction | None, is_reliable: bool) -> SulfurAdvice:
    """Sulfur only where a laboratory pH lies above every target that the turf's sources give."""
    highest = max((exact(row.high) for row in turf.soil_ph), default=None)
    facts: dict[str, object] = {"turf": turf.id, "highest_target": float(highest) if highest is not None else None}
    if soil_ph is not None:
        facts["soil_ph"] = float(soil_ph)
    if soil_ph is None or highest is None or exact(soil_ph) <= highest:
        return SulfurAdvice("none", (), None, None, None, Step("ground.sulfur", "none", facts))
    if not is_reliable:
        return SulfurAdvice("test_first", (), None, None, None, Step("ground.sulfur", "test_first", facts))
    step = Step("ground.sulfur", "with_warnings", facts, (*SOURCES, "from_memory"))
    return SulfurAdvice("with_warnings", WARNINGS, CAP_LB_PER_1000_SQFT, AIR_BELOW_F, REPEAT_MONTHS, step)
