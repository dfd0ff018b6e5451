"""Ids, names and the first line of a file."""

from __future__ import annotations

from collections.abc import Iterator

from weedkey.errors import Issue, Where
from weedkey.knowledge.checks.base import Check, Subject
from weedkey.knowledge.checks.schema import schema_name
from weedkey.knowledge.entries import RawEntry, shown_path
from weedkey.knowledge.names import normalise


class IdStem(Check):
    """Names lead to files: the id is the file's name."""

    id = "id-stem"
    about = "The id of an entry is the name of its file."

    def find(self, subject: Subject) -> Iterator[Issue]:
        """Entries whose id is not the stem of their file."""
        for raw in subject.raws:
            if not raw.kind.one_file and raw.id != raw.file.stem:
                yield self.issue(
                    raw,
                    ("id",),
                    f"the id {raw.id!r} is not the name of the file",
                    f"the id {raw.file.stem!r}, or another file name",
                    f"id: {raw.file.stem}",
                )


class NameClash(Check):
    """A name that belongs to two weeds would settle nothing."""

    id = "name-clash"
    about = "No two entries of one kind share a common or a scientific name."

    def find(self, subject: Subject) -> Iterator[Issue]:
        """Names and scientific names that an entry of the same kind has too."""
        owners: dict[tuple[str, str, str], str] = {}
        for kind in ("weed", "turf", "control", "place"):
            for name, entry in getattr(subject.knowledge, f"{kind}s").items():
                for key in ("name", "scientific"):
                    owners.setdefault((kind, key, normalise(getattr(entry, key, ""))), name)
        for raw, entry in subject.of_kind("weed", "turf", "control", "place"):
            for key in ("name", "scientific"):
                text = getattr(entry, key, "")
                owner = owners.get((raw.kind.name, key, normalise(text)), raw.id) if text else raw.id
                if owner != raw.id:
                    yield self.issue(
                        raw, (key,), f"{text!r} is already the name of {owner!r}", "a name that no other entry has"
                    )


class FileHead(Check):
    """An editor that knows the schema helps while typing."""

    id = "file-head"
    severity = "warning"
    about = "The first line of a file tells an editor which schema to use."

    def find(self, subject: Subject) -> Iterator[Issue]:
        """Files whose first line does not name the right schema."""
        if subject.local:
            return
        firsts: dict[str, RawEntry] = {}
        for raw in subject.raws:
            firsts.setdefault(str(raw.file), raw)
        for raw in firsts.values():
            folder = "schema" if raw.kind.one_file else "../schema"
            wanted = f"# yaml-language-server: $schema={folder}/{schema_name(raw)}.schema.json"
            with raw.file.open(encoding="utf-8") as file:
                first = file.readline().rstrip("\n")
            if first != wanted:
                yield Issue(
                    self.id,
                    self.severity,
                    Where(shown_path(raw.file), 1, 1),
                    "the first line does not name the schema",
                    "",
                    wanted,
                )
