"""Find an entry by whatever people call it: id, common, scientific or former name, in any case, plural or spelling.

Exact hits after normalising need no library; only a name that nothing fits is compared with all others (rapidfuzz).
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, NamedTuple, TypeVar

from weedkey.errors import UnknownName
from weedkey.model.base import Knowledge

T = TypeVar("T")

#: Which sort of name it is; a lower rank wins where one name belongs to several entries.
ID, NAME, SCIENTIFIC, FORMER_ID, FORMER_SCIENTIFIC, ALSO, SHORT, ABBREVIATED = range(8)

#: Spellings of one word: what people write -> what is compared.
_SPELLINGS = {
    "grey": "gray",
    "saint": "st",
    "colour": "color",
    "mould": "mold",
    "fibre": "fiber",
    "sulphur": "sulfur",
    "aluminium": "aluminum",
    "leaves": "leaf",
    "leafed": "leaved",
    "postemergent": "postemergence",
    "preemergent": "preemergence",
    "cores": "core",
    "and": "plus",
}
#: A named thing is listed as close from this likeness upward (0 to 100).
_NEAR = 60
_FUZZY = 62


class Named(NamedTuple):
    """One name of an entry: ``norm`` is what is compared, ``text`` what is shown."""

    norm: str
    text: str
    rank: int


@dataclass(frozen=True, slots=True)
class Match:
    """One hit of a search: the entry, the name that matched, and the likeness from 0 to 100."""

    kind: str
    id: str
    name: str
    matched: str
    score: float


def normalise(text: str) -> str:
    """Lower case, no accents or marks, one spelling, singular words: ``Nut-Sedges`` and ``nut sedge`` agree."""
    plain = unicodedata.normalize("NFKD", text.lower()) if not text.isascii() else text.lower()
    plain = plain.replace("&", " plus ").replace("+", " plus ").replace("'", "")
    words = re.findall(r"[a-z0-9]+", "".join(char for char in plain if not unicodedata.combining(char)))
    return " ".join(_singular(_SPELLINGS.get(word, word)) for word in words)


@lru_cache(maxsize=4096)
def _singular(word: str) -> str:
    """A plural as its singular; words that only look like one come out the same for every spelling, which is enough."""
    if len(word) < 4 or word.endswith("ss"):
        return word
    if word.endswith("ies"):
        return word[:-3] + "y"
    if word.endswith(("sses", "shes", "ches", "xes")):
        return word[:-2]
    return word.removesuffix("s")


def all_names(entry: Any) -> list[list[Any]]:
    """Every name of an entry as [normalised, shown, rank]; plain lists, so that the bundle can carry them."""
    found: dict[str, list[Any]] = {}
    for text, rank in _named(entry):
        norm = normalise(text)
        key = norm.replace(" ", "")
        if key in found and rank == NAME:
            found[key][1] = text  # the name is the id in another spelling: show the name
        elif key and (key not in found or rank < found[key][2]):
            found[key] = [norm, text, rank]
    return list(found.values())


def _named(entry: Any) -> Iterator[tuple[str, int]]:
    yield entry.id, ID
    name = getattr(entry, "name", None) or getattr(entry, "title", None)
    if name:
        yield name, NAME
    scientific = getattr(entry, "scientific", "")
    if scientific:
        yield scientific, SCIENTIFIC
    for field, rank in (
        ("former_ids", FORMER_ID),
        ("former_scientific", FORMER_SCIENTIFIC),
        ("also_called", ALSO),
        ("also", ALSO),
    ):
        yield from ((text, rank) for text in getattr(entry, field, ()))
    if name and "," in name and hasattr(entry, "high_f"):  # a place: people type the town without its state
        yield name.split(",")[0], SHORT
    genus, _, rest = scientific.partition(" ")
    if rest:
        yield f"{genus[0]}. {rest}", ABBREVIATED


class _Index:
    """All names of one kind of entries."""

    def __init__(self, entries: Mapping[str, Any]) -> None:
        lazy = getattr(entries, "names", None)
        rows: Mapping[str, Sequence[Sequence[Any]]] = (
            lazy() if lazy else {key: all_names(entry) for key, entry in entries.items()}
        )
        self.entries = entries
        self.names: list[tuple[str, Named]] = [(key, Named(*row)) for key, listed in rows.items() for row in listed]
        self.exact: dict[str, list[tuple[int, str, str]]] = {}
        for key, named in self.names:
            self.exact.setdefault(named.norm.replace(" ", ""), []).append((named.rank, key, named.text))
        self.shown = {
            key: next((row[1] for row in listed if row[2] == NAME), listed[0][1]) for key, listed in rows.items()
        }


_INDEXES: dict[int, _Index] = {}
_MAX_INDEXES = 32


def _index(entries: Mapping[str, Any]) -> _Index:
    """The index of a mapping, kept as long as few mappings are in use; entries never change once loaded."""
    found = _INDEXES.get(id(entries))
    if found is None or found.entries is not entries:
        if len(_INDEXES) >= _MAX_INDEXES:
            _INDEXES.clear()
        found = _INDEXES[id(entries)] = _Index(entries)
    return found


def find_entry(entries: Mapping[str, T], kind: str, name: str) -> T:
    """The entry that is called so. ``kind`` is only a word for the message.

    Raises UnknownName with the nearest names if there is none, or with all of them if several share the name.
    """
    if name in entries:
        return entries[name]
    index = _index(entries)
    hits = index.exact.get(normalise(name).replace(" ", ""), ())
    if hits:
        best = min(rank for rank, _, _ in hits)
        found = list(dict.fromkeys(key for rank, key, _ in hits if rank == best))
        if len(found) == 1:
            return entries[found[0]]
        raise UnknownName(kind, name, [index.shown[key] for key in found])
    raise UnknownName(kind, name, _nearest(index, name))


def _nearest(index: _Index, name: str, limit: int = 5) -> list[str]:
    """Names close to what was typed, best first, one an entry; a name that shares the typed word also counts."""
    scored = _fuzzy(index, normalise(name), _NEAR)
    return [_with_alias(index.shown[key], named) for key, named, _ in scored[:limit]]


def _with_alias(shown: str, named: Named) -> str:
    """The entry's name, with the name that is close in brackets where that is another one."""
    return shown if named.rank in (ID, NAME, SHORT, ABBREVIATED) or named.text == shown else f"{shown} ({named.text})"


def _fuzzy(index: _Index, norm: str, cutoff: float) -> list[tuple[str, Named, float]]:
    """The best name of every entry that is likely enough, best first; order of ids breaks ties."""
    if not norm:
        return []
    from rapidfuzz import fuzz, process

    texts = [named.norm for _, named in index.names]
    joined = [text.replace(" ", "") for text in texts]
    best: dict[str, tuple[float, Named]] = {}
    hits = [
        (place, score)
        for _, score, place in process.extract(norm, texts, scorer=fuzz.WRatio, limit=60, score_cutoff=cutoff)
    ]
    hits += [
        (place, score)
        for _, score, place in process.extract(
            norm.replace(" ", ""), joined, scorer=fuzz.ratio, limit=60, score_cutoff=cutoff
        )
    ]
    for place, score in hits:
        key, named = index.names[place]
        if key not in best or score > best[key][0]:
            best[key] = (score, named)
    ordered = sorted(best.items(), key=lambda item: (-item[1][0], item[0]))
    return [(key, named, score) for key, (score, named) in ordered]


_PLURALS = {
    "weed": "weeds",
    "turf": "turfs",
    "control": "controls",
    "place": "places",
    "trait": "traits",
    "condition": "conditions",
    "source": "sources",
}


def search(knowledge: Knowledge, text: str, kinds: Sequence[str] = ("weed",), limit: int = 10) -> list[Match]:
    """Entries that may be meant, best first: exact, then names that begin so, that hold it, that are like it."""
    norm = normalise(text)
    if not norm:
        return []
    hits: list[Match] = []
    for kind in kinds:
        hits += _plain_hits(kind, _index(getattr(knowledge, _PLURALS[kind])), norm)
    if not hits:
        for kind in kinds:
            index = _index(getattr(knowledge, _PLURALS[kind]))
            hits += [
                Match(kind, key, index.shown[key], named.text, round(score, 1))
                for key, named, score in _fuzzy(index, norm, _FUZZY)
            ]
    hits.sort(key=lambda match: (-match.score, match.name, match.kind))
    return hits[:limit]


def _plain_hits(kind: str, index: _Index, norm: str) -> list[Match]:
    """Hits without likeness: 100 exact, 95 begins so, 90 a word begins so, 85 holds it; lesser names a little less."""
    key = norm.replace(" ", "")
    best: dict[str, Match] = {}
    for name, named in index.names:
        joined = named.norm.replace(" ", "")
        if key not in joined:
            continue
        if joined == key:
            score = 100.0
        elif joined.startswith(key):
            score = 95.0
        else:
            score = 90.0 if f" {norm}" in named.norm else 85.0
        score -= named.rank * 0.1
        if name not in best or score > best[name].score:
            best[name] = Match(kind, name, index.shown[name], named.text, score)
    return list(best.values())
