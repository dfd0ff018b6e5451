"""Load the whole knowledge: the compiled bundle if it is fresh, else the YAML files; then the user's own entries.

A shipped file that is broken stops the program (KnowledgeError with every problem). A broken local file never does:
it is left out and named in ``Knowledge.left_out``.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from weedkey.errors import Issue, KnowledgeError
from weedkey.knowledge import locate
from weedkey.model.base import Knowledge


def load(local: Path | None = None, shipped: Path | None = None) -> Knowledge:
    """All entries. ``local``: a folder of the user's own entries; ``shipped``: another folder than the shipped one.

    Raises KnowledgeError if the shipped knowledge cannot be read. Imports no YAML library while the bundle is fresh
    and there are no local entries.
    """
    knowledge = _load_shipped() if shipped is None else read_folder(shipped)
    if local is None or not local.is_dir():
        return knowledge
    from weedkey.knowledge.overlay import apply_local

    return apply_local(knowledge, local, shipped or locate.shipped_folder())


def _load_shipped() -> Knowledge:
    from weedkey.knowledge import bundle

    root = locate.shipped_folder()
    found = bundle.read_fresh_or_none(root)
    if found is not None:
        return found
    stamp = bundle.stamp_files(root)  # before reading: a file saved meanwhile makes the bundle stale, never wrong
    knowledge = read_folder(root)
    bundle.write_if_possible(knowledge, root, stamp)
    return knowledge


def read_folder(root: Path) -> Knowledge:
    """Build the knowledge from the YAML files of a folder; KnowledgeError holds the problems of all files."""
    from weedkey.knowledge.bundle import digest_contents

    made, issues = build_folder(root)
    if issues:
        raise KnowledgeError(issues)
    return replace(knowledge_of(made), digest=digest_contents(root))


def build_folder(root: Path) -> tuple[dict[str, dict[str, Any]], list[Issue]]:
    """Every entry that can be built, by kind and id, and every problem on the way."""
    from weedkey.knowledge.entries import KINDS, entry_files, read_entries

    made: dict[str, dict[str, Any]] = {name: {} for name in KINDS}
    issues: list[Issue] = []
    for kind, file in entry_files(root):
        try:
            raw_entries = read_entries(kind, file)
        except KnowledgeError as error:
            issues += error.issues
            continue
        for raw in raw_entries:
            if raw.id in made[kind.name]:
                issues.append(
                    raw.issue("entry-duplicate-id", ("id",), f"the id {raw.id!r} stands twice", "each id once")
                )
                continue
            entry, found = build_raw(raw)
            issues += found
            if entry is not None:
                made[kind.name][raw.id] = entry
    return made, issues


def build_raw(raw: Any) -> tuple[Any, list[Issue]]:
    """One raw entry -> one entry of the model, or None and its problems."""
    from weedkey.knowledge.build import Report, build_entry

    report = Report()
    entry = build_entry(raw.kind.model, raw.value, report)
    issues = [raw.issue(p.check, p.path, p.wrong, p.expected, p.write) for p in report.problems]
    return entry, issues


def knowledge_of(made: Mapping[str, Mapping[str, Any]], left_out: tuple[Issue, ...] = ()) -> Knowledge:
    """Index the built entries, each kind in the order of its ids (traits and conditions in the order of their file)."""
    return Knowledge(
        weeds=_sorted(made["weed"]),
        traits=dict(made["trait"]),
        turfs=_sorted(made["turf"]),
        controls=_sorted(made["control"]),
        conditions=dict(made["condition"]),
        places=_sorted(made["place"]),
        sources=_sorted(made["source"]),
        left_out=left_out,
    )


def _sorted(entries: Mapping[str, Any]) -> dict[str, Any]:
    return {name: entries[name] for name in sorted(entries)}


def with_entries(knowledge: Knowledge, plural: str, entries: Mapping[str, Any]) -> Knowledge:
    """The same knowledge with one kind of entries replaced."""
    changed: dict[str, Any] = {plural: entries}
    return replace(knowledge, **changed)
