"""Where a naming stands, as plain JSON values (keys documented in docs/json.md)."""

from __future__ import annotations

from typing import Any

from weedkey.key.decide import NextLook, Standing
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Look
from weedkey.report.namer import Namer
from weedkey.report.wording import sentence

SHOWN_ABOVE = 0.005


def name_json(knowledge: Knowledge, standing: Standing) -> dict[str, Any]:
    """candidates, settled, fit, decision, next_look, looks, and what was ignored or contradicts."""
    namer = Namer(knowledge)
    return {
        "candidates": [
            {"weed": weed, "name": namer.weed(weed), "probability": probability}
            for weed, probability in standing.candidates
            if probability >= SHOWN_ABOVE
        ],
        "not_in_list": standing.not_in_list,
        "settled": standing.settled,
        "name_settled": standing.name_settled,
        "name_confidence": standing.name_confidence,
        "stop": standing.stop,
        "fit": standing.fit,
        "fit_score": standing.fit_score,
        "decision": _decision(standing),
        "next_look": _next_look(standing.next_look, namer),
        "could_ask": _next_look(standing.could_ask, namer),
        "left_pair": list(standing.left_pair) if standing.left_pair else None,
        "looks": [_look(look) for look in standing.looks],
        "ignored": [{**_look(entry.look), "reason": entry.reason} for entry in standing.ignored],
        "contradictions": [sentence(step, namer) for step in standing.contradictions],
    }


def _decision(standing: Standing) -> dict[str, Any] | None:
    decision = standing.decision
    if decision is None:
        return None
    return {
        "kind": decision.kind,
        "probability": decision.probability,
        "confidence": decision.confidence,
        "controls": list(decision.actions),
        "regions": [{"region": region, "probability": p} for region, p in decision.regions],
    }


def _next_look(look: NextLook | None, namer: Namer) -> dict[str, Any] | None:
    if look is None:
        return None
    return {
        "trait": look.trait,
        "question": look.question,
        "states": [{"state": state, "words": namer.state(look.trait, state)} for state in look.states],
        "why": sentence(look.why, namer),
        "cost_seconds": look.cost_seconds,
    }


def _look(look: Look) -> dict[str, Any]:
    return {"trait": look.trait, "states": list(look.states), "both": look.both, "unsure": look.unsure}
