"""All that was worked out for one setting, kept so that 150 weeds do not ask the same gate 150 times.

A book only remembers; it adds no rule. Gates that are not about the weed are asked once for each control, use and
timing. Books are shared by identity of the knowledge and equality of the setting.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from weedkey.control.gates import GATE_ORDER, GATES, Gate, Question
from weedkey.control.mixtures import timings_of, with_parts
from weedkey.control.responses import Reading, read_response
from weedkey.control.results import KILLING_KINDS, GateResult
from weedkey.control.setting import Setting
from weedkey.control.tolerance import ToleranceReading, read_tolerance
from weedkey.control.weed_calendar import WeedYear, read_year
from weedkey.model.base import Knowledge
from weedkey.model.control import Control
from weedkey.model.weed import Response, Weed

_ABOUT_CONTROL = tuple(gate for gate in GATES if not gate.about_weed)
_ABOUT_WEED = tuple(gate for gate in GATES if gate.about_weed)


class GateBook:
    """The gates of one setting. ``spot`` use is asked for killing kinds, and for all if the setting says spot."""

    def __init__(self, knowledge: Knowledge, setting: Setting) -> None:
        self.knowledge = knowledge
        self.setting = setting
        self.turf = knowledge.turfs.get(setting.turf)
        self._index = _index_of(_Same(knowledge))
        self._tolerance: dict[tuple[str, str], ToleranceReading] = {}
        self._gates: dict[tuple[str, str, str], tuple[GateResult, ...]] = {}
        self._passes: dict[tuple[str, str, str], bool] = {}
        self._readings: dict[tuple[str, str, str], Reading | None] = {}
        self._years: dict[str, WeedYear] = {}

    @property
    def use(self) -> str:
        """How a selective control would be used here: on the spot only if the setting says so."""
        return "spot" if self.setting.spot else "broadcast"

    def tolerance(self, control: Control, timing: str) -> ToleranceReading:
        """How the turf stands the control in this setting."""
        key = (control.id, timing)
        if key not in self._tolerance:
            self._tolerance[key] = read_tolerance(control, self.setting, self.turf, timing)
        return self._tolerance[key]

    def year(self, weed: Weed) -> WeedYear:
        """The weed's windows in this region."""
        if weed.id not in self._years:
            self._years[weed.id] = read_year(weed, self.setting.region)
        return self._years[weed.id]

    def timings(self, control: Control) -> tuple[str, ...]:
        """When the control can be used."""
        return self._index.timings[control.id]

    def reading(self, weed: Weed, control: Control, timing: str) -> Reading | None:
        """What the control does to the weed in this setting, None if there is no word about the pair."""
        key = (weed.id, control.id, timing)
        if key not in self._readings:
            rows = self._index.rows_of(weed).get(control.id, ())
            self._readings[key] = read_response(
                self.knowledge, weed, control, self.setting, timing, rows=rows, can_join=self._may_join
            )
        return self._readings[key]

    def controls_about(self, weed: Weed) -> Iterator[Control]:
        """Every control that may have a word about the weed, in the order of the knowledge."""
        rows = self._index.rows_of(weed)
        for control in self.knowledge.controls.values():
            if control.id in rows or control.works_on or (weed.turf and control.is_chemical):
                yield control

    def question(self, control: Control, use: str, timing: str, weed: Weed | None = None) -> Question:
        """The question put to every gate."""
        return Question(
            knowledge=self.knowledge,
            setting=self.setting,
            control=control,
            parts=self._index.parts[control.id],
            turf=self.turf,
            tolerance=self.tolerance(control, timing),
            use=use,
            timing=timing,
            weed=weed,
            reading=self.reading(weed, control, timing) if weed else None,
            year=self.year(weed) if weed else None,
        )

    def control_gates(self, control: Control, use: str, timing: str) -> tuple[GateResult, ...]:
        """The gates that are not about the weed."""
        key = (control.id, use, timing)
        if key not in self._gates:
            question = self.question(control, use, timing)
            self._gates[key] = tuple(gate.check(question) for gate in _gates_for(control, _ABOUT_CONTROL))
        return self._gates[key]

    def passes(self, control: Control, use: str, timing: str) -> bool:
        """True if no gate that is not about the weed keeps the control back; stops at the first that does."""
        key = (control.id, use, timing)
        if key not in self._passes:
            if key in self._gates:
                self._passes[key] = all(result.lets_pass for result in self._gates[key])
            else:
                question = self.question(control, use, timing)
                self._passes[key] = all(gate.check(question).lets_pass for gate in _gates_for(control, _ABOUT_CONTROL))
        return self._passes[key]

    def weed_gates(self, control: Control, use: str, timing: str, weed: Weed) -> tuple[GateResult, ...]:
        """The gates that are about the weed."""
        question = self.question(control, use, timing, weed)
        return tuple(gate.check(question) for gate in _gates_for(control, _ABOUT_WEED))

    def is_offered(self, control: Control, use: str, timing: str, weed: Weed) -> bool:
        """May the control be used on this weed here: every gate passes. The same gates as in a choice, asked lazily."""
        if not self.passes(control, use, timing):
            return False
        question = self.question(control, use, timing, weed)
        return all(gate.check(question).lets_pass for gate in _gates_for(control, _ABOUT_WEED))

    def _may_join(self, control_id: str) -> bool:
        control = self.knowledge.controls.get(control_id)
        return control is not None and any(self.passes(control, self.use, timing) for timing in self.timings(control))


def open_book(knowledge: Knowledge, setting: Setting) -> GateBook:
    """The book of this setting, opened anew or found again."""
    return _open_book(_Same(knowledge), setting)


def in_order(gates: tuple[GateResult, ...]) -> tuple[GateResult, ...]:
    """The gates in the order in which they are asked."""
    return tuple(sorted(gates, key=lambda result: GATE_ORDER[result.gate]))


def kills_turf(control: Control) -> bool:
    """True for kinds that kill or remove the turf where they are used."""
    return control.kind in KILLING_KINDS


def _gates_for(control: Control, gates: tuple[Gate, ...]) -> Iterator[Gate]:
    for gate in gates:
        if control.is_chemical or gate.without_chemistry:
            yield gate


@dataclass(frozen=True, slots=True)
class _Index:
    """What depends on the knowledge alone."""

    parts: dict[str, tuple[Control, ...]]
    timings: dict[str, tuple[str, ...]]
    rows: dict[str, dict[str, tuple[Response, ...]]]

    def rows_of(self, weed: Weed) -> dict[str, tuple[Response, ...]]:
        """The weed's rated rows by control."""
        if weed.id not in self.rows:
            self.rows[weed.id] = _rows_by_control(weed)
        return self.rows[weed.id]


class _Same:
    """A key that is equal only to the same knowledge, and keeps it alive while it is a key."""

    __slots__ = ("knowledge",)

    def __init__(self, knowledge: Knowledge) -> None:
        self.knowledge = knowledge

    def __hash__(self) -> int:
        return id(self.knowledge)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and self.knowledge is other.knowledge


@lru_cache(maxsize=4)
def _index_of(same: _Same) -> _Index:
    controls = same.knowledge.controls.values()
    return _Index(
        parts={control.id: with_parts(same.knowledge, control) for control in controls},
        timings={control.id: timings_of(control) for control in controls},
        rows={},
    )


@lru_cache(maxsize=96)
def _open_book(same: _Same, setting: Setting) -> GateBook:
    return GateBook(same.knowledge, setting)


def _rows_by_control(weed: Weed) -> dict[str, tuple[Response, ...]]:
    found: dict[str, list[Response]] = {}
    for row in weed.responses:
        found.setdefault(row.control, []).append(row)
    return {control: tuple(rows) for control, rows in found.items()}
