"""What a check is: a small class with a stable id and a severity, which looks at entries and yields issues.

Severity: an *error* would mislead or stop somebody; a *warning* is a weakness that a reviewer may accept; a *note*
is a hint. Each check states its id once; output, documentation and tests name it by that id.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, ClassVar

from weedkey.errors import Issue
from weedkey.knowledge.entries import RawEntry
from weedkey.knowledge.strict_yaml import KeyPath
from weedkey.model.base import Knowledge
from weedkey.model.region import Region


@dataclass(frozen=True, slots=True)
class Subject:
    """What is checked: some raw entries, against the whole knowledge that they belong to.

    ``whole``: the entries are all entries, so that questions about the collection make sense (is a source unused?).
    ``local``: the entries are the user's own. ``regions``: treatments by weed, where the caller knows them.
    """

    raws: tuple[RawEntry, ...]
    knowledge: Knowledge
    whole: bool = True
    local: bool = False
    regions: Mapping[str, Region] | None = None
    _by_id: dict[tuple[str, str], RawEntry] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self._by_id.update({(raw.kind.name, raw.id): raw for raw in self.raws})

    def of_kind(self, *kinds: str) -> Iterator[tuple[RawEntry, Any]]:
        """The raw entries of some kinds, each with its entry of the model; those that are not built are skipped."""
        for raw in self.raws:
            if raw.kind.name in kinds:
                entry = getattr(self.knowledge, raw.kind.plural).get(raw.id)
                if entry is not None:
                    yield raw, entry

    def raw_or_none(self, kind: str, name: str) -> RawEntry | None:
        """The raw entry with this id, if it is among those that are checked."""
        return self._by_id.get((kind, name))


class Check:
    """Base of all checks. Subclasses state ``id``, ``severity`` and ``about``, and implement ``find``."""

    id: ClassVar[str]
    severity: ClassVar[str] = "error"
    about: ClassVar[str]

    def find(self, subject: Subject) -> Iterator[Issue]:
        """Yield every problem."""
        raise NotImplementedError

    def issue(self, raw: RawEntry, key: KeyPath, wrong: str, expected: str = "", write: str = "") -> Issue:
        """A problem of this check at a key of an entry."""
        return Issue(self.id, self.severity, raw.where(key), wrong, expected, write)


def walk_facts(value: Any, path: KeyPath = ()) -> Iterator[tuple[KeyPath, Mapping[str, Any]]]:
    """Every row of a raw entry with its key path, the entry itself first."""
    if isinstance(value, Mapping):
        yield path, value
        for key, item in value.items():
            yield from walk_facts(item, (*path, key))
    elif isinstance(value, list):
        for index, item in enumerate(value):
            yield from walk_facts(item, (*path, index))


def walk_texts(value: Any, path: KeyPath = ()) -> Iterator[tuple[KeyPath, str]]:
    """Every text of a raw entry with its key path."""
    if isinstance(value, str):
        yield path, value
    elif isinstance(value, Mapping):
        for key, item in value.items():
            yield from walk_texts(item, (*path, key))
    elif isinstance(value, list):
        for index, item in enumerate(value):
            yield from walk_texts(item, (*path, index))
