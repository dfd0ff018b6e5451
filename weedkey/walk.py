"""A walk in progress: the looks given so far, undo of any of them, and a journal in which each answer is safe at once.

The journal is a text file of JSON lines, one event a line: start, look, undo, redo, context, note. A line is on disk
before the next question shows. A torn last line (a power cut) is left out; a line that cannot be read is kept,
named in ``problems`` and skipped. Looks with traits or states that no longer exist stay in the walk; the key marks
and ignores them.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from weedkey.errors import WalkError, WeedkeyError
from weedkey.key import Context, Standing, Table, judge
from weedkey.model.lawn import Look
from weedkey.model.region import Region
from weedkey.storage import append_line, read_lines, walks_folder

#: Version of the journal's lines.
FORMAT = 1
_CONTEXT_KEYS = ("month", "region", "turf", "mown", "flat", "conditions")


@dataclass(frozen=True, slots=True)
class Answer:
    """One look of the walk with its number; ``undone`` ones are kept but do not count."""

    number: int
    look: Look
    undone: bool = False


@dataclass(slots=True)
class Walk:
    """Answers in the order given. Without ``path`` nothing is written (a walk in memory)."""

    context: Context = field(default_factory=Context)
    path: Path | None = None
    answers: list[Answer] = field(default_factory=list)
    problems: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    @property
    def looks(self) -> tuple[Look, ...]:
        """The looks that count, in the order given."""
        return tuple(answer.look for answer in self.answers if not answer.undone)

    def answer(self, look: Look) -> Answer:
        """Write one look down, then count it. Raises WalkError if it cannot be written; then it does not count."""
        entry = Answer(len(self.answers) + 1, look)
        self._write({"event": "look", **_look_to_json(look)})
        self.answers.append(entry)
        return entry

    def undo(self, number: int | None = None) -> Answer | None:
        """Take back one answer, the last one that counts if no number is given; None if there is none to take back."""
        return self._mark(self._find_last(undone=False) if number is None else number, undone=True)

    def redo(self, number: int | None = None) -> Answer | None:
        """Count an answer again that was taken back, the last such one if no number is given."""
        return self._mark(self._find_last(undone=True) if number is None else number, undone=False)

    def change_context(self, context: Context) -> None:
        """Another month, turf or region for the same looks."""
        self._write({"event": "context", **_context_to_json(context)})
        self.context = context

    def note(self, text: str) -> None:
        """Keep a free remark with the walk."""
        self._write({"event": "note", "text": text})
        self.notes.append(text)

    def judge(
        self,
        table: Table,
        regions: Mapping[str, Region] | None = None,
        budget_seconds: float | None = None,
        *,
        goal: str = "decision",
    ) -> Standing:
        """Where the naming stands after the looks that count."""
        return judge(table, self.looks, regions, budget_seconds, goal=goal)

    def _find_last(self, *, undone: bool) -> int | None:
        numbers = [answer.number for answer in self.answers if answer.undone is undone]
        return numbers[-1] if numbers else None

    def _mark(self, number: int | None, *, undone: bool) -> Answer | None:
        if number is None or not 1 <= number <= len(self.answers):
            return None
        old = self.answers[number - 1]
        if old.undone is undone:
            return None
        self._write({"event": "undo" if undone else "redo", "number": number})
        self.answers[number - 1] = replace(old, undone=undone)
        return self.answers[number - 1]

    def _write(self, event: Mapping[str, object]) -> None:
        if self.path is None:
            return
        try:
            append_line(self.path, json.dumps(event, ensure_ascii=False, sort_keys=True))
        except OSError as error:
            raise WalkError(f"{self.path}: the answer could not be written ({error.strerror or error}).") from error


def start_walk(context: Context, path: Path | None = None) -> Walk:
    """A new walk; with ``path`` its first line is written at once. Raises WalkError if the file exists already."""
    if path is not None and path.exists():
        raise WalkError(f"{path}: this walk exists already. Expected a new name, or resume it.")
    walk = Walk(context, path)
    walk._write({"event": "start", "format": FORMAT, **_context_to_json(context)})  # noqa: SLF001 - its own class
    return walk


def resume_walk(path: Path) -> Walk:
    """Read a journal back. Raises WalkError only if the file itself cannot be read; bad lines are listed, not lost."""
    try:
        lines = read_lines(path)
    except OSError as error:
        raise WalkError(f"{path}: the walk cannot be read ({error.strerror or error}).") from error
    walk = Walk()
    for number, line in enumerate(lines, 1):
        problem = _replay(walk, line)
        if problem:
            walk.problems.append(f"{path}:{number}: {problem}")
    walk.path = path
    return walk


def list_walks(folder: Path | None = None) -> list[Path]:
    """Journals in the folder of walks, the newest first."""
    place = folder or walks_folder()
    found = list(place.glob("*.jsonl")) if place.is_dir() else []
    return sorted(found, key=lambda path: (-path.stat().st_mtime_ns, path.name))


def new_walk_path(name: str, folder: Path | None = None) -> Path:
    """A free file name for a walk, made from letters and digits of ``name``."""
    stem = "".join(letter if letter.isalnum() else "_" for letter in name.lower()).strip("_") or "walk"
    place = folder or walks_folder()
    path = place / f"{stem}.jsonl"
    count = 2
    while path.exists():
        path = place / f"{stem}_{count}.jsonl"
        count += 1
    return path


def _replay(walk: Walk, line: str) -> str:
    """Apply one line of a journal (nothing is written); the problem in words, or empty."""
    if not line.strip():
        return ""
    try:
        event = json.loads(line)
    except ValueError:
        return "the line is damaged and was skipped"
    if not isinstance(event, dict):
        return "the line holds no event and was skipped"
    kind = event.get("event")
    try:
        return _apply(walk, str(kind), event)
    except (WeedkeyError, TypeError, ValueError) as error:
        return f"the {kind} could not be read and was skipped ({error})"


def _apply(walk: Walk, kind: str, event: Mapping[str, object]) -> str:
    if kind in ("start", "context"):
        walk.context = _context_from_json(event)
    elif kind == "look":
        walk.answers.append(Answer(len(walk.answers) + 1, _look_from_json(event)))
    elif kind in ("undo", "redo"):
        if walk._mark(_number(event), undone=kind == "undo") is None:  # noqa: SLF001 - its own class
            return f"nothing to {kind}"
    elif kind == "note":
        walk.notes.append(str(event.get("text", "")))
    else:
        return f"the event {kind!r} is not known and was skipped"
    return ""


def _number(event: Mapping[str, object]) -> int:
    number = event.get("number")
    if not isinstance(number, int):
        raise TypeError("number is missing")
    return number


def _look_to_json(look: Look) -> dict[str, object]:
    data: dict[str, object] = {"trait": look.trait, "states": list(look.states)}
    if look.both:
        data["both"] = True
    if look.unsure:
        data["unsure"] = True
    return data


def _look_from_json(data: Mapping[str, object]) -> Look:
    trait, states = data.get("trait"), data.get("states", [])
    if not isinstance(trait, str) or not isinstance(states, list):
        raise TypeError("trait or states are missing")
    return Look(trait, tuple(str(state) for state in states), bool(data.get("both")), bool(data.get("unsure")))


def _context_to_json(context: Context) -> dict[str, object]:
    data = {key: getattr(context, key) for key in _CONTEXT_KEYS}
    data["conditions"] = list(context.conditions)
    return data


def _context_from_json(data: Mapping[str, object]) -> Context:
    month, region, turf, conditions = (data.get(key) for key in ("month", "region", "turf", "conditions"))
    return Context(
        month=month if isinstance(month, int) else None,
        region=region if isinstance(region, str) else None,
        turf=turf if isinstance(turf, str) else None,
        mown=bool(data.get("mown", True)),
        flat=bool(data.get("flat", False)),
        conditions=tuple(str(name) for name in conditions) if isinstance(conditions, list) else (),
    )
