"""``weedkey lime``."""

from __future__ import annotations

import argparse

from weedkey.cli.arguments import add_output, read_word
from weedkey.cli.exit_codes import ExitCode
from weedkey.cli.opening import open_knowledge, print_json, style_for
from weedkey.errors import UsageError
from weedkey.ground.lime_advice import advise_lime
from weedkey.ground.lime_tables import CAPS, METHODS
from weedkey.knowledge.names import find_entry
from weedkey.model.lawn import Measured

LOWEST_PH, HIGHEST_PH = 3.0, 10.0


def configure(parser: argparse.ArgumentParser) -> None:
    """Arguments of ``weedkey lime``."""
    parser.add_argument("--turf", required=True, metavar="T", help="the grass")
    parser.add_argument("--ph", required=True, type=float, metavar="PH", help="soil pH in water")
    parser.add_argument("--from-probe", action="store_true", help="the pH is from a probe meter, not a laboratory")
    parser.add_argument("--method", metavar="M", help="the laboratory's method: " + ", ".join(METHODS))
    parser.add_argument("--buffer-ph", type=float, metavar="PH", help="buffer pH of that method")
    parser.add_argument("--acidity", type=float, metavar="MEQ", help="exchangeable acidity in meq/100 g")
    parser.add_argument("--recommended", type=float, metavar="LB", help="the laboratory's own lb per 1000 sq ft")
    parser.add_argument("--cce", type=float, metavar="PERCENT", help="calcium carbonate equivalent of the lime")
    parser.add_argument("--area", type=float, default=1000.0, metavar="SQFT", help="square feet (default 1000)")
    parser.add_argument("--bag", type=float, metavar="LB", help="pounds in a bag")
    parser.add_argument("--cap", metavar="RULE", help="who caps one application: " + ", ".join(CAPS))
    parser.epilog = (
        "example: weedkey lime --turf 'tall fescue' --ph 5.4 --method mehlich_pa_turf --acidity 5.2 --area 8000"
    )
    add_output(parser)


def execute(args: argparse.Namespace) -> int:
    """Print what to do about acidity: nothing, a test first, or so much in so many parts."""
    if not LOWEST_PH <= args.ph <= HIGHEST_PH:
        raise UsageError(f"a soil pH of {args.ph:g}", f"{LOWEST_PH:g} to {HIGHEST_PH:g}")
    if args.area <= 0:
        raise UsageError(f"an area of {args.area:g} sq ft", "an area above 0")
    knowledge = open_knowledge(args)
    turf = find_entry(knowledge.turfs, "turf", args.turf)
    cap = read_word(args.cap, tuple(CAPS), "rule") if args.cap else None
    measured = read_measured(args)
    advice = advise_lime(turf, measured, args.area, cap) if cap else advise_lime(turf, measured, args.area)
    if args.json:
        from weedkey.report.ground_json import lime_json
        from weedkey.report.namer import Namer

        print_json(lime_json(advice, Namer(knowledge)))
    else:
        from weedkey.report.ground_text import lime_text

        print(lime_text(knowledge, advice, style_for(args)))
    return ExitCode.OK


def read_measured(args: argparse.Namespace) -> dict[str, Measured]:
    """The figures typed, as measurements. Raises UsageError for a method that does not exist."""
    method = read_word(args.method, tuple(METHODS), "laboratory method") if args.method else ""
    typed = {
        "soil_ph": Measured("soil_ph", args.ph, "probe" if args.from_probe else "laboratory"),
        "buffer_ph": Measured("buffer_ph", args.buffer_ph, method),
        "exchangeable_acidity": Measured("exchangeable_acidity", args.acidity, method),
        "lime_recommendation_lb_per_1000": Measured("lime_recommendation_lb_per_1000", args.recommended),
        "cce_percent": Measured("cce_percent", args.cce),
        "lime_bag_lb": Measured("lime_bag_lb", args.bag),
    }
    return {what: row for what, row in typed.items() if row.value is not None}
