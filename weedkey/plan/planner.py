"""The plan of a lawn: verdicts by finding, then the exact search for visits, then what the owner is to be told."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import date, timedelta

from weedkey.control import Choice, GateResult, Setting, judge_weed
from weedkey.control.gatebook import open_book
from weedkey.control.results import RESULT_ORDER
from weedkey.ground import read_ground
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Finding, Lawn, Zone
from weedkey.model.trace import Step
from weedkey.plan.kept_choices import choices_on
from weedkey.plan.lawn_verdict import judge_lawn
from weedkey.plan.limits import share_limits
from weedkey.plan.measures import with_remedies
from weedkey.plan.never import find_never
from weedkey.plan.owner import tell_owner
from weedkey.plan.renovation import plan_renovation
from weedkey.plan.results import Action, FindingPlan, Plan, Target, Visit
from weedkey.plan.search import Found, Option, search
from weedkey.plan.situation import (
    beliefs_of,
    half_month_end,
    place_of,
    setting_for,
    settings_ahead,
    zone_turf,
)
from weedkey.plan.unsettled import find_unsettled
from weedkey.season.own_record import OwnTemperatures
from weedkey.season.recovery import SpotClosure, close_spot

#: The first visit is not squeezed into the rest of a half month.
SHORTEST_VISIT_DAYS = 6
#: What keeping a weed from coming back counts beside handling it.
PREVENTION_SHARE = 0.5
_WORTH_A_BARRIER = ("excellent", "good", "fair")
_USES = {
    "treat_now": "lawn",
    "wait_for": "lawn",
    "prevent": "barrier",
    "spot_treatment_only": "spot",
    "renovate": "spot",
}


def make_plan(
    knowledge: Knowledge,
    lawn: Lawn,
    start: date | None = None,
    *,
    brief: bool = False,
    own: OwnTemperatures | None = None,
) -> Plan:
    """The plan of the year from ``start`` (the day of the visit). Raises PlanTooLarge beyond the proven size.

    ``brief`` leaves ``never``, ``unsettled`` and ``owner`` empty: enough to set starts side by side. ``own``: the
    user's record of daily temperatures.
    """
    day = start or lawn.on
    years = {zone.name: _settings(knowledge, lawn, zone, day, own) for zone in lawn.zones}
    findings = tuple(
        _judge(knowledge, zone, place, years[zone.name]) for zone in lawn.zones for place in range(len(zone.findings))
    )
    found = _search(knowledge, lawn, findings, years, day)
    handled = {option.target for option in found.options}
    findings = tuple(_marked(knowledge, lawn, plan, number in handled) for number, plan in enumerate(findings))
    ground = read_ground(knowledge, lawn)
    visits = _visits(knowledge, findings, found, years)
    visits = with_remedies(knowledge, lawn, ground, visits, years)
    lawn_verdict = judge_lawn(knowledge, lawn)
    sets_turf = lawn_verdict.kind == "renovate" or any(not seeding.done for seeding in lawn.seedings)
    renovation = plan_renovation(knowledge, lawn, day) if sets_turf else ()
    unsettled = () if brief else tuple(find_unsettled(knowledge, lawn, years))
    never = () if brief else find_never(knowledge, findings, years)
    left = tuple(plan.target for plan in findings if not plan.handled and plan.verdict.kind != "leave_it")
    owner = () if brief else tell_owner(knowledge, lawn, findings, visits, ground, lawn_verdict, unsettled)
    return Plan(lawn, day, findings, lawn_verdict, visits, never, unsettled, ground, owner, renovation, left)


def _settings(
    knowledge: Knowledge, lawn: Lawn, zone: Zone, day: date, own: OwnTemperatures | None
) -> tuple[Setting, ...]:
    first = setting_for(knowledge, lawn, zone, day, own=own)
    return (first, *settings_ahead(knowledge, lawn, zone, day, own=own))


def _judge(knowledge: Knowledge, zone: Zone, place: int, year: tuple[Setting, ...]) -> FindingPlan:
    finding = zone.findings[place]
    setting = with_stage(year[0], finding)
    verdict = judge_weed(knowledge, beliefs_of(finding.weeds), setting, year[1:], finding.cover_percent)
    return FindingPlan(Target(zone.name, place), finding, verdict)


def with_stage(setting: Setting, finding: Finding) -> Setting:
    """The setting with the weed's stage on the day of the visit."""
    return setting if finding.stage == "any" else replace(setting, weed_stage=finding.stage)


def _marked(knowledge: Knowledge, lawn: Lawn, plan: FindingPlan, handled: bool) -> FindingPlan:
    # A clump that dies leaves a gap, whether the control spared the grass around it or not.
    dies = plan.verdict.kind != "leave_it" and plan.finding.spots is not None
    bare = dies or plan.verdict.kind in ("spot_treatment_only", "renovate")
    closure = _closure(knowledge, lawn, plan) if bare else None
    return replace(plan, handled=handled, closure=closure, spot_sqft=_spot_sqft(lawn, plan) if bare else None)


def _closure(knowledge: Knowledge, lawn: Lawn, plan: FindingPlan) -> SpotClosure | None:
    zone = _zone(lawn, plan.target)
    turf, place = knowledge.turfs.get(zone_turf(lawn, zone)), place_of(knowledge, lawn.place)
    if plan.finding.spots is None or turf is None or place is None:
        return None
    return close_spot(turf, place, lawn.on, plan.finding.spots.diameter_in, lawn.cultivar)


def _spot_sqft(lawn: Lawn, plan: FindingPlan) -> float | None:
    """Ground that a spot kill bares: the counted spots as circles, else the cover of the zone."""
    spots = plan.finding.spots
    if spots is not None:
        return spots.count * 3.14159265 * (spots.diameter_in / 24) ** 2
    return _zone(lawn, plan.target).area_sqft * plan.finding.cover_percent / 100


def _zone(lawn: Lawn, target: Target) -> Zone:
    return next(zone for zone in lawn.zones if zone.name == target.zone)


def _search(
    knowledge: Knowledge,
    lawn: Lawn,
    findings: tuple[FindingPlan, ...],
    years: Mapping[str, tuple[Setting, ...]],
    start: date,
) -> Found:
    options = [option for number, plan in enumerate(findings) for option in _options(knowledge, number, plan, years)]
    for number, plan in enumerate(findings):
        options += _preventions(knowledge, number + len(findings), plan, years)
    weights = [_weight(knowledge, lawn, plan) for plan in findings]
    weights += [weight * PREVENTION_SHARE for weight in weights]
    controls = {option.control for option in options}
    return search(options, weights, share_limits(knowledge, lawn, controls, start))


def _weight(knowledge: Knowledge, lawn: Lawn, plan: FindingPlan) -> float:
    """Cover in square feet x nuisance x confidence of the name; never 0, so that a trace still counts."""
    zone = _zone(lawn, plan.target)
    best = max(plan.finding.weeds.items(), key=lambda row: (row[1], row[0]))
    nuisance = knowledge.weeds[best[0]].nuisance
    return max(0.001, zone.area_sqft * plan.finding.cover_percent / 100 * nuisance * best[1])


def _options(
    knowledge: Knowledge, number: int, plan: FindingPlan, years: Mapping[str, tuple[Setting, ...]]
) -> Iterator[Option]:
    """Each window in which a control of the verdict is open for this finding, by its own gates on that day."""
    use = _USES.get(plan.verdict.kind)
    if use is None:
        return
    weeds = beliefs_of(plan.finding.weeds)
    for window, setting in enumerate(years[plan.target.zone]):
        if not _is_in_window(plan, setting, window):
            continue
        asked = with_stage(setting, plan.finding) if window == 0 else setting
        by_control = {c.control: c for c in choices_on(knowledge, weeds, asked) if _fits(c, use)}
        for control in plan.verdict.controls:
            choice = by_control.get(control)
            if choice is not None:
                yield Option(number, window, control, RESULT_ORDER.index(choice.result))


def _preventions(
    knowledge: Knowledge, target: int, plan: FindingPlan, years: Mapping[str, tuple[Setting, ...]]
) -> Iterator[Option]:
    """Barriers against the next generation of an annual, in the windows in which they are open.

    They are targets of their own in the search, numbered after the findings.
    """
    if plan.verdict.kind == "prevent" or not all(knowledge.weeds[weed].is_annual for weed in plan.finding.weeds):
        return
    weeds = beliefs_of(plan.finding.weeds)
    for window, setting in enumerate(years[plan.target.zone]):
        if not _has_barrier(knowledge, plan.finding, setting):
            continue
        for choice in choices_on(knowledge, weeds, setting):
            if _fits(choice, "barrier") and choice.result in _WORTH_A_BARRIER and _is_in_time(choice):
                yield Option(target, window, choice.control, RESULT_ORDER.index(choice.result))


def _has_barrier(knowledge: Knowledge, finding: Finding, setting: Setting) -> bool:
    """A quick no: True if any barrier passes the gates for one of the candidates on the day."""
    book = open_book(knowledge, setting)
    return any(
        book.is_offered(control, book.use, "pre_emergence", weed)
        for weed in (knowledge.weeds[name] for name in finding.weeds)
        for control in book.controls_about(weed)
        if "pre_emergence" in book.timings(control)
    )


def _is_in_time(choice: Choice) -> bool:
    """True if the barrier meets the seed before any of it has sprouted."""
    return all(gate.state == "open" for gate in choice.gates if gate.gate == "time_of_year")


def _is_in_window(plan: FindingPlan, setting: Setting, window: int) -> bool:
    """Now is now; a window of the verdict holds its days; spots are treated now, or when they first may be."""
    span = plan.verdict.window
    if span is None:
        return window == 0
    return span.first <= setting.on <= span.last or (window == 0 and span.first <= setting.on)


def _fits(choice: Choice, use: str) -> bool:
    if use == "spot":
        return choice.spot or (choice.offered and choice.kind in ("hand", "heat_or_cover", "non_selective"))
    if use == "barrier":
        return choice.offered and choice.timing == "pre_emergence"
    return choice.offered


def _visits(
    knowledge: Knowledge,
    findings: tuple[FindingPlan, ...],
    found: Found,
    years: Mapping[str, tuple[Setting, ...]],
) -> tuple[Visit, ...]:
    by_window: dict[int, dict[tuple[str, str], list[int]]] = {}
    for option in found.options:
        again = option.target >= len(findings)
        use = "barrier" if again else _USES[findings[option.target].verdict.kind]
        if not knowledge.controls[option.control].is_chemical:
            use = "measure" if use == "lawn" else use
        by_window.setdefault(option.window, {}).setdefault((option.control, use), []).append(
            option.target % len(findings)
        )
    visits = []
    for window in sorted(by_window):
        day = next(iter(years.values()))[window].on
        actions = tuple(
            _action(knowledge, [findings[n] for n in numbers], control, use, window, years)
            for (control, use), numbers in sorted(by_window[window].items())
        )
        last = (
            max(half_month_end(day), day + timedelta(days=SHORTEST_VISIT_DAYS)) if window == 0 else half_month_end(day)
        )
        visits.append(Visit(day, last, actions))
    return tuple(visits)


def _action(  # noqa: PLR0917 - one control, its findings, its use and its day
    knowledge: Knowledge,
    plans: list[FindingPlan],
    control: str,
    use: str,
    window: int,
    years: Mapping[str, tuple[Setting, ...]],
) -> Action:
    """One control on all the findings that it takes in this visit, with the questions that its gates leave open."""
    choices = []
    for plan in plans:
        setting = years[plan.target.zone][window]
        asked = with_stage(setting, plan.finding) if window == 0 else setting
        rows = choices_on(knowledge, beliefs_of(plan.finding.weeds), asked)
        choices += [choice for choice in rows if choice.control == control and _fits(choice, _fit_word(use))][:1]
    to_ask: dict[str, GateResult] = {}
    for choice in choices:
        for gate in choice.spot_gates if use == "spot" and choice.spot_gates else choice.gates:
            if gate.state == "ask":
                to_ask.setdefault(gate.step.rule, gate)
    weeds = tuple(dict.fromkeys(weed for plan in plans for weed in plan.finding.weeds))
    first = plans[0].verdict
    facts: dict[str, object] = {
        "control": control,
        "weeds": list(weeds),
        "zones": list(dict.fromkeys(plan.target.zone for plan in plans)),
        "result": choices[0].result if choices else "not_known",
    }
    sources = choices[0].weeds[0].sources if choices and choices[0].weeds else ()
    why = Step(f"plan.{use}", plans[0].verdict.kind, facts, sources, (first.trace,))
    zones = tuple(dict.fromkeys(plan.target.zone for plan in plans))
    targets = tuple(plan.target for plan in plans)
    if use == "barrier":
        return Action(control, use, zones, targets, weeds, why, tuple(to_ask.values()))
    return Action(control, use, zones, targets, weeds, why, tuple(to_ask.values()), first.sequence, first.judge_weeks)


def _fit_word(use: str) -> str:
    return "lawn" if use == "measure" else use
