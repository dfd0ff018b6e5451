"""``weedkey plan --batch FILE``: one lawn a line in, one JSON result a line out."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterator
from contextlib import nullcontext
from pathlib import Path
from typing import IO, Any

from weedkey.cli.exit_codes import ExitCode
from weedkey.cli.opening import local_folder
from weedkey.errors import UsageError, WeedkeyError
from weedkey.knowledge import load
from weedkey.model.base import Knowledge
from weedkey.plan.batch import BatchRecord, plan_one

MOST_JOBS = 64
_BAR = 30
_KEPT: dict[str, Knowledge] = {}


def run_batch(args: argparse.Namespace) -> int:
    """Stream the results; exit 1 if a record was bad. With --out a run that broke off goes on where it stopped."""
    path = Path(args.batch)
    if not path.is_file():
        raise UsageError(f"{args.batch}: no such file", "a file with one lawn a line (JSON)")
    if not 1 <= args.jobs <= MOST_JOBS:
        raise UsageError(f"--jobs {args.jobs}", f"1 to {MOST_JOBS}")
    folder = local_folder(args)
    out = Path(args.out) if args.out else None
    done = _lines_done(out) if out else frozenset()
    lines = [(number, text) for number, text in _read(path) if number not in done]
    bad = 0
    with out.open("a", encoding="utf-8") if out else nullcontext(sys.stdout) as stream:
        for count, result in enumerate(_results(lines, args.jobs, folder), 1):
            bad += "error" in result
            _write(stream, result)
            if "error" in result:
                print(f"\rweedkey: {path}:{result['line']}: {result['error']}", file=sys.stderr)
            _show(count, len(lines))
    return ExitCode.NONE if bad else ExitCode.OK


def _read(path: Path) -> Iterator[tuple[int, str]]:
    with path.open(encoding="utf-8", errors="replace") as stream:
        for number, text in enumerate(stream, 1):
            if text.strip():
                yield number, text.strip()


def _lines_done(out: Path) -> frozenset[int]:
    """Line numbers already written; a last line that was cut off is taken away."""
    if not out.exists():
        return frozenset()
    whole, done = [], set()
    text = out.read_text(encoding="utf-8")
    for line in text.splitlines(keepends=True):
        try:
            done.add(int(json.loads(line)["line"]))
        except (ValueError, KeyError, TypeError):
            continue
        whole.append(line if line.endswith("\n") else line + "\n")
    if "".join(whole) != text:
        out.write_text("".join(whole), encoding="utf-8")
    return frozenset(done)


def _results(lines: list[tuple[int, str]], jobs: int, folder: Path | None) -> Iterator[dict[str, Any]]:
    if jobs == 1 or len(lines) <= 1:
        _open(folder)
        yield from map(_result, lines)
        return
    from multiprocessing import get_context

    with get_context("spawn").Pool(min(jobs, len(lines)), _open, (folder,)) as pool:
        yield from pool.imap(_result, lines)


def _open(folder: Path | None) -> None:
    _KEPT["knowledge"] = load(folder)


def _result(row: tuple[int, str]) -> dict[str, Any]:
    from weedkey.report.plan_json import plan_json

    knowledge = _KEPT["knowledge"]
    result = plan_one(knowledge, _record(row, knowledge))
    if result.plan is None:
        return {"line": result.line, "error": str(result.error)}
    return {"line": result.line, "plan": plan_json(knowledge, result.plan)}


def _record(row: tuple[int, str], knowledge: Knowledge) -> BatchRecord:
    from weedkey.knowledge.lawn_file import parse_lawn

    number, text = row
    try:
        return BatchRecord(number, parse_lawn(text, f"line {number}", knowledge))
    except WeedkeyError as error:
        return BatchRecord(number, None, error)


def _write(stream: IO[str], result: dict[str, Any]) -> None:
    stream.write(json.dumps(result, ensure_ascii=False) + "\n")
    stream.flush()


def _show(count: int, total: int) -> None:
    if sys.stderr.isatty():
        full = round(_BAR * count / total)
        print(f"\r[{'#' * full}{'.' * (_BAR - full)}] {count}/{total}", end="", file=sys.stderr, flush=True)
        if count == total:
            print(file=sys.stderr)
