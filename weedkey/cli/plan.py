"""``weedkey plan LAWN``."""

from __future__ import annotations

import argparse

from weedkey.cli.arguments import add_output, read_date
from weedkey.cli.exit_codes import ExitCode
from weedkey.cli.opening import open_knowledge, open_lawn, print_json, style_for
from weedkey.plan.planner import make_plan


def configure(parser: argparse.ArgumentParser) -> None:
    """Arguments of ``weedkey plan``."""
    parser.add_argument("lawn", metavar="LAWN", help="a lawn file, or demo:NAME")
    parser.add_argument("--start", metavar="D", help="first day of the plan (default: the day of the visit)")
    parser.add_argument("--owner", action="store_true", help="the owner's sheet only, in plain words")
    parser.epilog = "example: weedkey plan demo:tennessee_zoysiagrass"
    add_output(parser)


def execute(args: argparse.Namespace) -> int:
    """Print the operator's sheet (or the owner's); exit 1 if nothing can be done in the year ahead."""
    knowledge = open_knowledge(args)
    lawn = open_lawn(args.lawn, knowledge)
    plan = make_plan(knowledge, lawn, read_date(args.start) if args.start else None)
    if args.json:
        from weedkey.report.plan_json import plan_json

        print_json(plan_json(knowledge, plan))
    else:
        from weedkey.report.plan_text import operator_text, owner_text

        write = owner_text if args.owner else operator_text
        print(write(knowledge, plan, style_for(args)))
    return ExitCode.OK if plan.visits or not plan.findings else ExitCode.NONE
