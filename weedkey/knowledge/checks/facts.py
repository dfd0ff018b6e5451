"""Whose facts they are: sources that exist, sources that are used, and the rule for facts from sight."""

from __future__ import annotations

from collections.abc import Iterator

from rapidfuzz import fuzz

from weedkey.errors import Issue
from weedkey.knowledge.build import nearest_or_none
from weedkey.knowledge.checks.base import Check, Subject, walk_facts
from weedkey.knowledge.entries import RawEntry
from weedkey.knowledge.sourcing import SIGHT_CHECK_ID, SOURCE_KEYS, find_sight_problems
from weedkey.knowledge.strict_yaml import KeyPath
from weedkey.model.source import COMMON_PRACTICE, FROM_MEMORY, SEEN_BY_USER, Source

#: Two wordings of one title; a judgement on the titles of the shipped list.
SAME_TITLE_PERCENT = 73


def _named_sources(subject: Subject) -> Iterator[tuple[RawEntry, KeyPath, str]]:
    for raw in subject.raws:
        for path, row in walk_facts(raw.value):
            for key in SOURCE_KEYS:
                names = row.get(key)
                if isinstance(names, list):
                    yield from (
                        (raw, (*path, key, place), name) for place, name in enumerate(names) if isinstance(name, str)
                    )


class SourceUnknown(Check):
    """A source that nobody can look up is no source."""

    id = "source-unknown"
    about = "Every source that a fact names stands in sources.yaml, or is from_memory or common_practice."

    def find(self, subject: Subject) -> Iterator[Issue]:
        """Source ids that lead nowhere."""
        known = (*subject.knowledge.sources, FROM_MEMORY, COMMON_PRACTICE)
        for raw, path, name in _named_sources(subject):
            if name in known or name == SEEN_BY_USER:
                continue
            yield self.issue(
                raw,
                path,
                f"there is no source {name!r}",
                "an id of sources.yaml, from_memory or common_practice",
                nearest_or_none(name, known, cutoff=0.9) or "",
            )


class SourceUnused(Check):
    """A list of sources that support nothing hides those that do."""

    id = "source-unused"
    severity = "warning"
    about = "Every source of the list supports at least one fact."

    def find(self, subject: Subject) -> Iterator[Issue]:
        """Sources that no fact names; only asked of a whole folder."""
        if not subject.whole:
            return
        used = {name for _, _, name in _named_sources(subject)}
        for raw, source in subject.of_kind("source"):
            if source.id not in used:
                yield self.issue(
                    raw,
                    ("id",),
                    f"no fact names the source {source.id!r}",
                    "a source that supports a fact",
                    "a fact that names it, or delete the row",
                )


class SourceTwice(Check):
    """One page under two ids looks like two witnesses."""

    id = "source-twice"
    severity = "warning"
    about = "A publication stands once in the list of sources: no two rows with one address and nearly one title."

    def find(self, subject: Subject) -> Iterator[Issue]:
        """Rows whose page another row holds already; a page that lists several articles may stand once an article."""
        earlier: dict[str, list[Source]] = {}
        for raw, source in subject.of_kind("source"):
            page = _page_address(source.url)
            twin = next((one for one in earlier.get(page, ()) if _is_same_title(one.title, source.title)), None)
            if page and twin:
                yield self.issue(
                    raw, ("id",), f"{source.id!r} is the page of {twin.id!r}", "each publication once", twin.id
                )
            earlier.setdefault(page, []).append(source)


def _page_address(address: str) -> str:
    """An address without its scheme, to compare; empty if it was cut off before the page."""
    return "" if " " in address else address.partition("://")[2].removeprefix("www.").rstrip("/").lower()


def _is_same_title(one: str, other: str) -> bool:
    return fuzz.token_set_ratio(one.lower(), other.lower()) >= SAME_TITLE_PERCENT


class SeenRule(Check):
    """What somebody saw is a fact only with a day and a place."""

    id = SIGHT_CHECK_ID
    about = "Facts from sight (seen_by_user) stand only in local entries that say when and where."

    def find(self, subject: Subject) -> Iterator[Issue]:
        """Facts from sight in shipped entries, or in local ones without ``seen``."""
        for raw, path, name in _named_sources(subject):
            if name == SEEN_BY_USER and not subject.local and not getattr(_entry(subject, raw), "local", False):
                yield self.issue(
                    raw,
                    path,
                    "a shipped fact rests on what one user saw",
                    "a published source, from_memory or common_practice",
                )
        for raw in subject.raws if subject.local else ():
            for problem in find_sight_problems(raw):
                yield self.issue(raw, problem.path, problem.wrong, problem.expected, problem.write)


def _entry(subject: Subject, raw: RawEntry) -> object:
    kind, name = raw.kind.plural, raw.id
    return getattr(subject.knowledge, kind).get(name)
