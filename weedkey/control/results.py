"""What the package answers: gates, choices, verdicts, the table of a turf. Values only; the report words them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from weedkey.model.trace import Step
from weedkey.model.weed import Sequence

#: Results of a weed to a control from best to worst; the words that carry no grade stand between fair and poor.
RESULT_ORDER = ("excellent", "good", "fair", "listed", "hint", "not_known", "poor", "none")
#: Results with which a control is worth offering.
WORTH_OFFERING = frozenset({"excellent", "good", "fair", "listed"})
#: Kinds of control that kill or remove the turf where they are used.
KILLING_KINDS = frozenset({"non_selective", "heat_or_cover"})


@dataclass(frozen=True, slots=True)
class GateResult:
    """One gate: ``state`` is open, shut or ask. ``needed``: an "ask" without whose answer nothing is offered."""

    gate: str
    state: str
    step: Step
    needed: bool = False

    @property
    def lets_pass(self) -> bool:
        """True unless the gate is shut or waits for an answer that safety or the law needs."""
        return self.state == "open" or (self.state == "ask" and not self.needed)


@dataclass(frozen=True, slots=True)
class ForWeed:
    """What one control does to one candidate: its belief, the result, whether it would be offered for it alone.

    ``worst``/``best``: the spread of the rows that speak. ``percent``: control in percent over those rows.
    ``judged_weeks``: weeks after the first application at which the ratings were taken. ``fallback``: empty, or
    works_on (rated for this kind of plant), or turf_elsewhere (read from what the grass stands as a turf).
    """

    weed: str
    probability: float
    result: str
    offered: bool
    worst: str = "not_known"
    best: str = "not_known"
    percent: tuple[float, float] | None = None
    judged_weeks: tuple[float, float] | None = None
    sequence: Sequence | None = None
    fallback: str = ""
    sources: tuple[str, ...] = ()
    months: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Choice:
    """A control with all its gates. ``offered``: no gate is shut and nothing that safety needs is unknown.

    ``spot``: it may be used on the single plant or patch although it is not offered for the lawn (a non-selective
    control kills the turf there; that is why ``offered`` stays false). ``timing``: pre_emergence or post_emergence.
    """

    control: str
    offered: bool
    result: str
    tolerance: str
    gates: tuple[GateResult, ...]
    timing: str
    kind: str
    spot: bool = False
    weeds: tuple[ForWeed, ...] = ()
    spot_gates: tuple[GateResult, ...] = ()

    @property
    def shut_by(self) -> tuple[GateResult, ...]:
        """The gates that keep the control from being offered, in order."""
        return tuple(gate for gate in self.gates if not gate.lets_pass)

    @property
    def to_ask(self) -> tuple[GateResult, ...]:
        """The gates that wait for an answer."""
        return tuple(gate for gate in self.gates if gate.state == "ask")


@dataclass(frozen=True, slots=True)
class Span:
    """From one day to another, both included; ``rough`` if it comes from whole months of a calendar."""

    first: date
    last: date
    rough: bool = False


@dataclass(frozen=True, slots=True)
class Alternative:
    """What would come next if the verdict is not wanted."""

    kind: str
    controls: tuple[str, ...] = ()
    window: Span | None = None


@dataclass(frozen=True, slots=True)
class Verdict:
    """What to do with one weed (or one set that is not settled) in this setting.

    ``controls``: best first. ``would_change``: the gates that shut better choices, or the look that would settle a
    set. ``dated``: statements that no selective control exists, with their year. ``thresholds``: the published
    renovation rules, each with what it says here. ``judge_weeks``: when the owner may judge the first control.
    ``each``: (weed, belief, kind) of every candidate.
    """

    kind: str
    controls: tuple[str, ...]
    window: Span | None
    second_best: Alternative | None
    would_change: tuple[Step, ...]
    trace: Step
    dated: tuple[Step, ...] = ()
    thresholds: tuple[Step, ...] = ()
    judge_weeks: tuple[float, float] | None = None
    sequence: Sequence | None = None
    each: tuple[tuple[str, float, str], ...] = ()
    choices: tuple[Choice, ...] = ()


@dataclass(frozen=True, slots=True)
class TurfControl:
    """One control on one turf. ``when``: the stated conditions of the rows that speak; ``site``: its state there.

    ``certain`` is false if the answer rests on a condition that is not known here.
    """

    control: str
    name: str
    control_class: Mapping[str, str]
    tolerance: str
    when: tuple[Mapping[str, object], ...]
    sources: tuple[str, ...]
    site: str
    certain: bool
    step: Step
    kind: str = ""
    unknown: tuple[str, ...] = field(default=())
