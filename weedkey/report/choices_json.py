"""Choices, verdicts and the table of a turf as plain JSON values (keys documented in docs/json.md)."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from weedkey.control import Choice, GateResult, Span, TurfControl, Verdict
from weedkey.model.base import Knowledge
from weedkey.report.entry_json import plain_value
from weedkey.report.namer import Namer
from weedkey.report.wording import sentence


def choices_json(knowledge: Knowledge, weeds: str | Mapping[str, float], verdict: Verdict) -> dict[str, Any]:
    """The weed or weeds, the verdict, and every choice with all its gates, shut ones too."""
    namer = Namer(knowledge)
    head: dict[str, Any] = {"weed": weeds} if isinstance(weeds, str) else {"weeds": dict(weeds)}
    return {
        **head,
        "verdict": verdict_json(verdict, namer),
        "choices": [choice_json(choice, namer) for choice in verdict.choices],
    }


def verdict_json(verdict: Verdict, namer: Namer) -> dict[str, Any]:
    """kind, why, controls, window, second best, what would change it, dated statements."""
    second = verdict.second_best
    return {
        "kind": verdict.kind,
        "why": sentence(verdict.trace, namer),
        "controls": list(verdict.controls),
        "window": span_json(verdict.window),
        "second_best": {
            "kind": second.kind,
            "controls": list(second.controls),
            "window": span_json(second.window),
        }
        if second
        else None,
        "would_change": [sentence(step, namer) for step in verdict.would_change],
        "dated": [{"text": sentence(step, namer), "sources": list(step.sources)} for step in verdict.dated],
        "thresholds": [
            {"text": sentence(step, namer), "outcome": step.outcome, "sources": list(step.sources)}
            for step in verdict.thresholds
        ],
        "judge_weeks": list(verdict.judge_weeks) if verdict.judge_weeks else None,
        "each": [{"weed": weed, "probability": p, "kind": kind} for weed, p, kind in verdict.each],
        "sources": list(verdict.trace.sources),
    }


def span_json(span: Span | None) -> dict[str, Any] | None:
    """First and last day of a window."""
    if span is None:
        return None
    return {"from": span.first.isoformat(), "to": span.last.isoformat(), "rough": span.rough}


def choice_json(choice: Choice, namer: Namer) -> dict[str, Any]:
    """One control with its result, tolerance and gates."""
    control = namer.knowledge.controls.get(choice.control)
    return {
        "control": choice.control,
        "name": namer.control(choice.control),
        "kind": choice.kind,
        "class": plain_value(control.control_class) if control and control.control_class else None,
        "offered": choice.offered,
        "spot": choice.spot,
        "timing": choice.timing,
        "result": choice.result,
        "tolerance": choice.tolerance,
        "gates": [gate_json(gate, namer) for gate in choice.gates],
        "weeds": [plain_value(each) for each in choice.weeds],
        "cautions": plain_value(control.cautions) if control else [],
    }


def gate_json(gate: GateResult, namer: Namer) -> dict[str, Any]:
    """gate, state (open, shut or ask), reason and sources."""
    return {
        "gate": gate.gate,
        "state": gate.state,
        "reason": sentence(gate.step, namer),
        "sources": list(gate.step.sources),
        "needed": gate.needed,
    }


def turf_json(knowledge: Knowledge, turf: str, rows: tuple[TurfControl, ...]) -> dict[str, Any]:
    """Every control on one turf with its tolerance, the conditions stated and the sources."""
    namer = Namer(knowledge)
    return {
        "turf": turf,
        "controls": [
            {
                "control": row.control,
                "name": row.name,
                "kind": row.kind,
                "class": dict(row.control_class),
                "tolerance": row.tolerance,
                "certain": row.certain,
                "when": [plain_value(dict(when)) for when in row.when],
                "site": row.site,
                "why": sentence(row.step, namer),
                "sources": list(row.sources),
            }
            for row in rows
        ],
    }
