"""Changes of an entry that is there: keys and single rows, with the source that they rest on, as edits of its file."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from weedkey.errors import UsageError
from weedkey.knowledge.sourcing import facts_without_source, with_sighting, with_sources
from weedkey.knowledge.strict_yaml import KeyPath, parse_document

#: A word of ``row_changes.WORDS``, the list (``responses``, ``looks.ligule``), and the row.
RowChange = tuple[str, str, Any]


@dataclass(slots=True)
class Change:
    """Edits of a file: ``keys`` by path; ``lacking``: facts among them that name no source yet."""

    kind: str
    nested: dict[str, Any]
    paths: list[str]
    seen: object = ()
    lacking: tuple[KeyPath, ...] = field(default=())

    def with_source(self, sources: Sequence[str], sighting: Mapping[str, str] | None) -> dict[str, Any]:
        """The edits by key path, for ``comments.edited_text``; every fact that names no source gets these."""
        filled = with_sources(self.kind, self.nested, list(sources), change=True) if sources else self.nested
        keys = {path: _get(filled, path) for path in self.paths}
        for spot in self.lacking:
            names = [str(part) for part in spot]
            if sources and not any(path == ".".join(names[: path.count(".") + 1]) for path in self.paths):
                keys[".".join([*names, "sources"])] = list(sources)  # a mapping of which only some keys were set
        if sighting is not None:
            keys["seen"] = with_sighting({}, sighting, self.seen)["seen"]
        return keys


def change_keys(kind: str, text: str, values: Mapping[str, Any], rows: Sequence[RowChange] = ()) -> Change:
    """The edits that lay ``values`` (by key path) and row changes over a file with this text.

    Raises KnowledgeError if the text cannot be read, UsageError for key paths that exclude each other.
    """
    old = parse_document(text, kind).value
    old = old if isinstance(old, dict) else {}
    paths = list(values)
    nested: dict[str, Any] = {}
    for path, value in values.items():
        _put(nested, path, value)
    for word, name, row in rows:
        path = f"{word}.{name}"
        before = _get(nested, path) or _get(old, path) or []
        _put(nested, path, [*_without_same(word, before, row), row])
        paths.append(path)
    lacking = facts_without_source(kind, nested, change=True)
    return Change(kind, nested, list(dict.fromkeys(paths)), old.get("seen", ()), lacking)


def _without_same(word: str, rows: list[Any], row: Any) -> list[Any]:
    """A second change of the same row takes the place of the first; the same row is never added twice."""
    if word == "change":
        return [other for other in rows if not (isinstance(other, dict) and other.get("row") == row.get("row"))]
    return [other for other in rows if other != row]


def _get(value: Any, path: str) -> Any:
    for part in path.split("."):
        value = value.get(part) if isinstance(value, Mapping) else None
    return value


def _put(nested: dict[str, Any], path: str, value: Any) -> None:
    *parents, last = path.split(".")
    row = nested
    for parent in parents:
        row = row.setdefault(parent, {})
        if not isinstance(row, dict):
            raise UsageError(f"{path}: {parent} is set to a value already", "one of the two")
    row[last] = value
