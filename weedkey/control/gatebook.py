"""All that was worked out for one setting, kept so that 150 weeds do not ask the same gate 150 times.

A book only remembers; it adds no rule. Gates that are not about the weed are asked once for each control, use and
timing. Books are shared by identity of the knowledge and equality of the setting.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import lru_cache

from weedkey.control.gates import GATE_ORDER, GATES, Question
from weedkey.control.mixtures import timings_of, with_parts
from weedkey.control.responses import Reading, is_such_a_plant, read_response, read_stand_in
from weedkey.control.results import KILLING_KINDS, WORTH_OFFERING, GateResult, Span
from weedkey.control.setting import Setting
from weedkey.control.tolerance import ToleranceReading, read_tolerance
from weedkey.control.weed_calendar import WeedYear, read_year
from weedkey.model.base import Knowledge
from weedkey.model.control import Control, WorksOn
from weedkey.model.weed import Response, Weed

#: (about the weed, has chemistry) -> the gates to ask, in order.
_ASKED = {
    (about_weed, chemical): tuple(
        gate for gate in GATES if gate.about_weed == about_weed and (chemical or gate.without_chemistry)
    )
    for about_weed in (False, True)
    for chemical in (False, True)
}


#: Values of a setting that hold on one day only.
_OF_ONE_DAY = (
    "growth",
    "days_since_green_up",
    "air_high_f",
    "air_low_f",
    "soil_temperature_f",
    "wind_mph",
    "hours_to_rain",
    "hours_to_irrigation",
    "days_since_mowing",
    "days_to_mowing",
    "weed_stage",
)


class GateBook:
    """The gates of one setting. ``spot`` use is asked for killing kinds, and for all if the setting says spot."""

    def __init__(self, knowledge: Knowledge, setting: Setting) -> None:
        self.knowledge = knowledge
        self.setting = setting
        self.turf = knowledge.turfs.get(setting.turf)
        self._index = _index_of(_Same(knowledge))
        # Only "may it pass" is wanted most of the time: the gate that shuts most first, idle gates left out.
        self._quick = {
            asked: tuple(sorted((g for g in gates if g.can_keep_back(setting)), key=lambda g: g.id != "turf"))
            for asked, gates in _ASKED.items()
        }
        self._barriers: dict[str, list[Span]] = {}
        for weed_id, first, last in setting.barrier_windows:
            self._barriers.setdefault(weed_id, []).append(Span(first, last))
        self._tolerance: dict[tuple[str, str], ToleranceReading] = {}
        self._gates: dict[tuple[str, str, str], tuple[GateResult, ...]] = {}
        self._obstacles: dict[tuple[str, str, str], tuple[GateResult, ...]] = {}
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
            self._years[weed.id] = read_year(weed, self.setting.region, self._barriers.get(weed.id, ()))
        return self._years[weed.id]

    def timings(self, control: Control) -> tuple[str, ...]:
        """When the control can be used."""
        return self._index.timings[control.id]

    def reading(self, weed: Weed, control: Control, timing: str) -> Reading | None:
        """What the control does to the weed in this setting, None if there is no word about the pair."""
        key = (weed.id, control.id, timing)
        if key not in self._readings:
            rows = self._index.rows_of(weed).get(control.id, ())
            if rows:
                self._readings[key] = read_response(
                    weed, control, self.setting, timing, rows=rows, can_join=self._may_join
                )
            else:
                self._readings[key] = self._index.stand_in(weed, control, self.setting.weed_stage, timing)
        return self._readings[key]

    def controls_about(self, weed: Weed) -> tuple[Control, ...]:
        """Every control that may have a word about the weed, in the order of the knowledge."""
        return self._index.controls_about(weed)

    def sprays_about(self, weed: Weed) -> tuple[Control, ...]:
        """Of these the herbicides for standing weeds."""
        return self._index.sprays_about(weed)

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
            self._gates[key] = tuple(gate.check(question) for gate in _ASKED[False, control.is_chemical])
        return self._gates[key]

    def passes(self, control: Control, use: str, timing: str) -> bool:
        """True if no gate that is not about the weed keeps the control back; stops at the first that does."""
        key = (control.id, use, timing)
        if key not in self._passes:
            if key in self._gates:
                self._passes[key] = all(result.lets_pass for result in self._gates[key])
            else:
                question = self.question(control, use, timing)
                self._passes[key] = all(
                    gate.check(question).lets_pass for gate in self._quick[False, control.is_chemical]
                )
        return self._passes[key]

    def obstacles(self, control: Control, use: str, timing: str, weeds: tuple[Weed, ...]) -> Iterator[GateResult]:
        """The gates that keep the control back from any of these weeds, one by one; idle gates are not asked."""
        key = (control.id, use, timing)
        if key not in self._obstacles:
            question = self.question(control, use, timing)
            asked = (gate.check(question) for gate in self._quick[False, control.is_chemical])
            self._obstacles[key] = tuple(result for result in asked if not result.lets_pass)
        yield from self._obstacles[key]
        for weed in weeds:
            question = self.question(control, use, timing, weed)
            for gate in self._quick[True, control.is_chemical]:
                result = gate.check(question)
                if not result.lets_pass:
                    yield result

    def weed_gates(self, control: Control, use: str, timing: str, weed: Weed) -> tuple[GateResult, ...]:
        """The gates that are about the weed."""
        question = self.question(control, use, timing, weed)
        return tuple(gate.check(question) for gate in _ASKED[True, control.is_chemical])

    def is_offered(self, control: Control, use: str, timing: str, weed: Weed) -> bool:
        """May the control be used on this weed here: every gate passes. The same gates as in a choice, asked lazily.

        What is not worth offering is not asked about any further: the gate ``weed_response`` would shut it.
        """
        if not self.passes(control, use, timing):
            return False
        reading = self.reading(weed, control, timing)
        if reading is None or reading.result not in WORTH_OFFERING:
            return False
        question = self.question(control, use, timing, weed)
        return all(gate.check(question).lets_pass for gate in self._quick[True, control.is_chemical])

    def _may_join(self, control_id: str) -> bool:
        control = self.knowledge.controls.get(control_id)
        return control is not None and any(self.passes(control, self.use, timing) for timing in self.timings(control))


class Shelf:
    """The book of today, the books of the settings ahead in order, and books of days of which little is known.

    Opened once for a whole flora: finding a book again costs the comparison of two settings.
    """

    def __init__(self, knowledge: Knowledge, setting: Setting, ahead: Sequence[Setting] = ()) -> None:
        self.knowledge = knowledge
        self.today = open_book(knowledge, setting)
        self._settings = tuple(_later_stage(later, setting) for later in ahead if later.on > setting.on)
        self._ahead: tuple[GateBook, ...] | None = None
        self._unknown: dict[date, GateBook] = {}

    @property
    def has_ahead(self) -> bool:
        """True if the settings ahead were given."""
        return bool(self._settings)

    @property
    def ahead(self) -> tuple[GateBook, ...]:
        """The books of the settings ahead."""
        if self._ahead is None:
            self._ahead = tuple(open_book(self.knowledge, later) for later in self._settings)
        return self._ahead

    def last_day(self, book: GateBook) -> date:
        """The last day for which a book ahead stands: the day before the next one; its own day if it is the last."""
        later = (other.on for other in self._settings if other.on > book.setting.on)
        following = next(later, None)
        return following - timedelta(days=1) if following else book.setting.on

    def unknown_day(self, on: date) -> GateBook:
        """The same lawn on a later day, of which neither growth nor weather is known."""
        if on not in self._unknown:
            blank = dict.fromkeys(_OF_ONE_DAY)
            self._unknown[on] = open_book(self.knowledge, replace(self.today.setting, on=on, **blank))  # type: ignore[arg-type]
        return self._unknown[on]


def _later_stage(later: Setting, today: Setting) -> Setting:
    """A plant that is mature today is not young later on; of a young one nobody knows."""
    if later.weed_stage is None and today.weed_stage in ("mature", "flowering"):
        return replace(later, weed_stage="mature")
    return later


def open_book(knowledge: Knowledge, setting: Setting) -> GateBook:
    """The book of this setting, opened anew or found again."""
    return _open_book(_Same(knowledge), setting)


def in_order(gates: tuple[GateResult, ...]) -> tuple[GateResult, ...]:
    """The gates in the order in which they are asked."""
    return tuple(sorted(gates, key=lambda result: GATE_ORDER[result.gate]))


def kills_turf(control: Control) -> bool:
    """True for kinds that kill or remove the turf where they are used."""
    return control.kind in KILLING_KINDS


@dataclass(frozen=True, slots=True)
class _Index:
    """What depends on the knowledge alone."""

    controls: tuple[Control, ...]
    parts: dict[str, tuple[Control, ...]]
    timings: dict[str, tuple[str, ...]]
    rows: dict[str, dict[str, tuple[Response, ...]]]
    works_on: dict[str, list[tuple[str, WorksOn]]]
    about: dict[str, tuple[Control, ...]]
    sprays: dict[str, tuple[Control, ...]]
    stand_ins: dict[tuple[str, str, str | None, str], Reading | None]
    knowledge: Knowledge

    def stand_in(self, weed: Weed, control: Control, stage: str | None, timing: str) -> Reading | None:
        """What stands in where the weed has no row for the control; the same on every day."""
        key = (weed.id, control.id, stage, timing)
        if key not in self.stand_ins:
            self.stand_ins[key] = read_stand_in(self.knowledge, weed, control, stage, timing)
        return self.stand_ins[key]

    def controls_about(self, weed: Weed) -> tuple[Control, ...]:
        """The controls that may have a word about the weed."""
        if weed.id not in self.about:
            named = set(self.rows_of(weed))
            for control, row in (*self.works_on.get(weed.group, ()), *self.works_on.get("", ())):
                if control not in named and is_such_a_plant(row, weed):
                    named.add(control)
            self.about[weed.id] = tuple(
                control for control in self.controls if control.id in named or (weed.turf and control.is_chemical)
            )
        return self.about[weed.id]

    def sprays_about(self, weed: Weed) -> tuple[Control, ...]:
        """Of these the herbicides for standing weeds."""
        if weed.id not in self.sprays:
            self.sprays[weed.id] = tuple(
                control
                for control in self.controls_about(weed)
                if control.is_chemical and "post_emergence" in self.timings[control.id]
            )
        return self.sprays[weed.id]

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
    controls = tuple(same.knowledge.controls.values())
    works_on: dict[str, list[tuple[str, WorksOn]]] = {}
    for control in controls:
        for row in control.works_on:
            for group in row.groups or ("",):
                works_on.setdefault(group, []).append((control.id, row))
    return _Index(
        controls=controls,
        works_on=works_on,
        parts={control.id: with_parts(same.knowledge, control) for control in controls},
        timings={control.id: timings_of(control) for control in controls},
        rows={},
        about={},
        sprays={},
        stand_ins={},
        knowledge=same.knowledge,
    )


@lru_cache(maxsize=96)
def _open_book(same: _Same, setting: Setting) -> GateBook:
    return GateBook(same.knowledge, setting)


def _rows_by_control(weed: Weed) -> dict[str, tuple[Response, ...]]:
    found: dict[str, list[Response]] = {}
    for row in weed.responses:
        found.setdefault(row.control, []).append(row)
    return {control: tuple(rows) for control, rows in found.items()}
