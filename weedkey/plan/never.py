"""What somebody might reach for and must not: works on a weed here, and a gate keeps it shut all year."""

from __future__ import annotations

from collections.abc import Mapping

from weedkey.control import GateResult, Setting, list_choices
from weedkey.control.results import WORTH_OFFERING
from weedkey.model.base import Knowledge
from weedkey.plan.results import FindingPlan, Never
from weedkey.plan.situation import beliefs_of

#: Gates that the time of year does not open, in the order in which they are told.
LASTING = ("site", "licence", "turf", "cultivar", "trees", "wells_and_water", "soil_ph")
_TOLD = ("site", "turf", "trees", "wells_and_water", "licence", "cultivar", "soil_ph")


def find_never(
    knowledge: Knowledge, findings: tuple[FindingPlan, ...], years: Mapping[str, tuple[Setting, ...]]
) -> tuple[Never, ...]:
    """One row a control, with the weeds it would have worked on and the first lasting gate that bars it."""
    rows: dict[str, tuple[list[str], GateResult]] = {}
    for plan in findings:
        year = years[plan.target.zone]
        # Four days of the year: if a gate that lasts is shut on each, the season does not open it.
        days = [year[number] for number in (0, 6, 12, 18) if number < len(year)]
        shut = [_shut_by(knowledge, plan, setting) for setting in days]
        for control, gate in shut[0].items():
            if all(control in other and other[control].gate == gate.gate for other in shut[1:]):
                weeds, _ = rows.setdefault(control, ([], gate))
                weeds += [weed for weed in plan.finding.weeds if weed not in weeds]
    order = sorted(rows.items(), key=lambda row: (_TOLD.index(row[1][1].gate), row[0]))
    return tuple(Never(control, tuple(weeds), gate.gate, gate.step) for control, (weeds, gate) in order)


def _shut_by(knowledge: Knowledge, plan: FindingPlan, setting: Setting) -> dict[str, GateResult]:
    """Control -> the lasting gate that shuts it, for chemistry that works on the finding."""
    found = {}
    for choice in list_choices(knowledge, beliefs_of(plan.finding.weeds), setting):
        if choice.offered or choice.result not in WORTH_OFFERING or not knowledge.controls[choice.control].is_chemical:
            continue
        shut = {gate.gate: gate for gate in choice.gates if gate.state == "shut"}
        if choice.spot:
            continue
        gate = next((shut[name] for name in _TOLD if name in shut and name in LASTING), None)
        if gate is not None:
            found[choice.control] = gate
    return found
