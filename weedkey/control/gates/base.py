"""What every gate is: a stable id, the question it is asked, and a result that carries its reason as a step."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import ClassVar

from weedkey.control.responses import Reading
from weedkey.control.results import GateResult
from weedkey.control.setting import Setting
from weedkey.control.tolerance import ToleranceReading
from weedkey.control.weed_calendar import WeedYear
from weedkey.model.base import Knowledge
from weedkey.model.control import Control
from weedkey.model.trace import Step
from weedkey.model.turf import Turf
from weedkey.model.weed import Weed


@dataclass(slots=True)
class Question:
    """One control in one setting, for one use. ``parts``: the control, then its ingredients.

    ``use`` is broadcast (over the turf) or spot (the single plant or patch). ``timing`` is pre_emergence or
    post_emergence. ``weed``, ``reading`` and ``year`` stand only for gates that are about the weed.
    """

    knowledge: Knowledge
    setting: Setting
    control: Control
    parts: tuple[Control, ...]
    turf: Turf | None
    tolerance: ToleranceReading
    use: str
    timing: str
    weed: Weed | None = None
    reading: Reading | None = None
    year: WeedYear | None = None

    @property
    def actives(self) -> tuple[str, ...]:
        """Id of the control and of every ingredient, known as a control of its own or not."""
        return (self.control.id, *self.control.parts)

    @property
    def is_spot_kill(self) -> bool:
        """True if the turf in the spot is given up on purpose."""
        return self.use == "spot" and self.tolerance.result == "injures"

    @property
    def is_foliar(self) -> bool:
        """True for a herbicide that the turf's leaves take up, be it meant for seed that is to sprout.

        Only a control that is a barrier and nothing else, used as one, does not count.
        """
        is_barrier = self.timing == "pre_emergence" and self.control.kind == "pre_emergence"
        return self.control.is_chemical and not is_barrier


class Gate:
    """A rule. ``outcomes`` lists every word that its steps may carry: the rule id is ``<gate>.<outcome>``."""

    id: ClassVar[str]
    outcomes: ClassVar[tuple[str, ...]]
    #: Asked once for each weed rather than once for the control.
    about_weed: ClassVar[bool] = False
    #: Never shuts, and waits for no needed answer.
    only_asks: ClassVar[bool] = False
    #: Values of the setting without any of which it keeps nothing back (not known, none recorded).
    idle_without: ClassVar[tuple[str, ...]] = ()
    #: Also asked of measures without chemistry.
    without_chemistry: ClassVar[bool] = False

    def check(self, question: Question) -> GateResult:
        """Open, shut or ask."""
        raise NotImplementedError

    def can_keep_back(self, setting: Setting) -> bool:
        """False if this gate lets everything pass in this setting, so that it need not be asked to learn that."""
        if self.only_asks:
            return False
        return not self.idle_without or any(_is_told(getattr(setting, name)) for name in self.idle_without)

    def _open(self, outcome: str, facts: Mapping[str, object], sources: tuple[str, ...] = ()) -> GateResult:
        if facts or sources:
            return GateResult(self.id, "open", Step(f"{self.id}.{outcome}", "open", facts, sources))
        return _open_without_facts(self.id, outcome)

    def _shut(
        self,
        outcome: str,
        facts: Mapping[str, object],
        sources: tuple[str, ...],
        children: tuple[Step, ...] = (),
    ) -> GateResult:
        return GateResult(self.id, "shut", Step(f"{self.id}.{outcome}", "shut", facts, sources, children))

    def _ask(
        self,
        outcome: str,
        facts: Mapping[str, object],
        sources: tuple[str, ...] = (),
        needed: bool = False,
        children: tuple[Step, ...] = (),
    ) -> GateResult:
        return GateResult(self.id, "ask", Step(f"{self.id}.{outcome}", "ask", facts, sources, children), needed)


def _is_told(value: object) -> bool:
    """False for what is not known, not so, or an empty record; a zero (rain at once) is told."""
    return value is not None and value is not False and value != ()


@cache
def _open_without_facts(gate: str, outcome: str) -> GateResult:
    """The same value each time: most gates of most controls are open for want of anything to say."""
    return GateResult(gate, "open", Step(f"{gate}.{outcome}", "open"))
