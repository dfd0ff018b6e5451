"""Where a naming stands, in words: who it may be, whether the treatment is settled, the next look and why."""

from __future__ import annotations

from weedkey.key.decide import Decision, NextLook, Standing
from weedkey.key.table import Table
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Look
from weedkey.report.namer import Namer
from weedkey.report.style import VERDICT_WORDS, Style, bar, join_words
from weedkey.report.wording import sentence, sentences

SHOWN = 8
SHOWN_ABOVE = 0.01


def name_text(knowledge: Knowledge, standing: Standing, style: Style, *, has_turf: bool) -> str:
    """The standing as text; ``has_turf`` False adds that a turf would let the key ask for the treatment."""
    namer = Namer(knowledge)
    blocks = [
        headline(standing, namer, style),
        _candidates(standing, namer, style),
        _decision(standing.decision, namer, style),
        _next(standing, namer, style),
        _notes(standing, namer, style),
    ]
    if not has_turf:
        blocks.append(style.wrap("Give --turf and --month, and the key asks only for what changes the treatment."))
    return "\n\n".join(block for block in blocks if block)


def headline(standing: Standing, namer: Namer, style: Style) -> str:
    """One line that says where the naming stands."""
    if not standing.fit:
        advice = (
            "No plant of the knowledge shows what you saw. Check the looks, or treat it as a plant that is not known:"
            " nothing selective is offered for it."
        )
        return style.strong("This fits nothing here.") + "\n" + style.wrap(advice)
    best, probability = standing.candidates[0]
    if standing.name_settled:
        return style.strong(f"It is {namer.weed(best)}, as far as these looks tell ({percent(probability)}).")
    if standing.settled:
        return style.strong("You can stop: every plant that is still likely gets the same treatment here.")
    if standing.stop in {"gain_floor", "nothing_left"}:
        return style.strong("A short list is left; no further look would tell much more.")
    return style.strong("Not settled yet.")


def percent(share: float) -> str:
    """A share as words that do not pretend to more than they know."""
    if share >= 0.995:
        return "more than 99 in 100"
    if share < 0.01:
        return "less than 1 in 100"
    return f"{round(share * 100)} in 100"


def _candidates(standing: Standing, namer: Namer, style: Style) -> str:
    rows = [row for row in standing.candidates if row[1] >= SHOWN_ABOVE][:SHOWN]
    lines = [style.strong("Still possible")]
    for weed, probability in rows:
        lines.append(f"  {bar(probability)} {percent(probability):>16}  {namer.weed(weed)}")
    left = len(standing.candidates) - len(rows)
    if standing.not_in_list >= SHOWN_ABOVE:
        share = f"{bar(standing.not_in_list)} {percent(standing.not_in_list):>16}"
        lines.append(f"  {share}  a plant that is not in this list")
    if left > 0:
        lines.append(f"  and {left} others, each less likely")
    return "\n".join(lines)


def _decision(decision: Decision | None, namer: Namer, style: Style) -> str:
    if decision is None:
        return ""
    verdict = VERDICT_WORDS.get(decision.kind, namer.any(decision.kind))
    text = f"Treatment so far: {verdict}; right for what it may be in {percent(decision.confidence)}."
    lines = [style.wrap(text)]
    if decision.actions:
        lines.append(
            style.wrap("good for all of them: " + join_words([namer.any(a) for a in decision.actions[:6]], "or"))
        )
    return "\n".join(lines)


def _next(standing: Standing, namer: Namer, style: Style) -> str:
    look = standing.next_look
    if look is None:
        pair = standing.left_pair
        could = standing.could_ask
        if pair and could and not standing.name_settled:
            names = join_words([namer.weed(weed) for weed in pair])
            return style.wrap(f"To tell {names} apart: {could.question} (--look {could.trait}=…)")
        return ""
    return look_text(look, namer, style)


def look_text(look: NextLook, namer: Namer, style: Style) -> str:
    """The next look: question, states as they are typed, seconds, why."""
    lines = [style.strong("Look next: ") + look.question]
    for state in look.states:
        lines.append(style.wrap(f"--look {look.trait}={state}  {namer.state(look.trait, state)}", "  ", "      "))
    lines.append(f"  --look {look.trait}=?  can't tell")
    lines.append(style.wrap(f"about {look.cost_seconds:g} seconds; {sentence(look.why, namer)}", "  ", "  "))
    return "\n".join(lines)


def look_words(look: Look, namer: Namer) -> str:
    """One answer in words."""
    if not look.states:
        return f"{namer.any(look.trait)}: can't tell"
    words = join_words([namer.state(look.trait, state) for state in look.states], "and" if look.both else "or")
    return f"{namer.any(look.trait)}: {words}" + (" (not sure)" if look.unsure else "")


def _notes(standing: Standing, namer: Namer, style: Style) -> str:
    lines = [style.bullet(sentence(step, namer)) for step in standing.contradictions]
    lines += [
        style.bullet(f"not used ({entry.reason.replace('_', ' ')}): {look_words(entry.look, namer)}")
        for entry in standing.ignored
    ]
    if standing.looks:
        lines.append(style.wrap("seen: " + "; ".join(look_words(look, namer) for look in standing.looks)))
    return "\n".join(lines)


def why_text(knowledge: Knowledge, table: Table, standing: Standing, weed: str, style: Style) -> str:
    """The looks for and against one weed."""
    from weedkey.key import explain_weed

    namer = Namer(knowledge)
    step = explain_weed(table, standing.looks, weed)
    rows = sentences(step, namer)
    return "\n".join(style.bullet(text, indent="  " * (depth + 1)) for depth, text, _ in rows)
