"""The verdict on a weed, and every choice with what opens and shuts it, in words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from weedkey.control import Choice, GateResult, Span, Verdict
from weedkey.model.base import Knowledge
from weedkey.report.cautions import standing_cautions
from weedkey.report.dates import day_words
from weedkey.report.namer import Namer
from weedkey.report.references import References
from weedkey.report.style import GATE_MARKS, TOLERANCE_WORDS, VERDICT_WORDS, Style, join_words, words_of
from weedkey.report.wording import sentence

#: Asked of every spray on every day: said once under the choices, not under each.
EVERY_DAY = frozenset({"label", "wind", "rain", "irrigation", "mowing", "people", "bees"})

RESULT_WORDS = {
    "listed": "listed for it, not graded",
    "hint": "a hint only",
    "not_known": "not known",
    "none": "no effect",
}


def choices_text(
    knowledge: Knowledge, weeds: str | Mapping[str, float], verdict: Verdict, style: Style, *, gates: bool
) -> str:
    """Verdict first, then offered choices, spot treatments, and those that are shut with the gate that
    shuts them.
    """
    namer = Namer(knowledge)
    refs = References(knowledge)
    offered = [choice for choice in in_order(verdict) if choice.offered]
    spot = [choice for choice in verdict.choices if choice.spot and not choice.offered]
    shut = [choice for choice in verdict.choices if not choice.offered and not choice.spot]
    blocks = [
        verdict_text(weeds, verdict, namer, refs, style),
        _group("Open here and now", offered, namer, refs, style, gates=gates),
        _group(
            "Only on the plant or patch itself (it kills the turf there too)",
            spot,
            namer,
            refs,
            style,
            gates=gates,
        ),
        _group("Shut, and by what", shut, namer, refs, style, gates=gates),
    ]
    if any(choice.offered or choice.spot for choice in verdict.choices):
        blocks.append(cautions_text(knowledge, [*offered, *spot], refs, style))
    if not verdict.choices:
        blocks.append(style.wrap("Nothing is known of any control for it: nothing is offered."))
    sources = refs.lines()
    if sources:
        blocks.append("\n".join([style.strong("Sources"), *(style.wrap(line, "  ", "      ") for line in sources)]))
    return "\n\n".join(block for block in blocks if block)


def in_order(verdict: Verdict) -> list[Choice]:
    """Choices as they are shown: those of the verdict first, open before spot before shut."""
    place = {control: number for number, control in enumerate(verdict.controls)}
    return sorted(verdict.choices, key=lambda c: (not c.offered, not c.spot, place.get(c.control, len(place))))


def verdict_text(
    weeds: str | Mapping[str, float], verdict: Verdict, namer: Namer, refs: References, style: Style
) -> str:
    """What to do, why, what would come next and what would change it."""
    lines = [style.strong(f"{weeds_words(weeds, namer)}: {verdict_words(verdict, namer)}")]
    lines.append(style.wrap(f"{sentence(verdict.trace, namer)} {refs.mark(verdict.trace.sources)}".strip()))
    lines += [style.bullet(f"{sentence(s, namer)} {refs.mark(s.sources)}") for s in verdict.dated]
    if verdict.judge_weeks:
        low, high = verdict.judge_weeks
        when = f"{low:g}" if low == high else f"{low:g} to {high:g}"
        lines.append(style.wrap(f"Judge it {when} weeks after the first application, not before."))
    if verdict.second_best:
        second = verdict.second_best
        tail = ": " + join_words([namer.control(c) for c in second.controls[:4]], "or") if second.controls else ""
        span = f" ({span_words(second.window)})" if second.window else ""
        lines.append(style.wrap(f"Second best: {VERDICT_WORDS[second.kind]}{span}{tail}."))
    if verdict.would_change:
        lines.append("What would change it:")
        lines += [style.bullet(sentence(step, namer)) for step in verdict.would_change]
    if verdict.thresholds:
        lines.append("Published renovation rules:")
        lines += [style.bullet(f"{sentence(s, namer)} {refs.mark(s.sources)}") for s in verdict.thresholds]
    return "\n".join(lines)


def weeds_words(weeds: str | Mapping[str, float], namer: Namer) -> str:
    """One weed, or the set with its beliefs."""
    if isinstance(weeds, str):
        return namer.marked_weed(weeds)
    rows = sorted(weeds.items(), key=lambda row: (-row[1], row[0]))
    return join_words([f"{namer.marked_weed(weed)} ({round(p * 100)} in 100)" for weed, p in rows], "or")


def verdict_words(verdict: Verdict, namer: Namer) -> str:
    """The verdict with its window and its controls."""
    text = VERDICT_WORDS[verdict.kind]
    if verdict.window:
        text += f", {span_words(verdict.window)}"
    if verdict.controls:
        text += " — " + join_words([namer.control(control) for control in verdict.controls[:4]], "or")
    return text


def span_words(span: Span) -> str:
    """From one day to another; about, if it comes from whole months."""
    about = "about " if span.rough else ""
    return f"{about}{day_words(span.first)} to {day_words(span.last)}"


def _group(title: str, choices: Sequence[Choice], namer: Namer, refs: References, style: Style, *, gates: bool) -> str:
    if not choices:
        return ""
    lines = [style.strong(title)]
    for choice in choices:
        lines.append(style.bullet(choice_line(choice, namer)))
        shown: Iterable[GateResult] = gates_shown(choice) if gates else _telling(choice)
        lines += [_gate_line(gate, namer, refs, style) for gate in shown]
    return "\n".join(lines)


def choice_line(choice: Choice, namer: Namer) -> str:
    """Control, what it does to the weed, how the turf stands it."""
    result = RESULT_WORDS.get(choice.result, choice.result)
    mark = TOLERANCE_WORDS[choice.tolerance]
    timing = ", before it comes up" if choice.timing == "pre_emergence" else ""
    return f"{namer.control(choice.control)} ({words_of(choice.kind)}{timing}): {result}; turf {mark}"


def gates_shown(choice: Choice) -> tuple[GateResult, ...]:
    """The gates of the use that is possible: over the turf, or on the plant or patch only."""
    if choice.spot and not choice.offered and choice.spot_gates:
        return choice.spot_gates
    return choice.gates


def _telling(choice: Choice) -> list[GateResult]:
    """The gates worth a line: those that shut it, or else those that ask for what only the user knows."""
    gates = gates_shown(choice)
    shut = [gate for gate in gates if not gate.lets_pass]
    return shut or [gate for gate in gates if gate.state == "ask" and gate.gate not in EVERY_DAY]


def _gate_line(gate: GateResult, namer: Namer, refs: References, style: Style) -> str:
    text = f"{words_of(gate.gate)}: {sentence(gate.step, namer)} {refs.mark(gate.step.sources)}".strip()
    return style.bullet(text, GATE_MARKS[gate.state], "      ")


def cautions_text(knowledge: Knowledge, choices: Sequence[Choice], refs: References, style: Style) -> str:
    """The usual cautions, then those of the controls shown, each once."""
    lines = [style.strong("Before anything is put down")]
    chemical = any(knowledge.controls[c.control].is_chemical for c in choices if c.control in knowledge.controls)
    if chemical:
        lines += [style.bullet(f"{text} {refs.mark(sources)}".strip(), "!") for text, sources in standing_cautions()]
    seen: dict[str, tuple[list[str], tuple[str, ...]]] = {}
    for choice in choices:
        control = knowledge.controls.get(choice.control)
        for caution in control.cautions if control else ():
            names, _ = seen.setdefault(f"{caution.about}: {caution.text}", ([], caution.sources))
            names.append(control.name if control else choice.control)
    for text, (names, sources) in seen.items():
        lines.append(style.bullet(f"{join_words(names[:4])}: {text} {refs.mark(sources)}", "!"))
    return "\n".join(lines)


def one_choice_text(knowledge: Knowledge, choice: Choice, style: Style) -> str:
    """One choice with every gate, its reason and sources, and the cautions."""
    namer, refs = Namer(knowledge), References(knowledge)
    state = "open here and now" if choice.offered else "only on the plant or patch" if choice.spot else "shut"
    lines = [style.strong(choice_line(choice, namer)), f"It is {state}.", ""]
    for gate in gates_shown(choice):
        lines.append(_gate_line(gate, namer, refs, style))
        for child in gate.step.children:
            lines.append(
                style.bullet(f"{sentence(child, namer)} {refs.mark(child.sources)}".strip(), indent="          ")
            )
    if choice.offered or choice.spot:
        lines += ["", cautions_text(knowledge, [choice], refs, style)]
    lines += ["", style.strong("Sources"), *(style.wrap(line, "  ", "      ") for line in refs.lines())]
    return "\n".join(lines)
