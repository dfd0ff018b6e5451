"""``weedkey ground LAWN``."""

from __future__ import annotations

import argparse

from weedkey.cli.arguments import add_output
from weedkey.cli.exit_codes import ExitCode
from weedkey.cli.opening import open_knowledge, open_lawn, print_json, style_for
from weedkey.ground import read_ground


def configure(parser: argparse.ArgumentParser) -> None:
    """Arguments of ``weedkey ground``."""
    parser.add_argument("lawn", metavar="LAWN", help="a lawn file, or demo:NAME")
    parser.epilog = "example: weedkey ground demo:tennessee_zoysiagrass"
    add_output(parser)


def execute(args: argparse.Namespace) -> int:
    """Print the evidence for each condition in each zone, with its sources, tests and remedies."""
    knowledge = open_knowledge(args)
    report = read_ground(knowledge, open_lawn(args.lawn, knowledge))
    if args.json:
        from weedkey.report.ground_json import ground_json

        print_json(ground_json(knowledge, report))
        return ExitCode.OK
    from weedkey.report.ground_text import ground_text

    print(ground_text(knowledge, report, style_for(args)))
    return ExitCode.OK
