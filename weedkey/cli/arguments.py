"""Arguments that several commands share, and their reading. Every refusal says which values are accepted."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from datetime import date

from weedkey.errors import UsageError
from weedkey.model.vocabulary import GROWTH_STATES, REGIONS, SITES, STAND_STAGES

MONTHS = (
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
)


def add_output(parser: argparse.ArgumentParser) -> None:
    """--json, --plain and --local, which every command takes."""
    group = parser.add_argument_group("output and knowledge")
    group.add_argument("--json", action="store_true", help="one JSON document with stable keys (docs/json.md)")
    group.add_argument("--plain", action="store_true", help="plain lines without bars or styles")
    # SUPPRESS: a --local given before the command must not be overwritten by a default
    group.add_argument("--local", metavar="DIR", default=argparse.SUPPRESS, help="folder with your own entries")


def add_setting(parser: argparse.ArgumentParser, *, turf: str) -> None:
    """The lawn in a few words: turf (required, optional or none), time, place, site, growth, age of the stand."""
    group = parser.add_argument_group("the lawn")
    if turf != "none":
        required = turf == "required"
        group.add_argument("--turf", required=required, metavar="T", help="the grass that is to win, e.g. zoysiagrass")
    group.add_argument("--month", metavar="M", help="month by number or name (the middle of it is meant)")
    group.add_argument("--date", metavar="D", help="day as YYYY-MM-DD (today if neither is given)")
    group.add_argument("--place", metavar="P", help="a place with climate, e.g. Murfreesboro")
    group.add_argument("--region", metavar="R", help=", ".join(REGIONS))
    group.add_argument("--state", metavar="XX", default="", help="US state, for rules of the state")
    group.add_argument("--site", metavar="S", help=", ".join(SITES) + " (default: home_lawn)")
    group.add_argument("--growth", metavar="G", help=", ".join(GROWTH_STATES) + " (default: from place and date)")
    group.add_argument("--cultivar", metavar="C", help="cultivar of the turf, if known")
    group.add_argument("--stand", metavar="A", help=", ".join(STAND_STAGES) + " (default: established)")
    group.add_argument("--licensed", choices=("yes", "no"), help="does the operator hold a licence?")
    group.add_argument("--high", metavar="F", type=float, help="the day's high in °F, if known")


def read_month(text: str) -> int:
    """Month number 1-12 from a number or an English name (three letters are enough). Raises UsageError."""
    word = text.strip().lower()
    if word.isdigit() and 1 <= int(word) <= 12:
        return int(word)
    found = [number for number, name in enumerate(MONTHS, 1) if len(word) >= 3 and name.startswith(word)]
    if len(found) == 1:
        return found[0]
    raise UsageError(f"{text!r} is not a month", "a number from 1 to 12 or a name such as june", "--month 6")


def read_date(text: str) -> date:
    """A day from YYYY-MM-DD. Raises UsageError for a day that does not exist."""
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        raise UsageError(f"{text!r} is not a day", "a day that exists, as YYYY-MM-DD", "2026-06-03") from None


def read_word(text: str, allowed: Sequence[str], what: str) -> str:
    """One of the allowed words, without regard to case, hyphens and spaces. Raises UsageError."""
    word = text.strip().lower().replace("-", "_").replace(" ", "_")
    if word in allowed:
        return word
    raise UsageError(f"{text!r} is not a {what}", "one of " + ", ".join(allowed))


def read_day(args: argparse.Namespace, today: date) -> date:
    """The day meant by --date or --month; the 15th for a month. Raises UsageError."""
    if args.date and args.month:
        raise UsageError("both --date and --month are given", "one of the two")
    if args.date:
        return read_date(args.date)
    if args.month:
        return date(today.year, read_month(args.month), 15)
    return today
