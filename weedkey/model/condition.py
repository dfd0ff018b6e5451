"""A condition of the ground that weeds may point to: wet ground, compaction, acid soil …"""

from __future__ import annotations

from dataclasses import dataclass

from weedkey.model.source import require_sources
from weedkey.model.weed import Caution


@dataclass(frozen=True, slots=True)
class GroundTest:
    """A way to settle the condition: what to do, what result says yes or no, minutes and rough cost."""

    id: str
    name: str
    how: str
    settles: str
    minutes: float
    money: str
    sources: tuple[str, ...]

    def __post_init__(self) -> None:
        require_sources(self.sources, f"test {self.id}")


@dataclass(frozen=True, slots=True)
class Measurement:
    """How a measured value speaks: ``what`` is a measurement kind, with the bounds (or words) that say yes
    and no.
    """

    what: str
    unit: str
    sources: tuple[str, ...]
    yes_below: float | None = None
    yes_above: float | None = None
    no_below: float | None = None
    no_above: float | None = None
    yes_words: tuple[str, ...] = ()
    no_words: tuple[str, ...] = ()
    note: str = ""

    def __post_init__(self) -> None:
        require_sources(self.sources, f"measurement {self.what}")


@dataclass(frozen=True, slots=True)
class Remedy:
    """A control (usually without chemistry) that removes the cause."""

    control: str
    why: str
    sources: tuple[str, ...]

    def __post_init__(self) -> None:
        require_sources(self.sources, f"remedy {self.control}")


@dataclass(frozen=True, slots=True)
class Condition:
    """One condition. ``opposite`` is the id of the condition that contradicts it; ``if_nothing_changes``
    says will return or will fade.
    """

    id: str
    name: str
    words: str
    sources: tuple[str, ...]
    opposite: str | None = None
    tests: tuple[GroundTest, ...] = ()
    measurements: tuple[Measurement, ...] = ()
    remedies: tuple[Remedy, ...] = ()
    cautions: tuple[Caution, ...] = ()
    folklore: tuple[str, ...] = ()
    if_nothing_changes: str = "will return"

    def __post_init__(self) -> None:
        require_sources(self.sources, f"condition {self.id}")
