"""What ``weedkey walks NAME`` does with one walk. Each function is named as its option."""

from __future__ import annotations

import argparse
from pathlib import Path

from weedkey.cli.exit_codes import ExitCode
from weedkey.cli.opening import print_json, style_for
from weedkey.cli.walks import day_or_today
from weedkey.errors import UsageError, WalkError
from weedkey.knowledge.names import find_entry
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Lawn, PastApplication
from weedkey.visit import Visit, resume_visit
from weedkey.walks.listing import SavedWalk


def duplicate(args: argparse.Namespace, knowledge: Knowledge, walk: SavedWalk) -> int:
    """A new walk of the same lawn."""
    from weedkey.walks.changing import duplicate_walk

    visit = duplicate_walk(walk.folder, knowledge, day_or_today(args), keep_weeds=args.keep_weeds)
    return _said(args, {"made": visit.folder.name, "path": str(visit.folder)}, f"made: {visit.folder.name}")


def archive(args: argparse.Namespace, knowledge: Knowledge, walk: SavedWalk) -> int:  # noqa: ARG001 - one form for all
    """Out of the list."""
    from weedkey.walks.changing import archive_walk

    archive_walk(walk.folder, day_or_today(args))
    back = f"weedkey walks {walk.name} --bring-back"
    return _said(args, {"archived": walk.name}, f"archived: {walk.name} (back with {back})")


def bring_back(args: argparse.Namespace, knowledge: Knowledge, walk: SavedWalk) -> int:  # noqa: ARG001 - as above
    """Into the list again."""
    from weedkey.walks import changing

    changing.bring_back(walk.folder)
    return _said(args, {"brought_back": walk.name}, f"in the list again: {walk.name}")


def applied(args: argparse.Namespace, knowledge: Knowledge, walk: SavedWalk) -> int:
    """Write down what was put on."""
    from weedkey.report.application_text import application_record
    from weedkey.walks.history import note_application

    if args.amount is not None and (args.amount <= 0 or not args.unit):
        raise UsageError(f"--amount {args.amount:g}", "a number above 0 with its --unit", "--amount 0.5 --unit 'fl oz'")
    control = find_entry(knowledge.controls, "control", args.applied)
    visit = resume_visit(walk.folder, knowledge)
    zones = tuple(_zone_name(visit.lawn, name) for name in args.zone)
    row = PastApplication(day_or_today(args), control.id, zones, args.amount, args.unit)
    path = note_application(visit, row, application_record(knowledge, visit.lawn, row))
    return _said(
        args, {"control": control.id, "date": row.on.isoformat(), "record": str(path)}, f"written down; record: {path}"
    )


def treatments(args: argparse.Namespace, knowledge: Knowledge, walk: SavedWalk) -> int:
    """What was put on this lawn, over all its walks."""
    from weedkey.report.application_text import applications_json, applications_text
    from weedkey.walks.history import with_history

    lawn = with_history(knowledge, _lawn(walk))
    if args.json:
        print_json({"lawn": lawn.name, "applications": applications_json(lawn.history)})
    else:
        print(applications_text(knowledge, lawn, style_for(args)))
    return ExitCode.OK if lawn.history else ExitCode.NONE


def photo(args: argparse.Namespace, knowledge: Knowledge, walk: SavedWalk) -> int:
    """Note where a photo lies."""
    from weedkey.walks.photos import add_photo

    visit = resume_visit(walk.folder, knowledge)
    if len(args.zone) > 1:
        raise UsageError("--photo belongs to one zone", "one --zone")
    zone = _zone_name(visit.lawn, args.zone[0]) if args.zone else visit.lawn.zones[0].name
    place = _place(knowledge, visit, zone, args.weed) if args.weed else None
    added = add_photo(visit, zone, place, args.photo)
    return _said(args, {"photo": added.text, "zone": zone}, f"noted: {Path(added.text).name}, {zone}")


def photos(args: argparse.Namespace, knowledge: Knowledge, walk: SavedWalk) -> int:
    """The photos noted, and whether they are there."""
    from weedkey.report.namer import Namer
    from weedkey.report.visit_text import finding_words
    from weedkey.walks.photos import photos_of

    lawn, namer = _lawn(walk), Namer(knowledge)
    rows = []
    for one in photos_of(lawn, walk.folder):
        zone = next(zone for zone in lawn.zones if zone.name == one.zone)
        weed = None if one.place is None else finding_words(zone.findings[one.place], namer)
        rows.append({"photo": one.text, "zone": one.zone, "weed": weed, "there": one.is_there})
    if args.json:
        print_json({"photos": rows})
        return ExitCode.OK
    for row in rows:
        of = f"{row['zone']}: {row['weed']}" if row["weed"] else f"{row['zone']}"
        print(f"{'ok' if row['there'] else 'x  not there:'} {row['photo']} ({of})")
    if not rows:
        print("no photo is noted")
    return ExitCode.OK if all(row["there"] for row in rows) else ExitCode.NONE


def _said(args: argparse.Namespace, value: dict[str, object], words: str) -> int:
    if args.json:
        print_json(value)
    else:
        print(words)
    return ExitCode.OK


def _lawn(walk: SavedWalk) -> Lawn:
    if walk.lawn is None:
        raise WalkError(f"{walk.name}: {walk.problem}")
    return walk.lawn


def _zone_name(lawn: Lawn, typed: str) -> str:
    names = [zone.name for zone in lawn.zones]
    found = [name for name in names if name.lower() == typed.strip().lower()]
    if not found:
        raise UsageError(f"there is no zone {typed!r}", "one of " + ", ".join(names))
    return found[0]


def _place(knowledge: Knowledge, visit: Visit, zone: str, typed: str) -> int:
    weed = find_entry(knowledge.weeds, "weed", typed).id
    rows = visit.zone(zone).findings
    found = [place for place, row in enumerate(rows) if weed in row.weeds]
    if not found:
        raise UsageError(f"{knowledge.weeds[weed].name} is not entered in {zone}", "a weed of that zone")
    return found[0]
