"""The kinds of entries and where their files lie; reads a folder into raw entries without judging them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from weedkey.errors import Issue, KnowledgeError, Where
from weedkey.knowledge.strict_yaml import Document, KeyPath, read_document
from weedkey.model.condition import Condition
from weedkey.model.control import Control
from weedkey.model.place import Place
from weedkey.model.source import Source
from weedkey.model.trait import Trait
from weedkey.model.turf import Turf
from weedkey.model.weed import Weed


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of entry: a folder with one file an entry, or one file with a list of entries."""

    name: str
    plural: str
    model: type[Any]
    one_file: bool


KINDS: dict[str, Kind] = {
    kind.name: kind
    for kind in (
        Kind("source", "sources", Source, True),
        Kind("trait", "traits", Trait, True),
        Kind("condition", "conditions", Condition, True),
        Kind("turf", "turfs", Turf, False),
        Kind("control", "controls", Control, False),
        Kind("place", "places", Place, False),
        Kind("weed", "weeds", Weed, False),
    )
}


@dataclass(frozen=True, slots=True)
class RawEntry:
    """One entry as plain values: its kind, its id, and where it stands."""

    kind: Kind
    id: str
    value: dict[str, Any]
    document: Document
    base: KeyPath
    file: Path

    def where(self, key: KeyPath = ()) -> Where:
        """The place of a key of this entry in its file."""
        return self.document.where((*self.base, *key))

    def issue(  # noqa: PLR0917 - the order of a message
        self, check: str, key: KeyPath, wrong: str, expected: str = "", write: str = "", severity: str = "error"
    ) -> Issue:
        """A problem at a key of this entry."""
        return Issue(check, severity, self.where(key), wrong, expected, write)


def kind_of_file_or_none(file: Path) -> Kind | None:
    """The kind of entry that a file holds, by its folder or its name."""
    for kind in KINDS.values():
        if (kind.one_file and file.name == f"{kind.plural}.yaml") or (
            not kind.one_file and file.parent.name == kind.plural
        ):
            return kind
    return None


def entry_files(root: Path) -> Iterator[tuple[Kind, Path]]:
    """Every file of entries below a folder, in a fixed order; missing folders are skipped."""
    for kind in KINDS.values():
        if kind.one_file:
            file = root / f"{kind.plural}.yaml"
            if file.is_file():
                yield kind, file
        else:
            for file in sorted((root / kind.plural).glob("*.yaml")):
                if not file.name.startswith("."):
                    yield kind, file


def shown_path(file: Path) -> str:
    """The path as messages print it: relative to the current folder where that is shorter."""
    try:
        return str(file.absolute().relative_to(Path.cwd()))
    except (ValueError, OSError):
        return str(file)


def read_entries(kind: Kind, file: Path) -> list[RawEntry]:
    """The raw entries of one file; KnowledgeError names every problem of its form."""
    document = read_document(file, shown_path(file))
    if not kind.one_file:
        return [_raw_entry(kind, document.value, document, (), file)]
    rows = document.value.get(kind.plural) if isinstance(document.value, dict) else None
    if not isinstance(rows, list) or set(document.value) != {kind.plural}:
        issue = Issue(
            "entry-type",
            "error",
            document.where(),
            f"the file does not hold a list {kind.plural}",
            f"one key {kind.plural!r} with a list of rows",
            f"{kind.plural}:",
        )
        raise KnowledgeError([issue])
    made: list[RawEntry] = []
    issues: list[Issue] = []
    for index, row in enumerate(rows):
        try:
            made.append(_raw_entry(kind, row, document, (kind.plural, index), file))
        except KnowledgeError as error:
            issues += error.issues
    if issues:
        raise KnowledgeError(issues)
    return made


def _raw_entry(kind: Kind, value: Any, document: Document, base: KeyPath, file: Path) -> RawEntry:
    if not isinstance(value, dict):
        raise KnowledgeError(
            [
                Issue(
                    "entry-type",
                    "error",
                    document.where(base),
                    "no row of keys stands here",
                    f"the keys of a {kind.name}",
                )
            ]
        )
    name = value.get("id")
    if not isinstance(name, str) or not name:
        wrong = "the key 'id' is missing" if name is None else f"the id {name!r} is not text"
        raise KnowledgeError(
            [
                Issue(
                    "entry-missing-key",
                    "error",
                    document.where((*base, "id")),
                    wrong,
                    "an id in lower_snake",
                    f"id: {'…' if kind.one_file else file.stem}",
                )
            ]
        )
    return RawEntry(kind, name, value, document, base, file)
