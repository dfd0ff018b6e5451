"""Who says it: the source of the facts given on the command line. Asked for where it is missing, never assumed."""

from __future__ import annotations

import argparse
import sys
from dataclasses import dataclass
from datetime import date

from weedkey.errors import UsageError
from weedkey.knowledge.strict_yaml import KeyPath, key_text
from weedkey.model.source import COMMON_PRACTICE, FROM_MEMORY, SEEN_BY_USER

_EXPECTED = "--seen DATE PLACE, --source ID or --from-memory"
_MOST_NAMED = 4


@dataclass(frozen=True, slots=True)
class SourceGiven:
    """The sources for facts that name none, and when and where they were seen."""

    sources: tuple[str, ...] = ()
    sighting: dict[str, str] | None = None


def add_source(parser: argparse.ArgumentParser) -> None:
    """``--seen``, ``--source`` and ``--from-memory``."""
    group = parser.add_argument_group("who says so (for every fact given that names no source itself)")
    group.add_argument("--seen", nargs=2, metavar=("DATE", "PLACE"), help="you saw it: the day (YYYY-MM-DD) and where")
    group.add_argument("--source", action="append", default=[], metavar="ID", help="an id of the list of sources")
    group.add_argument("--from-memory", action="store_true", help="you know it, and nobody looked it up")


def read_source(args: argparse.Namespace, today: date) -> SourceGiven:
    """What the command line says. Raises UsageError for a day that is still to come or no place."""
    from weedkey.knowledge.sourcing import read_sighting

    sighting = read_sighting(args.seen[0], args.seen[1], today) if args.seen else None
    sources = [*([SEEN_BY_USER] if sighting else []), *args.source, *([FROM_MEMORY] if args.from_memory else [])]
    return SourceGiven(tuple(dict.fromkeys(sources)), sighting)


def need_source(given: SourceGiven, lacking: tuple[KeyPath, ...], today: date) -> SourceGiven:
    """The source of the facts that name none; asked for on a terminal. Raises UsageError where nobody can be asked."""
    if not lacking or given.sources:
        return given
    if sys.stdin.isatty() and sys.stderr.isatty():
        return _ask(lacking, today)
    named = ", ".join(key_text(path) for path in lacking[:_MOST_NAMED])
    more = f" and {len(lacking) - _MOST_NAMED} more" if len(lacking) > _MOST_NAMED else ""
    raise UsageError(f"these facts name no source: {named}{more}", _EXPECTED, '--seen 2026-06-01 "north lawn"')


def _ask(lacking: tuple[KeyPath, ...], today: date) -> SourceGiven:
    count = len(lacking)
    _say(f"Who says so? ({count} {'fact names' if count == 1 else 'facts name'} no source)")
    _say("  1  I saw it myself\n  2  I know it from memory\n  3  it is common practice\n  4  a source of the list")
    answer = _read("number: ")
    if answer == "1":
        return _ask_sighting(today)
    if answer == "4":
        source = _read("id of the source: ")
        if source:
            return SourceGiven((source,))
    chosen = {"2": FROM_MEMORY, "3": COMMON_PRACTICE}.get(answer)
    if chosen is None:
        raise UsageError("no source was given", _EXPECTED)
    return SourceGiven((chosen,))


def _ask_sighting(today: date) -> SourceGiven:
    from weedkey.knowledge.sourcing import read_sighting

    while True:
        day = _read(f"on which day? (enter for {today.isoformat()}): ") or today.isoformat()
        place = _read("where? (your own words, no private address): ")
        try:
            return SourceGiven((SEEN_BY_USER,), read_sighting(day, place, today))
        except UsageError as error:
            _say(str(error))
            if not day or not place:
                raise


def _say(text: str) -> None:
    print(text, file=sys.stderr, flush=True)


def _read(prompt: str) -> str:
    print(prompt, end="", file=sys.stderr, flush=True)
    return sys.stdin.readline().strip()
