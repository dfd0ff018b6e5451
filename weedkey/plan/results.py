"""What a plan is: values only; the report words them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from weedkey.control import GateResult, Verdict
from weedkey.ground import GroundReport
from weedkey.key.decide import NextLook
from weedkey.model.lawn import Finding, Lawn
from weedkey.model.trace import Step
from weedkey.model.weed import Sequence
from weedkey.season.recovery import SpotClosure


@dataclass(frozen=True, slots=True)
class Target:
    """One finding of a zone: the zone's name and the place of the finding in it."""

    zone: str
    place: int


@dataclass(frozen=True, slots=True)
class FindingPlan:
    """What is to be done about one finding. ``closure``: whether the turf closes the spots it leaves; ``handled``:
    the plan holds a visit for it. ``spot_sqft``: bare ground that a spot kill leaves, None if spots were not counted.
    """

    target: Target
    finding: Finding
    verdict: Verdict
    closure: SpotClosure | None = None
    handled: bool = False
    spot_sqft: float | None = None


@dataclass(frozen=True, slots=True)
class Action:
    """One control in one visit. ``use``: lawn, spot, barrier or measure. ``to_ask``: what must be settled first."""

    control: str
    use: str
    zones: tuple[str, ...]
    targets: tuple[Target, ...]
    weeds: tuple[str, ...]
    why: Step
    to_ask: tuple[GateResult, ...] = ()
    sequence: Sequence | None = None
    judge_weeks: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class Visit:
    """A stretch of days in which every action of the visit has its gates open, as far as can be seen."""

    first: date
    last: date
    actions: tuple[Action, ...]


@dataclass(frozen=True, slots=True)
class Never:
    """A control that would work on a weed here, and a gate that stays shut all year.

    ``zones``: where it is shut, if the lawn has zones with a weed that it works on where it is not; else empty.
    """

    control: str
    weeds: tuple[str, ...]
    gate: str
    step: Step
    zones: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Unsettled:
    """A set that is not settled: the look that would settle it, and whether the treatment hangs on it."""

    target: Target
    weeds: tuple[tuple[str, float], ...]
    look: NextLook | None
    matters: bool


@dataclass(frozen=True, slots=True)
class LawnVerdict:
    """Repair, overseed or renovate, with every published rule judged for the whole lawn and for each zone."""

    kind: str
    desirable_percent: float | None
    weeds_percent: float
    bare_percent: float
    thresholds: tuple[Step, ...]
    by_zone: tuple[tuple[str, tuple[Step, ...]], ...]


@dataclass(frozen=True, slots=True)
class Plan:
    """The dated plan of a lawn. ``owner``: what the owner is to be told, as steps in the order of telling."""

    lawn: Lawn
    start: date
    findings: tuple[FindingPlan, ...]
    lawn_verdict: LawnVerdict
    visits: tuple[Visit, ...]
    never: tuple[Never, ...]
    unsettled: tuple[Unsettled, ...]
    ground: GroundReport
    owner: tuple[Step, ...]
    renovation: tuple[Step, ...] = ()
    not_handled: tuple[Target, ...] = ()
