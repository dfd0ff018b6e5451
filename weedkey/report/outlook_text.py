"""The outlook as a small table with bars, and starts side by side."""

from __future__ import annotations

from typing import Any

from weedkey.model.base import Knowledge
from weedkey.plan.outlook import Band, Outlook
from weedkey.plan.results import Plan, Target
from weedkey.plan.starts import Start
from weedkey.report.dates import MONTH_NAMES, day_words
from weedkey.report.namer import Namer
from weedkey.report.references import References
from weedkey.report.style import Style, bar, join_words
from weedkey.report.visit_text import finding_words
from weedkey.report.wording import sentence

SCENARIOS = {"nothing": "Nothing is done", "plan": "With this plan", "wait": "With a later start"}


def band_words(band: Band | None, unit: str = "%") -> str:
    """40 to 55 %, or 40 %."""
    if band is None:
        return "not known"
    low, high = round(band.low), round(band.high)
    return f"{low} {unit}" if low == high else f"{low} to {high} {unit}"


def outlook_text(knowledge: Knowledge, outlooks: list[Outlook], style: Style) -> str:
    """Turf, weeds and bare ground by month for each scenario, then what is assumed."""
    namer, refs = Namer(knowledge), References(knowledge)
    blocks = [_table(outlook, style) for outlook in outlooks]
    seen = {step.rule: step for outlook in outlooks for step in outlook.assumptions}
    lines = [style.strong("What the outlook assumes")]
    lines += [style.bullet(f"{sentence(step, namer)} {refs.mark(step.sources)}") for step in seen.values()]
    lines += [style.wrap(line, "  ", "      ") for line in refs.lines()]
    return "\n\n".join([*blocks, "\n".join(lines)])


def _table(outlook: Outlook, style: Style) -> str:
    lines = [style.strong(f"{SCENARIOS[outlook.scenario]}: percent of the lawn")]
    for month in outlook.months:
        name = f"{MONTH_NAMES[month.on.month - 1][:3]} {month.on.year}"
        middle = (month.turf.low + month.turf.high) / 200
        lines.append(
            f"  {name}  turf {bar(middle)} {band_words(month.turf, ''):>11}"
            f"  weeds {band_words(month.all_weeds, ''):>9}  bare {band_words(month.bare, ''):>9}".rstrip()
        )
    return "\n".join(lines)


def outlook_json(knowledge: Knowledge, outlook: Outlook) -> dict[str, Any]:
    """scenario, months with bands as [low, high], assumptions."""
    namer = Namer(knowledge)
    return {
        "scenario": outlook.scenario,
        "months": [
            {
                "on": month.on.isoformat(),
                "turf": _pair(month.turf),
                "bare": _pair(month.bare),
                "weeds": {cycle: _pair(band) for cycle, band in month.weeds.items()},
            }
            for month in outlook.months
        ],
        "assumptions": [{"text": sentence(s, namer), "sources": list(s.sources)} for s in outlook.assumptions],
    }


def starts_text(knowledge: Knowledge, rows: tuple[Start, ...], style: Style) -> str:
    """One block a start: what is handled, the worst bare ground, visits, what waits, turf on the target date."""
    namer = Namer(knowledge)
    lines = [style.strong("Start now or wait")]
    for row in rows:
        visits = f"{row.visits} visit{'' if row.visits == 1 else 's'}"
        lines.append(
            style.bullet(
                f"{day_words(row.start)}: {round(row.handled_percent)} % of the weeds handled, {visits}; "
                f"bare at worst {band_words(row.worst_bare_sqft, 'sq ft')}; "
                f"turf on {day_words(row.target)} {band_words(row.turf_on_target)}"
            )
        )
        names = [_target_words(row.plan, target, namer) for target in row.waits]
        if names:
            lines.append(style.wrap(f"has to wait: {join_words(names)}", "      "))
    lines.append(
        style.wrap("The cover is taken as it was seen on the visit; every start plans the year after it.", "  ")
    )
    return "\n".join(lines)


def starts_json(knowledge: Knowledge, rows: tuple[Start, ...]) -> list[dict[str, Any]]:
    """start, handled_percent, visits, waits, worst_bare_sqft, target, turf_on_target."""
    namer = Namer(knowledge)
    return [
        {
            "start": row.start.isoformat(),
            "handled_percent": round(row.handled_percent, 1),
            "visits": row.visits,
            "waits": [{"zone": t.zone, "place": t.place, "name": _target_words(row.plan, t, namer)} for t in row.waits],
            "worst_bare_sqft": _pair(row.worst_bare_sqft) if row.worst_bare_sqft else None,
            "target": row.target.isoformat(),
            "turf_on_target": _pair(row.turf_on_target) if row.turf_on_target else None,
        }
        for row in rows
    ]


def _target_words(plan: Plan, target: Target, namer: Namer) -> str:
    zone = next(zone for zone in plan.lawn.zones if zone.name == target.zone)
    return f"{finding_words(zone.findings[target.place], namer)} in {zone.name}"


def _pair(band: Band) -> list[float]:
    return [band.low, band.high]
