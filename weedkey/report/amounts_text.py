"""Amounts from the typed label rates, in words and as JSON."""

from __future__ import annotations

from typing import Any

from weedkey.model.base import Knowledge
from weedkey.plan.amounts import Amount, YearTotal
from weedkey.plan.results import Plan
from weedkey.report.dates import day_words
from weedkey.report.namer import Namer
from weedkey.report.style import Style
from weedkey.units import format_number, format_quantity

_STATES = {
    "within": "within the typed maximum",
    "over": "OVER the typed maximum: leave a use out",
    "not_known": "an amount of the past is not recorded: look it up before anything goes down",
    "no_maximum": "no maximum was typed: read it on the label",
}


def amounts_text(
    knowledge: Knowledge, plan: Plan, amounts: tuple[Amount, ...], totals: tuple[YearTotal, ...], style: Style
) -> str:
    """Product by visit and tank, then the year's total of each control with a typed rate."""
    namer = Namer(knowledge)
    lines = [style.strong("Amounts, from the rates that you typed from the label")]
    if not amounts:
        lines.append(
            style.wrap(
                "None: no rate was typed for a control of this plan. The program holds no rates; type them from the"
                " label in hand into the lawn file (label_rates).",
                "  ",
            )
        )
    for amount in amounts:
        lines.append(style.bullet(_line(plan, amount, namer)))
        if amount.tanks is not None:
            lines.append(style.wrap(_tanks(amount), "      "))
    for total in totals:
        most = f" of {format_number(total.maximum)}" if total.maximum is not None else ""
        sum_text = format_number(total.used + total.planned)
        lines.append(
            style.bullet(
                f"{namer.control(total.control)} in the year: {sum_text}{most} {total.unit}; {_STATES[total.state]}"
            )
        )
    return "\n".join(lines)


def _line(plan: Plan, amount: Amount, namer: Namer) -> str:
    when = f"visit of {day_words(plan.visits[amount.visit].first)}, " if amount.visit is not None else ""
    each = f" ({format_quantity(amount.per_1000)} per 1000 sq ft)" if amount.per_1000 else ""
    ground = format_number(amount.area_sqft, 0)
    return f"{when}{namer.control(amount.control)}: {format_quantity(amount.product)} on {ground} sq ft{each}"


def _tanks(amount: Amount) -> str:
    tanks = amount.tanks
    if tanks is None:
        return ""
    parts = [f"{format_number(tanks.water_gal)} gal of spray"]
    if tanks.full:
        parts.append(
            f"{tanks.full} full tank{'' if tanks.full == 1 else 's'} with {format_quantity(tanks.in_full)} each"
        )
    if tanks.last_gal:
        parts.append(f"a last one of {format_number(tanks.last_gal)} gal with {format_quantity(tanks.in_last)}")
    text = ", ".join(parts)
    if tanks.left_gal:
        text += f"; filled to the brim the last tank would leave {format_number(tanks.left_gal)} gal over"
    return text + ". Rinse three times, onto ground that the label allows."


def amounts_json(amounts: tuple[Amount, ...], totals: tuple[YearTotal, ...]) -> dict[str, Any]:
    """amounts: [{control, visit, area_sqft, product, per_1000_sqft, tanks}], year: [{control, used, planned, …}]."""
    return {
        "amounts": [
            {
                "control": amount.control,
                "visit": amount.visit,
                "area_sqft": float(amount.area_sqft),
                "product": format_quantity(amount.product, 4),
                "per_1000_sqft": format_quantity(amount.per_1000, 4) if amount.per_1000 else None,
                "tanks": {
                    "water_gal": float(amount.tanks.water_gal),
                    "full": amount.tanks.full,
                    "in_full": format_quantity(amount.tanks.in_full, 4),
                    "last_gal": float(amount.tanks.last_gal),
                    "in_last": format_quantity(amount.tanks.in_last, 4),
                    "left_gal": float(amount.tanks.left_gal),
                }
                if amount.tanks
                else None,
            }
            for amount in amounts
        ],
        "year": [
            {
                "control": total.control,
                "unit": total.unit,
                "used": float(total.used),
                "planned": float(total.planned),
                "maximum": float(total.maximum) if total.maximum is not None else None,
                "state": total.state,
            }
            for total in totals
        ],
    }
