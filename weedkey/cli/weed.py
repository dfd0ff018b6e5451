"""``weedkey weed NAME``."""

from __future__ import annotations

import argparse

from weedkey.cli.arguments import add_output
from weedkey.cli.exit_codes import ExitCode
from weedkey.cli.opening import open_knowledge, print_json, style_for
from weedkey.knowledge.names import find_entry


def configure(parser: argparse.ArgumentParser) -> None:
    """Arguments of ``weedkey weed``."""
    parser.add_argument("weed", metavar="NAME", help="common, scientific or former name, in any case")
    parser.add_argument("--codes", action="store_true", help="also show plant codes that are from memory")
    parser.epilog = "example: weedkey weed goosegrass"
    add_output(parser)


def execute(args: argparse.Namespace) -> int:
    """Print one entry with its sources."""
    knowledge = open_knowledge(args)
    weed = find_entry(knowledge.weeds, "weed", args.weed)
    if args.json:
        from weedkey.report.entry_json import weed_json

        print_json(weed_json(knowledge, weed, codes=args.codes))
        return ExitCode.OK
    from weedkey.report.weed_text import weed_text

    print(weed_text(knowledge, weed, style_for(args), codes=args.codes))
    return ExitCode.OK
