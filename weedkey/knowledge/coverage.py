"""How much is known, how much of it is published, and where the gaps are. Figures only; the report words them.

A *fact* is every row that names its sources. It counts as published if at least one of them is a publication.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields, is_dataclass
from itertools import combinations
from typing import Any

from weedkey.knowledge.separation import are_told_apart, separating_traits
from weedkey.model.base import Knowledge
from weedkey.model.source import UNPUBLISHED, is_published
from weedkey.model.turf import Turf
from weedkey.model.weed import Weed

#: A weed with fewer looks is hard to name (the check thin-marks asks for the same).
ENOUGH_LOOKS = 14
_OLDEST = 12
_KINDS = ("weeds", "turfs", "controls", "places", "traits", "conditions")
_YEAR = re.compile(r"(?:19|20)\d\d")


@dataclass(frozen=True, slots=True)
class Share:
    """Facts with a published source among all facts, of one kind of entry and one key, or of one entry."""

    kind: str
    what: str
    published: int
    total: int


@dataclass(frozen=True, slots=True)
class ThinWeed:
    """A weed with too few looks: how many are scored, how many apply to its group."""

    weed: str
    scored: int
    applies: int


@dataclass(frozen=True, slots=True)
class CloseWeeds:
    """Two weeds that the entries do not tell apart safely, with the few looks that differ."""

    first: str
    second: str
    traits: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NotKnown:
    """The controls with a label of which nothing is known on a turf: they are never offered there."""

    turf: str
    controls: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OldSource:
    """A source that facts rest on, with the latest year that it prints."""

    source: str
    year: int
    facts: int


@dataclass(frozen=True, slots=True)
class Coverage:
    """All figures; lists are in a fixed order, the worst first where there is a worst."""

    entries: Mapping[str, int]
    published: int
    total: int
    by_kind: tuple[Share, ...]
    by_entry: tuple[Share, ...]
    thin: tuple[ThinWeed, ...]
    close: tuple[CloseWeeds, ...]
    chemical_controls: int
    not_known: tuple[NotKnown, ...]
    oldest: tuple[OldSource, ...]
    undated: int


def coverage(knowledge: Knowledge) -> Coverage:
    """Count facts, shares and gaps of the whole knowledge."""
    facts = list(list_facts(knowledge))
    chemical = [control for control in knowledge.controls.values() if control.is_chemical]
    oldest, undated = _old_sources(knowledge, facts)
    return Coverage(
        entries={kind: len(getattr(knowledge, kind)) for kind in (*_KINDS, "sources")},
        published=sum(is_published(sources) for *_, sources in facts),
        total=len(facts),
        by_kind=_shares(((kind, what), sources) for kind, _, what, sources in facts),
        by_entry=_by_entry(facts),
        thin=_thin(knowledge),
        close=_close(knowledge),
        chemical_controls=len(chemical),
        not_known=tuple(
            NotKnown(turf.id, tuple(control.id for control in chemical if not _is_rated(control.tolerance, turf)))
            for turf in knowledge.turfs.values()
        ),
        oldest=oldest,
        undated=undated,
    )


def list_facts(knowledge: Knowledge) -> Iterator[tuple[str, str, str, tuple[str, ...]]]:
    """Every fact as (kind, id, key, sources); the key is ``entry`` for the sources of an entry as a whole."""
    for kind in _KINDS:
        for name, entry in getattr(knowledge, kind).items():
            if getattr(entry, "sources", ()):
                yield kind, name, "entry", entry.sources
            for item in fields(entry):
                for sources in _sources_below(getattr(entry, item.name)):
                    yield kind, name, item.name, sources


def _sources_below(value: Any) -> Iterator[tuple[str, ...]]:
    if isinstance(value, Mapping):
        for item in value.values():
            yield from _sources_below(item)
    elif isinstance(value, tuple):
        for item in value:
            yield from _sources_below(item)
    elif is_dataclass(value) and hasattr(value, "sources"):
        yield value.sources


def _shares(rows: Any) -> tuple[Share, ...]:
    total: Counter[tuple[str, str]] = Counter()
    published: Counter[tuple[str, str]] = Counter()
    for key, sources in rows:
        total[key] += 1
        published[key] += is_published(sources)
    order = {kind: place for place, kind in enumerate(_KINDS)}
    keys = sorted(total, key=lambda key: (order[key[0]], -total[key], key[1]))
    return tuple(Share(*key, published[key], total[key]) for key in keys)


def _by_entry(facts: list[tuple[str, str, str, tuple[str, ...]]]) -> tuple[Share, ...]:
    """Shares of weeds, turfs and controls, the smallest first."""
    found = _shares(((kind, name), sources) for kind, name, _, sources in facts if kind in _KINDS[:3])
    return tuple(sorted(found, key=lambda share: (share.published / share.total, share.kind, share.what)))


def _thin(knowledge: Knowledge) -> tuple[ThinWeed, ...]:
    found = []
    for weed in knowledge.weeds.values():
        applies = {name for name, trait in knowledge.traits.items() if weed.group in trait.groups}
        scored = len(applies & set(weed.looks))
        if scored < min(ENOUGH_LOOKS, len(applies)):
            found.append(ThinWeed(weed.id, scored, len(applies)))
    return tuple(sorted(found, key=lambda thin: (thin.scored, thin.weed)))


def _close(knowledge: Knowledge) -> tuple[CloseWeeds, ...]:
    """Pairs of one plant group that are not told apart; other groups differ in the first thing that one sees."""
    groups: dict[str, list[Weed]] = {}
    for weed in knowledge.weeds.values():
        groups.setdefault(weed.group, []).append(weed)
    found = [
        CloseWeeds(a.id, b.id, separating_traits(a, b, knowledge.traits))
        for weeds in groups.values()
        for a, b in combinations(weeds, 2)
        if not are_told_apart(a, b, knowledge.traits)
    ]
    return tuple(sorted(found, key=lambda pair: (len(pair.traits), pair.first, pair.second)))


def _is_rated(tolerance: tuple[Any, ...], turf: Turf) -> bool:
    """True if some row speaks of this turf, alone or with all of its season; rows above the label never do."""
    words = (turf.id, "any", f"any_{turf.season}_season")
    return any(row.turf in words and row.when.rate != "above_label" for row in tolerance)


def _old_sources(knowledge: Knowledge, facts: list[tuple[str, str, str, tuple[str, ...]]]) -> tuple[Any, int]:
    """The oldest sources that facts rest on, and how many used sources print no year."""
    used = Counter(name for *_, sources in facts for name in sources if name not in UNPUBLISHED)
    dated = []
    undated = 0
    for name, count in used.items():
        source = knowledge.sources.get(name)
        years = [int(year) for year in _YEAR.findall(source.year)] if source else []
        if years:
            dated.append(OldSource(name, max(years), count))
        else:
            undated += 1
    dated.sort(key=lambda old: (old.year, old.source))
    return tuple(dated[:_OLDEST]), undated
