"""The table of the key: weeds x looks, with the chance of every answer. Columns are built when they are first needed.

A table belongs to one Context and never changes in meaning; it only remembers what it has worked out, so that the
hundredth answer costs no more than the first.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from math import fsum, log

from weedkey.errors import UnknownName
from weedkey.key.answers import Row
from weedkey.key.column import Column
from weedkey.key.column_maker import ColumnMaker
from weedkey.key.context import NOT_IN_LIST, NOT_IN_LIST_PRIOR, Context, weigh_weed
from weedkey.model.base import Knowledge
from weedkey.model.region import Region
from weedkey.model.trait import Trait

#: Chances below this are lifted to it, so that a table typed by hand with zeros cannot divide by zero.
CHANCE_FLOOR = 1e-30


class Table:
    """Weeds (``taxa``, the reserved one last), their priors, and the columns of all looks."""

    __slots__ = (
        "_applies",
        "_build",
        "_columns",
        "_find_applies",
        "context",
        "index",
        "members",
        "memory",
        "prior",
        "reserved",
        "taxa",
        "traits",
    )

    def __init__(
        self,
        taxa: Sequence[str],
        prior: Sequence[float],
        traits: Mapping[str, Trait],
        *,
        build: Callable[[str], Column],
        find_applies: Callable[[str], Sequence[float] | None],
        context: Context,
    ) -> None:
        self.taxa = tuple(taxa)
        self.prior = list(prior)
        self.traits = traits
        self.context = context
        self.index = {taxon: place for place, taxon in enumerate(self.taxa)}
        self.reserved = self.index.get(NOT_IN_LIST)
        self._build = build
        self._find_applies = find_applies
        self._columns: dict[str, Column] = {}
        self._applies: dict[str, Sequence[float] | None] = {}
        self.memory: dict[object, list[float]] = {}
        self.members: tuple[Mapping[str, Region], Mapping[Region, Sequence[int]]] | None = None

    def column(self, trait: str) -> Column:
        """The column of one look, built at its first use."""
        found = self._columns.get(trait)
        if found is None:
            found = self._columns[trait] = self._build(trait)
        return found

    def applies(self, trait: str) -> Sequence[float] | None:
        """Share of plants that have the part, weed by weed; None if every weed has it."""
        if trait not in self._applies:
            self._applies[trait] = self._find_applies(trait)
        return self._applies[trait]

    def weigh(self, key: object, make: Callable[[], list[float]]) -> list[float]:
        """A list of numbers by key from memory, made at the first use; the memory is bounded."""
        found = self.memory.get(key)
        if found is None:
            if len(self.memory) > 2000:
                self.memory.clear()
            found = self.memory[key] = make()
        return found

    def find_taxon(self, weed: str) -> int:
        """The place of a weed; raises UnknownName if it is not in the table."""
        if weed not in self.index:
            raise UnknownName("weed", weed)
        return self.index[weed]


def build_table(knowledge: Knowledge, context: Context) -> Table:
    """The table for all weeds of the knowledge in one context. Columns are worked out later, look by look."""
    weeds = tuple(knowledge.weeds.values())
    weights = [weigh_weed(weed, context) for weed in weeds]
    total = fsum(weights) or 1.0
    share = 1.0 - NOT_IN_LIST_PRIOR if weeds else 0.0
    prior = [weight / total * share for weight in weights] + [1.0 - share]
    maker = ColumnMaker(knowledge, weeds, prior, context)
    taxa = [weed.id for weed in weeds]
    return Table(
        [*taxa, NOT_IN_LIST],
        prior,
        knowledge.traits,
        build=maker.build,
        find_applies=maker.find_applies,
        context=context,
    )


def build_table_from_rows(
    prior: Mapping[str, float],
    traits: Mapping[str, Trait],
    rows: Mapping[str, Mapping[str, Sequence[float]]],
    cannot_tell: float | Mapping[str, Sequence[float]] = 0.0,
    not_in_list: float = 0.0,
) -> Table:
    """A table from given chances, for checks and for data from elsewhere: ``rows[trait][taxon]`` over the states.

    ``cannot_tell``: share of users who cannot tell, one number or one a taxon and trait. ``not_in_list``: belief
    kept for a taxon outside the list (0 = none).
    """
    total = fsum(prior.values()) or 1.0
    taxa = list(prior)
    weights = [value / total * (1.0 - not_in_list) for value in prior.values()]
    if not_in_list > 0:
        taxa.append(NOT_IN_LIST)
        weights.append(not_in_list)

    def build(trait_id: str) -> Column:
        trait = traits[trait_id]
        count = len(trait.states)
        full: list[Row] = []
        for place, taxon in enumerate(taxa):
            unseen = cannot_tell if isinstance(cannot_tell, float) else cannot_tell[trait_id][place]
            row = rows[trait_id].get(taxon, (1.0 / count,) * count)
            full.append((*(max(value, CHANCE_FLOOR) * (1.0 - unseen) for value in row), unseen))
        count = len(taxa)
        answers = (*trait.state_ids, "")
        return Column(trait, answers, kinds=full, which=range(count), applies=[1.0] * count, known=[True] * count)

    return Table(taxa, weights, traits, build=build, find_applies=lambda _: None, context=Context(flat=True))


def take_logs(values: Iterable[float]) -> list[float]:
    """Natural logs, with a floor so that a typed zero stays finite."""
    return [log(value) if value > CHANCE_FLOOR else log(CHANCE_FLOOR) for value in values]
