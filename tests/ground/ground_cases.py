"""Small knowledge and lawns for the tests of the ground."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from functools import cache
from pathlib import Path

from weedkey.model.base import Knowledge
from weedkey.model.condition import Condition, GroundTest, Measurement, Remedy
from weedkey.model.lawn import Finding, Lawn, Measured, Zone
from weedkey.model.place import Place
from weedkey.model.turf import Range, SoilPh, Turf
from weedkey.model.weed import LifeCycle, Sign, SiteValues, Weed, Wetland

MEMORY = ("from_memory",)
REGION = "atlantic_gulf_coastal_plain"


def make_weed(
    weed_id: str,
    signs: Iterable[Sign] = (),
    *,
    scientific: str = "",
    family: str = "Poaceae",
    status: str | None = None,
    site_values: SiteValues | None = None,
) -> Weed:
    """A weed with nothing but what the ground asks; each gets a genus of its own unless one is given."""
    wetland = (Wetland(REGION, status, MEMORY, year="2013"),) if status else ()
    group = "sedge" if family == "Cyperaceae" else "broadleaf"
    return Weed(
        weed_id,
        weed_id.replace("_", " "),
        scientific or f"{weed_id.capitalize()} vulgaris",
        family,
        group,
        "warm",
        (LifeCycle("perennial", MEMORY),),
        {},
        wetland=wetland,
        signs=tuple(signs),
        site_values=site_values,
    )


def says(condition: str, *sources: str, strength: str = "not_stated", against: bool = False) -> Sign:
    """One row of signs."""
    return Sign(condition, sources or ("umd_cond",), strength, against)


def make_turf(turf_id: str = "tall_fescue", soil_ph: Iterable[SoilPh] = (), **fields: object) -> Turf:
    """A turf with the figures given."""
    given: dict[str, object] = {"mowing_in": (Range(2.5, 4, "in", MEMORY),), **fields}
    return Turf(turf_id, turf_id, turf_id, "cool", ("bunch",), MEMORY, soil_ph=tuple(soil_ph), **given)  # type: ignore[arg-type]


CONDITIONS = (
    Condition("wet_or_poorly_drained", "wet", "wet", MEMORY, opposite="dry_or_droughty",
              tests=(GroundTest("dig", "dig", "Dig.", "Water.", 20, "nothing", MEMORY),
                     GroundTest("look", "look", "Look.", "Water.", 10, "nothing", MEMORY)),
              measurements=(Measurement("drain_hours", "h", MEMORY, yes_above=24, no_below=1),),
              remedies=(Remedy("drainage", "leads water away", MEMORY),)),
    Condition("dry_or_droughty", "dry", "dry", MEMORY),
    Condition("compacted", "compacted", "hard", MEMORY,
              tests=(GroundTest("probe_test", "screwdriver", "Push.", "Stops.", 5, "nothing", MEMORY),
                     GroundTest("lab", "lab", "Send.", "Figure.", 30, "laboratory fee", MEMORY)),
              measurements=(Measurement("probe_test", "word", MEMORY, yes_words=("fails",), no_words=("passes",)),),
              remedies=(Remedy("core_aeration", "opens it", MEMORY),)),
    Condition("acid_soil", "acid", "acid", MEMORY, opposite="alkaline_soil",
              tests=(GroundTest("soil_ph", "soil test", "Send.", "pH.", 30, "laboratory fee", MEMORY),),
              measurements=(Measurement("soil_ph", "pH", MEMORY, yes_below=5.5, no_above=6.0),
                            Measurement("buffer_ph", "pH", MEMORY)),
              remedies=(Remedy("lime", "raises it", MEMORY),)),
    Condition("alkaline_soil", "alkaline", "alkaline", MEMORY,
              measurements=(Measurement("soil_ph", "pH", MEMORY, yes_above=7.2, no_below=7.0),),
              remedies=(Remedy("sulfur", "lowers it", MEMORY),)),
    Condition("low_nitrogen", "hungry", "hungry", MEMORY),
    Condition("thin_turf", "thin", "thin", MEMORY,
              measurements=(Measurement("turf_cover_percent", "%", MEMORY, yes_below=80, no_above=90),),
              remedies=tuple(Remedy(control, "closes gaps", MEMORY) for control in ("overseed", "plug", "sod"))),
    Condition("mown_too_short", "short", "short", MEMORY,
              measurements=(Measurement("mowing_height_in", "in", MEMORY, yes_below=0.5),)),
)  # fmt: skip


def make_knowledge(weeds: Iterable[Weed] = (), turfs: Iterable[Turf] = (), places: Iterable[Place] = ()) -> Knowledge:
    """Knowledge with the conditions above."""
    return Knowledge(
        weeds={weed.id: weed for weed in weeds},
        traits={},
        turfs={turf.id: turf for turf in turfs},
        controls={},
        conditions={condition.id: condition for condition in CONDITIONS},
        places={place.id: place for place in places},
        sources={},
    )


COAST = Place("coast", "Coast", "southeast", 31.0, -84.0, (60.0,) * 12, (40.0,) * 12, MEMORY, wetland_region=REGION)


def found(weed: str | dict[str, float], cover: float) -> Finding:
    """A finding: a settled weed, or beliefs by weed."""
    return Finding({weed: 1.0} if isinstance(weed, str) else weed, cover)


def make_zone(*findings: Finding, measured: Iterable[Measured] = (), name: str = "front", area: float = 1000.0) -> Zone:
    """A zone of 1000 sq ft unless told otherwise."""
    return Zone(name, area, tuple(findings), measured=tuple(measured))


def make_lawn(*zones: Zone, turf: str = "tall_fescue", place: str | None = "coast", **fields: object) -> Lawn:
    """A lawn of these zones."""
    return Lawn("test", date(2026, 6, 3), turf, "home_lawn", tuple(zones), place=place, **fields)  # type: ignore[arg-type]


@cache
def shipped_conditions() -> dict[str, Condition]:
    """The conditions of the shipped file, read on their own so that other entries cannot get in the way."""
    from weedkey.knowledge.entries import KINDS, read_entries
    from weedkey.knowledge.loading import build_folder

    root = Path(__file__).resolve().parents[2] / "knowledge"
    assert read_entries(KINDS["condition"], root / "conditions.yaml")
    made, _ = build_folder(root)
    return made["condition"]
