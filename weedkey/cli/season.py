"""``weedkey season PLACE``."""

from __future__ import annotations

import argparse
from datetime import date

from weedkey.cli.arguments import add_output
from weedkey.cli.exit_codes import ExitCode
from weedkey.cli.opening import open_knowledge, print_json, style_for
from weedkey.knowledge.names import find_entry


def configure(parser: argparse.ArgumentParser) -> None:
    """Arguments of ``weedkey season``."""
    parser.add_argument("place", metavar="PLACE", help="a place with climate, e.g. Murfreesboro")
    parser.add_argument("--turf", metavar="T", help="growth of this turf through the year")
    parser.add_argument("--weed", metavar="W", help="when this weed comes up, and when a barrier goes down")
    parser.add_argument("--year", metavar="Y", type=int, help="year (default: this one)")
    parser.epilog = "example: weedkey season Murfreesboro --turf zoysiagrass --weed goosegrass"
    add_output(parser)


def execute(args: argparse.Namespace) -> int:
    """Print the year of a place by month: temperatures, soil, frost, growth, windows."""
    knowledge = open_knowledge(args)
    place = find_entry(knowledge.places, "place", args.place)
    turf = find_entry(knowledge.turfs, "turf", args.turf) if args.turf else None
    weed = find_entry(knowledge.weeds, "weed", args.weed) if args.weed else None
    year = args.year or date.today().year  # noqa: DTZ011 - the lawn's own calendar day
    if args.json:
        from weedkey.report.season_json import season_json

        print_json(season_json(knowledge, place, turf, weed, year))
    else:
        from weedkey.report.season_text import season_text

        print(season_text(knowledge, place, turf, weed, year, style_for(args)))
    return ExitCode.OK
