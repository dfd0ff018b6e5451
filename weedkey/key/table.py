"""The table of the key: weeds x looks, with the chance of every answer. Rows are built when a look is first needed.

A table belongs to one Context and never changes in meaning; it only remembers what it has worked out, so that the
hundredth answer costs no more than the first.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from math import fsum, log, sqrt

from weedkey.errors import UnknownName
from weedkey.key.answers import (
    DOES_NOT_APPLY,
    WRONGLY_NOT_APPLYING,
    Row,
    answer_row,
    find_seen,
    needs_flower,
    not_applying_row,
    share_states,
    tell_anyway,
    tell_flower,
)
from weedkey.key.context import NOT_IN_LIST, NOT_IN_LIST_PRIOR, Context, weigh_weed
from weedkey.model.base import Knowledge
from weedkey.model.region import Region
from weedkey.model.trait import Trait
from weedkey.model.vocabulary import GROUPS
from weedkey.model.weed import Weed

#: Chances below this are lifted to it, so that a table typed by hand with zeros cannot divide by zero.
CHANCE_FLOOR = 1e-30


class Column:
    """One look for all weeds.

    ``answers``: the states, "does not apply" if some weed lacks the part, and last the empty answer (can't tell).
    ``kinds``: the different rows; ``which[t]``: the row of weed t. ``rows[t][x]``: chance that a user in front of
    weed t gives answer x; each row sums to 1. ``roots``: the square roots, ``root_columns[x]`` those of answer x over
    the kinds. ``applies[t]``: share of plants that have the part. ``known[t]``: stated, not neutral.
    """

    __slots__ = (
        "answers",
        "applies",
        "kinds",
        "known",
        "position",
        "root_columns",
        "roots",
        "rows",
        "told",
        "trait",
        "which",
    )

    def __init__(
        self,
        trait: Trait,
        answers: tuple[str, ...],
        *,
        kinds: Sequence[Row],
        which: Sequence[int],
        applies: Sequence[float],
        known: Sequence[bool],
    ) -> None:
        self.trait = trait
        self.answers = answers
        self.position = {answer: place for place, answer in enumerate(answers)}
        self.kinds = kinds
        self.which = which
        self.rows = [kinds[kind] for kind in which]
        roots = [tuple(map(sqrt, row)) for row in kinds]
        self.roots = [roots[kind] for kind in which]
        self.root_columns = list(zip(*roots, strict=True))
        self.told = [1.0 - row[-1] for row in self.rows]
        self.applies = applies
        self.known = known

    def chance(self, taxon: int, answer: str) -> float:
        """Chance of the answer for one weed, given that the user can tell."""
        return self.rows[taxon][self.position[answer]] / self.told[taxon]


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
    maker = _ColumnMaker(knowledge, weeds, prior, context)
    taxa = [weed.id for weed in weeds]
    return Table(
        [*taxa, NOT_IN_LIST],
        prior,
        knowledge.traits,
        build=maker.build,
        find_applies=maker.find_applies,
        context=context,
    )


class _ColumnMaker:
    """Builds columns from the knowledge. The neutral row for missing facts is fixed by the priors, not by answers."""

    def __init__(self, knowledge: Knowledge, weeds: tuple[Weed, ...], prior: Sequence[float], context: Context) -> None:
        self.traits = knowledge.traits
        self.weeds = weeds
        self.groups = [weed.group for weed in weeds]
        self.looks = [weed.looks for weed in weeds]
        self.prior = prior
        self.context = context
        self.flowers: list[float | None] | None = None

    def find_applies(self, trait_id: str) -> list[float] | None:
        """Share of plants with the part, by group and by the look that must come first; 1 for the reserved."""
        trait = self.traits[trait_id]
        groups = frozenset(trait.groups)
        if trait.asked_if is None or trait.asked_if[0] not in self.traits:
            applies = [
                1.0 if group in groups or trait_id in looks else 0.0
                for group, looks in zip(self.groups, self.looks, strict=True)
            ]
        else:
            parent, states = self.traits[trait.asked_if[0]], trait.asked_if[1]
            shares = [_share_in(weed, parent, states) for weed in self.weeds]
            known = [share for share in shares if share is not None]
            middle = sum(known) / len(known) if known else 1.0
            applies = []
            for group, looks, share in zip(self.groups, self.looks, shares, strict=True):
                if trait_id in looks:
                    applies.append(share or 1.0)
                elif group not in groups:
                    applies.append(0.0)
                else:
                    applies.append(middle if share is None else share)
        return None if all(value == 1.0 for value in applies) else [*applies, 1.0]

    def _tell(self, trait: Trait) -> list[float | None]:
        """Share of users who can tell, weed by weed; None where the flowering time is not stated."""
        anyway = tell_anyway(trait, self.context)
        if not needs_flower(trait):
            return [anyway] * len(self.weeds)
        if self.flowers is None:
            self.flowers = [tell_flower(weed, self.context) for weed in self.weeds]
        return [None if share is None else anyway * share for share in self.flowers]

    def _find_stated(self, trait: Trait, shares: Sequence[float]) -> tuple[list[Row], list[int]]:
        """The different rows P(state named) of the trait, and which of them each weed has (-1: nothing is stated)."""
        states = trait.state_ids
        name = trait.id
        from_group = set(states) <= set(GROUPS)
        memory: dict[object, int] = {}
        kinds: list[Row] = []
        which: list[int] = []
        for place, looks in enumerate(self.looks):
            seen = looks.get(name) or (find_seen(self.weeds[place], trait) if from_group else None)
            if not seen or shares[place] <= 0:
                which.append(-1)
                continue
            key = (seen[0].state, seen[0].share) if len(seen) == 1 else tuple([(x.state, x.share) for x in seen])
            kind = memory.get(key)
            if kind is None:
                kind = memory[key] = len(kinds)
                pairs = tuple([(x.state, x.share) for x in seen])
                kinds.append(answer_row(states, pairs, trait.misread, trait.ordered))
            which.append(kind)
        return kinds, which

    def build(self, trait_id: str) -> Column:
        """The column of one trait: stated rows first, then the neutral row from them, then all rows in order."""
        trait = self.traits[trait_id]
        applies = self.find_applies(trait_id)
        has_gap = applies is not None
        shares: Sequence[float] = applies or [1.0] * (len(self.weeds) + 1)
        stated, chosen = self._find_stated(trait, shares)
        tell = self._tell(trait)
        flat = _flat_row(len(trait.states), has_gap=has_gap)
        neutral, usual = self._find_neutral(trait, stated, chosen, shares=shares, tell=tell, flat=flat)
        stated.append(neutral)  # reached by the index -1
        missing = not_applying_row(trait.state_ids) if has_gap else ()
        memory: dict[tuple[int, float, float], int] = {}
        kinds: list[Row] = []
        which: list[int] = []
        for kind, share, told in zip(chosen, shares, tell, strict=False):
            key = (kind, share, usual if told is None or share == 0 else told)
            place = memory.get(key)
            if place is None:
                place = memory[key] = len(kinds)
                kinds.append(_full_row(stated[kind], share, key[2], missing, has_gap=has_gap))
            which.append(place)
        which.append(len(kinds))
        kinds.append((*[value * usual for value in flat], 1.0 - usual))
        answers = (*trait.state_ids, *((DOES_NOT_APPLY,) if has_gap else ()), "")
        known = [kind >= 0 or share == 0 for kind, share in zip(chosen, shares, strict=False)]
        return Column(trait, answers, kinds=kinds, which=which, applies=shares, known=[*known, True])

    def _find_neutral(
        self,
        trait: Trait,
        stated: Sequence[Row],
        chosen: Sequence[int],
        *,
        shares: Sequence[float],
        tell: Sequence[float | None],
        flat: Row,
    ) -> tuple[Row, float]:
        """Prior-weighted mean answers of the taxa with facts (states only), and the mean share who can tell.

        The reserved taxon takes part with its flat answers, so that a weed without facts stands against all others
        exactly as before when this look is the first.
        """
        count = len(trait.states)
        mass = told_mass = 0.0
        sure = [0.0] * len(stated)
        rest = [0.0] * len(stated)
        for weight, share, told, kind in zip(self.prior, shares, tell, chosen, strict=False):
            if kind >= 0:
                part = weight * share
                if told is None:
                    rest[kind] += part
                else:
                    sure[kind] += part * told
                    mass += part
                    told_mass += part * told
        usual = told_mass / mass if mass > 0 else tell_anyway(trait, self.context)
        reserve = self.prior[-1] * usual
        sums = [reserve * value for value in flat[:count]]
        for row, told_part, rest_part in zip(stated, sure, rest, strict=True):
            part = told_part + rest_part * usual
            sums = [total + part * value for total, value in zip(sums, row, strict=True)]
        total = fsum(sums)
        if total <= 0:
            return (1.0 / count,) * count, usual
        return tuple([value / total for value in sums]), usual


def _share_in(weed: Weed, parent: Trait, states: Iterable[str]) -> float | None:
    """Share of plants of the weed that show one of the states of the parent look; None if nothing is stated."""
    seen = find_seen(weed, parent)
    if not seen:
        return None if weed.group in parent.groups else 0.0
    shares = share_states(parent.state_ids, [(row.state, row.share) for row in seen])
    wanted = set(states)
    return min(1.0, sum(share for state, share in zip(parent.state_ids, shares, strict=True) if state in wanted))


def _flat_row(count: int, *, has_gap: bool) -> Row:
    size = count + (1 if has_gap else 0)
    return (1.0 / size,) * size


def _full_row(row: Row, share: float, told: float, missing: Row, *, has_gap: bool) -> Row:
    """One row of the column: states, "does not apply" if it exists, and can't tell; sums to 1."""
    if not has_gap:
        return (*(value * told for value in row), 1.0 - told)
    has = share * (1.0 - WRONGLY_NOT_APPLYING)
    mixed = [value * has + lack * (1.0 - share) for value, lack in zip(row, missing, strict=False)]
    gap = share * WRONGLY_NOT_APPLYING + missing[-1] * (1.0 - share)
    return (*(value * told for value in mixed), gap * told, 1.0 - told)


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
