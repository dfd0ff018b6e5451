"""One look for all weeds: the chance of every answer."""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt

from weedkey.key.answers import Row
from weedkey.model.trait import Trait


class Column:
    """One look for all weeds.

    ``answers``: the states, "does not apply" if some weed lacks the part, and last the empty answer (can't tell).
    ``kinds``: the different rows, each the chances of the answers, summing to 1; ``which[t]``: the row of weed t.
    ``root_columns[x]``: square roots of the chances of answer x over the kinds. ``applies[t]``: share of plants that
    have the part. ``known[t]``: stated, not neutral. ``rows``, ``roots`` and ``told`` are the same weed by weed.
    """

    __slots__ = (
        "_roots",
        "_rows",
        "answers",
        "applies",
        "kinds",
        "known",
        "position",
        "root_columns",
        "root_kinds",
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
        self.root_kinds = [tuple(map(sqrt, row)) for row in kinds]
        self.root_columns = list(zip(*self.root_kinds, strict=True))
        self.applies = applies
        self.known = known
        self._rows: list[Row] | None = None
        self._roots: list[Row] | None = None

    @property
    def rows(self) -> list[Row]:
        """The row of every weed."""
        if self._rows is None:
            self._rows = [self.kinds[kind] for kind in self.which]
        return self._rows

    @property
    def roots(self) -> list[Row]:
        """The square roots of the row of every weed."""
        if self._roots is None:
            self._roots = [self.root_kinds[kind] for kind in self.which]
        return self._roots

    def tells(self, taxon: int) -> float:
        """Share of users in front of a weed who can tell."""
        return 1.0 - self.kinds[self.which[taxon]][-1]

    def expect_tells(self, taxa: Sequence[int], belief: Sequence[float]) -> float:
        """Share of users who can tell, over the belief."""
        unseen = [row[-1] for row in self.kinds]
        if unseen.count(unseen[0]) == len(unseen):
            return (1.0 - unseen[0]) * sum(belief)
        return sum(weight * (1.0 - unseen[self.which[taxon]]) for taxon, weight in zip(taxa, belief, strict=True))

    def chance(self, taxon: int, answer: str) -> float:
        """Chance of the answer for one weed, given that the user can tell."""
        return self.kinds[self.which[taxon]][self.position[answer]] / self.tells(taxon)
