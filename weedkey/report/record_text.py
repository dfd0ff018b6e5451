"""Record sheets to fill in, the sign's text, and the same as JSON."""

from __future__ import annotations

from typing import Any

from weedkey.model.base import Knowledge
from weedkey.plan.record import ApplicationRecord, FilledField, FilledRule
from weedkey.report.dates import day_words
from weedkey.report.namer import Namer
from weedkey.report.references import References
from weedkey.report.style import Style, join_words

NOT_ADVICE = (
    "No legal advice: these are the fields of the rules that were read, a sample and not a survey. Ask the office of"
    " your state; town rules can add to them."
)
_KEY_WORDS = {
    "epa_number": "EPA registration number",
    "air_f": "air temperature",
    "mix_gal": "gallons of mix",
    "label_company": "company on the label",
    "next_seed": "first day for seed",
    "label_advice": "what the label asks of the customer",
}


def record_text(knowledge: Knowledge, records: tuple[ApplicationRecord, ...], style: Style) -> str:
    """One sheet an application: filled values, ``!`` before a mandatory field that is still empty."""
    if not records:
        return "The plan holds no application that a record is kept of."
    namer, refs = Namer(knowledge), References(knowledge)
    blocks = [_sheet(record, namer, refs, style) for record in records]
    blocks.append(_notices(records[0], refs, style))
    blocks.append(style.wrap(NOT_ADVICE))
    blocks.append("\n".join([style.strong("Sources"), *(style.wrap(s, "  ", "      ") for s in refs.lines())]))
    return "\n\n".join(block for block in blocks if block)


def _sheet(record: ApplicationRecord, namer: Namer, refs: References, style: Style) -> str:
    visit = record.visit
    name = namer.control(record.action.control)
    when = day_words(visit.first)
    if visit.last != visit.first:
        when = f"between {when} and {day_words(visit.last)}"
    lines = [style.strong(f"Record: {name}, {when}")]
    if not record.known:
        lines.append(style.wrap("Nothing was read of the rules of this state: ask its office.", "  "))
    for rule in record.rules:
        if rule.rule.restricted_only and rule.rule.state == "":
            head = "Federal, restricted-use products only"
        else:
            head = rule.rule.applies_to
        keep = f", keep until {day_words(rule.keep_until)}" if rule.keep_until else ""
        lines.append(style.wrap(f"{head} — {rule.rule.when}{keep} {refs.mark(rule.rule.sources)}", "  ", "    "))
        if not rule.rule.complete:
            lines.append(style.wrap("the list of fields could not be read whole: ask the state's office", "    "))
        lines += [_field(row, style) for row in rule.fields]
    if "photos" in record.values:
        lines.append(style.bullet(f"photos: {record.values['photos']}", indent="    "))
    return "\n".join(lines)


def _field(row: FilledField, style: Style) -> str:
    mark = "!" if row.mandatory and row.missing else "-"
    value = "; ".join(row.values) or "________"
    if row.values and row.missing:
        value += "; still to write: " + join_words([_key_words(key) for key in row.missing])
    return style.bullet(f"{row.field.name}: {value}", mark, "    ")


def _notices(record: ApplicationRecord, refs: References, style: Style) -> str:
    lines = [
        style.bullet(f"{rule.kind} ({rule.who}): {rule.what}; {rule.when} {refs.mark(rule.sources)}")
        for rule in record.notices
    ]
    lines.append(
        style.bullet(
            "words for a sign: HERBICIDE APPLIED - PLEASE KEEP CHILDREN AND PETS OFF UNTIL DRY, longer if the label"
            " says so. Date ____ Applied by ____ Phone ____ (common practice; the state's own wording comes first)"
        )
    )
    return "\n".join([style.strong("Signs and notices"), *lines])


def _key_words(key: str) -> str:
    return _KEY_WORDS.get(key, key.replace("_", " "))


def record_json(knowledge: Knowledge, records: tuple[ApplicationRecord, ...]) -> list[dict[str, Any]]:
    """One object an application: control, from, to, values, rules with fields, missing, keep_until, notices."""
    namer = Namer(knowledge)
    return [
        {
            "control": record.action.control,
            "name": namer.control(record.action.control),
            "from": record.visit.first.isoformat(),
            "to": record.visit.last.isoformat(),
            "state_known": record.known,
            "values": dict(record.values),
            "rules": [_rule_json(rule) for rule in record.rules],
            "notices": [
                {"kind": n.kind, "who": n.who, "what": n.what, "when": n.when, "sources": list(n.sources)}
                for n in record.notices
            ],
        }
        for record in records
    ]


def _rule_json(rule: FilledRule) -> dict[str, Any]:
    return {
        "rule": rule.rule.id,
        "applies_to": rule.rule.applies_to,
        "when": rule.rule.when,
        "restricted_only": rule.rule.restricted_only,
        "complete": rule.rule.complete,
        "keep_until": rule.keep_until.isoformat() if rule.keep_until else None,
        "fields": [
            {"field": f.field.name, "values": list(f.values), "missing": list(f.missing), "mandatory": f.mandatory}
            for f in rule.fields
        ],
        "empty_mandatory": [f.field.name for f in rule.empty],
        "sources": list(rule.rule.sources),
    }
