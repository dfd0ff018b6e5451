"""The lawn in one line: turf, date, place, state of growth."""

from __future__ import annotations

from weedkey.model.base import Knowledge
from weedkey.model.lawn import Lawn
from weedkey.plan.situation import growth_of, place_of
from weedkey.report.dates import day_words
from weedkey.report.namer import Namer
from weedkey.report.style import words_of


def lawn_line(knowledge: Knowledge, lawn: Lawn) -> str:
    """For example: zoysiagrass · 3 June 2026 · Murfreesboro, Tennessee · growing."""
    namer = Namer(knowledge)
    place = place_of(knowledge, lawn.place)
    growth = lawn.growth or growth_of(knowledge, lawn.turf, place, lawn.on)
    parts = [namer.turf(lawn.turf), day_words(lawn.on)]
    if place:
        parts.append(place.name)
    parts.append(words_of(growth) if growth else "growth not known")
    return " · ".join(parts)
