"""``weedkey entries``: one's own entries: list, compare, undo, remove, export, import."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from weedkey.cli.arguments import add_output
from weedkey.cli.exit_codes import ExitCode
from weedkey.cli.opening import print_json, style_for
from weedkey.errors import KnowledgeError, UsageError

if TYPE_CHECKING:
    from weedkey.knowledge.own_entries import OwnEntry
    from weedkey.model.base import Knowledge

_USAGE = {
    "list": "weedkey entries",
    "diff": "weedkey entries diff goosegrass",
    "undo": "weedkey entries undo weed goosegrass",
    "redo": "weedkey entries redo weed goosegrass",
    "remove": "weedkey entries remove goosegrass",
    "export": "weedkey entries export my-entries.yaml",
    "import": "weedkey entries import my-entries.yaml",
}


def configure(parser: argparse.ArgumentParser) -> None:
    """Arguments of ``weedkey entries``."""
    parser.add_argument("what", nargs="?", choices=tuple(_USAGE), default="list", help="what to do (default: list)")
    parser.add_argument(
        "words",
        nargs="*",
        metavar="WORD",
        help="diff NAME; undo or redo [KIND NAME]; remove NAME; export FILE [NAME …]; import FILE",
    )
    parser.add_argument("--text", action="store_true", help="diff as a unified text")
    parser.add_argument("--yes", action="store_true", help="import what the preview shows")
    parser.add_argument("--replace", action="store_true", help="export over a file that is there")
    parser.epilog = (
        "Every write is kept and can be taken back: undo without a name takes back the last one as a whole.\n"
        "import shows what would be new, what would change and what has problems; --yes writes it, all or nothing.\n"
        "examples:\n  " + "\n  ".join(_USAGE.values()) + "\n"
        "exit codes: 0 ok, 1 nothing found or problems, 2 usage"
    )
    add_output(parser)


def execute(args: argparse.Namespace) -> int:
    """Do what is asked in the folder of own entries."""
    from weedkey.knowledge import load
    from weedkey.knowledge.history import recover

    folder = own_folder(args)
    try:
        recover(folder)
        return _ACTIONS[args.what](args, folder, load(folder))
    except KnowledgeError as error:
        return _refuse(args, error)
    except OSError as error:
        wrong = f"cannot read or write {error.filename or folder}: {error.strerror}"
        raise UsageError(wrong, "a folder that you may write to") from error


def own_folder(args: argparse.Namespace) -> Path:
    """The folder of the user's own entries: --local, else the user's; it need not exist."""
    given = getattr(args, "local", None)
    if given:
        return Path(given)
    from weedkey.storage import local_entries_folder

    return local_entries_folder()


def _refuse(args: argparse.Namespace, error: KnowledgeError) -> int:
    from weedkey.report.entries_json import issue_json

    if args.json:
        print_json({"written": None, "issues": [issue_json(issue) for issue in error.issues]})
    for issue in error.issues:
        print(f"error: {issue}", file=sys.stderr)
    print("Nothing was written.", file=sys.stderr)
    return ExitCode.NONE


def _words(args: argparse.Namespace, least: int, most: int | None = None) -> list[str]:
    words: list[str] = args.words
    if len(words) < least or (most is not None and len(words) > most):
        raise UsageError(
            f"weedkey entries {args.what}: {len(words)} words given", _count(least, most), _USAGE[args.what]
        )
    return words


def _count(least: int, most: int | None) -> str:
    return str(least) if most == least else f"{least} or more" if most is None else f"{least} to {most}"


def _list(args: argparse.Namespace, folder: Path, knowledge: Knowledge) -> int:
    from weedkey.knowledge.own_entries import list_own
    from weedkey.report.entries_json import own_json
    from weedkey.report.entries_text import own_text

    _words(args, 0, 0)
    entries = list_own(folder, knowledge)
    if args.json:
        print_json({"folder": str(folder), "entries": [own_json(entry) for entry in entries]})
    else:
        print(own_text(entries, style_for(args)))
    return ExitCode.OK if all(entry.is_usable for entry in entries) else ExitCode.NONE


def _find(args: argparse.Namespace, folder: Path, knowledge: Knowledge) -> OwnEntry:
    from weedkey.knowledge.own_entries import find_own, list_own

    words = _words(args, 1, 2)
    return find_own(list_own(folder, knowledge), words[-1], words[0] if len(words) == 2 else None)


def _diff(args: argparse.Namespace, folder: Path, knowledge: Knowledge) -> int:
    from weedkey.knowledge.entry_diff import compare_entries, unified_text
    from weedkey.knowledge.own_entries import shipped_and_own
    from weedkey.report.entries_json import difference_json, own_json
    from weedkey.report.entries_text import diff_text
    from weedkey.report.namer import Namer

    entry = _find(args, folder, knowledge)
    before, after = shipped_and_own(entry)
    if args.json:
        found = [difference_json(row) for row in compare_entries(before, after)]
        print_json({**own_json(entry), "differences": found})
    elif args.text:
        print(unified_text(before, after, entry.id))
    else:
        print(diff_text(entry, compare_entries(before, after), Namer(knowledge), style_for(args)))
    return ExitCode.OK


def _undo(args: argparse.Namespace, folder: Path, knowledge: Knowledge) -> int:
    from weedkey.knowledge import history

    words = _words(args, 0, 2)
    file = _file_of(words, folder, knowledge, args.what) if words else None
    step = history.undo(folder, file) if args.what == "undo" else history.redo(folder, file)
    said = "taken back" if args.what == "undo" else "done again"
    if args.json:
        print_json({"what": step.what if step else None, "files": sorted(step.files) if step else []})
    else:
        print(f"{said}: {step.what}" if step else f"there is nothing that can be {said}")
    return ExitCode.OK if step else ExitCode.NONE


def _file_of(words: list[str], folder: Path, knowledge: Knowledge, what: str) -> str:
    """The file of the entry that is named; an entry that was removed has its place in the history only."""
    from weedkey.knowledge.entries import KINDS
    from weedkey.knowledge.history import read_steps
    from weedkey.knowledge.own_entries import find_own, list_own, own_file
    from weedkey.knowledge.writing import make_id

    if len(words) == 2 and words[0] not in KINDS:
        raise UsageError(f"{words[0]!r} is not a kind of entry", "one of " + ", ".join(KINDS), _USAGE[what])
    kinds = words[:1] if len(words) == 2 else [kind.name for kind in KINDS.values()]
    kept = {name for step in read_steps(folder) for name in step.files}
    names = [own_file(kind, make_id(words[-1])) for kind in kinds]
    found = [name for name in names if name in kept]
    if found:
        return found[0]
    entry = find_own(list_own(folder, knowledge), words[-1], words[0] if len(words) == 2 else None)
    return own_file(entry.kind, entry.id)


def _remove(args: argparse.Namespace, folder: Path, knowledge: Knowledge) -> int:
    from weedkey.knowledge.own_entries import remove_own

    entry = _find(args, folder, knowledge)
    remove_own(folder, entry)
    if args.json:
        print_json({"removed": entry.id, "kind": entry.kind})
    else:
        print(f"removed: {entry.kind} {entry.name}. To have it back: weedkey entries undo {entry.kind} {entry.id}")
    return ExitCode.OK


def _export(args: argparse.Namespace, folder: Path, knowledge: Knowledge) -> int:
    from weedkey.knowledge.exchange import export_text
    from weedkey.knowledge.own_entries import find_own, list_own
    from weedkey.storage import write_atomic

    target, *names = _words(args, 1)
    entries = list_own(folder, knowledge)
    readable = [entry for entry in entries if entry.value is not None]
    chosen = [find_own(entries, name) for name in names] if names else readable
    if not chosen:
        print("You have no entries of your own yet. Nothing was written.", file=sys.stderr)
        return ExitCode.NONE
    path = Path(target)
    if path.exists() and not args.replace:
        raise UsageError(f"{target} exists already", "a file name that is free, or --replace")
    write_atomic(path, export_text(folder, chosen))
    left_out = [entry for entry in (chosen if names else entries) if not entry.is_usable]
    if args.json:
        print_json({"written": target, "entries": [{"kind": entry.kind, "id": entry.id} for entry in chosen]})
    else:
        print(f"written: {target} ({len(chosen)} {'entry' if len(chosen) == 1 else 'entries'})")
    for entry in left_out:
        state = "has problems" if entry in chosen else "is not in it"
        print(f"weedkey: {entry.kind} {entry.id} {state}: {entry.issues[0]}", file=sys.stderr)
    return ExitCode.OK


def _import(args: argparse.Namespace, folder: Path, knowledge: Knowledge) -> int:
    from weedkey.knowledge.exchange import read_package
    from weedkey.knowledge.importing import import_package, preview_import
    from weedkey.report.entries_json import preview_json
    from weedkey.report.entries_text import preview_text
    from weedkey.report.namer import Namer

    (source,) = _words(args, 1, 1)
    if not Path(source).is_file():
        raise UsageError(f"{source}: no such file", "a file that weedkey entries export wrote")
    preview = preview_import(read_package(Path(source)), folder)
    step = import_package(preview, folder) if args.yes and not preview.errors else None
    if args.json:
        print_json({**preview_json(preview), "written": sorted(step.files) if step else None})
    else:
        print(preview_text(preview, Namer(knowledge), style_for(args)))
        if step:
            print("written. To take it back: weedkey entries undo")
        elif not preview.is_empty and not preview.errors:
            print("Nothing is written yet. To write it: the same with --yes")
    return ExitCode.NONE if preview.errors else ExitCode.OK


_ACTIONS: dict[str, Callable[[argparse.Namespace, Path, Any], int]] = {
    "list": _list,
    "diff": _diff,
    "undo": _undo,
    "redo": _undo,
    "remove": _remove,
    "export": _export,
    "import": _import,
}
