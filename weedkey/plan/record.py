"""The application record of an action of the plan: filled as far as the plan knows, empty mandatory fields flagged.

Nothing here is legal advice: the rules are those of a few states, as they were read; the state's own office decides.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from weedkey.model.base import Knowledge
from weedkey.model.lawn import Lawn, PastApplication
from weedkey.model.trace import Step
from weedkey.plan.amounts import amounts_of, treated_sqft
from weedkey.plan.record_fields import NOTICE_RULES, RECORD_RULES, NoticeRule, RecordField, RecordRule
from weedkey.plan.results import Action, Plan, Target, Visit
from weedkey.units import format_number, format_quantity


@dataclass(frozen=True, slots=True)
class FilledField:
    """One field: ``values`` that are known, in the order of its keys; ``missing`` keys still to be written."""

    field: RecordField
    values: tuple[str, ...]
    missing: tuple[str, ...]
    mandatory: bool


@dataclass(frozen=True, slots=True)
class FilledRule:
    """One rule with its fields. ``empty``: mandatory fields of which something is missing; ``keep_until`` if known."""

    rule: RecordRule
    fields: tuple[FilledField, ...]
    keep_until: date | None

    @property
    def empty(self) -> tuple[FilledField, ...]:
        """Mandatory fields that are not complete."""
        return tuple(row for row in self.fields if row.mandatory and row.missing)


@dataclass(frozen=True, slots=True)
class ApplicationRecord:
    """The record of one application. ``known`` says whether rules of the state were read at all."""

    visit: Visit
    action: Action
    values: Mapping[str, str]
    rules: tuple[FilledRule, ...]
    notices: tuple[NoticeRule, ...]
    known: bool


def plan_records(
    knowledge: Knowledge, plan: Plan, state: str = "", typed: Mapping[str, str] | None = None
) -> tuple[ApplicationRecord, ...]:
    """One record for each application of a chemical in the plan. ``state``: two letters (default: the lawn's);
    ``typed``: values that the user gives, such as applicator or product; they stand above what the plan knows.
    """
    chosen = (state or plan.lawn.state).upper()
    return tuple(
        _record(knowledge, plan, number, action, chosen, typed or {})
        for number, visit in enumerate(plan.visits)
        for action in visit.actions
        if knowledge.controls[action.control].is_chemical
    )


def past_record(
    knowledge: Knowledge, lawn: Lawn, past: PastApplication, typed: Mapping[str, str] | None = None
) -> ApplicationRecord:
    """The record of an application that was made; the weeds are those that the walk found in its zones.

    ``typed``: values that the user gives, such as applicator or product; they stand above what the lawn knows.
    """
    zones = tuple(zone for zone in lawn.zones if not past.zones or zone.name in past.zones)
    targets = tuple(Target(zone.name, place) for zone in zones for place in range(len(zone.findings)))
    weeds = dict.fromkeys(weed for zone in zones for finding in zone.findings for weed in finding.weeds)
    names = tuple(zone.name for zone in zones)
    action = Action(past.control, "lawn", names, targets, tuple(weeds), Step("plan.put_on", "done", {}))
    visit = Visit(past.on, past.on, (action,))
    values = {**_lawn_values(knowledge, lawn, action), "date": past.on.isoformat()}
    if past.amount is not None:
        per = next(
            (rate.per for rate in lawn.label_rates if (rate.control, rate.unit) == (past.control, past.unit)), ""
        )
        values["rate"] = f"{past.amount:g} {past.unit}{f' per {per}' if per else ''}"
    return _filled(visit, action, {**values, **_given(typed)}, lawn.state.upper())


def _record(  # noqa: PLR0917 - one application and what was typed about it
    knowledge: Knowledge, plan: Plan, number: int, action: Action, state: str, typed: Mapping[str, str]
) -> ApplicationRecord:
    values = {**_values(knowledge, plan, number, action), **_given(typed)}
    return _filled(plan.visits[number], action, values, state)


def _given(typed: Mapping[str, str] | None) -> dict[str, str]:
    return {key: text for key, text in (typed or {}).items() if text}


def _filled(visit: Visit, action: Action, values: Mapping[str, str], state: str) -> ApplicationRecord:
    own = [rule for rule in RECORD_RULES if rule.state == state and state]
    rules = [rule for rule in RECORD_RULES if rule.state == ""] + own
    rules += [rule for rule in RECORD_RULES if rule.state == "any"]
    filled = tuple(_fill(rule, values, visit.first) for rule in rules)
    notices = tuple(rule for rule in NOTICE_RULES if rule.state == state and state)
    return ApplicationRecord(visit, action, values, filled, notices, bool(own or notices))


def _values(knowledge: Knowledge, plan: Plan, number: int, action: Action) -> dict[str, str]:
    """What the plan itself knows; date and time are written on the day."""
    values = _lawn_values(knowledge, plan.lawn, action)
    for amount in amounts_of(plan):
        if amount.visit == number and amount.control == action.control:
            values["total"] = format_quantity(amount.product)
    return values


def _lawn_values(knowledge: Knowledge, lawn: Lawn, action: Action) -> dict[str, str]:
    """What lawn and control say about an application."""
    control = knowledge.controls[action.control]
    values = {
        "site": f"turf ({lawn.site.replace('_', ' ')}): " + ", ".join(action.zones),
        "area": f"{format_number(treated_sqft(lawn, action), 0)} sq ft",
        "weeds": ", ".join(knowledge.weeds[weed].name for weed in action.weeds),
        "control": control.name,
        "kind": "herbicide",
        "turf": knowledge.turfs[lawn.turf].name if lawn.turf in knowledge.turfs else lawn.turf,
        "cover": _cover(lawn, action),
    }
    if control.control_class is not None:
        values["group"] = f"HRAC {control.control_class.hrac}"
    for rate in lawn.label_rates:
        if rate.control == action.control:
            values["rate"] = f"{rate.amount:g} {rate.unit} per {rate.per}"
    photos = photo_texts(lawn, action.zones)
    if photos:
        values["photos"] = ", ".join(photos)
    return values


def photo_texts(lawn: Lawn, zones: Iterable[str]) -> tuple[str, ...]:
    """The photos of some zones and of what grows in them, as the lawn names them."""
    wanted = set(zones)
    found: dict[str, None] = {}
    for zone in lawn.zones:
        if zone.name in wanted:
            found |= dict.fromkeys(zone.photos)
            found |= dict.fromkeys(text for finding in zone.findings for text in finding.photos)
    return tuple(found)


def _cover(lawn: Lawn, action: Action) -> str:
    zones = {zone.name: zone for zone in lawn.zones}
    rows = [(target.zone, zones[target.zone].findings[target.place]) for target in action.targets]
    return ", ".join(f"{zone} {finding.cover_percent:g} %" for zone, finding in rows)


def _fill(rule: RecordRule, values: Mapping[str, str], day: date) -> FilledRule:
    fields = tuple(_field(row, values, rule.mandatory) for row in rule.fields)
    return FilledRule(rule, fields, _years_on(day, rule.keep_years) if rule.keep_years else None)


def _field(row: RecordField, values: Mapping[str, str], mandatory: bool) -> FilledField:
    known = tuple(values[key] for key in row.keys if key in values)
    return FilledField(row, known, tuple(key for key in row.keys if key not in values), mandatory)


def _years_on(day: date, years: int) -> date:
    """The same day years later; 28 February for a leap day."""
    try:
        return day.replace(year=day.year + years)
    except ValueError:
        return day.replace(year=day.year + years, day=28)


def keys_of(rules: Iterable[RecordRule]) -> tuple[str, ...]:
    """Every value that the rules may ask for, once, in order."""
    return tuple(dict.fromkeys(key for rule in rules for field in rule.fields for key in field.keys))
