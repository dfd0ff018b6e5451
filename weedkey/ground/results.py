"""What a reading of the ground returns. Values only; sentences are made elsewhere."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from weedkey.ground.lime import LimeAdvice
from weedkey.ground.sulfur import SulfurAdvice
from weedkey.model.condition import GroundTest, Remedy
from weedkey.model.trace import Step

#: Weight of evidence, weakest first.
EVIDENCE = ("none", "hint", "likely", "measured")


@dataclass(frozen=True, slots=True)
class SignReading:
    """What one finding says about a condition.

    ``strength`` 0 to 1 comes from the sources alone; ``weight`` = strength x cover factor x belief in the name.
    ``counts`` is True if it is one of the independent signs; a second sedge is shown but does not count.
    """

    condition: str
    weeds: tuple[str, ...]
    groups: tuple[str, ...]
    cover_percent: float
    belief: float
    strength: float
    cover_factor: float
    weight: float
    counts: bool
    sources: tuple[str, ...]
    note: str = ""


@dataclass(frozen=True, slots=True)
class Contradiction:
    """Something that speaks against a condition.

    ``kind``: source (a source denies the sign of a weed), opposite (a weed points to the opposite condition),
    measurement (a measured value says no), unreliable (a value that settles nothing, such as a probe meter's pH).
    """

    kind: str
    about: str
    sources: tuple[str, ...]
    weight: float = 0.0
    note: str = ""


@dataclass(frozen=True, slots=True)
class MeasuredReading:
    """A measured value judged for a condition: ``says`` is yes, no, unclear or unreliable."""

    what: str
    value: float | str
    says: str
    sources: tuple[str, ...]
    yes_below: float | None = None
    yes_above: float | None = None


@dataclass(frozen=True, slots=True)
class ConditionReading:
    """One condition in one zone. ``may_spend``: enough evidence to spend money on the remedy."""

    condition: str
    evidence: str
    signs: tuple[SignReading, ...]
    against: tuple[Contradiction, ...]
    test: GroundTest | None
    remedies: tuple[Remedy, ...]
    step: Step
    weight: float = 0.0
    independent: int = 0
    may_spend: bool = False
    measured: tuple[MeasuredReading, ...] = ()
    if_nothing_changes: str = "will return"


@dataclass(frozen=True, slots=True)
class Wetness:
    """Prevalence index and dominance test of a zone. ``state``: computed, not_reliable or not_computable.

    ``reason`` of the last two: no_region, nothing_rated, too_little_rated. ``hydrophytic`` follows the index;
    both figures were made to delimit wetlands, not lawns: compare the zones of one lawn, no more.
    """

    state: str
    reason: str
    region: str | None
    index: Fraction | None
    hydrophytic: bool | None
    rated_percent: Fraction
    cover_by_status: tuple[tuple[str, Fraction], ...]
    dominants: tuple[tuple[str, str], ...]
    dominance_percent: Fraction | None
    dominance_passes: bool | None
    list_years: tuple[str, ...]
    doubtful: tuple[str, ...]
    sources: tuple[str, ...]
    step: Step


@dataclass(frozen=True, slots=True)
class SiteAxis:
    """Cover-weighted mean and spread of one axis of Ellenberg-type values, and how much of the cover is silent."""

    axis: str
    mean: float | None
    spread: float | None
    indifferent_percent: float
    unknown_percent: float
    weeds: int
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ZoneReport:
    """Everything that the plants and the measurements of a zone say. ``next_test`` is the cheapest useful one."""

    zone: str
    wetness: Wetness
    conditions: tuple[ConditionReading, ...]
    site_values: tuple[SiteAxis, ...]
    lime: LimeAdvice
    sulfur: SulfurAdvice
    next_test: GroundTest | None = None
    next_test_for: str | None = None


@dataclass(frozen=True, slots=True)
class GroundReport:
    """All zones in the order of the lawn; ``wettest_first`` ranks those whose index could be computed."""

    zones: tuple[ZoneReport, ...]
    wettest_first: tuple[str, ...]
