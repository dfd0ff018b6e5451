"""Gives the help of every command the same sections: usage, what it does, options, notes, examples, exit codes."""

from __future__ import annotations

import argparse

_TITLES = ("example:", "examples:", "exit codes:")
#: What 1 means where it can happen; every command shares the others.
_ONE = {
    "name": "nothing fits",
    "choices": "nothing can be offered",
    "compare": "nothing tells them apart",
    "plan": "nothing can be done in the year ahead",
    "check": "an error was found",
    "walks": "nothing found, or a part was refused or is missing",
}
_OTHERS = "2 usage, 3 knowledge unreadable, 130 interrupted"


def finish_help(parser: argparse.ArgumentParser, command: str) -> None:
    """Put the end of a command's help into its order: notes, examples, exit codes."""
    notes, examples, codes = _parts(parser.epilog or "")
    if not codes:
        one = f"1 {_ONE[command]}, " if command in _ONE else ""
        codes = [f"  0 ok, {one}{_OTHERS}"]
    sections = ["\n".join(notes)] if notes else []
    sections += ["\n".join(["examples:", *examples])] if examples else []
    sections.append("\n".join(["exit codes:", *codes]))
    parser.epilog = "\n\n".join(sections)


def _parts(text: str) -> tuple[list[str], list[str], list[str]]:
    """Notes, examples and exit codes of an epilog; what follows a title on its own line belongs under it."""
    found: dict[str, list[str]] = {"": [], "examples:": [], "exit codes:": []}
    title = ""
    for line in text.splitlines():
        own = next((word for word in _TITLES if line.startswith(word)), None)
        if own is None:
            if line.strip():
                found[title].append(line)
            continue
        title = "examples:" if own.startswith("example") else own
        rest = line.removeprefix(own).strip()
        if rest:
            found[title].append(f"  {rest}")
    return found[""], found["examples:"], found["exit codes:"]
