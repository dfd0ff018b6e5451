"""``weedkey plan LAWN``."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path
from typing import Any

from weedkey.cli.arguments import add_output, read_date
from weedkey.cli.exit_codes import ExitCode
from weedkey.cli.opening import open_knowledge, open_lawn, print_json, style_for
from weedkey.errors import UsageError
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Lawn
from weedkey.plan.planner import make_plan
from weedkey.plan.results import Plan
from weedkey.season.own_record import OwnTemperatures, parse_daily_temperatures

MOST_MONTHS = 24


def configure(parser: argparse.ArgumentParser) -> None:
    """Arguments of ``weedkey plan``."""
    parser.add_argument("lawn", metavar="LAWN", nargs="?", help="a lawn file, or demo:NAME")
    parser.add_argument("--start", metavar="D", help="first day of the plan (default: the day of the visit)")
    sheets = parser.add_argument_group("sheets (the operator's if none is named)")
    sheets.add_argument("--owner", action="store_true", help="the owner's sheet, in plain words")
    sheets.add_argument("--record", action="store_true", help="records of the applications, to fill in")
    sheets.add_argument("--amounts", action="store_true", help="product by visit and tank, from the typed label rates")
    sheets.add_argument("--outlook", action="store_true", help="turf, weeds and bare ground by month")
    sheets.add_argument(
        "--compare", metavar="D", nargs="*", help="the same lawn started on these days (none: 12 months)"
    )
    more = parser.add_argument_group("more")
    more.add_argument("--state", metavar="XX", help="whose record rules (default: the lawn's state)")
    more.add_argument("--carrier", metavar="GAL", help="spray your sprayer puts on 1000 sq ft, in gallons")
    more.add_argument("--tank", metavar="GAL", help="what its tank holds, in gallons")
    more.add_argument("--months", metavar="N", type=int, default=13, help="months of the outlook (default 13)")
    more.add_argument("--daily", metavar="CSV", help="your own daily temperatures (date,min,max) above the normals")
    more.add_argument("--html", metavar="FILE", help="also write one page with charts, to mail or print")
    more.add_argument("--ics", metavar="FILE", help="also write the visits as a calendar")
    many = parser.add_argument_group("many lawns")
    many.add_argument("--batch", metavar="FILE", help="one lawn a line (JSON); one JSON result a line")
    many.add_argument("--jobs", metavar="N", type=int, default=1, help="processes (default 1)")
    many.add_argument("--out", metavar="FILE", help="append the results here, and go on where a run broke off")
    parser.epilog = (
        "examples:\n  weedkey plan demo:tennessee_zoysiagrass\n"
        "  weedkey plan lawn.yaml --owner --html plan.html --ics plan.ics\n"
        "  weedkey plan lawn.yaml --compare 2026-06-03 2026-09-01"
    )
    add_output(parser)


def execute(args: argparse.Namespace) -> int:
    """Print the sheet that is asked for; exit 1 if nothing can be done in the year ahead."""
    if args.batch:
        from weedkey.cli.batch import run_batch

        return run_batch(args)
    if args.lawn is None:
        raise UsageError("no lawn is named", "a lawn file or demo:NAME", "weedkey plan demo:tennessee_zoysiagrass")
    if not 1 <= args.months <= MOST_MONTHS:
        raise UsageError(f"--months {args.months}", f"1 to {MOST_MONTHS}")
    knowledge = open_knowledge(args)
    lawn = open_lawn(args.lawn, knowledge)
    start = read_date(args.start) if args.start else None
    plan = make_plan(knowledge, lawn, start, own=_own_temperatures(args))
    _write_files(args, knowledge, lawn, plan)
    if args.json:
        print_json(_json(args, knowledge, lawn, plan))
    else:
        print("\n\n".join(_sheets(args, knowledge, lawn, plan)))
    return ExitCode.OK if plan.visits or not plan.findings else ExitCode.NONE


def _own_temperatures(args: argparse.Namespace) -> OwnTemperatures | None:
    if not args.daily:
        return None
    path = Path(args.daily)
    if not path.is_file():
        raise UsageError(f"{args.daily}: no such file", "rows of date,min,max; °C if the heading says so")
    return parse_daily_temperatures(path.read_text(encoding="utf-8"), where=args.daily)


def _sheets(args: argparse.Namespace, knowledge: Knowledge, lawn: Lawn, plan: Plan) -> list[str]:
    from weedkey.report.plan_text import operator_text, owner_text

    style = style_for(args)
    sheets = []
    if args.owner:
        sheets.append(owner_text(knowledge, plan, style))
    if args.record:
        from weedkey.plan.record import plan_records
        from weedkey.report.record_text import record_text

        sheets.append(record_text(knowledge, plan_records(knowledge, plan, args.state or ""), style))
    if args.amounts:
        from weedkey.plan.amounts import amounts_of, total_year
        from weedkey.report.amounts_text import amounts_text

        amounts = amounts_of(plan, args.carrier, args.tank)
        sheets.append(amounts_text(knowledge, plan, amounts, total_year(plan), style))
    if args.outlook:
        from weedkey.report.outlook_text import outlook_text

        found = _outlooks(args, knowledge, lawn, plan)
        sheets.append(outlook_text(knowledge, found, style) if found else "No outlook: name a place with climate.")
    if args.compare is not None:
        from weedkey.plan.starts import compare_starts
        from weedkey.report.outlook_text import starts_text

        sheets.append(starts_text(knowledge, compare_starts(knowledge, lawn, _days(args)), style))
    return sheets or [operator_text(knowledge, plan, style)]


def _json(args: argparse.Namespace, knowledge: Knowledge, lawn: Lawn, plan: Plan) -> dict[str, Any]:
    """The plan; with --amounts, --record, --outlook and --compare their keys beside it."""
    from weedkey.report.plan_json import plan_json

    value = plan_json(knowledge, plan)
    if args.amounts:
        from weedkey.plan.amounts import amounts_of, total_year
        from weedkey.report.amounts_text import amounts_json

        value |= amounts_json(amounts_of(plan, args.carrier, args.tank), total_year(plan))
    if args.record:
        from weedkey.plan.record import plan_records
        from weedkey.report.record_text import record_json

        value["records"] = record_json(knowledge, plan_records(knowledge, plan, args.state or ""))
    if args.outlook:
        from weedkey.report.outlook_text import outlook_json

        value["outlook"] = [outlook_json(knowledge, found) for found in _outlooks(args, knowledge, lawn, plan)]
    if args.compare is not None:
        from weedkey.plan.starts import compare_starts
        from weedkey.report.outlook_text import starts_json

        value["starts"] = starts_json(knowledge, compare_starts(knowledge, lawn, _days(args)))
    return value


def _outlooks(args: argparse.Namespace, knowledge: Knowledge, lawn: Lawn, plan: Plan) -> list[Any]:
    """Nothing done, this plan, and a start three months later."""
    from weedkey.plan.outlook import foresee
    from weedkey.plan.starts import next_months

    later = next_months(plan.start, 4)[3]
    wait = make_plan(knowledge, lawn, later)
    found = (
        foresee(knowledge, lawn, None, "nothing", args.months),
        foresee(knowledge, lawn, plan, "plan", args.months),
        foresee(knowledge, lawn, wait, "wait", args.months),
    )
    return [outlook for outlook in found if outlook is not None]


def _days(args: argparse.Namespace) -> tuple[date, ...]:
    return tuple(read_date(text) for text in args.compare)


def _write_files(args: argparse.Namespace, knowledge: Knowledge, lawn: Lawn, plan: Plan) -> None:
    if args.html:
        from weedkey.plan.starts import compare_starts
        from weedkey.report.html import plan_html
        from weedkey.storage import write_atomic

        starts = compare_starts(knowledge, lawn, _days(args)) if args.compare is not None else ()
        write_atomic(Path(args.html), plan_html(knowledge, plan, _outlooks(args, knowledge, lawn, plan), starts))
    if args.ics:
        from datetime import UTC, datetime

        from weedkey.report.ics import plan_ics
        from weedkey.storage import write_atomic

        write_atomic(Path(args.ics), plan_ics(knowledge, plan, datetime.now(UTC)).decode("utf-8"))
