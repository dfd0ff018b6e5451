"""``weedkey name``: what is this, as far as it matters here?"""

from __future__ import annotations

import argparse
from collections.abc import Mapping
from datetime import date

from weedkey.cli.arguments import add_output, add_setting, read_day
from weedkey.cli.exit_codes import ExitCode
from weedkey.cli.looks import read_looks
from weedkey.cli.opening import open_knowledge, open_lawn, print_json, style_for
from weedkey.cli.setting import lawn_from_words, region_from_words
from weedkey.kept_regions import regions_of_lawn
from weedkey.key import Context, build_table, judge
from weedkey.key.decide import Standing
from weedkey.key.table import Table
from weedkey.knowledge.names import find_entry
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Look
from weedkey.model.region import Region


def configure(parser: argparse.ArgumentParser) -> None:
    """Arguments of ``weedkey name``."""
    looks = parser.add_argument_group("what was seen")
    looks.add_argument("--look", action="append", default=[], metavar="TRAIT=STATE[,STATE]", help="one of these states")
    looks.add_argument("--both", action="append", default=[], metavar="TRAIT=A,B", help="all of these are on the patch")
    looks.add_argument("--unsure", action="append", default=[], metavar="TRAIT=STATE", help="seen, but not for sure")
    looks.add_argument("--words", metavar="TEXT", help='plain words, e.g. "three sided stem, yellow green"')
    looks.add_argument("--ask", action="store_true", help="ask one look after another, on this line")
    looks.add_argument("--flat", action="store_true", help="no prior from month, region and turf")
    looks.add_argument("--unmown", action="store_true", help="the plant stood uncut: heads and flowers may be seen")
    looks.add_argument("--to-the-name", action="store_true", help="go on to the name after the treatment is settled")
    looks.add_argument("--why", metavar="WEED", help="the looks for and against one weed")
    looks.add_argument("--reasons", action="store_true", help="why this look, rivals, what would have changed it")
    parser.add_argument("--lawn", metavar="FILE", help="take turf, date, place and site from a lawn file")
    add_setting(parser, turf="optional")
    parser.epilog = (
        "examples:\n  weedkey name --turf zoysiagrass --month 6 --look plant_group=sedge --look tubers=single\n"
        "  weedkey name --turf zoysiagrass --month june --words 'three sided stem, shiny yellow green, wet corner'"
    )
    add_output(parser)


def execute(args: argparse.Namespace) -> int:
    """Print who it may be, whether the treatment is settled, and the next look."""
    knowledge = open_knowledge(args)
    context, regions = read_context(args, knowledge)
    table = build_table(knowledge, context)
    looks = read_looks(knowledge, args.look, args.both, args.unsure)
    if args.words:
        looks += _confirmed(knowledge, args)
    goal = "name" if args.to_the_name or not regions else "decision"
    standing = judge(table, looks, regions or None, goal=goal)
    if args.ask:
        from weedkey.cli.asking import ask_looks

        standing = ask_looks(knowledge, table, standing, regions, goal)
    _print(args, knowledge, table, standing, regions)
    return ExitCode.OK if standing.fit else ExitCode.NONE


def read_context(args: argparse.Namespace, knowledge: Knowledge) -> tuple[Context, Mapping[str, Region]]:
    """The context of the key, and the decision regions if a turf is known."""
    mown = not args.unmown
    if args.lawn:
        lawn, region = open_lawn(args.lawn, knowledge), None
    elif args.turf:
        lawn, region = lawn_from_words(args, knowledge), region_from_words(args)
    else:
        day = read_day(args, date.today())  # noqa: DTZ011 - the lawn's own calendar day
        place = find_entry(knowledge.places, "place", args.place) if args.place else None
        region = region_from_words(args)
        month = day.month if args.month or args.date or place else None
        return Context(month, region or (place.region if place else None), None, mown, args.flat), {}
    if lawn.place is not None:
        region = knowledge.places[lawn.place].region
    return Context(lawn.on.month, region, lawn.turf, mown, args.flat), regions_of_lawn(knowledge, lawn, region=region)


def _confirmed(knowledge: Knowledge, args: argparse.Namespace) -> tuple[Look, ...]:
    """Looks proposed from plain words; they are shown, and taken only with --ask's yes or on a later
    --look.
    """
    from weedkey.cli.asking import confirm_words

    return confirm_words(knowledge, args.words, interactive=args.ask)


def _print(
    args: argparse.Namespace,
    knowledge: Knowledge,
    table: Table,
    standing: Standing,
    regions: Mapping[str, Region],
) -> None:
    if args.json:
        from weedkey.report.name_json import name_json

        print_json(name_json(knowledge, standing))
        return
    from weedkey.report.name_text import name_text, why_text

    style = style_for(args)
    print(name_text(knowledge, standing, style, has_turf=bool(regions)))
    if args.why:
        weed = find_entry(knowledge.weeds, "weed", args.why)
        print("\n" + why_text(knowledge, table, standing, weed.id, style))
    if args.reasons:
        from weedkey.key import explain_weed
        from weedkey.report.name_text import reasons_text

        steps = [explain_weed(table, standing.looks, weed, knowledge) for weed, _ in standing.candidates[:2]]
        look = standing.next_look
        print("\n" + reasons_text(knowledge, table, standing, regions or None, steps, look, style))
