"""The plan as plain JSON values (keys documented in docs/json.md)."""

from __future__ import annotations

from typing import Any

from weedkey.model.base import Knowledge
from weedkey.plan.results import Action, FindingPlan, LawnVerdict, Plan, Target, Unsettled
from weedkey.report.cautions import action_cautions
from weedkey.report.choices_json import verdict_json
from weedkey.report.ground_json import ground_json
from weedkey.report.namer import Namer
from weedkey.report.wording import sentence


def plan_json(knowledge: Knowledge, plan: Plan) -> dict[str, Any]:
    """verdicts, lawn_verdict, visits, never, owner, unsettled, renovation, not_handled, ground."""
    namer = Namer(knowledge)
    return {
        "lawn": plan.lawn.name,
        "turf": plan.lawn.turf,
        "start": plan.start.isoformat(),
        "verdicts": [_finding(row, namer) for row in plan.findings],
        "lawn_verdict": _lawn_verdict(plan.lawn_verdict, namer),
        "visits": [
            {
                "from": visit.first.isoformat(),
                "to": visit.last.isoformat(),
                "actions": [_action(action, namer) for action in visit.actions],
            }
            for visit in plan.visits
        ],
        "never": [
            {
                "control": row.control,
                "name": namer.control(row.control),
                "weeds": list(row.weeds),
                "gate": row.gate,
                "zones": list(row.zones),
                "reason": sentence(row.step, namer),
                "sources": list(row.step.sources),
            }
            for row in plan.never
        ],
        "owner": [{"text": sentence(step, namer), "sources": list(step.sources)} for step in plan.owner],
        "unsettled": [_unsettled(row, namer) for row in plan.unsettled],
        "renovation": [{"text": sentence(s, namer), "sources": list(s.sources)} for s in plan.renovation],
        "not_handled": [_target(target) for target in plan.not_handled],
        "ground": ground_json(knowledge, plan.ground),
    }


def _target(target: Target) -> dict[str, Any]:
    return {"zone": target.zone, "place": target.place}


def _finding(row: FindingPlan, namer: Namer) -> dict[str, Any]:
    weeds = dict(row.finding.weeds)
    head = {"weed": next(iter(weeds))} if len(weeds) == 1 else {"weed": None, "weeds": weeds}
    closure = row.closure
    return {
        **head,
        **_target(row.target),
        "cover_percent": row.finding.cover_percent,
        **verdict_json(row.verdict, namer),
        "handled": row.handled,
        "spot_sqft": round(row.spot_sqft, 1) if row.spot_sqft is not None else None,
        "spot_closure": {
            "closes": closure.closes,
            "days": [closure.days_low, closure.days_high],
            "last_date": closure.last_date.isoformat() if closure.last_date else None,
            "why": sentence(closure.step, namer),
            "sources": list(closure.step.sources),
        }
        if closure
        else None,
    }


def _lawn_verdict(verdict: LawnVerdict, namer: Namer) -> dict[str, Any]:
    def rules(steps: Any) -> list[dict[str, Any]]:
        return [{"text": sentence(s, namer), "outcome": s.outcome, "sources": list(s.sources)} for s in steps]

    return {
        "kind": verdict.kind,
        "desirable_percent": verdict.desirable_percent,
        "weeds_percent": round(verdict.weeds_percent, 1),
        "bare_percent": round(verdict.bare_percent, 1),
        "thresholds": rules(verdict.thresholds),
        "zones": [{"zone": zone, "thresholds": rules(steps)} for zone, steps in verdict.by_zone],
    }


def _action(action: Action, namer: Namer) -> dict[str, Any]:
    control = namer.knowledge.controls.get(action.control)
    return {
        "control": action.control,
        "name": namer.control(action.control),
        "use": action.use,
        "on": list(action.weeds),
        "zones": list(action.zones),
        "why": sentence(action.why, namer),
        "to_ask": [{"gate": gate.gate, "reason": sentence(gate.step, namer)} for gate in action.to_ask],
        "judge_weeks": list(action.judge_weeks) if action.judge_weeks else None,
        "cautions": [{"text": text, "sources": list(sources)} for text, sources in action_cautions(control)],
        "sources": list(action.why.sources),
    }


def _unsettled(row: Unsettled, namer: Namer) -> dict[str, Any]:
    look = row.look
    return {
        **_target(row.target),
        "weeds": [{"weed": weed, "name": namer.weed(weed), "probability": p} for weed, p in row.weeds],
        "look": {"trait": look.trait, "question": look.question, "states": list(look.states)} if look else None,
        "matters": row.matters,
    }
