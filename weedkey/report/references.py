"""Numbers the sources of a text in the order of their first mention, and lists them at its end."""

from __future__ import annotations

from collections.abc import Iterable

from weedkey.model.base import Knowledge
from weedkey.model.source import COMMON_PRACTICE, FROM_MEMORY, SEEN_BY_USER

_WORDS = {
    FROM_MEMORY: "from memory",
    COMMON_PRACTICE: "common practice",
    SEEN_BY_USER: "seen by you",
}


def source_line(knowledge: Knowledge, source_id: str) -> str:
    """Institution, title, year, address of one source; the words for memory and custom."""
    if source_id in _WORDS:
        return _WORDS[source_id]
    source = knowledge.sources.get(source_id)
    if source is None:
        return f"{source_id} (source not found)"
    parts = [source.institution, source.title, source.year, source.url]
    return ", ".join(part for part in parts if part)


class References:
    """Collects sources; ``mark`` returns "[1][2]", or "(from memory)" and the like."""

    def __init__(self, knowledge: Knowledge) -> None:
        self._knowledge = knowledge
        self._numbers: dict[str, int] = {}

    def mark(self, sources: Iterable[str]) -> str:
        """The marks for these sources; unpublished ones as words."""
        numbers = []
        words = []
        for source in sources:
            if source in _WORDS:
                words.append(f"({_WORDS[source]})")
            else:
                number = self._numbers.setdefault(source, len(self._numbers) + 1)
                numbers.append(f"[{number}]")
        return "".join(numbers) + (" " if numbers and words else "") + " ".join(words)

    def lines(self) -> list[str]:
        """One line a source: "[1] institution, title, year, address"."""
        return [f"[{number}] {source_line(self._knowledge, key)}" for key, number in self._numbers.items()]
