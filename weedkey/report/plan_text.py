"""The operator's sheet and the owner's sheet."""

from __future__ import annotations

from weedkey.control import GateResult
from weedkey.model.base import Knowledge
from weedkey.plan.record import photo_texts
from weedkey.plan.results import Action, FindingPlan, Plan, Unsettled
from weedkey.report.cautions import standing_cautions
from weedkey.report.choices_text import EVERY_DAY, verdict_words
from weedkey.report.dates import day_words
from weedkey.report.lawn_line import lawn_line
from weedkey.report.namer import Namer
from weedkey.report.references import References
from weedkey.report.style import Style, join_words
from weedkey.report.visit_text import finding_words
from weedkey.report.wording import sentence

_USES = {
    "lawn": "over the turf",
    "spot": "on the plants only: it kills the turf it touches",
    "barrier": "before the seed comes up",
    "measure": "no chemistry",
}
_LAWN_VERDICTS = {
    "repair": "repair: keep the stand",
    "overseed": "repair and overseed: the stand is thin",
    "renovate": "start again: too little turf is left",
}


def operator_text(knowledge: Knowledge, plan: Plan, style: Style) -> str:
    """Verdict of the lawn, each weed, visits, what never to use, what is not settled, cautions, sources."""
    namer, refs = Namer(knowledge), References(knowledge)
    blocks = [
        style.strong(f"Plan for {plan.lawn.name}") + "\n" + style.wrap(lawn_line(knowledge, plan.lawn)),
        _lawn(plan, namer, refs, style),
        _findings(plan, namer, refs, style),
        _unsettled(plan.unsettled, namer, style),
        _visits(plan, namer, refs, style),
        _renovation(plan, namer, refs, style),
        _never(plan, namer, refs, style),
        _cautions(knowledge, plan, refs, style),
        "\n".join([style.strong("Sources"), *(style.wrap(line, "  ", "      ") for line in refs.lines())]),
    ]
    return "\n\n".join(block for block in blocks if block)


def owner_text(knowledge: Knowledge, plan: Plan, style: Style) -> str:
    """Plain words for the owner."""
    namer, refs = Namer(knowledge), References(knowledge)
    lines = [style.strong(f"Your lawn: {plan.lawn.name}, {day_words(plan.start)}")]
    for step in plan.owner:
        lines.append(style.bullet(_opened(sentence(step, namer))))
        lines += [style.bullet(_opened(sentence(child, namer)), indent="      ") for child in step.children]
    photos = photo_texts(plan.lawn, [zone.name for zone in plan.lawn.zones])
    if photos:
        lines.append(style.bullet(f"Photos of {day_words(plan.lawn.on)}: {', '.join(photos)}."))
    lines.append("")
    lines.append(
        style.wrap("Whoever applies anything follows the label, which is the law, and the rules of state and town.")
    )
    for step in plan.owner:
        refs.mark(step.sources)
    if refs.lines():
        lines += ["", style.faint("Where this comes from"), *(style.wrap(s, "  ", "      ") for s in refs.lines())]
    return "\n".join(lines)


def _lawn(plan: Plan, namer: Namer, refs: References, style: Style) -> str:
    verdict = plan.lawn_verdict
    wanted = "not stated" if verdict.desirable_percent is None else f"{verdict.desirable_percent:.0f} %"
    lines = [
        style.strong("The lawn as a whole: " + _LAWN_VERDICTS[verdict.kind]),
        f"  wanted turf {wanted}, weeds {verdict.weeds_percent:.0f} %, bare {verdict.bare_percent:.0f} %",
    ]
    lines += [style.bullet(f"{sentence(step, namer)} {refs.mark(step.sources)}") for step in verdict.thresholds]
    return "\n".join(lines)


def _findings(plan: Plan, namer: Namer, refs: References, style: Style) -> str:
    lines = [style.strong("Each weed")]
    for row in plan.findings:
        name = finding_words(row.finding, namer)
        head = f"{row.target.zone}: {name}, {row.finding.cover_percent:g} % — {verdict_words(row.verdict, namer)}"
        lines.append(style.bullet(head))
        lines += [style.bullet(text, indent="      ") for text in _reasons(row, namer, refs)]
    for zone in plan.lawn.zones:
        if zone.photos:
            lines.append(style.bullet(f"{zone.name}: photos {', '.join(zone.photos)}"))
    return "\n".join(lines)


def _reasons(row: FindingPlan, namer: Namer, refs: References) -> list[str]:
    trace = row.verdict.trace
    texts = [f"{sentence(trace, namer)} {refs.mark(trace.sources)}".strip()]
    texts += [f"{sentence(step, namer)} {refs.mark(step.sources)}" for step in row.verdict.dated]
    if row.spot_sqft is not None:
        texts.append(f"bare ground afterwards: about {row.spot_sqft:.0f} sq ft")
    if row.closure is not None:
        texts.append(f"{sentence(row.closure.step, namer)} {refs.mark(row.closure.step.sources)}")
        if row.closure.last_date:
            texts.append(f"last day on which such a spot still closes: {day_words(row.closure.last_date)}")
    if row.finding.photos:
        texts.append(f"photos: {', '.join(row.finding.photos)}")
    if not row.handled and row.verdict.kind != "leave_it":
        texts.append("no visit could be found for it in the year ahead")
    return texts


def _unsettled(rows: tuple[Unsettled, ...], namer: Namer, style: Style) -> str:
    if not rows:
        return ""
    lines = [style.strong("Look first")]
    for row in rows:
        names = join_words([f"{namer.marked_weed(weed)} ({round(p * 100)} in 100)" for weed, p in row.weeds], "or")
        text = f"{row.target.zone}: {names}."
        if row.look:
            text += f" One look tells most: {row.look.question}"
        text += " The treatment hangs on it." if row.matters else " The same control serves all of them here."
        lines.append(style.bullet(text))
    return "\n".join(lines)


def _visits(plan: Plan, namer: Namer, refs: References, style: Style) -> str:
    if not plan.visits:
        return style.strong("Visits") + "\n  none: nothing is open in the year ahead"
    blocks = []
    for number, visit in enumerate(plan.visits, 1):
        head = f"Visit {number}: {day_words(visit.first)} to {day_words(visit.last)}"
        lines = [style.strong(head)]
        for action in visit.actions:
            lines += _action(action, namer, refs, style)
        daily = {g.step.rule: g for a in visit.actions for g in a.to_ask if g.gate in EVERY_DAY}
        if daily:
            lines.append(style.bullet("on the day, for everything that is sprayed:"))
            lines += [_ask_line(gate, namer, refs, style) for gate in daily.values()]
        blocks.append("\n".join(lines))
    return "\n".join(blocks)


def _action(action: Action, namer: Namer, refs: References, style: Style) -> list[str]:
    head = f"{namer.control(action.control)} — {_USES[action.use]}: {sentence(action.why, namer)}"
    lines = [style.bullet(f"{head} {refs.mark(action.why.sources)}")]
    lines += [_ask_line(gate, namer, refs, style) for gate in action.to_ask if gate.gate not in EVERY_DAY]
    if action.sequence and action.sequence.sprays and action.sequence.sprays > 1:
        gap = action.sequence.interval_days
        days = f", {gap[0]} to {gap[1]} days apart" if gap else ""
        lines.append(style.bullet(f"rated with {action.sequence.sprays} applications{days}", indent="      "))
    if action.judge_weeks:
        low, high = action.judge_weeks
        when = f"{low:g}" if low == high else f"{low:g} to {high:g}"
        lines.append(style.bullet(f"judge it {when} weeks after the first application", indent="      "))
    return lines


def _ask_line(gate: GateResult, namer: Namer, refs: References, style: Style) -> str:
    return style.bullet(f"{sentence(gate.step, namer)} {refs.mark(gate.step.sources)}", "?", "      ")


def _renovation(plan: Plan, namer: Namer, refs: References, style: Style) -> str:
    if not plan.renovation:
        return ""
    rows = [style.bullet(f"{sentence(s, namer)} {refs.mark(s.sources)}") for s in plan.renovation]
    return "\n".join([style.strong("Starting again"), *rows])


def _never(plan: Plan, namer: Namer, refs: References, style: Style) -> str:
    if not plan.never:
        return ""
    lines = [style.strong("Never here, whatever works elsewhere")]
    for row in plan.never:
        weeds = join_words([namer.weed(weed) for weed in row.weeds[:3]])
        where = f", in {join_words(list(row.zones))} only" if row.zones else ""
        text = f"{namer.control(row.control)} (works on {weeds}{where}): {sentence(row.step, namer)}"
        lines.append(style.bullet(f"{text} {refs.mark(row.step.sources)}", "x"))
    return "\n".join(lines)


def _cautions(knowledge: Knowledge, plan: Plan, refs: References, style: Style) -> str:
    actions = [action for visit in plan.visits for action in visit.actions]
    controls = dict.fromkeys(action.control for action in actions)
    lines = [style.strong("Before anything is put down")]
    lines += [style.bullet(f"{text} {refs.mark(sources)}", "!") for text, sources in standing_cautions()]
    seen: dict[str, tuple[list[str], tuple[str, ...]]] = {}
    for control_id in controls:
        control = knowledge.controls[control_id]
        for caution in control.cautions:
            names, _ = seen.setdefault(f"{caution.about.replace('_', ' ')}: {caution.text}", ([], caution.sources))
            names.append(control.name)
    lines += [
        style.bullet(f"{join_words(names[:4])}: {text} {refs.mark(sources)}", "!")
        for text, (names, sources) in seen.items()
    ]
    return "\n".join(lines)


def _opened(text: str) -> str:
    """The sentence with a capital at its head."""
    return text[:1].upper() + text[1:]
