"""The weeds that point to one condition, strongest evidence first."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from weedkey.model.base import Knowledge
from weedkey.model.condition import Condition
from weedkey.report.entry_json import plain_value
from weedkey.report.namer import Namer
from weedkey.report.references import References
from weedkey.report.style import Style, bar, join_words

#: weed id, strength 0 to 1, sources for, sources against
SignRow = tuple[str, float, tuple[str, ...], tuple[str, ...]]


def sign_json(knowledge: Knowledge, condition: Condition, rows: Sequence[SignRow]) -> dict[str, Any]:
    """The condition, its tests and remedies, and the weeds with strength and sources."""
    namer = Namer(knowledge)
    return {
        "condition": plain_value(condition),
        "weeds": [
            {"weed": weed, "name": namer.weed(weed), "strength": strength, "sources": list(yes), "against": list(no)}
            for weed, strength, yes, no in rows
        ],
    }


def sign_text(knowledge: Knowledge, condition: Condition, rows: Sequence[SignRow], style: Style) -> str:
    """The same in words, with how to test it and what to do."""
    namer, refs = Namer(knowledge), References(knowledge)
    lines = [style.strong(condition.name), style.wrap(condition.words), ""]
    if rows:
        lines.append(style.strong("Weeds that point to it, strongest evidence first"))
    for weed, strength, yes, no in rows:
        against = f"; against: {refs.mark(no)}" if no else ""
        said = f"{len(yes)} source{'s' if len(yes) > 1 else ''} {refs.mark(yes)}{against}"
        lines.append(style.wrap(f"{bar(strength, 5)} {namer.weed(weed)}: {said}", "  ", "        "))
    if not rows:
        lines.append("No weed of the knowledge points to it.")
    if condition.folklore:
        lines.append(style.bullet("often named without support: " + "; ".join(condition.folklore)))
    for caution in condition.cautions:
        lines.append(style.bullet(f"{caution.text} {refs.mark(caution.sources)}", "!"))
    lines.append(style.strong("How to settle it"))
    for test in condition.tests:
        text = f"{test.name} ({test.minutes:g} min, {test.money}): {test.how} {test.settles}"
        lines.append(style.bullet(f"{text} {refs.mark(test.sources)}"))
    if condition.remedies:
        names = join_words([namer.control(remedy.control) for remedy in condition.remedies], "or")
        lines.append(style.wrap(f"Remedies: {names}. If nothing changes, the weed {condition.if_nothing_changes}."))
    lines += ["", style.strong("Sources"), *(style.wrap(line, "  ", "      ") for line in refs.lines())]
    return "\n".join(lines)
