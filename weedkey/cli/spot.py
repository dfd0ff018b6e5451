"""``weedkey spot``: will the turf close it?"""

from __future__ import annotations

import argparse
from datetime import date

from weedkey.cli.arguments import add_output, read_day
from weedkey.cli.exit_codes import ExitCode
from weedkey.cli.opening import open_knowledge, print_json, style_for
from weedkey.errors import UsageError
from weedkey.knowledge.names import find_entry
from weedkey.season.recovery import advise_repair, close_spot


def configure(parser: argparse.ArgumentParser) -> None:
    """Arguments of ``weedkey spot``."""
    parser.add_argument("diameter", metavar="INCHES", type=float, help="diameter of one bare spot in inches")
    parser.add_argument("--turf", required=True, metavar="T", help="the grass that is to close it")
    parser.add_argument("--place", required=True, metavar="P", help="a place with climate")
    parser.add_argument("--month", metavar="M", help="month in which the spot is bare (its middle is meant)")
    parser.add_argument("--date", metavar="D", help="day on which it is bare (today if neither is given)")
    parser.add_argument("--cultivar", metavar="C", help="cultivar of the turf")
    parser.epilog = "example: weedkey spot 9 --turf zoysiagrass --place Murfreesboro --month 6"
    add_output(parser)


def execute(args: argparse.Namespace) -> int:
    """Print days to closure as a range, the last day on which it still closes, and what to do instead."""
    if not 0 < args.diameter <= 600:
        raise UsageError(f"a spot of {args.diameter:g} inches", "a diameter above 0 and up to 600 inches")
    knowledge = open_knowledge(args)
    turf = find_entry(knowledge.turfs, "turf", args.turf)
    place = find_entry(knowledge.places, "place", args.place)
    day = read_day(args, date.today())  # noqa: DTZ011 - the lawn's own calendar day
    closure = close_spot(turf, place, day, args.diameter, args.cultivar)
    repair = advise_repair(turf, place, day, args.diameter, args.cultivar)
    if args.json:
        from weedkey.report.season_json import closure_json

        print_json(closure_json(knowledge, closure, repair))
    else:
        from weedkey.report.season_text import closure_text

        print(closure_text(knowledge, closure, repair, style_for(args)))
    return ExitCode.NONE if closure.closes == "not_known" else ExitCode.OK
