"""An entry while it is being entered: on disk after each field, every field can be taken back, saved when it is sound.

``mode``: new (a file that is not there yet), own (an entry of one's own, changed), change (of a shipped entry: only
what differs from it). ``value`` is what the file will state.
"""

from __future__ import annotations

import contextlib
import copy
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import Any

from weedkey.errors import Issue, UsageError
from weedkey.knowledge import locate
from weedkey.knowledge.entries import KINDS
from weedkey.knowledge.entry_diff import Difference, compare_entries
from weedkey.knowledge.overlay import shipped_value_or_none
from weedkey.knowledge.row_changes import ADD_TO, CHANGE, REMOVE_FROM, Laid, lay_over
from weedkey.knowledge.sourcing import with_sighting, with_sources
from weedkey.knowledge.strict_yaml import parse_document
from weedkey.knowledge.writing import draft_issues, edit_local, new_entry_text, required_keys, save_local
from weedkey.model.base import Knowledge
from weedkey.storage import state_folder, write_atomic

FORMAT = 1
_MOST_UNDO = 100
_UNDONE_KEYS = ("value", "sources", "sighting", "skipped")


@dataclass(slots=True)
class Draft:
    """One entry in the making. ``sources`` and ``sighting``: who says the facts that are entered next."""

    path: Path
    kind: str
    id: str
    mode: str
    value: dict[str, Any] = field(default_factory=dict)
    sources: list[str] = field(default_factory=list)
    sighting: dict[str, str] | None = None
    skipped: list[str] = field(default_factory=list)
    past: list[dict[str, Any]] = field(default_factory=list)

    @property
    def name(self) -> str:
        """The name as entered, or the id."""
        return str(self.value.get("name") or self.id.replace("_", " ") or f"a {self.kind}")

    def put(self, path: Sequence[str], value: Any, *, also: Mapping[tuple[str, ...], Any] | None = None) -> None:
        """Set one key (None takes it away), with the source in hand for facts that name none; at once on disk.

        ``also``: other keys that follow from it, taken back together with it.
        """
        self._remember()
        for where, item in {**(also or {}), tuple(path): value}.items():
            self._set(where, item)
        self._keep()

    def say_source(self, sources: Sequence[str], sighting: Mapping[str, str] | None) -> None:
        """Who says the facts that are entered from now on."""
        self._remember()
        self.sources, self.sighting = list(sources), dict(sighting) if sighting else None
        if self.mode == "new" and "sources" in required_keys(self.kind):
            self.value["sources"] = list(sources)  # the entry as a whole is a fact too
            if sighting:
                self.value = with_sighting(self.value, sighting)
        self._keep()

    def skip(self, name: str) -> None:
        """Leave a field or a look out for now."""
        self._remember()
        self.skipped.append(name)
        self._keep()

    def undo(self) -> bool:
        """Take the last field back exactly; False if there is none."""
        if not self.past:
            return False
        for key, value in self.past.pop().items():
            setattr(self, key, value)
        self._keep()
        return True

    def change_row(self, path: Sequence[str], row: Mapping[str, Any], to: Mapping[str, Any]) -> None:
        """One row of a shipped list says something else; what was changed of it before stays changed."""
        rows = self._rows((CHANGE, *path))
        before = next((other for other in rows if other["row"] == row), None)
        merged = {"row": dict(row), "to": {**(before["to"] if before else {}), **to}}
        merged["to"].pop("sources", None)
        self.put((CHANGE, *path), [*(other for other in rows if other is not before), merged])

    def remove_row(self, path: Sequence[str], row: Mapping[str, Any]) -> None:
        """One row of a shipped list does not hold here."""
        self._remember()
        changed = [other for other in self._rows((CHANGE, *path)) if other["row"] != row]
        self._set((CHANGE, *path), changed or None)
        self._set((REMOVE_FROM, *path), [*self._rows((REMOVE_FROM, *path)), dict(row)])
        self._keep()

    def add_row(self, path: Sequence[str], row: Any) -> None:
        """One row more: of the entry's own list, or beside the rows of the shipped one."""
        spot = (ADD_TO, *path) if self.mode == "change" and _get(self.value, path) is None else tuple(path)
        self.put(spot, [*self._rows(spot), row])

    def _rows(self, path: Sequence[str]) -> list[Any]:
        found = _get(self.value, path)
        return list(found) if isinstance(found, list) else []

    def _set(self, path: Sequence[str], value: Any) -> None:
        nested = _nested(path, value)
        if value is not None and self.sources:
            nested = with_sources(self.kind, nested, self.sources, change=self.mode == "change")
        _put(self.value, path, _get(nested, path))
        if value is not None and self.sighting is not None and _has_sources(nested):
            self.value["seen"] = with_sighting(self.value, self.sighting)["seen"]

    def _remember(self) -> None:
        self.past.append({key: copy.deepcopy(getattr(self, key)) for key in _UNDONE_KEYS})
        del self.past[:-_MOST_UNDO]

    def _keep(self) -> None:
        row = {key: getattr(self, key) for key in ("kind", "id", "mode", *_UNDONE_KEYS, "past")}
        write_atomic(self.path, json.dumps({"format": FORMAT, **row}))

    def drop(self) -> None:
        """Forget the draft; what was saved stays."""
        self.path.unlink(missing_ok=True)


def start_draft(kind: str, name: str, folder: Path, knowledge: Knowledge, shipped: Path | None = None) -> Draft:
    """A draft: the one that is there already, else of an entry of one's own, of a change of a shipped one, or new."""
    if name and (there := [draft for draft in list_drafts() if (draft.kind, draft.id) == (kind, name)]):
        return there[0]
    place = drafts_folder()
    numbers = [int(file.stem) for file in place.glob("*.json") if file.stem.isdigit()] if place.is_dir() else []
    draft = Draft(place / f"{max(numbers, default=0) + 1:06d}.json", kind, name, "new")
    is_shipped = shipped_value_or_none(KINDS[kind], name, shipped or locate.shipped_folder()) is not None
    file = folder / KINDS[kind].plural / f"{name}.yaml"
    if file.is_file():
        value = parse_document(file.read_text(encoding="utf-8"), file.name).value
        draft.value = value if isinstance(value, dict) else {}
    elif is_shipped:
        draft.value = {"id": name}
    elif name in getattr(knowledge, KINDS[kind].plural):
        raise UsageError(f"{name!r} is the id of an entry already", "another name")
    draft.mode = "change" if is_shipped else "own" if file.is_file() else "new"
    draft._keep()  # noqa: SLF001 - the same module
    return draft


def list_drafts() -> list[Draft]:
    """The drafts on disk, the newest first; a file that cannot be read is skipped."""
    found = []
    place = drafts_folder()
    for file in sorted(place.glob("*.json"), reverse=True) if place.is_dir() else ():
        with contextlib.suppress(OSError, ValueError, KeyError, TypeError):
            row = json.loads(file.read_text(encoding="utf-8"))
            if row["format"] == FORMAT and row["kind"] in KINDS:
                fields = {key: row[key] for key in ("kind", "id", "mode", *_UNDONE_KEYS, "past")}
                found.append(Draft(file, **fields))
    return found


def drafts_folder() -> Path:
    """Where drafts are kept."""
    return state_folder() / "drafts"


def shipped_of(draft: Draft, shipped: Path | None = None) -> dict[str, Any]:
    """The shipped values below a change; nothing for an entry of one's own."""
    if draft.mode != "change":
        return {}
    kind = KINDS[draft.kind]
    root = shipped or locate.shipped_folder()
    file = root / kind.plural / f"{draft.id}.yaml"
    return _read_shipped(kind.name, draft.id, root, file.stat().st_mtime_ns if file.is_file() else 0)


@lru_cache(maxsize=4)
def _read_shipped(kind: str, name: str, root: Path, _: int) -> dict[str, Any]:
    """Read once while a form is open: every field looks at it. It is never written into."""
    return shipped_value_or_none(KINDS[kind], name, root) or {}


def effective(draft: Draft) -> Laid:
    """What the entry would say in the end, and what does not fit."""
    if draft.mode != "change":
        return Laid(dict(draft.value))
    return lay_over(KINDS[draft.kind].model, shipped_of(draft), draft.value)


def missing_keys(draft: Draft) -> tuple[str, ...]:
    """Required keys that have no value yet."""
    return tuple(key for key in required_keys(draft.kind) if key not in effective(draft).value and key != "id")


def differences(draft: Draft) -> tuple[Difference, ...]:
    """What the draft changes of the shipped entry, or states anew."""
    return compare_entries(shipped_of(draft), effective(draft).value)


def problems(draft: Draft, folder: Path, knowledge: Knowledge) -> list[Issue]:
    """Errors in what was entered so far; what is still missing is none."""
    if draft.mode == "new":
        return draft_issues(draft.kind, draft.id or "draft", _without_id(draft.value), folder, knowledge)
    from weedkey.knowledge.comments import edited_text
    from weedkey.knowledge.writing import local_issues, own_text

    text = own_text(draft.kind, draft.id, folder)
    edits = edits_of(parse_document(text, draft.id).value, draft.value)
    found = local_issues(draft.kind, edited_text(text, edits), folder, knowledge)
    return [issue for issue in found if issue.severity == "error"]


def save_draft_entry(draft: Draft, folder: Path, knowledge: Knowledge) -> Path:
    """Save the entry in the user's folder and forget the draft. Raises KnowledgeError with every problem, UsageError if
    something required is missing; the draft stays then.
    """
    if missing := missing_keys(draft):
        raise UsageError("still missing: " + ", ".join(missing), "a value for each")
    if draft.mode == "new":
        text = new_entry_text(draft.kind, draft.id, _without_id(draft.value), folder)
        path = save_local(draft.kind, text, folder, knowledge=knowledge)
    else:
        from weedkey.knowledge.writing import own_text

        old = parse_document(own_text(draft.kind, draft.id, folder), draft.id).value
        path = edit_local(draft.kind, draft.id, edits_of(old, draft.value), folder, knowledge=knowledge)
    draft.drop()
    return path


def edits_of(old: Mapping[str, Any], new: Mapping[str, Any]) -> dict[str, Any]:
    """The edits, by key path, that make ``new`` of ``old``; None takes a key away."""
    edits: dict[str, Any] = {}
    for key in dict.fromkeys((*old, *new)):
        before, after = old.get(key), new.get(key)
        if isinstance(before, Mapping) and isinstance(after, Mapping):
            edits.update({f"{key}.{rest}": value for rest, value in edits_of(before, after).items()})
        elif before != after:
            edits[key] = after
    return edits


def _without_id(value: Mapping[str, Any]) -> dict[str, Any]:
    return {key: item for key, item in value.items() if key != "id"}


def _has_sources(value: Any) -> bool:
    if isinstance(value, Mapping):
        return "sources" in value or any(_has_sources(item) for item in value.values())
    return isinstance(value, list) and any(_has_sources(item) for item in value)


def _nested(path: Sequence[str], value: Any) -> dict[str, Any]:
    for part in reversed(path):
        value = {part: value}
    made: dict[str, Any] = value
    return made


def _get(value: Any, path: Sequence[str]) -> Any:
    for part in path:
        value = value.get(part) if isinstance(value, Mapping) else None
    return value


def _put(value: dict[str, Any], path: Sequence[str], item: Any) -> None:
    first, *rest = path
    if rest:
        inner = value.setdefault(first, {})
        _put(inner, rest, item)
        if not inner:
            del value[first]
    elif item is None:
        value.pop(first, None)
    else:
        value[first] = item
