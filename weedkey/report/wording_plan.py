"""Words for the rules of ``weedkey.plan``."""

from __future__ import annotations

from datetime import date
from typing import Any

from weedkey.model.trace import Step
from weedkey.report.dates import day_words
from weedkey.report.namer import Namer
from weedkey.report.style import join_words, words_of
from weedkey.report.wording_control import fill
from weedkey.report.wording_form import Words


def _weeds(step: Step, namer: Namer) -> str:
    names: Any = step.facts.get("weeds", ())
    return join_words([namer.weed(name) for name in names], "or")


def _day(step: Step, name: str) -> str:
    value = step.facts.get(name)
    return day_words(value) if isinstance(value, date) else "not known"


def _handled_by(step: Step, namer: Namer) -> str:
    return f"{_weeds(step, namer)} in {namer.many(step.facts.get('zones'))}: {namer.any(step.facts.get('result'))}"


def _remedy(step: Step, namer: Namer) -> str:
    return f"against {namer.many(step.facts.get('conditions'))} in {namer.many(step.facts.get('zones'))}"


def _owner_lawn(step: Step, namer: Namer) -> str:
    turf, visits = namer.turf(str(step.facts["turf"])), step.facts["visits"]
    plan = {
        "repair": f"There is enough {turf} to keep: the plan removes the weeds and helps it to close.",
        "overseed": f"There is {turf} to keep, but it is thin or weedy enough that new grass belongs in the plan.",
        "renovate": f"By published rules too little {turf} is left: starting again is the honest advice.",
    }[step.outcome]
    return f"{plan} It takes {visits} visit{'' if visits == 1 else 's'} in the coming year."


def _treat_now(step: Step, namer: Namer) -> str:
    text = f"{_weeds(step, namer)} in {step.facts['zone']}: treated at the first visit."
    return text + _judged(step)


def _judged(step: Step) -> str:
    weeks: Any = step.facts.get("judge_weeks")
    if not weeks:
        return " Yellowing shows within weeks; some plants need a second treatment."
    low, high = weeks
    when = f"{low:g}" if low == high else f"{low:g} to {high:g}"
    return f" It looks weak before it looks good: judge it {when} weeks later."


def _wait_for(step: Step, namer: Namer) -> str:
    window = f"from {_day(step, 'from')} to {_day(step, 'to')}"
    return f"{_weeds(step, namer)} in {step.facts['zone']}: stays until its time comes, {window}.{_judged(step)}"


def _leave_it(step: Step, namer: Namer) -> str:
    return f"{_weeds(step, namer)} in {step.facts['zone']}: left alone; it soon ends by itself."


def _prevent(step: Step, namer: Namer) -> str:
    window = f"between {_day(step, 'from')} and {_day(step, 'to')}"
    return f"{_weeds(step, namer)} in {step.facts['zone']}: met before it comes up again, {window}."


def _spot(step: Step, namer: Namer) -> str:
    size = f", about {step.facts['sqft']:g} sq ft in all" if step.facts.get("sqft") else ""
    return (
        f"{_weeds(step, namer)} in {step.facts['zone']}: nothing spares the grass, so only the plants themselves are"
        f" treated or dug; brown spots stay{size} until the grass closes them."
    )


def _renovate(step: Step, namer: Namer) -> str:
    return f"{_weeds(step, namer)} in {step.facts['zone']}: covers so much that this part is better started again."


def _cause(step: Step, namer: Namer) -> str:
    condition = namer.condition(str(step.facts["condition"]))
    zones: Any = step.facts["zones"]
    where = join_words([str(zone) for zone in zones])
    return f"{condition[0].upper()}{condition[1:]} ({where}): if that stays, the weeds it favours come back."


def _renovation(step: Step, namer: Namer) -> str:
    turf, method = namer.turf(str(step.facts["turf"])), words_of(str(step.facts["method"]))
    return (
        f"{turf} by {method}: kill everything from {_day(step, 'kill')}, again about {_day(step, 'second_kill')} if it"
        f" regrows; set it from {_day(step, 'first')} to {_day(step, 'last')}. The label's waiting time decides."
    )


def _blocks(step: Step, namer: Namer) -> str:
    until = f" until {_day(step, 'until')}" if step.facts.get("until") else "; the label must tell for how long"
    return f"{namer.control(str(step.facts['control']))} of {_day(step, 'on')} may still keep seed from growing{until}."


def _text(template: str) -> Words:
    return lambda step, namer: fill(template, step, namer)


RULES: dict[str, Words] = {
    "plan.lawn": _handled_by,
    "plan.spot": _handled_by,
    "plan.barrier": _handled_by,
    "plan.measure": _handled_by,
    "plan.put_on": _text("put on, as written down"),
    "plan.remedy": _remedy,
    "plan.renovation": _renovation,
    "plan.renovation_not_known": _text("When and how {turf} is set here is not known: name a place."),
    "plan.blocks_seed": _blocks,
    "plan.seeding_too_soon": _text(
        "The day planned for {turf} by {method} leaves no time for two kills and the wait: {earliest} at the earliest."
    ),
    "plan.kill_needs_growth": _text(
        "{weeds} does not grow on {on}, and what is brown is not killed: kill it before it rests, or after green-up."
    ),
    "plan.owner_lawn": _owner_lawn,
    "plan.owner_treat_now": _treat_now,
    "plan.owner_wait_for": _wait_for,
    "plan.owner_leave_it": _leave_it,
    "plan.owner_prevent": _prevent,
    "plan.owner_spot_treatment_only": _spot,
    "plan.owner_renovate": _renovate,
    "plan.owner_cause": _cause,
    "plan.owner_unsettled": _text("One plant is not settled yet ({weeds}): one more look comes before the visit."),
    "plan.owner_keep_off": _text("Keep children and pets off until everything has dried, longer if the label says so."),
    "plan.owner_mowing": _text("Do not mow for three days before and two days after a treatment."),
    "plan.owner_barrier": _text(
        "A barrier against seed is watered in; do not rake, core or seed grass while it works."
    ),
    "plan.owner_brown": _text(
        "It looks worse first: dead plants leave brown spots. Water and feed as told, so it closes."
    ),
    "plan.assume_comes_again": _text("An annual comes up again with {low} to {high} times the cover of this year."),
    "plan.assume_seed": _text(
        "Killing an annual before it seeds leaves {low} to {high} % of its seed in the soil for the next flush;"
        " only a barrier stops that."
    ),
    "plan.assume_spread": _text("A perennial gains 0 to {percent} % of its own cover a month while it grows."),
    "plan.assume_closing": _text(
        "{turf} closes {low} to {high} % of the bare ground a month in its best weeks, less in step with its growth."
    ),
    "plan.assume_control": _text(
        "A treatment takes the percent that its sources state; where they only grade it: excellent 90 to 98,"
        " good 80 to 90, fair 60 to 80, listed 30 to 80 %."
    ),
    "plan.owner_no_promise": _text(
        "Nobody can promise a date: weather, seed in the soil and what lies over the fence all have a say."
    ),
}
