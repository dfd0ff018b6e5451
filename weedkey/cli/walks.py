"""``weedkey walks``: the walks that were saved: list, search, duplicate, archive, treatments, photos, zip."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path

from weedkey.cli.arguments import add_output, read_date
from weedkey.cli.exit_codes import ExitCode
from weedkey.cli.opening import open_knowledge, print_json, style_for
from weedkey.errors import UsageError
from weedkey.model.base import Knowledge
from weedkey.storage import LAWN_FILE
from weedkey.walks.listing import SavedWalk, find_walk, read_walks, search_walks

#: What is done with one walk; at most one of them.
_WITH_ONE = ("duplicate", "archive", "bring_back", "applied", "treatments", "photo", "photos")


def configure(parser: argparse.ArgumentParser) -> None:
    """Arguments of ``weedkey walks``."""
    parser.add_argument("walk", nargs="*", metavar="NAME", help="a walk by its folder or its lawn's name")
    lists = parser.add_argument_group("list")
    lists.add_argument(
        "--search", metavar="WORDS", help="lawn, place, turf, zone, weed, day or month; slips are allowed"
    )
    lists.add_argument("--archived", action="store_true", help="the archived ones")
    one = parser.add_argument_group("with one walk (without any of these its lawn file is printed)")
    one.add_argument("--duplicate", action="store_true", help="a new walk of the same lawn today, without its weeds")
    one.add_argument("--keep-weeds", action="store_true", help="with --duplicate: with the weeds entered")
    one.add_argument("--archive", action="store_true", help="out of the list; nothing is deleted")
    one.add_argument("--bring-back", action="store_true", help="into the list again")
    one.add_argument("--applied", metavar="CONTROL", help="write down what was put on, and make its record")
    one.add_argument("--treatments", action="store_true", help="what was put on this lawn, over all its walks")
    one.add_argument("--photo", metavar="FILE", help="note where a photo lies (with --zone, and --weed if of a weed)")
    one.add_argument("--photos", action="store_true", help="the photos noted, and whether they are there")
    more = parser.add_argument_group("details")
    more.add_argument("--date", metavar="D", help="day of --duplicate or --applied, YYYY-MM-DD (default: today)")
    more.add_argument("--zone", action="append", default=[], metavar="Z", help="zone of --applied or --photo")
    more.add_argument("--weed", metavar="W", help="weed of --photo")
    more.add_argument("--amount", metavar="N", type=float, help="amount of --applied, as the label counts it")
    more.add_argument("--unit", metavar="U", default="", help="unit of --amount, e.g. 'fl oz'")
    files = parser.add_argument_group("as files")
    files.add_argument("--export", metavar="ZIP", help="write the walks named, or all, as one zip of plain files")
    files.add_argument("--with-photos", action="store_true", help="with --export: copy the photos into it")
    files.add_argument("--import", dest="zip", metavar="ZIP", help="show what is in a zip of walks; --yes brings it in")
    files.add_argument("--yes", action="store_true", help="with --import: write it")
    parser.epilog = (
        "Every command that takes a lawn file takes walk:NAME too.\n"
        "examples:\n  weedkey walks --search 'zoysia nutsedge'\n  weedkey walks 'Valley rental' --duplicate\n"
        "  weedkey walks 'Valley rental' --applied sulfentrazone --zone downspout\n"
        "  weedkey walks --export all-walks.zip\n  weedkey plan walk:2026-06-03-valley-rental"
    )
    add_output(parser)


def execute(args: argparse.Namespace) -> int:
    """List or search; print or change one; write a zip or look into one."""
    asked = [name for name in _WITH_ONE if getattr(args, name)]
    _check(args, asked)
    if args.zip:
        return _import(args)
    knowledge = open_knowledge(args)
    walks = read_walks(knowledge, archived=None)
    if args.export:
        return _export(args, knowledge, [find_walk(walks, name) for name in args.walk] or walks)
    if not args.walk:
        return _list(args, knowledge, [walk for walk in walks if walk.archived is args.archived])
    walk = find_walk(walks, args.walk[0])
    if asked:
        from weedkey.cli import walk_changes

        return int(getattr(walk_changes, asked[0])(args, knowledge, walk))
    print((walk.folder / LAWN_FILE).read_text(encoding="utf-8"), end="")
    return ExitCode.OK


def _check(args: argparse.Namespace, asked: list[str]) -> None:
    """Raises UsageError for what does not go together."""
    if len(asked) > 1:
        raise UsageError("--" + " and --".join(name.replace("_", "-") for name in asked), "one of them at a time")
    if asked and len(args.walk) != 1:
        raise UsageError(
            f"--{asked[0].replace('_', '-')} needs one walk", "its name", "weedkey walks, to see the names"
        )
    if len(args.walk) > 1 and not args.export:
        raise UsageError("several walks are named", "one walk, or --export ZIP")
    if args.export and args.zip:
        raise UsageError("--export and --import", "one of them at a time")


def day_or_today(args: argparse.Namespace) -> date:
    """The day typed, else today."""
    return read_date(args.date) if args.date else date.today()  # noqa: DTZ011 - the lawn's own calendar day


def _list(args: argparse.Namespace, knowledge: Knowledge, walks: list[SavedWalk]) -> int:
    from weedkey.report.walks_text import walk_json, walk_line

    found = search_walks(knowledge, walks, args.search) if args.search else walks
    if args.json:
        print_json({"walks": [walk_json(walk) for walk in found]})
    elif found:
        style = style_for(args)
        for walk in found:
            print(style.strong(walk.name))
            print(style.wrap(walk_line(knowledge, walk), "  "))
    elif args.search and walks:
        print(f"no walk holds {args.search!r}")
    else:
        print("no walk is archived" if args.archived else "no walk is saved")
    return ExitCode.NONE if args.search and not found else ExitCode.OK


def _export(args: argparse.Namespace, knowledge: Knowledge, walks: list[SavedWalk]) -> int:
    from weedkey.walks.zipping import write_zip

    target = Path(args.export)
    left = write_zip(target, [walk.folder for walk in walks], knowledge, photos=args.with_photos)
    if args.json:
        print_json({"written": str(target), "walks": [walk.name for walk in walks], "left_out": list(left)})
        return ExitCode.OK
    print(f"written: {target} ({len(walks)} walk{'' if len(walks) == 1 else 's'})")
    for words in left:
        print(f"left out: {words}")
    return ExitCode.OK


def _import(args: argparse.Namespace) -> int:
    from weedkey.report.walks_text import preview_json, preview_lines
    from weedkey.walks.zipping import bring_in, look_into_zip

    knowledge, source = open_knowledge(args), Path(args.zip)
    preview, made = bring_in(source, knowledge) if args.yes else (look_into_zip(source, knowledge), ())
    if args.json:
        print_json({**preview_json(preview), "written": [str(folder) for folder in made]})
    else:
        print("\n".join(preview_lines(preview)))
        if made:
            print(f"written: {len(made)} walk{'' if len(made) == 1 else 's'}")
        elif preview.wanted:
            print("Nothing was written; the same with --yes brings them in.")
    is_bad = bool(preview.refused) or any(walk.problem for walk in preview.walks)
    return ExitCode.NONE if is_bad else ExitCode.OK
