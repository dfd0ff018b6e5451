"""What somebody might reach for and must not: it would work on a weed here, and a gate is shut all year."""

from __future__ import annotations

from collections.abc import Mapping

from weedkey.control import Choice, GateResult, Setting
from weedkey.control.choices import choice_for, read_candidates
from weedkey.control.gatebook import kills_turf, open_book
from weedkey.control.results import WORTH_OFFERING
from weedkey.model.base import Knowledge
from weedkey.plan.kept_choices import choices_on
from weedkey.plan.results import FindingPlan, Never
from weedkey.plan.situation import beliefs_of

#: Gates that the time of year does not open, in the order in which they are told.
LASTING = ("site", "turf", "trees", "wells_and_water", "licence", "cultivar", "soil_ph")
#: Days of the year (half months ahead): a lasting gate that is shut on each is not opened by the season.
_OTHER_DAYS = (6, 12, 18)


def find_never(
    knowledge: Knowledge, findings: tuple[FindingPlan, ...], years: Mapping[str, tuple[Setting, ...]]
) -> tuple[Never, ...]:
    """One row a control, with the weeds it would have worked on and the first lasting gate that bars it."""
    rows: dict[str, tuple[list[str], GateResult, list[str]]] = {}
    for plan in findings:
        year = years[plan.target.zone]
        for choice, gate in _shut_today(knowledge, plan, year[0]):
            others = [year[number] for number in _OTHER_DAYS if number < len(year)]
            if all(_stays_shut(knowledge, plan, choice, gate, setting) for setting in others):
                weeds, _, zones = rows.setdefault(choice.control, ([], gate, []))
                weeds += [weed for weed in plan.finding.weeds if weed not in weeds]
                zones += [plan.target.zone] if plan.target.zone not in zones else []
    order = sorted(rows.items(), key=lambda row: (LASTING.index(row[1][1].gate), row[0]))
    every = [plan.target.zone for plan in findings]
    return tuple(
        Never(control, tuple(weeds), gate.gate, gate.step, _only(knowledge, control, zones, every, years))
        for control, (weeds, gate, zones) in order
    )


def _only(
    knowledge: Knowledge, control: str, zones: list[str], every: list[str], years: Mapping[str, tuple[Setting, ...]]
) -> tuple[str, ...]:
    """The zones, if the control is not shut by a lasting gate in some other zone; empty if it is shut everywhere."""
    entry = knowledge.controls[control]
    for zone in every:
        if zone in zones:
            continue
        book = open_book(knowledge, years[zone][0])
        if any(_lasting_or_none(book.control_gates(entry, book.use, t)) is None for t in book.timings(entry)):
            return tuple(zones)
    return ()


def _shut_today(knowledge: Knowledge, plan: FindingPlan, setting: Setting) -> list[tuple[Choice, GateResult]]:
    """Chemistry that works on the finding, with the lasting gate that shuts it."""
    found = []
    for choice in choices_on(knowledge, beliefs_of(plan.finding.weeds), setting):
        if choice.offered or choice.spot or choice.result not in WORTH_OFFERING:
            continue
        gate = _lasting_or_none(choice.gates)
        if gate is not None and knowledge.controls[choice.control].is_chemical:
            found.append((choice, gate))
    return found


def _stays_shut(knowledge: Knowledge, plan: FindingPlan, choice: Choice, gate: GateResult, setting: Setting) -> bool:
    """True if the same gate shuts the control on another day; what kills turf must not be open for spots either."""
    book = open_book(knowledge, setting)
    control = knowledge.controls[choice.control]
    if kills_turf(control):
        candidates = read_candidates(knowledge, beliefs_of(plan.finding.weeds))
        later = choice_for(book, control, candidates, choice.timing)
        if later is None or later.offered or later.spot:
            return False
    shut = _lasting_or_none(book.control_gates(control, book.use, choice.timing))
    return shut is not None and shut.gate == gate.gate


def _lasting_or_none(gates: tuple[GateResult, ...]) -> GateResult | None:
    shut = {gate.gate: gate for gate in gates if gate.state == "shut"}
    return next((shut[name] for name in LASTING if name in shut), None)
