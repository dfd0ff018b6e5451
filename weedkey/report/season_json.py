"""The year of a place, and the closing of a spot, as plain JSON values."""

from __future__ import annotations

from datetime import date
from typing import Any

from weedkey.model.base import Knowledge
from weedkey.model.place import Place
from weedkey.model.turf import Turf
from weedkey.model.weed import Weed
from weedkey.report.namer import Namer
from weedkey.report.wording import sentence
from weedkey.season.climate import daily_temperature
from weedkey.season.frost import frost_dates
from weedkey.season.growth import growth_potential, growth_state
from weedkey.season.recovery import Repair, SpotClosure
from weedkey.season.soil import soil_temperature_f
from weedkey.season.windows import germination_windows, pre_emergence_windows


def season_json(knowledge: Knowledge, place: Place, turf: Turf | None, weed: Weed | None, year: int) -> dict[str, Any]:
    """Months (on the 15th), frost, and the windows of a weed."""
    return {
        "place": place.id,
        "year": year,
        "months": [_month(place, turf, date(year, month, 15)) for month in range(1, 13)],
        "frost": [
            {"event": row.event, "on": row.on.isoformat(), "estimated": row.estimated, "sources": list(row.sources)}
            for row in frost_dates(place, year)
        ],
        "weed": weed.id if weed else None,
        "germination": [
            {"from": w.start.isoformat(), "to": w.end.isoformat(), "basis": w.basis, "sources": list(w.step.sources)}
            for w in (germination_windows(weed, place, year) if weed else ())
        ],
        "pre_emergence": [
            {"from": w.opens.isoformat(), "to": w.closes.isoformat(), "why": sentence(w.step, Namer(knowledge))}
            for w in (pre_emergence_windows(weed, place, year) if weed else ())
        ],
    }


def _month(place: Place, turf: Turf | None, day: date) -> dict[str, Any]:
    low, high = daily_temperature(place, day)
    row: dict[str, Any] = {
        "on": day.isoformat(),
        "low_f": round(low, 1),
        "high_f": round(high, 1),
        "soil_4_in_f": round(soil_temperature_f(place, day), 1),
    }
    if turf:
        row["growth"] = growth_state(turf, place, day)[0]
        row["growth_potential"] = round(growth_potential(turf.season, (low + high) / 2), 2)
    return row


def closure_json(knowledge: Knowledge, closure: SpotClosure, repair: Repair) -> dict[str, Any]:
    """Whether a spot closes, in how many days, until when, and what else may be done."""
    namer = Namer(knowledge)
    return {
        "closes": closure.closes,
        "days": [closure.days_low, closure.days_high],
        "last_date": closure.last_date.isoformat() if closure.last_date else None,
        "stops": closure.stops.isoformat() if closure.stops else None,
        "why": sentence(closure.step, namer),
        "sources": list(closure.step.sources),
        "repair": {
            "kind": repair.kind,
            "methods": [
                {"method": row.method, "from": first.isoformat(), "to": last.isoformat(), "sources": list(row.sources)}
                for row, first, last in repair.methods
            ],
        },
    }
