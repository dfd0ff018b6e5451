"""What was put on a lawn: the record of one application as a plain text, and the list over all its walks."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from weedkey.model.base import Knowledge
from weedkey.model.lawn import Lawn, PastApplication
from weedkey.plan.record import past_record
from weedkey.report.dates import day_words
from weedkey.report.namer import Namer
from weedkey.report.record_text import record_text
from weedkey.report.style import Style, join_words

_RECORD_WIDTH = 96


def application_record(
    knowledge: Knowledge,
    lawn: Lawn,
    row: PastApplication,
    typed: Mapping[str, str] | None = None,
    *,
    width: int = _RECORD_WIDTH,
) -> str:
    """The record to keep; what a rule asks for and nobody typed stays open, to be written by hand."""
    text = record_text(knowledge, (past_record(knowledge, lawn, row, typed),), Style(width=width))
    return f"{lawn.name}\n\n{text}\n"


def applications_text(knowledge: Knowledge, lawn: Lawn, style: Style) -> str:
    """Every application of a lawn, the last first, with its class, and what it counts for."""
    if not lawn.history:
        return style.wrap("Nothing is written down as put on this lawn.")
    namer = Namer(knowledge)
    lines = [style.strong(f"Put on {lawn.name}")]
    lines += [style.bullet(application_line(knowledge, row, namer)) for row in _last_first(lawn.history)]
    lines.append(
        style.wrap("Each counts against the yearly maximum of its active ingredients and for the rotation of classes.")
    )
    return "\n".join(lines)


def application_line(knowledge: Knowledge, row: PastApplication, namer: Namer) -> str:
    """For example: 3 June 2026, sulfentrazone (HRAC 14), drive edge, 0.5 fl oz."""
    control = knowledge.controls.get(row.control)
    group = f" (HRAC {control.control_class.hrac})" if control and control.control_class else ""
    parts = [day_words(row.on), namer.control(row.control) + group if control else row.control]
    if row.zones:
        parts.append(join_words(list(row.zones)))
    if row.amount is not None:
        parts.append(f"{row.amount:g} {row.unit}".strip())
    return ", ".join(parts)


def applications_json(rows: Iterable[PastApplication]) -> list[dict[str, Any]]:
    """One object an application, the last first: date, control, zones, amount, unit."""
    return [
        {
            "date": row.on.isoformat(),
            "control": row.control,
            "zones": list(row.zones),
            "amount": row.amount,
            "unit": row.unit,
        }
        for row in _last_first(rows)
    ]


def _last_first(rows: Iterable[PastApplication]) -> list[PastApplication]:
    return sorted(rows, key=lambda row: (row.on, row.control), reverse=True)
