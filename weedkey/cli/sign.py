"""``weedkey sign CONDITION``."""

from __future__ import annotations

import argparse

from weedkey.cli.arguments import add_output
from weedkey.cli.exit_codes import ExitCode
from weedkey.cli.opening import open_knowledge, print_json, style_for
from weedkey.ground import list_signs
from weedkey.knowledge.names import find_entry


def configure(parser: argparse.ArgumentParser) -> None:
    """Arguments of ``weedkey sign``."""
    parser.add_argument("condition", nargs="?", metavar="CONDITION", help="e.g. compacted; without it, all are listed")
    parser.epilog = "example: weedkey sign compacted"
    add_output(parser)


def execute(args: argparse.Namespace) -> int:
    """Print the weeds that point to a condition, strongest evidence first, and folklore without support."""
    knowledge = open_knowledge(args)
    if args.condition is None:
        rows = [{"condition": c.id, "name": c.name, "words": c.words} for c in knowledge.conditions.values()]
        if args.json:
            print_json({"conditions": rows})
        else:
            print("\n".join(f"{row['condition']}: {row['name']}" for row in rows))
        return ExitCode.OK
    condition = find_entry(knowledge.conditions, "condition", args.condition)
    signs = list_signs(knowledge, condition.id)
    if args.json:
        from weedkey.report.sign_text import sign_json

        print_json(sign_json(knowledge, condition, signs))
    else:
        from weedkey.report.sign_text import sign_text

        print(sign_text(knowledge, condition, signs, style_for(args)))
    return ExitCode.OK if signs else ExitCode.NONE
