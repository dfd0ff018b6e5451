"""Where a naming stands, in words: who it may be, whether the treatment is settled, the next look and why."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from weedkey.key.decide import NextLook, Standing
from weedkey.key.table import Table
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Look
from weedkey.model.region import Region
from weedkey.model.trace import Step
from weedkey.report.namer import Namer
from weedkey.report.style import VERDICT_WORDS, Style, bar, join_words
from weedkey.report.wording import sentence, sentences

if TYPE_CHECKING:
    from weedkey.key.explain import Rival

SHOWN = 8
#: Below this share the likeliest plant is no news.
STANDS_OUT_ABOVE = 0.06
SHOWN_ABOVE = 0.01


def name_text(knowledge: Knowledge, standing: Standing, style: Style, *, has_turf: bool) -> str:
    """The standing as text; ``has_turf`` False adds that a turf would let the key ask for the treatment."""
    namer = Namer(knowledge)
    blocks = [
        headline(standing, namer, style),
        "\n".join(belief_lines(standing, namer, width=style.width)),
        decision_line(standing, namer, style),
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
        return style.strong(f"It is {namer.marked_weed(best)}, as far as these looks tell ({percent(probability)}).")
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


def belief_lines(standing: Standing, namer: Namer, *, width: int, shown: int = SHOWN) -> list[str]:
    """What is still possible, a line a plant: bar, share in words, name; narrow screens get a shorter bar."""
    if standing.candidates[0][1] < STANDS_OUT_ABOVE:
        return [f"still possible: {len(standing.candidates)} plants, none stands out yet"]
    rows = [row for row in standing.candidates if row[1] >= SHOWN_ABOVE][: shown if width >= 60 else shown // 2]
    named = [(namer.marked_weed(weed), share) for weed, share in rows]
    if standing.not_in_list >= SHOWN_ABOVE:
        named.append(("a plant that is not in this list", standing.not_in_list))
    cells = 10 if width >= 60 else 4
    lines = ["still possible:"]
    lines += [f"  {bar(share, cells)} {percent(share):>9} {name}" for name, share in named]
    left = len(standing.candidates) - len(rows)
    if left > 0:
        lines.append(f"  and {left} others, each less likely")
    return lines


def decision_line(standing: Standing, namer: Namer, style: Style) -> str:
    """The treatment as far as it is settled; empty without a turf."""
    decision = standing.decision
    if decision is None:
        return ""
    verdict = VERDICT_WORDS.get(decision.kind, namer.any(decision.kind))
    lines = [style.wrap(f"Treatment so far: {verdict}; right for what it may be in {percent(decision.confidence)}.")]
    if standing.settled and decision.actions:
        names = join_words([namer.any(action) for action in decision.actions[:6]], "or")
        lines.append(style.wrap(f"Good for all of them: {names}."))
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

    return steps_text([explain_weed(table, standing.looks, weed, knowledge)], Namer(knowledge), style)


def steps_text(steps: Sequence[Step], namer: Namer, style: Style) -> str:
    """Steps with everything beneath them as nested bullets, each with who says so."""
    lines = []
    for step in steps:
        for depth, text, sources in sentences(step, namer):
            who = f" — {namer.who(sources)}" if sources else ""
            lines.append(style.bullet(text + who, indent="  " * (depth + 1)))
    return "\n".join(lines)


def reasons_text(  # noqa: PLR0917 - the standing, and everything that explains it
    knowledge: Knowledge,
    table: Table,
    standing: Standing,
    regions: Mapping[str, Region] | None,
    steps: Sequence[Step],
    look: NextLook | None,
    style: Style,
) -> str:
    """Why this look, for and against the likeliest plants, what else it could be, what hangs on one look."""
    from weedkey.key import ask_again, explain_look, find_rivals, list_what_would_change

    namer = Namer(knowledge)
    blocks = []
    if look is not None:
        settles = explain_look(table, standing.looks, look.trait, regions)
        why = sentence(look.why, namer)
        blocks.append(style.strong("Why this look") + "\n" + style.wrap(f"{why[0].upper()}{why[1:]}."))
        blocks.append(steps_text(settles.children, namer, style))
    blocks.append(style.strong("For and against") + "\n" + steps_text(steps, namer, style))
    rivals = find_rivals(table, standing.looks, regions)
    if rivals:
        lines = [style.strong("What else it could be")]
        lines += [style.bullet(rival_words(rival, namer)) for rival in rivals[:4]]
        blocks.append("\n".join(lines))
    hangs = ask_again(table, standing.looks, regions)
    if hangs is not None:
        words = sentence(hangs, namer)
        blocks.append(style.strong("Are you sure?") + "\n" + style.wrap(f"{words[0].upper()}{words[1:]}."))
    changes = list_what_would_change(table, standing.looks, regions) if regions else ()
    if changes:
        lines = [style.strong("What would have changed it"), *(style.bullet(sentence(s, namer)) for s in changes[:5])]
        blocks.append("\n".join(lines))
    return "\n\n".join(block for block in blocks if block)


def rival_words(rival: Rival, namer: Namer) -> str:
    """A rival with the one look that separates it."""
    name = f"{namer.weed(rival.weed)} ({percent(rival.belief)})"
    if rival.trait is None:
        return f"{name}: no stated look tells it apart"
    return f"{name}: {namer.question(rival.trait)}"
