"""Remedies of the ground take their place among the visits: only when likely or measured, and only when open."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import date

from weedkey.control import Setting
from weedkey.control.gatebook import open_book
from weedkey.ground import GroundReport
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Lawn
from weedkey.model.trace import Step
from weedkey.plan.results import Action, Visit
from weedkey.plan.situation import half_month_end

#: Remedies for one condition that are carried into the plan; the others stand in the reading of the ground.
MOST_REMEDIES = 2


def with_remedies(
    knowledge: Knowledge,
    lawn: Lawn,
    ground: GroundReport,
    visits: tuple[Visit, ...],
    years: Mapping[str, tuple[Setting, ...]],
) -> tuple[Visit, ...]:
    """Each remedy joins the first visit in which its gates are open, else the first open half month of its own."""
    found = list(visits)
    for control, zones, conditions, sources in _wanted(knowledge, lawn, ground):
        year = years[zones[0]]
        days = [
            setting
            for setting in year
            if open_book(knowledge, setting).passes(knowledge.controls[control], "broadcast", "post_emergence")
        ]
        if not days:
            continue
        facts: dict[str, object] = {"control": control, "zones": list(zones), "conditions": list(conditions)}
        action = Action(control, "measure", zones, (), (), Step("plan.remedy", "measure", facts, sources))
        _place(found, action, [setting.on for setting in days])
    return tuple(sorted(found, key=lambda visit: visit.first))


def _wanted(
    knowledge: Knowledge, lawn: Lawn, ground: GroundReport
) -> Iterator[tuple[str, tuple[str, ...], tuple[str, ...], tuple[str, ...]]]:
    """(control, zones, conditions, sources) of the remedies worth money, each control once."""
    wanted: dict[str, tuple[list[str], list[str], list[str]]] = {}
    names = {zone.name for zone in lawn.zones}
    for zone in ground.zones:
        replanted = False
        for reading in zone.conditions:
            if not reading.may_spend or zone.zone not in names:
                continue
            for remedy in [r for r in reading.remedies if r.control in knowledge.controls][:MOST_REMEDIES]:
                if knowledge.controls[remedy.control].kind == "replant":
                    # One way to bring grass in is enough; the reading of the ground lists the others.
                    if replanted:
                        continue
                    replanted = True
                zones, conditions, sources = wanted.setdefault(remedy.control, ([], [], []))
                zones.append(zone.zone)
                conditions.append(reading.condition)
                sources += remedy.sources
    for control, (zones, conditions, sources) in sorted(wanted.items()):
        yield control, tuple(dict.fromkeys(zones)), tuple(dict.fromkeys(conditions)), tuple(dict.fromkeys(sources))


def _place(visits: list[Visit], action: Action, days: list[date]) -> None:
    for number, visit in enumerate(visits):
        if visit.first in days:
            visits[number] = replace(visit, actions=(*visit.actions, action))
            return
    visits.append(Visit(days[0], half_month_end(days[0]), (action,)))
