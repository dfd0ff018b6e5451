"""``weedkey add weed|control|place NAME``: an entry of one's own, or a shipped fact overridden."""

from __future__ import annotations

import argparse
import sys
from datetime import date
from pathlib import Path
from typing import Any

from weedkey.cli.arguments import add_output
from weedkey.cli.entries import own_folder
from weedkey.cli.exit_codes import ExitCode
from weedkey.cli.opening import print_json
from weedkey.cli.who_says import add_source, need_source, read_source
from weedkey.errors import Issue, KnowledgeError, UsageError
from weedkey.knowledge import load
from weedkey.model.base import Knowledge

KINDS = ("weed", "control", "place")


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
        help="a key of the file and its value: group=grassy; short: looks.LOOK=STATE, life_cycle=KIND",
    )
    rows = parser.add_argument_group("single rows of a list of a shipped entry (ROW and TO as key: value, key: value)")
    rows.add_argument("--change", action="append", nargs=3, default=[], metavar=("LIST", "ROW", "TO"),
                      help="what one row says instead")  # fmt: skip
    rows.add_argument("--add-to", action="append", nargs=2, default=[], metavar=("LIST", "ROW"), help="one row more")
    rows.add_argument("--remove-from", action="append", nargs=2, default=[], metavar=("LIST", "ROW"),
                      help="one row less")  # fmt: skip
    add_source(parser)
    parser.add_argument("--from", dest="source", metavar="FILE", help="check this file and save it as your own entry")
    parser.add_argument("--replace", action="store_true", help="replace your own entry of the same name")
    parser.add_argument("--show", action="store_true", help="print the text and write nothing")
    parser.epilog = (
        "Without --set a template is written in which every field is explained. A name that is shipped is overridden:\n"
        "only the keys that are set change. A row is named by keys that only it has; what it says instead needs a\n"
        "source of its own. weedkey entries lists, compares, takes back and sends what was added.\n"
        "examples:\n  weedkey add weed 'my sedge' --set group=sedge --set looks.plant_group=sedge --from-memory\n"
        "  weedkey add weed goosegrass --set nuisance=2\n"
        "  weedkey add weed goosegrass --change looks.stolons 'state: absent' 'often: usually' "
        "--seen 2026-06-01 'north lawn'\n"
        "exit codes: 0 written, 1 problems found and nothing written, 2 usage"
    )
    add_output(parser)


def execute(args: argparse.Namespace) -> int:
    """Write or show the entry; problems are listed and nothing is written then."""
    folder = own_folder(args)
    knowledge = load(folder)
    for issue in knowledge.left_out:
        print(f"weedkey: left out: {issue}", file=sys.stderr)
    try:
        return _from_file(args, folder, knowledge) if args.source else _from_values(args, folder, knowledge)
    except KnowledgeError as error:
        return _refuse(args, error.issues)
    except OSError as error:
        raise UsageError(f"cannot write into {folder}: {error.strerror}", "a folder that you may write to") from error


def _refuse(args: argparse.Namespace, issues: tuple[Issue, ...]) -> int:
    from weedkey.report.entries_json import issue_json

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
    if args.given or args.change or args.add_to or args.remove_from:
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
    is_there = name in getattr(knowledge, f"{args.kind}s")
    if (path.exists() and not args.replace) or (is_there and not path.exists()):
        return _change(args, name, values, folder, knowledge)
    if args.change or args.add_to or args.remove_from:
        raise UsageError(
            f"no shipped {args.kind} is called {args.name!r}", "a shipped entry, whose rows can be changed"
        )
    full = _sourced(args, {"name": args.name, **_nested(values)})
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


def _sourced(args: argparse.Namespace, full: dict[str, Any]) -> dict[str, Any]:
    """The values of a new entry, each fact with its source; a row of ``seen`` if it was seen."""
    from weedkey.knowledge.sourcing import facts_without_source, with_sighting, with_sources

    today = date.today()  # noqa: DTZ011 - the user's own calendar day
    given = read_source(args, today)
    lacking = tuple(path for path in facts_without_source(args.kind, full) if path)  # the entry itself may wait
    given = need_source(given, lacking, today)
    if given.sources:
        full = with_sources(args.kind, full, list(given.sources))
    return with_sighting(full, given.sighting) if given.sighting else full


def _existing_id_or_none(args: argparse.Namespace, knowledge: Knowledge) -> str | None:
    from weedkey.errors import UnknownName
    from weedkey.knowledge.names import find_entry

    try:
        return str(find_entry(getattr(knowledge, f"{args.kind}s"), args.kind, args.name).id)
    except UnknownName:
        return None


def _change(args: argparse.Namespace, name: str, values: dict[str, Any], folder: Path, knowledge: Knowledge) -> int:
    """Override keys or rows of a shipped entry, or change keys of one's own."""
    from weedkey.knowledge import writing
    from weedkey.knowledge.changes import change_keys
    from weedkey.knowledge.comments import edited_text

    path = folder / f"{args.kind}s" / f"{name}.yaml"
    rows = _read_rows(args)
    if not values and not rows:
        what = f"{path} is there already" if path.exists() else f"the {args.kind} {name!r} is shipped already"
        raise UsageError(what, "--set KEY=VALUE to change a fact of it, or another name")
    today = date.today()  # noqa: DTZ011 - the user's own calendar day
    old = path.read_text(encoding="utf-8") if path.exists() else writing.change_text(args.kind, name, folder)
    change = change_keys(args.kind, old, values, rows)
    given = need_source(read_source(args, today), change.lacking, today)
    keys = change.with_source(given.sources, given.sighting)
    if args.show:
        print(edited_text(old, keys), end="")
        return ExitCode.OK
    saved = writing.edit_local(args.kind, name, keys, folder, knowledge=knowledge)
    return _report(args, saved, {"id": name, **_nested(values)}, knowledge, ())


def _read_rows(args: argparse.Namespace) -> list[tuple[str, str, Any]]:
    """--change, --add-to and --remove-from as (word, list, row)."""
    rows: list[tuple[str, str, Any]] = []
    for path, row, to in args.change:
        rows.append(("change", path, {"row": _read_row("--change", row), "to": _read_row("--change", to)}))
    for word, pairs in (("add_to", args.add_to), ("remove_from", args.remove_from)):
        rows += [(word, path, _read_row(f"--{word.replace('_', '-')}", row)) for path, row in pairs]
    return rows


def _read_row(option: str, text: str) -> Any:
    """``key: value, key: value`` with or without the braces around it; one text for a list of texts."""
    from weedkey.knowledge.strict_yaml import parse_document

    bare = text.strip()
    whole = bare if bare.startswith("{") or ":" not in bare else f"{{{bare}}}"
    try:
        return parse_document(f"value: {whole}", option).value["value"]
    except KnowledgeError as error:
        raise UsageError(f"{option} {text}: {error.issues[0].wrong}", "key: value, key: value") from error


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
        return [{"state": word} for word in words]
    if kind == "weed" and key == "life_cycle" and isinstance(value, str):
        return [{"kind": word} for word in words]
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
    """Say what was written, what is still empty, which weeds look alike, and which look tells them apart."""
    from weedkey.knowledge.likeness import separate
    from weedkey.report.entries_json import separation_json
    from weedkey.report.likeness_text import alike_sentence, next_look_sentence
    from weedkey.report.namer import Namer

    found = separate({"id": path.stem, **values}, knowledge) if args.kind == "weed" and "looks" in values else None
    if args.json:
        print_json(
            {
                "written": str(path),
                "id": path.stem,
                "empty": list(missing),
                "look_alikes": [],
                **(separation_json(found) if found else {}),
            }
        )
        return ExitCode.OK
    print(f"written: {path}")
    if missing:
        print(
            f"still empty: {', '.join(missing)}. Until they are filled in the entry is left out; weedkey check {path}"
        )
    if found:
        for near in found.alike:
            print(f"look-alike: {alike_sentence(near)}")
        if ask := next_look_sentence(found, Namer(knowledge)):
            print(ask)
    return ExitCode.OK
