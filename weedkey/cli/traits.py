"""``weedkey traits [--for GROUP | --draw TRAIT]``."""

from __future__ import annotations

import argparse

from weedkey.cli.arguments import add_output, read_word
from weedkey.cli.exit_codes import ExitCode
from weedkey.cli.opening import open_knowledge, print_json, style_for
from weedkey.errors import UsageError
from weedkey.model.base import Knowledge
from weedkey.model.vocabulary import GROUPS


def configure(parser: argparse.ArgumentParser) -> None:
    """Arguments of ``weedkey traits``."""
    parser.add_argument("--for", dest="group", metavar="GROUP", help="only looks of: " + ", ".join(GROUPS))
    parser.add_argument("--draw", metavar="TRAIT", help="the states of one look, each with its drawing")
    parser.add_argument("--size", choices=("small", "large"), help="16x6 or 32x12 characters (default: small)")
    parser.add_argument("--braille", action="store_true", help="finer drawings, where the font has braille dots")
    parser.epilog = "examples:\n  weedkey traits --for sedge\n  weedkey traits --draw ligule --size large"
    add_output(parser)


def execute(args: argparse.Namespace) -> int:
    """List the looks and their states, in the order in which practice takes them."""
    knowledge = open_knowledge(args)
    if args.draw:
        return _draw(args, knowledge)
    group = read_word(args.group, GROUPS, "plant group") if args.group else None
    traits = [trait for trait in knowledge.traits.values() if group is None or group in trait.groups]
    if args.json:
        from weedkey.report.entry_json import trait_json

        print_json({"traits": [trait_json(trait) for trait in traits]})
        return ExitCode.OK
    from weedkey.report.traits_text import traits_text

    print(traits_text(traits, style_for(args)))
    return ExitCode.OK


def _draw(args: argparse.Namespace, knowledge: Knowledge) -> int:
    """The drawings of one look beside its words; with --plain what each shows, in words."""
    from weedkey.knowledge.drawings import drawings_of
    from weedkey.report.traits_text import drawn_trait_json, drawn_trait_text

    trait = knowledge.traits[read_word(args.draw, tuple(knowledge.traits), "look")]
    drawings = drawings_of(trait.id)
    if drawings is None:
        raise UsageError(f"{trait.id} has no drawings", "a look of shapes, such as ligule or leaf_shape")
    if args.json:
        print_json(drawn_trait_json(trait, drawings))
    elif args.plain:
        print(drawn_trait_text(trait, drawings, style_for(args), size=None))
    else:
        size = args.size or ("large" if args.config.text("drawing_size") == "large" else "small")
        braille = args.braille or args.config.text("drawings") == "braille"
        print(drawn_trait_text(trait, drawings, style_for(args), size=size, braille=braille))
    return ExitCode.OK
