"""Own entries of somebody else, laid beside one's own: first seen, then written all or not at all."""

from __future__ import annotations

import shutil
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from weedkey.errors import Issue, KnowledgeError
from weedkey.knowledge import history, locate
from weedkey.knowledge.checks.run import check_local
from weedkey.knowledge.comments import dump_tree, load_tree
from weedkey.knowledge.entries import KINDS, entry_files, shown_path
from weedkey.knowledge.entry_diff import Difference, compare_entries
from weedkey.knowledge.exchange import Package, kind_of
from weedkey.knowledge.likeness import Separation, separate
from weedkey.knowledge.loading import load
from weedkey.knowledge.overlay import shipped_value_or_none
from weedkey.knowledge.row_changes import lay_over
from weedkey.knowledge.strict_yaml import parse_document
from weedkey.knowledge.writing import head_line
from weedkey.model.base import Knowledge


@dataclass(frozen=True, slots=True)
class Arrival:
    """One entry that would come in. ``what``: new, override (of a shipped entry), changes (one's own file), same.

    ``differences``: to one's own file, or of an override to the shipped entry; ``separation``: of a new weed.
    """

    kind: str
    id: str
    name: str
    what: str
    differences: tuple[Difference, ...] = ()
    separation: Separation | None = None


@dataclass(frozen=True, slots=True)
class Preview:
    """What reading a package in would do; ``texts``: the files as they would be written."""

    arrivals: tuple[Arrival, ...]
    issues: tuple[Issue, ...]
    texts: Mapping[str, str]

    @property
    def errors(self) -> tuple[Issue, ...]:
        """The problems that stand against it."""
        return tuple(issue for issue in self.issues if issue.severity == "error")

    @property
    def is_empty(self) -> bool:
        """True if everything is there already."""
        return not self.texts


def preview_import(package: Package, folder: Path, shipped: Path | None = None) -> Preview:
    """What would be new, what would change, and every problem; nothing is written."""
    root = shipped or locate.shipped_folder()
    texts = {
        name: text for name, text in _merged_texts(package, folder).items() if not _says_the_same(folder / name, text)
    }
    with TemporaryDirectory() as place:
        trial = Path(place) / "own"
        _copy_entries(folder, trial)
        for name, text in texts.items():
            (trial / name).parent.mkdir(parents=True, exist_ok=True)
            (trial / name).write_bytes(text.encode())
        knowledge = load(trial, shipped)
        issues = _issues(trial, folder, package, knowledge, root)
        arrivals = tuple(_arrival(key, folder, trial, knowledge, root) for key in package.names)
    return Preview(arrivals, issues, texts)


def import_package(preview: Preview, folder: Path) -> history.Step | None:
    """Write what the preview showed, all or nothing; None if nothing would change.

    Raises KnowledgeError if the preview found an error, OSError if it cannot be written; nothing is changed then.
    """
    if preview.errors:
        raise KnowledgeError(preview.errors)
    if preview.is_empty:
        return None
    count = len(preview.arrivals)
    return history.write_files(folder, preview.texts, f"reading in {count} {'entry' if count == 1 else 'entries'}")


def _merged_texts(package: Package, folder: Path) -> dict[str, str]:
    made: dict[str, str] = {}
    for name, text in package.texts.items():
        kind = kind_of(name)
        old = _text(folder / name)
        if kind.one_file:
            made[name] = _with_rows(old, text, kind.plural) if old is not None else text
        else:
            is_change = shipped_value_or_none(kind, Path(name).stem, locate.shipped_folder()) is not None
            made[name] = f"{head_line(kind.name, folder, change=is_change)}\n{text}"
    return made


def _with_rows(old: str, new: str, plural: str) -> str:
    """Rows with a known id replace the old ones, others are added; comments of the old file stay."""
    tree, more = load_tree(old), load_tree(new)
    if parse_document(old, plural).value == parse_document(new, plural).value:
        return old
    rows = tree[plural]
    places = {row.get("id"): place for place, row in enumerate(rows)}
    for row in more[plural]:
        if row["id"] in places:
            rows[places[row["id"]]] = row
        else:
            rows.append(row)
    return dump_tree(tree)


def _says_the_same(path: Path, text: str) -> bool:
    """True if one's own file states the same already; it then stays with its own comments."""
    old = _text(path)
    try:
        return old is not None and parse_document(old, path.name).value == parse_document(text, path.name).value
    except (KnowledgeError, UnicodeEncodeError):
        return False


def _text(path: Path) -> str | None:
    try:
        return path.read_bytes().decode("utf-8", "surrogateescape")
    except FileNotFoundError:
        return None


def _copy_entries(folder: Path, trial: Path) -> None:
    """Only the files of entries: what else lies in the folder is none of ours."""
    trial.mkdir()
    for _, file in entry_files(folder) if folder.is_dir() else ():
        target = trial / file.relative_to(folder)
        target.parent.mkdir(parents=True, exist_ok=True)
        if file.is_file():
            shutil.copyfile(file, target)


def _issues(trial: Path, folder: Path, package: Package, knowledge: Knowledge, root: Path) -> tuple[Issue, ...]:
    """Problems of the files that come in, with the paths they will have, and of own files that they would break."""
    before = {_key(issue) for issue in check_local(folder, load(folder), root)} if folder.is_dir() else set()
    paths = {shown_path(trial / name): shown_path(folder / name) for name in package.texts}
    found = []
    for issue in check_local(trial, knowledge, root):
        coming = paths.get(issue.where.path)
        if coming is not None:
            found.append(replace(issue, where=replace(issue.where, path=coming)))
        elif _key(issue) not in before:
            path = issue.where.path.replace(shown_path(trial), shown_path(folder))
            found.append(replace(issue, where=replace(issue.where, path=path)))
    return tuple(found)


def _key(issue: Issue) -> tuple[str, str, str, str]:
    return (issue.check, Path(issue.where.path).name, issue.where.key or "", issue.wrong)


def _arrival(key: tuple[str, str], folder: Path, trial: Path, knowledge: Knowledge, root: Path) -> Arrival:
    kind, name = key
    before, after = _value(kind, name, folder), _value(kind, name, trial) or {}
    shipped = shipped_value_or_none(KINDS[kind], name, root)
    entry = getattr(knowledge, KINDS[kind].plural).get(name)
    words = str(after.get("name") or getattr(entry, "name", None) or after.get("title") or name)
    if before is not None:
        what = "same" if before == after else "changes"
        differences = compare_entries(_laid(kind, shipped, before), _laid(kind, shipped, after))
        return Arrival(kind, name, words, what, differences)
    if shipped is not None:
        return Arrival(kind, name, words, "override", compare_entries(shipped, _laid(kind, shipped, after)))
    found = separate(after, knowledge) if kind == "weed" else None
    return Arrival(kind, name, words, "new", (), found)


def _laid(kind: str, shipped: Mapping[str, Any] | None, own: Mapping[str, Any]) -> Mapping[str, Any]:
    """What the entry says in the end: over the shipped one, if there is one."""
    return own if shipped is None else lay_over(KINDS[kind].model, shipped, own).value


def _value(kind: str, name: str, folder: Path) -> dict[str, Any] | None:
    """The values that a file states for an entry; None if there is none or it cannot be read."""
    found = KINDS[kind]
    file = folder / (f"{found.plural}.yaml" if found.one_file else f"{found.plural}/{name}.yaml")
    text = _text(file)
    if text is None:
        return None
    try:
        value = parse_document(text.encode("utf-8", "replace").decode(), file.name).value
    except KnowledgeError:
        return None
    if found.one_file:
        return next((row for row in value.get(found.plural, ()) if row.get("id") == name), None)
    return value if isinstance(value, dict) else None
