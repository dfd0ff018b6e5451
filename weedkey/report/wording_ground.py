"""Words for the rules of ``weedkey.ground``."""

from __future__ import annotations

from weedkey.model.trace import Step
from weedkey.report.namer import Namer
from weedkey.report.style import words_of
from weedkey.report.wording_form import Words

_LIME = {
    "ph_high_enough": "the soil pH is high enough for {turf}: no lime",
    "no_soil_ph": "no soil pH is known: a laboratory test first, no lime by guess",
    "unreliable_ph": "a probe meter's reading settles nothing: a laboratory test first, because water pH from a metal"
    " probe in dry soil is not a measurement and says nothing of the lime needed",
    "no_target": "no target pH is known for {turf}: ask the laboratory",
    "no_buffer": "pH {soil_ph} is below the target of {turf}, but pH alone does not say how much lime: ask for the"
    " buffer pH or the laboratory's own recommendation",
    "laboratory_disagrees": "the laboratory asks for lime although the pH is not below the target: ask it why",
    "outside_method": "the laboratory's method does not cover this reading: ask for its recommendation",
    "no_acidity_to_lime": "the reading shows no acidity to lime",
}

_WETNESS = {
    "computed": "prevalence index {index} over {rated_percent} % of the cover (1 wettest, 5 driest; 3.0 or less counts"
    " as wetland plants where it was made for; not made for lawns: only compare zones)",
    "no_region": "no index: the place has no region of the wetland plant list",
    "nothing_rated": "no index: none of the plants is on the wetland plant list of the region",
    "too_little_rated": "index not reliable: only {rated_percent} % of the cover is on the list, 80 % are needed",
}


def _fill(template: str, step: Step, namer: Namer) -> str:
    return template.format_map({name: namer.any(value) for name, value in step.facts.items()})


def _lime(step: Step, namer: Namer) -> str:
    template = _LIME.get(step.outcome)
    if template:
        return _fill(template, step, namer)
    return f"lime by {words_of(step.outcome)}: pH {namer.any(step.facts.get('soil_ph'))} is below the target"


def _wetness(step: Step, namer: Namer) -> str:
    return _fill(_WETNESS[step.outcome], step, namer)


def _condition(step: Step, namer: Namer) -> str:
    words = {
        "none": "nothing points to it",
        "hint": "a hint only: one sign, or weak ones",
        "likely": "likely: independent signs agree",
        "measured": "measured",
    }[step.outcome]
    return f"{namer.any(step.facts.get('condition'))}: {words}"


def _sign(step: Step, namer: Namer) -> str:
    names = namer.many(step.facts.get("weeds"), "or")
    tail = "" if step.outcome == "counts" else ", shown but counted with its kind"
    return f"{names} on {namer.any(step.facts.get('cover_percent'))} % of the zone{tail}"


def _sulfur(step: Step, namer: Namer) -> str:
    if step.outcome == "test_first":
        return "the pH reading is high but not from a laboratory: test before any sulfur"
    if step.outcome == "with_warnings":
        return (
            f"soil pH {namer.any(step.facts.get('soil_ph'))} is above every target: sulfur only on a laboratory's"
            " advice, in small steps, on cool days, watered in; free lime in the soil makes it useless"
        )
    return "no reason for sulfur"


RULES: dict[str, Words] = {
    "ground.lime": _lime,
    "ground.wetness": _wetness,
    "ground.evidence": _condition,
    "ground.sign": _sign,
    "ground.sulfur": _sulfur,
}
