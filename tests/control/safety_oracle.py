"""What must never be offered, worked out anew from the entry files, without any code of the control package.

The oracle reads the YAML rows as they were written. It knows nothing of gates: it asks, for one control on one turf in
one context, whether some row calls the use injurious, not labelled or barred, and whether any row permits it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any

import yaml

FOLDER = Path(__file__).parents[2] / "knowledge"
WARM = {
    "bermudagrass",
    "zoysiagrass",
    "centipedegrass",
    "st_augustinegrass",
    "bahiagrass",
    "carpetgrass",
    "seashore_paspalum",
    "buffalograss",
}
#: Where no site is told one of these is meant.
LAWNS = {"home_lawn", "commercial_grounds", "school_ground", "sports_field"}
CHEMICAL = {"selective", "non_selective", "pre_emergence"}
Row = Mapping[str, Any]
Context = Mapping[str, Any]


@cache
def controls() -> dict[str, Row]:
    """Every control file as it was written."""
    return {
        path.stem: yaml.load(path.read_text(encoding="utf-8"), yaml.CSafeLoader)
        for path in sorted((FOLDER / "controls").glob("*.yaml"))
    }


def objections(control_id: str, context: Context, timing: str) -> Iterator[str]:
    """Reasons why the control may not be offered here over the turf; none if it may."""
    entry = controls()[control_id]
    if entry["kind"] == "heat_or_cover":
        yield "kills the turf"
    if entry["kind"] not in CHEMICAL:
        return
    rows = [row for row in entry.get("tolerance", ()) if row["turf"] in covers(context["turf"])]
    rows = [row for row in rows if row.get("when", {}).get("rate") != "above_label"]
    for row in rows:
        when = row.get("when", {})
        is_harm = row["result"] in ("injures", "not_labelled") and not when.get("mixed_with")
        is_harm = is_harm and not (row["result"] == "injures" and when.get("rate") == "high")
        if is_harm and not any(met is False for met in conditions(when, context, timing)):
            yield f"{row['result']} {dict(when)}"
    if not any(permits(row, context, timing) for row in rows):
        yield "no row permits it"
    yield from barred(control_id, context)
    yield from season_and_heat(entry, context, timing)
    if is_too_young(entry, context):
        yield "young turf"


def covers(turf: str) -> set[str]:
    """Turf words of rows that speak of this turf."""
    return {turf, "any", "any_warm_season" if turf in WARM else "any_cool_season"}


def permits(row: Row, context: Context, timing: str) -> bool:
    """True if the row calls the use safe or possible with care, and all that it states is so."""
    when = row.get("when", {})
    if row["result"] not in ("safe", "caution") or when.get("mixed_with"):
        return False
    return all(met is True for met in conditions(when, context, timing))


def conditions(when: Row, context: Context, timing: str) -> Iterator[bool | None]:
    """Each stated condition: so, not so, or not known."""
    for key, name in (("growth", "growth"), ("stand", "stand"), ("sites", "site"), ("regions", "region")):
        if key in when:
            yield context[name] in when[key] if context[name] is not None else None
    if "cultivars" in when:
        yield context["cultivar"] in when["cultivars"] if context["cultivar"] is not None else None
    if "not_cultivars" in when:
        yield context["cultivar"] not in when["not_cultivars"] if context["cultivar"] is not None else None
    if "stand_min_days" in when:
        yield context["age"] >= when["stand_min_days"] if context["age"] is not None else None
    if "months" in when:
        yield any(in_window(context["month"], context["day"], window) for window in when["months"])
    if "air_above_f" in when:
        yield context["high"] >= when["air_above_f"] if context["high"] is not None else None
    if "air_below_f" in when:
        yield context["high"] <= when["air_below_f"] if context["high"] is not None else None
    if when.get("timing") not in (None, "any"):
        yield (when["timing"] == "pre_emergence") == (timing == "pre_emergence")


def in_window(month: int, day: int, window: list[Any]) -> bool:
    """Is the day in a window of months or of MM-DD, which may run over the year?"""
    if isinstance(window[0], int):
        first, last = (window[0], 1), (window[1], 31)
    else:
        first, last = (tuple(int(part) for part in text.split("-")) for text in window)
    here = (month, day)
    return first <= here <= last if first <= last else here >= first or here <= last


def barred(control_id: str, context: Context) -> Iterator[str]:
    """Bars of the control and of each ingredient on this site."""
    entry = controls()[control_id]
    for name in (control_id, *entry.get("parts", ())):
        for rule in controls().get(name, {}).get("sites", ()):
            sites = LAWNS if context["site"] is None and not rule.get("states") else {context["site"]}
            states = rule.get("states")
            if rule["site"] not in sites or (states and context["state"] and context["state"] not in states):
                continue
            if rule["rule"] == "barred":
                yield f"barred: {name} on {rule['site']}"
            if rule["rule"] == "restricted" and rule.get("licence") and not context["licensed"]:
                yield f"restricted: {name} needs a licence"
            if rule["rule"] == "restricted" and rule.get("spot_only"):
                yield f"{name} on spots only"


def is_too_young(entry: Row, context: Context) -> bool:
    """Clemson: three mowings of new sod or seedlings before any herbicide, unless a row is about this very stage."""
    if context["stand"] in (None, "established") or (context["mowings"] or 0) >= 3:
        return False
    rows = [row for row in entry.get("tolerance", ()) if row["turf"] in covers(context["turf"])]
    return not any(context["stand"] in row.get("when", {}).get("stand", ()) for row in rows)


def season_and_heat(entry: Row, context: Context, timing: str) -> Iterator[str]:
    """The rules of decisions that hold for a whole class: green-up, stress, 90 F, 85 F, dormant bermudagrass."""
    turf = context["turf"]
    is_barrier = timing == "pre_emergence" and entry["kind"] == "pre_emergence"
    if not is_barrier:
        if context["growth"] == "green_up" and turf in WARM:
            yield "green-up"  # UGA, Clemson: no post-emergence herbicide on warm-season turf at green-up
        if context["growth"] in ("heat_stress", "drought_stress"):
            yield "stress"  # UGA, Clemson: tolerance falls in heat and drought
        high = context["high"] if context["high"] is not None else 0
        if high > 90 or (high > 85 and turf == "st_augustinegrass"):
            yield "heat"  # Clemson, UGA: 90 F; UF: 85 F on St. Augustinegrass
    if entry["kind"] == "non_selective" and (turf, context["growth"]) != ("bermudagrass", "dormant"):
        yield "non-selective"  # Mississippi State, Virginia Tech, Clemson: fully dormant bermudagrass only
