"""A trait is what one looks at; its states are what one may see."""

from __future__ import annotations

from dataclasses import dataclass

from weedkey.model.source import require_sources
from weedkey.model.window import Window


@dataclass(frozen=True, slots=True)
class State:
    """One thing that may be seen. ``words`` is plain language; ``also`` are synonyms and everyday words to
    match.
    """

    id: str
    words: str
    also: tuple[str, ...] = ()
    drawing: str | None = None


@dataclass(frozen=True, slots=True)
class Trait:
    """A look with its states.

    ``groups``: plant groups that have it (elsewhere it does not apply). ``needs``: eyes, shoot, lens, flower,
    trowel or date. ``cost_seconds``: rough field cost. ``misread``: share of users that name a wrong state.
    ``mown``: can it be seen on mown turf (always, often, sometimes, rarely). ``months``: when it can be seen
    at all (None = all year; flower traits use the weed's own flowering). ``correlated``: name of a set of
    traits that repeat each other. ``part``: the heading it stands under. ``asked_if``: the look that must
    have been seen first ("trait", ("state", …)), so that leaflets are not asked of a plant with simple leaves.
    """

    id: str
    question: str
    part: str
    groups: tuple[str, ...]
    states: tuple[State, ...]
    needs: str
    cost_seconds: float
    misread: float
    sources: tuple[str, ...]
    how: str = ""
    destructive: bool = False
    ordered: bool = False
    mown: str = "always"
    months: Window | None = None
    correlated: str | None = None
    asked_if: tuple[str, tuple[str, ...]] | None = None
    also: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        require_sources(self.sources, f"trait {self.id}")

    @property
    def state_ids(self) -> tuple[str, ...]:
        """The ids of the states in their fixed order."""
        return tuple(state.id for state in self.states)
