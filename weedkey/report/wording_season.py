"""Words for the rules of ``weedkey.season``."""

from __future__ import annotations

from typing import Any

from weedkey.model.trace import Step
from weedkey.report.namer import Namer
from weedkey.report.style import words_of
from weedkey.report.wording_form import Words, day_fact, fact


def _growth_state(step: Step, namer: Namer) -> str:
    turf, place = namer.turf(fact(step, "turf")), namer.place(fact(step, "place"))
    soil = float(fact(step, "soil_f"))
    whose = "your own record" if step.facts.get("own_record") else "the normals of the place"
    return (
        f"{turf} at {place} on {day_fact(step, 'on')} is taken to be {words_of(step.outcome)}: soil about"
        f" {soil:.0f} °F at 4 inches by {whose}. What you see on the lawn overrides this."
    )


def _close_spot(step: Step, namer: Namer) -> str:
    turf = namer.turf(fact(step, "turf"))
    spot = f"a bare spot {float(fact(step, 'diameter_in')):g} inches wide in {turf}"
    if step.outcome == "not_known":
        return f"whether {spot} closes is not known: no published spread rate was found for this turf."
    pair: Any = step.facts["days"]
    low, high = pair
    stops = f"growth stops about {day_fact(step, 'stops')}" if step.facts.get("stops") else "growth does not stop here"
    days = _days(low, high)
    if step.outcome == "yes":
        return f"{spot} should close in {days}, before growth stops ({stops}). A rough figure."
    if step.outcome == "perhaps":
        return f"{spot} closes in time only at the fastest published rate ({days}; {stops}). A rough figure."
    return f"{spot} will not close this season ({days}; {stops}): plan plugs or sod, or expect it bare into next year."


def _days(low: Any, high: Any) -> str:
    if low is None:
        return "more than three years"
    if high is None:
        return f"{low} days at best, more than three years at worst"
    return f"{low} to {high} days" if low != high else f"{low} days"


def _repair(step: Step, namer: Namer) -> str:
    turf = namer.turf(fact(step, "turf"))
    if step.outcome == "let_it_close":
        return f"{turf} closes it by itself; keep it growing"
    if step.outcome == "replant":
        return f"plug, sod or seed it now: {turf} may be set at this time of year"
    return f"wait for the time at which {turf} may be set"


def _germination(step: Step, namer: Namer) -> str:
    weed = namer.weed(fact(step, "weed"))
    basis = "by soil temperature" if step.outcome == "soil" else "by the calendar of its entry"
    return f"{weed} comes up from {day_fact(step, 'start')} to {day_fact(step, 'end')}, {basis}"


def _pre_emergence(step: Step, namer: Namer) -> str:
    weed = namer.weed(fact(step, "weed"))
    return (
        f"a barrier against {weed} goes down between {day_fact(step, 'opens')} and {day_fact(step, 'closes')}:"
        f" {step.facts['early_year_days']} days early, because years differ"
    )


RULES: dict[str, Words] = {
    "season.growth_state": _growth_state,
    "season.close_spot": _close_spot,
    "season.repair": _repair,
    "season.germination": _germination,
    "season.pre_emergence": _pre_emergence,
}
