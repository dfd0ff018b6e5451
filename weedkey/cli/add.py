"""``weedkey add weed|control|place NAME``: an entry of one's own, or a shipped fact overridden."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import Any

from weedkey.cli.arguments import add_output
from weedkey.cli.exit_codes import ExitCode
from weedkey.cli.opening import print_json
from weedkey.errors import Issue, KnowledgeError, UsageError
from weedkey.knowledge import load
from weedkey.model.base import Knowledge

KINDS = ("weed", "control", "place")
_FROM_MEMORY = ["from_memory"]


def configure(parser: argparse.ArgumentParser) -> None:
    """Arguments of ``weedkey add``."""
    parser.add_argument("kind", choices=KINDS, help="what to add")
    parser.add_argument("name", metavar="NAME", nargs="?", help="its common name; with --from it may be left out")
    parser.add_argument(
        "--set",
        action="append",
        default=[],
        metavar="KEY=VALUE",
        dest="given",
        help="a key of the file and its value: group=grassy; short: looks.LOOK=STATE, life_cycle=KIND (from memory)",
    )
    parser.add_argument("--from", dest="source", metavar="FILE", help="check this file and save it as your own entry")
    parser.add_argument("--replace", action="store_true", help="replace your own entry of the same name")
    parser.add_argument("--show", action="store_true", help="print the text and write nothing")
    parser.epilog = (
        "Without --set a template is written in which every field is explained. A name that is shipped is overridden:\n"
        "only the keys that are set change.\n"
        "examples:\n  weedkey add weed 'green kyllinga' --set group=sedge --set looks.plant_group=sedge\n"
        "  weedkey add weed goosegrass --set nuisance=2\n"
        "exit codes: 0 written, 1 problems found and nothing written, 2 usage"
    )
    add_output(parser)


def execute(args: argparse.Namespace) -> int:
    """Write or show the entry; problems are listed and nothing is written then."""
    folder = _target(args)
    knowledge = load(folder)
    for issue in knowledge.left_out:
        print(f"weedkey: left out: {issue}", file=sys.stderr)
    try:
        return _from_file(args, folder, knowledge) if args.source else _from_values(args, folder, knowledge)
    except KnowledgeError as error:
        return _refuse(args, error.issues)
    except OSError as error:
        raise UsageError(f"cannot write into {folder}: {error.strerror}", "a folder that you may write to") from error


def _target(args: argparse.Namespace) -> Path:
    given = getattr(args, "local", None)
    if given:
        return Path(given)
    from weedkey.storage import local_entries_folder

    return local_entries_folder()


def _refuse(args: argparse.Namespace, issues: tuple[Issue, ...]) -> int:
    from weedkey.cli.check import issue_json

    if args.json:
        print_json({"written": None, "issues": [issue_json(issue) for issue in issues]})
    for issue in issues:
        print(f"error: {issue}", file=sys.stderr)
    print("Nothing was written.", file=sys.stderr)
    return ExitCode.NONE


def _from_file(args: argparse.Namespace, folder: Path, knowledge: Knowledge) -> int:
    from weedkey.knowledge.strict_yaml import read_document
    from weedkey.knowledge.writing import local_issues, make_id, save_local

    path = Path(args.source)
    if not path.is_file():
        raise UsageError(f"{args.source}: no such file", f"the file of a {args.kind}")
    if args.given:
        raise UsageError("--from and --set exclude each other", "one of the two")
    value = read_document(path).value
    if args.name and isinstance(value, dict) and value.get("id") != make_id(args.name):
        raise UsageError(f"the id in {args.source} is {value.get('id')!r}, not {make_id(args.name)!r}", "the same name")
    text = path.read_text(encoding="utf-8-sig")
    if args.show:
        issues = local_issues(args.kind, text, folder, knowledge)
        if any(issue.severity == "error" for issue in issues):
            return _refuse(args, tuple(issue for issue in issues if issue.severity == "error"))
        print(text, end="")
        return ExitCode.OK
    saved = save_local(args.kind, text, folder, replace=args.replace, knowledge=knowledge)
    return _report(args, saved, value, knowledge, ())


def _from_values(args: argparse.Namespace, folder: Path, knowledge: Knowledge) -> int:
    from weedkey.knowledge import writing

    if not args.name:
        raise UsageError(f"the {args.kind} has no name", "a name, or --from FILE")
    values = _read_values(args.kind, args.given)
    name = _existing_id_or_none(args, knowledge) or writing.make_id(args.name)
    path = folder / f"{args.kind}s" / f"{name}.yaml"
    if (path.exists() and not args.replace) or (name in getattr(knowledge, f"{args.kind}s") and not path.exists()):
        return _change(args, name, values, folder, knowledge)
    full = {"name": args.name, **_nested(values)}
    missing = [key for key in writing.required_keys(args.kind) if key not in full and key != "id"]
    if args.show:
        print(writing.new_entry_text(args.kind, name, full, folder), end="")
        return ExitCode.OK
    if missing:
        saved = writing.save_draft(args.kind, name, full, folder, knowledge)
    else:
        text = writing.new_entry_text(args.kind, name, full, folder)
        saved = writing.save_local(args.kind, text, folder, replace=args.replace, knowledge=knowledge)
    return _report(args, saved, full, knowledge, tuple(missing))


def _existing_id_or_none(args: argparse.Namespace, knowledge: Knowledge) -> str | None:
    from weedkey.errors import UnknownName
    from weedkey.knowledge.names import find_entry

    try:
        return str(find_entry(getattr(knowledge, f"{args.kind}s"), args.kind, args.name).id)
    except UnknownName:
        return None


def _change(args: argparse.Namespace, name: str, values: dict[str, Any], folder: Path, knowledge: Knowledge) -> int:
    """Override keys of a shipped entry, or change keys of one's own."""
    from weedkey.knowledge import writing

    path = folder / f"{args.kind}s" / f"{name}.yaml"
    if not values:
        what = f"{path} is there already" if path.exists() else f"the {args.kind} {name!r} is shipped already"
        raise UsageError(what, "--set KEY=VALUE to change a fact of it, or another name")
    if args.show:
        old = (
            path.read_text(encoding="utf-8")
            if path.exists()
            else f"{writing.head_line(args.kind, folder)}\nid: {name}\n"
        )
        print(writing.edited_text(old, values), end="")
        return ExitCode.OK
    saved = writing.edit_local(args.kind, name, values, folder, knowledge=knowledge)
    return _report(args, saved, {"id": name, **_nested(values)}, knowledge, ())


def _read_values(kind: str, given: list[str]) -> dict[str, Any]:
    """KEY=VALUE pairs; a value is read as YAML, and two short forms are spelled out."""
    from weedkey.knowledge.strict_yaml import parse_document

    values: dict[str, Any] = {}
    for pair in given:
        key, equals, text = pair.partition("=")
        if not equals or not key.strip() or not text.strip():
            raise UsageError(f"--set {pair}: no key and value", "KEY=VALUE", "--set group=grassy")
        try:
            value = parse_document(f"value: {text}", f"--set {key}").value["value"]
        except KnowledgeError as error:
            raise UsageError(
                f"--set {pair}: {error.issues[0].wrong}", "a YAML value", "quotes around a text"
            ) from error
        values[key.strip()] = _spelled_out(kind, key.strip(), value)
    return values


def _spelled_out(kind: str, key: str, value: Any) -> Any:
    words = [word.strip() for word in str(value).split(",")]
    if kind == "weed" and key.startswith("looks.") and not isinstance(value, list):
        return [{"state": word, "sources": _FROM_MEMORY} for word in words]
    if kind == "weed" and key == "life_cycle" and isinstance(value, str):
        return [{"kind": word, "sources": _FROM_MEMORY} for word in words]
    if key == "sources" and isinstance(value, str):
        return words
    return value


def _nested(values: dict[str, Any]) -> dict[str, Any]:
    """``looks.ligule`` as a row below ``looks``."""
    made: dict[str, Any] = {}
    for key, value in values.items():
        *parents, last = key.split(".")
        row = made
        for parent in parents:
            row = row.setdefault(parent, {})
            if not isinstance(row, dict):
                raise UsageError(f"--set {key}: {parent} is set to a value already", "one of the two")
        row[last] = value
    return made


def _report(
    args: argparse.Namespace, path: Path, values: dict[str, Any], knowledge: Knowledge, missing: tuple[str, ...]
) -> int:
    """Say what was written, what is still empty, and which weeds look alike."""
    alike = _look_alikes(values, knowledge) if args.kind == "weed" else []
    if args.json:
        print_json({"written": str(path), "id": path.stem, "empty": list(missing), "look_alikes": alike})
        return ExitCode.OK
    print(f"written: {path}")
    if missing:
        print(
            f"still empty: {', '.join(missing)}. Until they are filled in the entry is left out; weedkey check {path}"
        )
    for near in alike:
        differs = ", ".join(near["differs"])
        tell = f"differs only in {differs}" if differs else "nothing that was entered tells it apart"
        print(f"look-alike: {near['name']}, {tell}")
    return ExitCode.OK


def _look_alikes(values: dict[str, Any], knowledge: Knowledge) -> list[dict[str, Any]]:
    """The nearest weeds by the looks that were entered, with what differs."""
    from weedkey.knowledge.build import Report, build_entry
    from weedkey.knowledge.separation import find_near_weeds
    from weedkey.model.weed import Seen

    looks = {}
    for trait, rows in (values.get("looks") or {}).items():
        seen = [build_entry(Seen, row, Report()) for row in rows if isinstance(row, dict)]
        looks[trait] = tuple(row for row in seen if row is not None)
    return [
        {
            "weed": near.weed,
            "name": knowledge.weeds[near.weed].name,
            "likeness": round(near.likeness, 2),
            "differs": list(near.differs),
        }
        for near in find_near_weeds(looks, knowledge.weeds, knowledge.traits, str(values.get("id", "")))
    ]
