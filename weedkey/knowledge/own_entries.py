"""The entries in the user's folder: which there are, which add and which change a shipped one, what is wrong with them.

Every change of a file goes through ``history``, so that it can be taken back.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from weedkey.errors import Issue, KnowledgeError, UnknownName
from weedkey.knowledge import history, locate
from weedkey.knowledge.checks.run import check_local
from weedkey.knowledge.entries import KINDS, Kind, entry_files, read_entries, shown_path
from weedkey.knowledge.overlay import shipped_value_or_none
from weedkey.knowledge.row_changes import lay_over
from weedkey.model.base import Knowledge


@dataclass(frozen=True, slots=True)
class OwnEntry:
    """One entry of the user's folder. ``value``: what its file states, None if the file cannot be read."""

    kind: str
    id: str
    name: str
    is_new: bool
    file: Path
    value: dict[str, Any] | None
    issues: tuple[Issue, ...] = ()

    @property
    def is_usable(self) -> bool:
        """False if the entry is left out."""
        return not any(issue.severity == "error" for issue in self.issues)


def own_file(kind: str, name: str) -> str:
    """The file of an entry below the user's folder."""
    found = KINDS[kind]
    return f"{found.plural}.yaml" if found.one_file else f"{found.plural}/{name}.yaml"


def list_own(folder: Path, knowledge: Knowledge, shipped: Path | None = None) -> tuple[OwnEntry, ...]:
    """Every entry of the folder, by kind and id, with its problems. ``knowledge``: as loaded with this folder."""
    if not folder.is_dir():
        return ()
    root = shipped or locate.shipped_folder()
    issues = check_local(folder, knowledge, root)
    found: list[OwnEntry] = []
    for kind, file in entry_files(folder):
        found += _entries_of(kind, file, knowledge, issues, root)
    return tuple(found)


def _entries_of(
    kind: Kind, file: Path, knowledge: Knowledge, issues: Iterable[Issue], root: Path
) -> Iterable[OwnEntry]:
    here = [issue for issue in issues if issue.where.path == shown_path(file)]
    try:
        raws = read_entries(kind, file)
    except KnowledgeError as error:
        yield OwnEntry(kind.name, file.stem, file.stem, True, file, None, tuple(here) or error.issues)
        return
    for place, raw in enumerate(raws):
        mark = f"{kind.plural}[{place}]"
        own = [issue for issue in here if not kind.one_file or (issue.where.key or "").startswith(mark)]
        entry = getattr(knowledge, kind.plural).get(raw.id)
        name = raw.value.get("name") or getattr(entry, "name", None) or raw.value.get("title") or raw.id
        is_new = shipped_value_or_none(kind, raw.id, root) is None
        yield OwnEntry(kind.name, raw.id, str(name), is_new, file, raw.value, tuple(own))


def find_own(entries: Iterable[OwnEntry], name: str, kind: str | None = None) -> OwnEntry:
    """One's own entry by id or name. Raises UnknownName with the names that there are."""
    from weedkey.knowledge.names import normalise

    rows = [entry for entry in entries if kind in (None, entry.kind)]
    wanted = normalise(name)
    for entry in rows:
        if name == entry.id or wanted in (normalise(entry.name), normalise(entry.id.replace("_", " "))):
            return entry
    raise UnknownName(f"{kind or 'entry'} of your own", name, [entry.id for entry in rows])


def remove_own(folder: Path, entry: OwnEntry) -> history.Step:
    """Take an entry away; ``history.undo`` brings it back. Raises OSError."""
    name = entry.file.relative_to(folder).as_posix()
    text = None if not KINDS[entry.kind].one_file else _without_row(entry)
    return history.write_files(folder, {name: text}, f"removing the {entry.kind} {entry.id}")


def _without_row(entry: OwnEntry) -> str | None:
    """The file of several rows without this one, comments kept; None if it was the last."""
    from weedkey.knowledge.comments import dump_tree, load_tree

    tree = load_tree(entry.file.read_text(encoding="utf-8"))
    rows = tree[KINDS[entry.kind].plural]
    places = [place for place, row in enumerate(rows) if row.get("id") == entry.id]
    for place in reversed(places):
        del rows[place]
    return dump_tree(tree) if rows else None


def shipped_and_own(entry: OwnEntry, shipped: Path | None = None) -> tuple[dict[str, Any], dict[str, Any]]:
    """The shipped values and those with the user's own over them; nothing before for a new entry.

    Raises KnowledgeError if the file cannot be read or its changes do not fit.
    """
    if entry.value is None:
        raise KnowledgeError(entry.issues)
    root = shipped or locate.shipped_folder()
    base = shipped_value_or_none(KINDS[entry.kind], entry.id, root)
    if base is None:
        return {}, entry.value
    laid = lay_over(KINDS[entry.kind].model, base, entry.value)
    if laid.problems:
        raise KnowledgeError([issue for issue in entry.issues if issue.severity == "error"] or entry.issues)
    return base, laid.value
