"""``weedkey compare A B``."""

from __future__ import annotations

import argparse
from datetime import date

from weedkey.cli.arguments import add_output, read_day, read_word
from weedkey.cli.exit_codes import ExitCode
from weedkey.cli.opening import open_knowledge, print_json, style_for
from weedkey.key import Context, compare
from weedkey.knowledge.names import find_entry
from weedkey.model.vocabulary import REGIONS


def configure(parser: argparse.ArgumentParser) -> None:
    """Arguments of ``weedkey compare``."""
    parser.add_argument("weeds", nargs="+", metavar="WEED", help="two or three weeds")
    parser.add_argument("--month", metavar="M", help="what can be seen in this month")
    parser.add_argument("--date", metavar="D", help=argparse.SUPPRESS)
    parser.add_argument("--region", metavar="R", help=", ".join(REGIONS))
    parser.add_argument("--unmown", action="store_true", help="the plants stood uncut")
    parser.epilog = "example: weedkey compare goosegrass 'large crabgrass'"
    add_output(parser)


def execute(args: argparse.Namespace) -> int:
    """Print only the looks that tell them apart, cheapest first; exit 1 if nothing does."""
    knowledge = open_knowledge(args)
    ids = [find_entry(knowledge.weeds, "weed", name).id for name in args.weeds]
    month = read_day(args, date.today()).month if args.month or args.date else None  # noqa: DTZ011 - a calendar day
    region = read_word(args.region, REGIONS, "region") if args.region else None
    found = compare(knowledge, ids, Context(month, region, None, not args.unmown))
    if args.json:
        from weedkey.report.entry_json import plain_value

        print_json(plain_value(found))
    else:
        from weedkey.report.compare_text import compare_text

        print(compare_text(knowledge, found, style_for(args)))
    return ExitCode.OK if found.rows else ExitCode.NONE
