"""From the measurements of a zone to one piece of advice on lime: nothing, a test first, or so much in parts."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from math import ceil

from weedkey.ground import lime_tables as tables
from weedkey.ground.lime import (
    LimeAdvice,
    TargetPh,
    choose_lime_type,
    lime_by_method,
    material_for_cce,
    rough_lime_by_texture,
    split_lime,
    target_ph,
)
from weedkey.ground.measured import is_reliable_ph, number_or_none, word_or_none
from weedkey.model.lawn import Measured
from weedkey.model.trace import Step
from weedkey.model.turf import Turf
from weedkey.units import convert_rate, exact

#: Amounts asked of the soil report or the bag, by the kind of measurement that carries them.
_NUMBERS = ("soil_ph", "buffer_ph", "exchangeable_acidity", "lime_recommendation_lb_per_1000")


def advise_lime(
    turf: Turf, measured: Mapping[str, Measured], area_sqft: float, cap: str = tables.CAUTIOUS_CAP
) -> LimeAdvice:
    """Lime for a zone. Without a laboratory's pH and its own way to a rate the answer is a test, never a guess.

    Measurements used: soil_ph, buffer_ph or exchangeable_acidity (``method`` = id of METHODS),
    lime_recommendation_lb_per_1000, cce_percent, lime_bag_lb, magnesium, soil_texture. ``cap`` is an id of CAPS.
    """
    target = target_ph(turf)
    values = {what: number for what in _NUMBERS if (number := number_or_none(measured.get(what))) is not None}
    refusal = _refusal_or_none(target, measured, values)
    if refusal is not None:
        kind, reason = refusal
        return _without_amount(kind, reason, target, measured, values)
    method = _method(measured, values)
    needs = tables.METHODS[method].needs if method else ()
    if not method or any(need not in values for need in needs):
        return _without_amount("test_first", "no_buffer", target, measured, values)
    pounds = lime_by_method(method, values, target)
    if pounds is None:
        return _without_amount("test_first", "outside_method", target, measured, values)
    if pounds == 0:
        return _without_amount("none", "no_acidity_to_lime", target, measured, values)
    return _with_amount((method, pounds), target, measured, area_sqft, tables.CAPS[cap])


def _refusal_or_none(
    target: TargetPh, measured: Mapping[str, Measured], values: Mapping[str, float]
) -> tuple[str, str] | None:
    """Why no amount can be named yet, or None."""
    if target.lime_below is None:
        return "test_first", "no_target"
    if "soil_ph" not in values:
        return "test_first", "no_soil_ph"
    if not is_reliable_ph(measured["soil_ph"]):
        return "test_first", "unreliable_ph"
    if exact(values["soil_ph"]) >= target.lime_below:
        asked = values.get("lime_recommendation_lb_per_1000", 0) > 0
        return ("test_first", "laboratory_disagrees") if asked else ("none", "ph_high_enough")
    return None


def _method(measured: Mapping[str, Measured], values: Mapping[str, float]) -> str:
    """The laboratory's recommendation first, else the method that the user names with the reading; else none."""
    if "lime_recommendation_lb_per_1000" in values:
        return "laboratory"
    for what in ("buffer_ph", "exchangeable_acidity"):
        method = measured[what].method if what in values else ""
        if method in tables.METHODS:
            return method
    return ""


def _without_amount(
    kind: str, reason: str, target: TargetPh, measured: Mapping[str, Measured], values: Mapping[str, float]
) -> LimeAdvice:
    ph = exact(values["soil_ph"]) if "soil_ph" in values else None
    texture = word_or_none(measured.get("soil_texture"))
    rough = rough_lime_by_texture(ph, texture) if reason == "no_buffer" and ph is not None and texture else ()
    step = Step("ground.lime", reason, _facts(target, ph), _reason_sources(reason, target, measured))
    return LimeAdvice(kind, reason, target, step, soil_ph=ph, rough_lb=rough)


def _with_amount(
    need: tuple[str, Fraction],
    target: TargetPh,
    measured: Mapping[str, Measured],
    area_sqft: float,
    cap: tables.CapRule,
) -> LimeAdvice:
    method, pounds = need
    cce = number_or_none(measured.get("cce_percent"))
    material = material_for_cce(pounds, cce) if cce else pounds
    total, bag = material * exact(area_sqft) / 1000, number_or_none(measured.get("lime_bag_lb"))
    entry = tables.METHODS[method]
    ph = exact(number_or_none(measured["soil_ph"]) or 0)
    facts = _facts(target, ph) | {
        "method": method,
        "lb_cce_per_1000_sqft": round(float(pounds), 2),
        "cce_percent": cce,
        "lb_per_1000_sqft": round(float(material), 2),
        "cap": cap.id,
    }
    sources = dict.fromkeys((*entry.sources, *tables.CCE_SOURCES, *cap.sources, *tables.SHOWS_SOURCES, *target.sources))
    return LimeAdvice(
        kind="lime",
        reason="laboratory" if method == "laboratory" else "method",
        target=target,
        step=Step("ground.lime", method, facts, tuple(sources)),
        soil_ph=ph,
        method=method,
        trust=entry.trust,
        lb_cce_per_1000_sqft=pounds,
        lb_per_1000_sqft=material,
        cce_percent=exact(cce) if cce else None,
        tons_per_acre=convert_rate(material, "lb", "1000 sq ft", "ton", "acre"),
        lb_for_area=total,
        bags=ceil(total / exact(bag)) if bag else None,
        cap=cap,
        applications=split_lime(material, cap),
        other_splits=tuple((rule, split_lime(material, rule)) for rule in tables.CAPS.values() if rule != cap),
        lime_type=choose_lime_type(word_or_none(measured.get("magnesium"))),
    )


def _facts(target: TargetPh, ph: Fraction | None) -> dict[str, object]:
    return {
        "turf": target.turf,
        "soil_ph": float(ph) if ph is not None else None,
        "lime_below": float(target.lime_below) if target.lime_below is not None else None,
        "aim": float(target.aim) if target.aim is not None else None,
        "sources_disagree": target.disagree,
    }


def _reason_sources(reason: str, target: TargetPh, measured: Mapping[str, Measured]) -> tuple[str, ...]:
    if reason == "unreliable_ph":
        method = measured["soil_ph"].method.strip().lower().replace(" ", "_")
        return tables.UNRELIABLE_PH_METHODS[method]
    if reason in ("no_soil_ph", "no_buffer", "outside_method"):
        return ("uky_id163",)
    return target.sources
