"""Every saved walk in a few words, and the search among them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from weedkey.errors import LawnError, UnknownName
from weedkey.knowledge.lawn_file import read_lawn
from weedkey.knowledge.names import normalise
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Lawn
from weedkey.storage import LAWN_FILE, is_archived, list_visits

#: A word that is written nowhere counts as a slip of one that is this close (0 to 100).
_CLOSE = 78
_SHORTEST_SLIP = 4
MONTHS = (
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
)


@dataclass(frozen=True, slots=True)
class SavedWalk:
    """One walk. ``lawn`` is None if its file cannot be read; ``problem`` then says why."""

    folder: Path
    archived: bool
    lawn: Lawn | None = None
    problem: str = ""

    @property
    def name(self) -> str:
        """The name of its folder: what the command line calls it."""
        return self.folder.name

    @property
    def findings(self) -> int:
        """How many weeds (or sets) are entered."""
        return sum(len(zone.findings) for zone in self.lawn.zones) if self.lawn else 0

    @property
    def photos(self) -> int:
        """How many photos are named."""
        if self.lawn is None:
            return 0
        return sum(len(zone.photos) + sum(len(row.photos) for row in zone.findings) for zone in self.lawn.zones)


def read_walks(knowledge: Knowledge, *, archived: bool | None = False, folder: Path | None = None) -> list[SavedWalk]:
    """Walks, the one changed last first. ``archived``: True only the archived ones, False the others, None all.

    A walk whose lawn cannot be read stays in the list with its problem.
    """
    return [_read(path, knowledge) for path in list_visits(folder, archived=archived)]


def _read(folder: Path, knowledge: Knowledge) -> SavedWalk:
    try:
        return SavedWalk(folder, is_archived(folder), read_lawn(folder / LAWN_FILE, knowledge))
    except LawnError as error:
        return SavedWalk(folder, is_archived(folder), None, str(error.issues[0]))


def find_walk(walks: Sequence[SavedWalk], name: str) -> SavedWalk:
    """The walk of this folder name, or the only one whose lawn is called so, or whose name holds what was typed.

    Raises UnknownName with those that it may be.
    """
    exact = [walk for walk in walks if walk.name == name]
    wanted = normalise(name)
    exact = exact or [walk for walk in walks if normalise(walk.name) == wanted]
    exact = exact or [walk for walk in walks if walk.lawn and normalise(walk.lawn.name) == wanted]
    exact = exact or [walk for walk in walks if wanted and wanted in normalise(walk.name)]
    if len(exact) == 1:
        return exact[0]
    raise UnknownName("walk", name, [walk.name for walk in exact or walks])


def search_walks(knowledge: Knowledge, walks: Sequence[SavedWalk], text: str) -> list[SavedWalk]:
    """Walks that hold every word of ``text``: in the lawn's name, place, turf, zones, weeds (any of their names),
    day or month. If none holds them all, slips of the finger are allowed for. The order of the walks stays.
    """
    words = normalise(text).split()
    if not words:
        return list(walks)
    texts = [_words_of(knowledge, walk) for walk in walks]
    exact = [walk for walk, held in zip(walks, texts, strict=True) if all(_holds(held, word) for word in words)]
    if exact:
        return exact
    return [walk for walk, held in zip(walks, texts, strict=True) if all(_is_near(held, word) for word in words)]


def _words_of(knowledge: Knowledge, walk: SavedWalk) -> tuple[str, ...]:
    """Every text by which a walk may be looked for, normalised."""
    texts = [walk.name]
    lawn = walk.lawn
    if lawn is not None:
        texts += [
            lawn.name,
            lawn.notes,
            lawn.site,
            lawn.state,
            str(lawn.on),
            f"{lawn.on.day} {MONTHS[lawn.on.month - 1]} {lawn.on.year}",
        ]
        place, turf = knowledge.places.get(lawn.place or ""), knowledge.turfs.get(lawn.turf)
        texts += [place.name, place.region] if place else []
        texts += [turf.name, turf.scientific] if turf else [lawn.turf]
        for zone in lawn.zones:
            texts += [zone.name, zone.note]
            for finding in zone.findings:
                texts += [finding.label, finding.note]
                texts += [name for weed in finding.weeds for name in _weed_names(knowledge, weed)]
    return tuple(dict.fromkeys(normalise(text.replace("_", " ")) for text in texts if text))


def _weed_names(knowledge: Knowledge, weed_id: str) -> Iterable[str]:
    weed = knowledge.weeds.get(weed_id)
    if weed is None:
        return (weed_id,)
    return (weed.name, weed.scientific, *weed.also_called, *weed.former_scientific)


def _holds(held: tuple[str, ...], word: str) -> bool:
    return any(word in text.replace(" ", "") or word in text for text in held)


def _is_near(held: tuple[str, ...], word: str) -> bool:
    """True if a word, or a whole text written as one word, is this word but for a slip."""
    if _holds(held, word):
        return True
    if len(word) < _SHORTEST_SLIP or word.isdigit():
        return False
    from rapidfuzz import fuzz

    tokens = {token for text in held for token in (*text.split(), text.replace(" ", ""))}
    return any(fuzz.ratio(word, token) >= _CLOSE for token in tokens)


def day_of(walk: SavedWalk) -> date | None:
    """The day of the visit, if its lawn can be read."""
    return walk.lawn.on if walk.lawn else None
