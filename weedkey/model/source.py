"""Where a fact comes from, and the rule that no fact exists without it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from weedkey.errors import SourceMissing

#: Words that stand in a ``sources`` list where no publication was looked up.
FROM_MEMORY = "from_memory"
COMMON_PRACTICE = "common_practice"
#: A fact that the user recorded in a local entry, with date and place in the entry's ``seen``.
SEEN_BY_USER = "seen_by_user"
UNPUBLISHED = frozenset({FROM_MEMORY, COMMON_PRACTICE, SEEN_BY_USER})


@dataclass(frozen=True, slots=True)
class Source:
    """A publication: institution, title, year as printed (may be empty), address."""

    id: str
    institution: str
    title: str
    year: str = ""
    url: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Sighting:
    """When and where a user saw what a local entry records from sight (source seen_by_user). Who is not asked."""

    on: date
    place: str
    note: str = ""


def require_sources(sources: tuple[str, ...], fact: str) -> None:
    """Raise SourceMissing unless ``sources`` names at least one source."""
    if not sources or not all(sources):
        raise SourceMissing(fact)


def is_published(sources: tuple[str, ...]) -> bool:
    """True if at least one of the sources is a publication rather than memory or custom."""
    return any(source not in UNPUBLISHED for source in sources)
