"""The user's own entries over the shipped ones.

A local folder has the layout of the shipped one. A file with a new id adds an entry; a file with the id of a shipped
entry changes it: it holds ``id`` and only the keys that it changes. Rows of keys are merged key by key (so one look
can be changed alone), a list stands for the whole list; single rows of a list are changed as ``row_changes`` says.
Every entry that a local file touches is marked ``local``.
A file that cannot be used is left out whole, and named; the shipped entry then stays as it was.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import fields, replace
from hashlib import sha256
from pathlib import Path
from typing import Any

from weedkey.errors import Issue, KnowledgeError
from weedkey.knowledge.entries import KINDS, Kind, RawEntry, entry_files, read_entries
from weedkey.knowledge.loading import build_raw
from weedkey.knowledge.references import find_reference_issues
from weedkey.knowledge.row_changes import CHECK_ID, WORDS, lay_over
from weedkey.knowledge.sourcing import find_sight_problems
from weedkey.model.base import Knowledge
from weedkey.model.trait import Trait


def apply_local(knowledge: Knowledge, local: Path, shipped: Path) -> Knowledge:
    """The knowledge with the user's own entries over it; what cannot be used is named in ``left_out``."""
    raws, issues = read_local(local, shipped)
    made: list[tuple[RawEntry, Any]] = []
    for raw in raws:
        entry, found = build_raw(raw)
        found += [raw.issue(p.check, p.path, p.wrong, p.expected, p.write) for p in find_sight_problems(raw)]
        issues += found
        if entry is not None and not found:
            made.append((raw, _marked(entry)))
    while True:
        merged = _with_entries(knowledge, made)
        broken = {
            (raw.kind.name, raw.id): found for raw, entry in made if (found := _dangling(raw, entry, knowledge, merged))
        }
        if not broken:
            return replace(merged, left_out=(*knowledge.left_out, *issues), digest=_digest(knowledge, made))
        issues += [issue for found in broken.values() for issue in found]
        made = [(raw, entry) for raw, entry in made if (raw.kind.name, raw.id) not in broken]


def _digest(knowledge: Knowledge, made: list[tuple[RawEntry, Any]]) -> str:
    """The digest of the shipped entries, and of what the user's own add to them."""
    if not made:
        return knowledge.digest
    rows = sorted((raw.kind.name, raw.id, repr(raw.value)) for raw, _ in made)
    return f"{knowledge.digest}+{sha256(repr(rows).encode()).hexdigest()}"


def read_local(local: Path, shipped: Path) -> tuple[list[RawEntry], list[Issue]]:
    """The raw local entries, each merged over the shipped entry that it changes, and the problems of reading them."""
    raws: list[RawEntry] = []
    issues: list[Issue] = []
    for kind, file in entry_files(local):
        try:
            found = read_entries(kind, file)
        except KnowledgeError as error:
            issues += error.issues
            continue
        for raw in found:
            if not kind.one_file and raw.id != file.stem:
                issues.append(
                    raw.issue("id-stem", ("id",), f"the id {raw.id!r} is not the name of the file", f"id: {file.stem}")
                )
                continue
            merged, wrong = _merged_over_shipped(raw, shipped)
            if wrong:
                issues += [*wrong, *(build_raw(merged)[1] if merged is not raw else ())]
            else:
                raws.append(merged)
    return raws, issues


def _merged_over_shipped(raw: RawEntry, shipped: Path) -> tuple[RawEntry, list[Issue]]:
    base = shipped_value_or_none(raw.kind, raw.id, shipped)
    if base is None:
        words = [word for word in WORDS if word in raw.value]
        wrong = f"no shipped {raw.kind.name} is called {raw.id!r}, so there is nothing for {' and '.join(words)}"
        return raw, [raw.issue(CHECK_ID, (words[0],), wrong, "the rows themselves")] if words else []
    laid = lay_over(raw.kind.model, base, raw.value)
    issues = [raw.issue(p.check, p.path, p.wrong, p.expected, p.write) for p in laid.problems]
    moved = {(*raw.base, *new): (*raw.base, *old) for new, old in laid.moved.items()}
    return replace(raw, value=laid.value, document=replace(raw.document, moved=moved)), issues


def shipped_value_or_none(kind: Kind, name: str, shipped: Path) -> dict[str, Any] | None:
    """The plain values of a shipped entry; None if there is none with this id."""
    file = shipped / (f"{kind.plural}.yaml" if kind.one_file else f"{kind.plural}/{name}.yaml")
    if not file.is_file():
        return None
    return next((raw.value for raw in read_entries(kind, file) if raw.id == name), None)


def _marked(entry: Any) -> Any:
    """The entry with its ``local`` mark, where its class has one."""
    return replace(entry, local=True) if any(item.name == "local" for item in fields(entry)) else entry


def _dangling(raw: RawEntry, entry: Any, knowledge: Knowledge, merged: Knowledge) -> list[Issue]:
    """Ids that lead nowhere, but not those of the shipped entry below: they are no fault of the local file."""
    shipped = getattr(knowledge, raw.kind.plural).get(raw.id)
    if isinstance(entry, Trait) and shipped is not None:
        lost = [state for state in shipped.state_ids if state not in entry.state_ids]
        if lost:
            wrong = "states that shipped weeds use are missing: " + ", ".join(lost)
            return [raw.issue("reference", ("states",), wrong, "all states of the shipped look, and your own")]
    inherited = {(p.path, p.wrong) for p in find_reference_issues(shipped, merged)} if shipped is not None else set()
    return [
        raw.issue(p.check, p.path, p.wrong, p.expected, p.write)
        for p in find_reference_issues(entry, merged)
        if (p.path, p.wrong) not in inherited
    ]


def _with_entries(knowledge: Knowledge, made: list[tuple[RawEntry, Any]]) -> Knowledge:
    changed: dict[str, Any] = {}
    for kind in KINDS.values():
        own = {raw.id: entry for raw, entry in made if raw.kind is kind}
        if own:
            changed[kind.plural] = Overlaid(getattr(knowledge, kind.plural), own)
    return replace(knowledge, **changed) if changed else knowledge


class Overlaid(Mapping[str, Any]):
    """Shipped entries with some of the user's own over them; the shipped ones stay unbuilt until asked for."""

    def __init__(self, shipped: Mapping[str, Any], own: Mapping[str, Any]) -> None:
        self._shipped = shipped
        self._own = dict(own)
        new = [name for name in own if name not in shipped]
        self._order = tuple(sorted([*shipped, *new])) if new else tuple(shipped)

    def __getitem__(self, key: str) -> Any:
        return self._own[key] if key in self._own else self._shipped[key]

    def __iter__(self) -> Iterator[str]:
        return iter(self._order)

    def __len__(self) -> int:
        return len(self._order)

    def __contains__(self, key: object) -> bool:
        return key in self._own or key in self._shipped

    def names(self) -> Mapping[str, list[list[Any]]]:
        """All names of every entry (see ``weedkey.knowledge.names``)."""
        from weedkey.knowledge.names import all_names

        lazy = getattr(self._shipped, "names", None)
        rows = dict(lazy()) if lazy else {key: all_names(entry) for key, entry in self._shipped.items()}
        rows.update({key: all_names(entry) for key, entry in self._own.items()})
        return {key: rows[key] for key in self._order}
