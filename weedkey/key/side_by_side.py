"""Two or three named weeds side by side: only the looks that tell them apart, cheapest first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from weedkey.errors import UnknownName, UsageError
from weedkey.key.answers import find_seen
from weedkey.key.context import Context
from weedkey.key.score import separate_pair
from weedkey.key.table import Table, build_table
from weedkey.model.base import Knowledge
from weedkey.model.weed import Seen

#: 1 - Bhattacharyya coefficient from which a look is worth naming.
WORTH_NAMING = 0.3


@dataclass(frozen=True, slots=True)
class ComparisonRow:
    """One look: what each weed shows, how well it separates the pair it separates best, seconds, can it be seen now."""

    trait: str
    seen: tuple[tuple[Seen, ...], ...]
    separation: float
    pair: tuple[str, str]
    cost_seconds: float
    can_tell: float
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Comparison:
    """The separating looks, cheapest first; ``unseparated``: pairs that no stated look tells apart; ``tells``: what
    the entries say of each other, as (weed, about, tell, sources).
    """

    weeds: tuple[str, ...]
    rows: tuple[ComparisonRow, ...]
    unseparated: tuple[tuple[str, str], ...]
    tells: tuple[tuple[str, str, str, tuple[str, ...]], ...]


def compare(knowledge: Knowledge, ids: Sequence[str], context: Context) -> Comparison:
    """Compare two or more weeds by id.

    Raises UnknownName for an id that is not there, UsageError for fewer than two.
    """
    weeds = tuple(dict.fromkeys(ids))
    for weed in weeds:
        if weed not in knowledge.weeds:
            raise UnknownName("weed", weed)
    if len(weeds) < 2:
        raise UsageError("one weed cannot be compared", "two or more different weeds")
    table = build_table(knowledge, context)
    rows = [row for trait in table.traits if (row := _compare_one(table, knowledge, weeds, trait)) is not None]
    order = {trait: place for place, trait in enumerate(table.traits)}
    rows.sort(key=lambda row: (row.cost_seconds, -row.separation, order[row.trait]))
    separated = {pair for row in rows for pair in _list_pairs(weeds) if _separates(table, row.trait, pair)}
    unseparated = tuple(pair for pair in _list_pairs(weeds) if pair not in separated)
    tells = tuple(
        (weed, other.weed, other.tell, other.sources)
        for weed in weeds
        for other in knowledge.weeds[weed].look_alikes
        if other.weed in weeds
    )
    return Comparison(weeds, tuple(rows), unseparated, tells)


def _list_pairs(weeds: Sequence[str]) -> list[tuple[str, str]]:
    return [(first, second) for place, first in enumerate(weeds) for second in weeds[place + 1 :]]


def _separates(table: Table, trait: str, pair: tuple[str, str]) -> bool:
    first, second = (table.find_taxon(weed) for weed in pair)
    column = table.column(trait)
    if not (column.known[first] and column.known[second]):
        return False
    return separate_pair(table, first, second, trait) >= WORTH_NAMING * min(column.tells(first), column.tells(second))


def _compare_one(table: Table, knowledge: Knowledge, weeds: tuple[str, ...], trait_id: str) -> ComparisonRow | None:
    pairs = [pair for pair in _list_pairs(weeds) if _separates(table, trait_id, pair)]
    if not pairs:
        return None
    trait = table.traits[trait_id]
    places = {weed: table.find_taxon(weed) for weed in weeds}
    best = max(pairs, key=lambda pair: separate_pair(table, places[pair[0]], places[pair[1]], trait_id))
    separation = separate_pair(table, places[best[0]], places[best[1]], trait_id)
    seen = tuple(find_seen(knowledge.weeds[weed], trait) for weed in weeds)
    sources = tuple(dict.fromkeys(source for states in seen for state in states for source in state.sources))
    told = min(table.column(trait_id).tells(place) for place in places.values())
    return ComparisonRow(trait_id, seen, separation, best, trait.cost_seconds, told, sources)
