"""What the owner is to be told: what will be seen, what looks worse first, what to do, what nobody can promise."""

from __future__ import annotations

from collections.abc import Iterator

from weedkey.ground import GroundReport
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Lawn
from weedkey.model.trace import Step
from weedkey.plan.results import FindingPlan, LawnVerdict, Unsettled, Visit


def tell_owner(  # noqa: PLR0917 - everything that the owner may be told about
    knowledge: Knowledge,
    lawn: Lawn,
    findings: tuple[FindingPlan, ...],
    visits: tuple[Visit, ...],
    ground: GroundReport,
    verdict: LawnVerdict,
    unsettled: tuple[Unsettled, ...],
) -> tuple[Step, ...]:
    """Steps in the order of telling."""
    steps = [Step("plan.owner_lawn", verdict.kind, {"turf": lawn.turf, "visits": len(visits)})]
    steps += _by_finding(findings)
    steps += _by_cause(ground)
    if unsettled:
        weeds = [[weed for weed, _ in row.weeds] for row in unsettled]
        steps.append(Step("plan.owner_unsettled", "look", {"sets": len(unsettled), "weeds": weeds[0]}))
    steps += _duties(knowledge, lawn, visits)
    steps.append(Step("plan.owner_no_promise", "open", {}, ("common_practice",)))
    return tuple(steps)


def _by_finding(findings: tuple[FindingPlan, ...]) -> Iterator[Step]:
    for plan in findings:
        verdict = plan.verdict
        facts: dict[str, object] = {"weeds": list(plan.finding.weeds), "zone": plan.target.zone}
        if verdict.window:
            facts |= {"from": verdict.window.first, "to": verdict.window.last}
        if verdict.judge_weeks:
            facts["judge_weeks"] = list(verdict.judge_weeks)
        children: tuple[Step, ...] = ()
        if plan.spot_sqft is not None:
            facts["sqft"] = round(plan.spot_sqft, 1)
            children = (plan.closure.step,) if plan.closure else ()
        yield Step(f"plan.owner_{verdict.kind}", verdict.kind, facts, verdict.trace.sources, children)


def _by_cause(ground: GroundReport) -> Iterator[Step]:
    """Each cause once, with the zones in which it is likely or measured."""
    found: dict[str, tuple[list[str], str, list[str]]] = {}
    for zone in ground.zones:
        for reading in zone.conditions:
            if reading.may_spend:
                zones, _, sources = found.setdefault(reading.condition, ([], reading.if_nothing_changes, []))
                zones.append(zone.zone)
                sources += reading.step.sources
    for condition, (zones, returns, sources) in found.items():
        facts: dict[str, object] = {"zones": zones, "condition": condition, "returns": returns}
        yield Step("plan.owner_cause", "cause", facts, tuple(dict.fromkeys(sources)))


def _duties(knowledge: Knowledge, lawn: Lawn, visits: tuple[Visit, ...]) -> Iterator[Step]:
    actions = [action for visit in visits for action in visit.actions]
    chemical = [a for a in actions if knowledge.controls[a.control].is_chemical]
    if chemical:
        yield Step("plan.owner_keep_off", "duty", {"children": lawn.children, "pets": lawn.pets}, ("osu_pet16",))
        yield Step("plan.owner_mowing", "duty", {}, ("clem_safeapp",))
    if any(action.use == "barrier" for action in actions):
        yield Step("plan.owner_barrier", "duty", {}, ("msu_pre05", "uga_poapre"))
    if any(action.use == "spot" for action in actions):
        yield Step("plan.owner_brown", "worse_first", {}, ("lsu_dalliscent", "common_practice"))
