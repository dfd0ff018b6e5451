"""The user's own entries in words: the list, the differences, what a file would bring in."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from weedkey.knowledge.entry_diff import Difference
from weedkey.knowledge.importing import Arrival, Preview
from weedkey.knowledge.own_entries import OwnEntry
from weedkey.knowledge.sourcing import SOURCE_KEYS
from weedkey.report.likeness_text import alike_sentence
from weedkey.report.namer import Namer
from weedkey.report.style import Style, words_of

_MOST_ROWS = 12
_ID = re.compile(r"^[a-z0-9_]+$")
_WHAT = {
    "new": "new",
    "override": "changes the shipped entry",
    "changes": "changes yours",
    "same": "as you have it",
}


def own_line(entry: OwnEntry) -> str:
    """One entry in a line: kind, name, new or not, whether it can be used."""
    what = "new" if entry.is_new else "changes the shipped entry"
    errors = sum(issue.severity == "error" for issue in entry.issues)
    state = f"; left out: {_count(errors, 'problem')}" if errors else ""
    return f"{entry.kind} {entry.name}: {what}{state}"


def own_text(entries: Sequence[OwnEntry], style: Style) -> str:
    """The list of own entries with their errors."""
    if not entries:
        return style.wrap("You have no entries of your own yet. Add one: weedkey add weed NAME")
    lines = []
    for entry in entries:
        lines.append(style.bullet(own_line(entry), "x " if not entry.is_usable else "ok"))
        lines += [style.wrap(str(issue), "     ") for issue in entry.issues if issue.severity == "error"]
    return "\n".join(lines)


def difference_lines(differences: Iterable[Difference], namer: Namer, style: Style) -> list[str]:
    """Each difference in words: added, changed from what to what, removed."""
    lines = []
    for row in differences:
        if row.field == ("id",):
            continue
        where = field_words(row.field, namer)
        before, after = (_words(value, row.field[-1], namer) for value in (row.before, row.after))
        if row.kind == "changed":
            lines.append(style.bullet(f"{where}: changed from {before} to {after}", "~"))
        elif row.kind == "added":
            lines.append(style.bullet(f"{where}: added {after}", "+"))
        else:
            lines.append(style.bullet(f"{where}: removed {before}", "-"))
    return lines


def field_words(field: Sequence[str], namer: Namer) -> str:
    """``looks, ligule, state hairs`` in words."""
    parts = []
    for place, part in enumerate(field):
        is_look = place == 1 and field[0] == "looks"
        parts.append(words_of(part) if not is_look or part not in namer.knowledge.traits else f"the {words_of(part)}")
    return ", ".join(parts)


def _words(value: Any, field: str, namer: Namer) -> str:
    """A value as one would say it: sources by who they are, rows by their keys."""
    if field in SOURCE_KEYS and isinstance(value, list):
        return namer.who(value)
    if isinstance(value, Mapping):
        said = [
            f"{words_of(str(key))} {_words(item, key, namer)}" for key, item in value.items() if key not in SOURCE_KEYS
        ]
        who = f" ({namer.who(value['sources'])})" if isinstance(value.get("sources"), list) else ""
        return ", ".join(said) + who
    if isinstance(value, list):
        joint = "; " if any(isinstance(item, Mapping) for item in value) else ", "
        return joint.join(_words(item, "", namer) for item in value)
    if isinstance(value, bool) or value is None:
        return {True: "yes", False: "no", None: "nothing"}[value]
    return words_of(value) if isinstance(value, str) and _ID.match(value) else str(value)


def diff_text(entry: OwnEntry, differences: Sequence[Difference], namer: Namer, style: Style) -> str:
    """One's own entry against the shipped one."""
    if entry.is_new:
        head = f"{entry.name} is an entry of your own: there is no shipped one to compare it with. It states:"
    elif not differences:
        return style.wrap(f"{entry.name}: nothing differs from the shipped entry.")
    else:
        head = f"{entry.name}: your entry against the shipped one"
    return "\n".join([style.strong(style.wrap(head)), *difference_lines(differences, namer, style)])


def preview_text(preview: Preview, namer: Namer, style: Style) -> str:
    """What reading a file in would do: new, changed, look-alikes of new weeds, problems."""
    lines: list[str] = []
    for row in preview.arrivals:
        lines += _arrival_lines(row, namer, style)
    for issue in preview.errors:
        lines.append(style.bullet(str(issue), "x"))
    if preview.errors:
        lines.append(
            style.wrap(f"{_count(len(preview.errors), 'problem')}: nothing can be read in until they are gone.")
        )
    elif preview.is_empty:
        lines.append(style.wrap("Everything in this file is there already."))
    return "\n".join(lines)


def _arrival_lines(row: Arrival, namer: Namer, style: Style) -> list[str]:
    lines = [style.strong(style.wrap(f"{row.kind} {row.name}: {_WHAT[row.what]}"))]
    shown = difference_lines(row.differences[:_MOST_ROWS], namer, style)
    lines += shown
    if len(row.differences) > _MOST_ROWS:
        lines.append(style.wrap(f"… and {len(row.differences) - _MOST_ROWS} more differences", "    "))
    if row.separation is not None:
        near = row.separation.alike
        lines += [style.bullet(alike_sentence(each), "ok" if each.told_apart else "! ") for each in near]
        if row.separation.entered < row.separation.wanted:
            said = f"only {row.separation.entered} looks; {row.separation.wanted} are wanted for a safe name"
            lines.append(style.bullet(said, "! "))
        elif not near:
            lines.append(style.bullet("no weed that is known here looks much like it", "ok"))
    return lines


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"
