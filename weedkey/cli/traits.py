"""``weedkey traits [--for GROUP]``."""

from __future__ import annotations

import argparse

from weedkey.cli.arguments import add_output, read_word
from weedkey.cli.exit_codes import ExitCode
from weedkey.cli.opening import open_knowledge, print_json, style_for
from weedkey.model.vocabulary import GROUPS


def configure(parser: argparse.ArgumentParser) -> None:
    """Arguments of ``weedkey traits``."""
    parser.add_argument("--for", dest="group", metavar="GROUP", help="only looks of: " + ", ".join(GROUPS))
    parser.epilog = "example: weedkey traits --for sedge"
    add_output(parser)


def execute(args: argparse.Namespace) -> int:
    """List the looks and their states, in the order in which practice takes them."""
    knowledge = open_knowledge(args)
    group = read_word(args.group, GROUPS, "plant group") if args.group else None
    traits = [trait for trait in knowledge.traits.values() if group is None or group in trait.groups]
    if args.json:
        from weedkey.report.entry_json import trait_json

        print_json({"traits": [trait_json(trait) for trait in traits]})
        return ExitCode.OK
    from weedkey.report.traits_text import traits_text

    print(traits_text(traits, style_for(args)))
    return ExitCode.OK
