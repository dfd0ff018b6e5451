"""Words for the rules of ``weedkey.key``."""

from __future__ import annotations

from typing import Any

from weedkey.model.trace import Step
from weedkey.report.namer import Namer
from weedkey.report.style import VERDICT_WORDS, join_words, words_of
from weedkey.report.wording_form import Words, fact

DOES_NOT_APPLY = "does_not_apply"


def _states(trait: str, states: Any, namer: Namer, last: str = "or") -> str:
    return join_words([namer.state(trait, str(state)) for state in states], last)


def _next_look(step: Step, namer: Namer) -> str:
    if step.outcome == "separates":
        first, second = namer.weed(fact(step, "first")), namer.weed(fact(step, "second"))
        return f"it helps to tell {first} from {second}, which get different treatments here"
    if step.outcome == "settles":
        parts = [_answer(child, namer) for child in step.children]
        return "; ".join(parts)
    return "it helps to narrow what is possible"


def _answer(step: Step, namer: Namer) -> str:
    state = fact(step, "state")
    weeds = step.facts.get("weeds", ())
    names = join_words([namer.weed(weed) for weed, _ in weeds], "or") if isinstance(weeds, tuple) else ""
    text = f"if {words_of(state)}: {names or 'nothing likely'}"
    kind = step.facts.get("kind")
    if kind and step.facts.get("settles"):
        text += f" ({VERDICT_WORDS.get(str(kind), str(kind))}, settled)"
    return text


def _look(step: Step, namer: Namer) -> str:
    trait = fact(step, "trait")
    seen = _states(trait, step.facts.get("states", ()), namer) or "can't tell"
    shows = step.facts.get("shows", ())
    word = {"for": "speaks for it", "against": "speaks against it"}.get(step.outcome, words_of(step.outcome))
    text = f"{words_of(trait)} — seen: {seen}: {word}"
    return text + (f"; it shows {_states(trait, shows, namer)}" if shows else "")


def _prior(step: Step, namer: Namer) -> str:
    share = float(str(step.facts["prior"]))
    weed = namer.weed(fact(step, "weed"))
    if step.outcome == "flat":
        return f"before any look {weed} counts like any other plant ({share:.3f})"
    return f"before any look, from region, month, turf and ground: {weed} {share:.3f}"


def _weed(step: Step, namer: Namer) -> str:
    return f"{namer.weed(step.outcome)}: {round(100 * float(str(step.facts['belief'])))} in 100 after these looks"


def _contradiction(step: Step, namer: Namer) -> str:
    trait = fact(step, "trait")
    name = words_of(trait)
    if step.outcome == "two_answers":
        states: Any = step.facts["states"]
        told = join_words([_states(trait, group, namer) for group in states])
        return f"{name} was answered in two ways ({told}); both are kept and count"
    if step.outcome == "does_not_apply":
        return f"{name} does not apply to the plants that are still likely; check it, it counts little"
    return f"no plant of the knowledge shows {name}: {_states(trait, step.facts['states'], namer)}; check it"


def _ask_again(step: Step, namer: Namer) -> str:
    trait = fact(step, "trait")
    seen = _states(trait, step.facts["states"], namer)
    if step.outcome == "hangs_on":
        return f"most of the belief hangs on {words_of(trait)} ({seen}): look at that once more"
    return "no single look decides it: take one back, and the answer stays the same"


def _would_change(step: Step, namer: Namer) -> str:
    trait = fact(step, "trait")
    state = fact(step, "state")
    verdict = VERDICT_WORDS.get(str(step.facts["kind"]), str(step.facts["kind"]))
    return f"if {words_of(trait)} were {namer.state(trait, state)}, it would be: {verdict}"


def _group(step: Step, namer: Namer) -> str:
    weeds: Any = step.facts["weeds"]
    names = join_words([namer.weed(weed) for weed, _ in weeds[:4]])
    return f"{names}: same treatment ({round(100 * float(str(step.facts['belief'])))} in 100)"


def _groups(step: Step, namer: Namer) -> str:  # noqa: ARG001 - all makers of sentences have one form
    number = step.facts["groups"]
    return "one treatment is left" if step.outcome == "one" else f"{number} treatments are still possible"


RULES: dict[str, Words] = {
    "key.next_look": _next_look,
    "key.answer": _answer,
    "key.look": _look,
    "key.prior": _prior,
    "key.weed": _weed,
    "key.contradiction": _contradiction,
    "key.ask_again": _ask_again,
    "key.would_change": _would_change,
    "key.group": _group,
    "key.groups": _groups,
}
