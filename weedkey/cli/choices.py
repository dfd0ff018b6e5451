"""``weedkey choices WEED --turf T``."""

from __future__ import annotations

import argparse

from weedkey.cli.arguments import add_output, add_setting
from weedkey.cli.exit_codes import ExitCode
from weedkey.cli.opening import open_knowledge, print_json, style_for
from weedkey.cli.setting import settings_from_words
from weedkey.control import judge_weed
from weedkey.errors import UsageError
from weedkey.knowledge.names import find_entry
from weedkey.model.base import Knowledge


def configure(parser: argparse.ArgumentParser) -> None:
    """Arguments of ``weedkey choices``."""
    parser.add_argument(
        "weeds",
        nargs="+",
        metavar="WEED",
        help="a weed; several, with =share, for a plant that is not settled",
    )
    parser.add_argument("--cover", metavar="PERCENT", type=float, help="how much of the lawn it covers")
    parser.add_argument("--stage", metavar="S", help="seedling, young, mature, flowering, dormant")
    parser.add_argument("--gates", action="store_true", help="show every gate, not only those that shut or ask")
    add_setting(parser, turf="required")
    parser.epilog = (
        "examples:\n  weedkey choices dallisgrass --turf bermudagrass --month 9 --place Atlanta\n"
        "  weedkey choices yellow_nutsedge=0.6 green_kyllinga=0.4 --turf zoysiagrass --month june"
    )
    add_output(parser)


def execute(args: argparse.Namespace) -> int:
    """Print the verdict and every choice with its gates; exit 1 if nothing at all can be offered."""
    from dataclasses import replace

    knowledge = open_knowledge(args)
    weeds = read_weeds(args.weeds, knowledge)
    if args.cover is not None and not 0 <= args.cover <= 100:
        raise UsageError(f"a cover of {args.cover:g} % does not exist", "0 to 100 percent")
    setting, ahead = settings_from_words(args, knowledge)
    if args.stage:
        setting = replace(setting, weed_stage=args.stage)
    verdict = judge_weed(knowledge, weeds, setting, ahead, args.cover)
    if args.json:
        from weedkey.report.choices_json import choices_json

        print_json(choices_json(knowledge, weeds, verdict))
    else:
        from weedkey.report.choices_text import choices_text

        print(choices_text(knowledge, weeds, verdict, style_for(args), gates=args.gates))
    some = any(choice.offered or choice.spot for choice in verdict.choices)
    return ExitCode.OK if some else ExitCode.NONE


def read_weeds(words: list[str], knowledge: Knowledge) -> str | dict[str, float]:
    """One weed id, or the shares of a set that is not settled (equal where none is typed), summing to 1."""
    shares: dict[str, float] = {}
    for word in words:
        name, equals, share = word.partition("=")
        weed = find_entry(knowledge.weeds, "weed", name).id
        shares[weed] = _share(share) if equals else 1.0
    if len(shares) == 1:
        return next(iter(shares))
    total = sum(shares.values())
    return {weed: share / total for weed, share in shares.items()}


def _share(text: str) -> float:
    try:
        share = float(text)
    except ValueError:
        share = -1.0
    if not 0 < share <= 1:
        raise UsageError(f"{text!r} is not a share", "a number above 0 and up to 1", "yellow_nutsedge=0.6")
    return share
