"""``weedkey turf T``."""

from __future__ import annotations

import argparse

from weedkey.cli.arguments import add_output, add_setting
from weedkey.cli.exit_codes import ExitCode
from weedkey.cli.opening import open_knowledge, print_json, style_for
from weedkey.cli.setting import settings_from_words
from weedkey.control import turf_table


def configure(parser: argparse.ArgumentParser) -> None:
    """Arguments of ``weedkey turf``."""
    parser.add_argument("turf", metavar="T", help="the grass that is to win, e.g. centipedegrass")
    add_setting(parser, turf="none")
    parser.epilog = "example: weedkey turf centipedegrass --month 5 --site home_lawn"
    add_output(parser)


def execute(args: argparse.Namespace) -> int:
    """Print every control on this turf: safe, with care, injures, not labelled, not known."""
    knowledge = open_knowledge(args)
    setting, _ = settings_from_words(args, knowledge, ahead=False)
    rows = turf_table(knowledge, setting)
    if args.json:
        from weedkey.report.choices_json import turf_json

        print_json(turf_json(knowledge, setting.turf, rows))
        return ExitCode.OK
    from weedkey.report.turf_text import turf_text

    print(turf_text(knowledge, setting, rows, style_for(args)))
    return ExitCode.OK
