"""Every write of the user's own files can be taken back: the texts before and after are kept, up to a bounded number.

A step is on disk before the first file changes and says so until the last one has; a step that was cut off is rolled
back by the next one, so that several files are written all or not at all. The steps lie in the state folder, apart for
each folder of entries, and never inside it.
"""

from __future__ import annotations

import contextlib
import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path
from typing import Any

from weedkey.storage import state_folder, write_atomic

FORMAT = 1
MOST_KEPT = 200


@dataclass(slots=True)
class Step:
    """One write. ``files``: path below the folder -> text before and after, None where there was or is no file.

    ``undone``: the files for which it was taken back. ``is_open``: it has not been finished.
    """

    number: int
    what: str
    files: dict[str, tuple[str | None, str | None]]
    undone: list[str] = field(default_factory=list)
    is_open: bool = False

    def counts_for(self, file: str | None) -> bool:
        """True if this step still stands, for one file or for any."""
        files = self.files if file is None else [name for name in self.files if name == file]
        return any(name not in self.undone for name in files)


def write_files(folder: Path, texts: Mapping[str, str | None], what: str) -> Step:
    """Write, change or delete (None) files below ``folder``: all or none. ``what`` is said when it is taken back.

    Raises OSError; every file is then as it was.
    """
    recover(folder)
    _forget_undone(folder, texts)
    step = Step(_next_number(folder), what, {name: (_read(folder / name), text) for name, text in texts.items()})
    step.is_open = True
    _keep(folder, step)
    try:
        for name, (_, after) in step.files.items():
            _put(folder / name, after)
    except BaseException:
        with contextlib.suppress(OSError):
            _roll_back(folder, step)
        raise
    step.is_open = False
    _keep(folder, step)
    _drop_oldest(folder)
    return step


def _forget_undone(folder: Path, names: Iterable[str]) -> None:
    """What was taken back cannot be done again once something else is written over it."""
    for step in read_steps(folder):
        gone = [name for name in names if name in step.undone]
        if gone:
            step.files = {name: pair for name, pair in step.files.items() if name not in gone}
            step.undone = [name for name in step.undone if name not in gone]
            if step.files:
                _keep(folder, step)
            else:
                _file(folder, step).unlink(missing_ok=True)


def undo(folder: Path, file: str | None = None) -> Step | None:
    """Take back the last step that stands, for one file or as a whole; None if there is none.

    A change by hand since then is taken back first, by itself, and kept like any step.
    """
    recover(folder)
    found = next((step for step in reversed(read_steps(folder)) if step.counts_for(file)), None)
    if found is None:
        return None
    names = [name for name in found.files if name not in found.undone and file in (None, name)]
    by_hand = {
        name: (found.files[name][1], now)
        for name in names
        if (now := _read(folder / name)) not in (found.files[name][1], found.files[name][0])
    }
    if by_hand:
        step = Step(_next_number(folder), "a change by hand", by_hand, list(by_hand))
        _keep(folder, step)
        for name, (before, _) in by_hand.items():
            _put(folder / name, before)
        return step
    for name in names:
        _put(folder / name, found.files[name][0])
    found.undone += names
    _keep(folder, found)
    return found


def redo(folder: Path, file: str | None = None) -> Step | None:
    """Do again what was taken back last and not written over since; None if there is nothing."""
    recover(folder)
    steps = read_steps(folder)
    last = max((step.number for step in steps if step.counts_for(file)), default=0)
    waiting = [s for s in steps if s.number > last and (file in s.undone if file else s.undone)]
    if not waiting:
        return None
    names = [name for name in waiting[0].undone if file in (None, name)]
    for name in names:
        _put(folder / name, waiting[0].files[name][1])
    waiting[0].undone = [name for name in waiting[0].undone if name not in names]
    _keep(folder, waiting[0])
    return waiting[0]


def recover(folder: Path) -> None:
    """Put back what a step that was cut off had begun to write."""
    for step in read_steps(folder):
        if step.is_open:
            _roll_back(folder, step)


def read_steps(folder: Path) -> list[Step]:
    """The steps that are kept, the oldest first; a file that cannot be read is skipped."""
    place = history_folder(folder)
    found = []
    for file in sorted(place.glob("*.json")) if place.is_dir() else ():
        with contextlib.suppress(OSError, ValueError, KeyError, TypeError, AttributeError):
            found.append(_step(json.loads(file.read_text(encoding="utf-8"))))
    return found


def history_folder(folder: Path) -> Path:
    """Where the steps of one folder of entries are kept."""
    return state_folder() / "history" / sha256(str(folder.resolve()).encode()).hexdigest()[:16]


def _step(row: Mapping[str, Any]) -> Step:
    files = {str(name): (pair[0], pair[1]) for name, pair in row["files"].items()}
    return Step(int(row["number"]), str(row["what"]), files, [str(name) for name in row["undone"]], bool(row["open"]))


def _keep(folder: Path, step: Step) -> None:
    row = {
        "format": FORMAT,
        "number": step.number,
        "what": step.what,
        "files": step.files,
        "undone": step.undone,
        "open": step.is_open,
    }
    write_atomic(_file(folder, step), json.dumps(row))


def _file(folder: Path, step: Step) -> Path:
    return history_folder(folder) / f"{step.number:08d}.json"


def _roll_back(folder: Path, step: Step) -> None:
    for name, (before, _) in step.files.items():
        _put(folder / name, before)
    _file(folder, step).unlink(missing_ok=True)


def _next_number(folder: Path) -> int:
    return max((step.number for step in read_steps(folder)), default=0) + 1


def _drop_oldest(folder: Path) -> None:
    for old in sorted(history_folder(folder).glob("*.json"))[:-MOST_KEPT]:
        old.unlink(missing_ok=True)


def _read(path: Path) -> str | None:
    """The text of a file, bytes that are no text kept as they are; None if there is no file."""
    try:
        return path.read_bytes().decode("utf-8", "surrogateescape")
    except FileNotFoundError:
        return None


def _put(path: Path, text: str | None) -> None:
    if text is None:
        path.unlink(missing_ok=True)
    elif text != _read(path):
        try:
            write_atomic(path, text)
        except UnicodeEncodeError:
            path.write_bytes(text.encode("utf-8", "surrogateescape"))
