"""Starting again: reckoned back from the day on which the turf can be set, or from the day that the user planned.

Two kills two weeks apart, then the wait before seed: a week by most labels, two to three weeks where a hard perennial
grass is to be killed first (Kansas State; Missouri Botanical Garden). The label in hand decides. What was put down
before is asked of the seeding gate as if this seeding had been planned on that day.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta

from weedkey.control import GateResult, Setting
from weedkey.control.gatebook import open_book
from weedkey.control.weed_calendar import read_year
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Lawn, PastApplication, Seeding
from weedkey.model.place import Place
from weedkey.model.trace import Step
from weedkey.model.weed import Weed
from weedkey.plan.situation import place_of, setting_for
from weedkey.season.windows import dates_of_window

SECOND_KILL_DAYS = 14
SEED_AFTER_DAYS = 7
SEED_AFTER_HARD_DAYS = 21
KILL_SOURCES = ("ksu_berm21", "ksu_lawn20")
HARD_SOURCES = ("mbg_1710",)


@dataclass(frozen=True, slots=True)
class _Way:
    """One way to set the turf: seed, sod …; the days in which it may be done; ``planned`` by the user."""

    turf: str
    method: str
    first: date
    last: date
    sources: tuple[str, ...]
    planned: bool = False


def plan_renovation(knowledge: Knowledge, lawn: Lawn, start: date) -> tuple[Step, ...]:
    """Steps with dates for each way to set the turf: what of the past still blocks it, the kills, the days to set it.

    A way whose days are blocked to their end moves on to the next year. Without a place, or windows, says not known.
    """
    turf, place = knowledge.turfs.get(lawn.turf), place_of(knowledge, lawn.place)
    hard = [weed for weed in _weeds(knowledge, lawn) if weed.group == "grassy" and weed.is_perennial]
    wait = _wait_days(hard)
    ways = [_Way(s.turf, s.method, s.on, s.on, ("common_practice",), planned=True) for s in _planned(lawn, start)]
    if turf is not None and place is not None:
        ways += _published_ways(knowledge, lawn, place, start + timedelta(days=SECOND_KILL_DAYS + wait))
    if not ways:
        return (Step("plan.renovation_not_known", "not_known", {"turf": lawn.turf}, turf.sources if turf else ()),)
    steps: list[Step] = []
    for way in ways:
        steps += _steps_of(knowledge, lawn, way, start, hard)
    return tuple(_once(steps))


def _wait_days(hard: list[Weed]) -> int:
    return SEED_AFTER_HARD_DAYS if hard else SEED_AFTER_DAYS


def _planned(lawn: Lawn, start: date) -> Iterator[Seeding]:
    yield from (seeding for seeding in lawn.seedings if not seeding.done and seeding.on >= start)


def _published_ways(knowledge: Knowledge, lawn: Lawn, place: Place, earliest: date) -> Iterator[_Way]:
    turf = knowledge.turfs[lawn.turf]
    rows = [row for row in turf.establish if not row.regions or place.region in row.regions] or list(turf.establish)
    for row in rows:
        for year in range(earliest.year - 1, earliest.year + 3):
            first, last = dates_of_window(row.window, place, year)
            begin = max(first, earliest)
            free = max((day for _, day in _blocks(knowledge, lawn, lawn.turf, row.method, begin) if day), default=begin)
            if last >= max(begin, free):
                yield _Way(lawn.turf, row.method, max(begin, free), last, row.sources)
                break


def _steps_of(knowledge: Knowledge, lawn: Lawn, way: _Way, start: date, hard: list[Weed]) -> Iterator[Step]:
    wait = _wait_days(hard)
    second = way.first - timedelta(days=wait)
    kill = second - timedelta(days=SECOND_KILL_DAYS)
    for step, _ in _blocks(knowledge, lawn, way.turf, way.method, way.first):
        yield step
    facts: dict[str, object] = {
        "turf": way.turf,
        "method": way.method,
        "first": way.first,
        "last": way.last,
        "kill": max(kill, start),
        "second_kill": max(second, start),
        "wait_days": wait,
        "planned": way.planned,
    }
    sources = (*way.sources, *KILL_SOURCES, *(HARD_SOURCES if hard else ()))
    yield Step("plan.renovation", way.method, facts, tuple(dict.fromkeys(sources)))
    if kill < start:
        yield Step("plan.seeding_too_soon", "shut", facts | {"earliest": start + (way.first - kill)}, KILL_SOURCES)
    setting = setting_for(knowledge, lawn, None, max(kill, start))
    asleep = [weed.id for weed in hard if read_year(weed, setting.region).is_active(setting) is False]
    if asleep:
        yield Step("plan.kill_needs_growth", "ask", {"weeds": asleep, "on": max(kill, start)}, ("ksu_berm21",))


def _blocks(
    knowledge: Knowledge, lawn: Lawn, turf: str, method: str, seeding: date
) -> Iterator[tuple[Step, date | None]]:
    """Past applications whose interval reaches this seeding, with the day on which it ends (None = not known)."""
    for past in lawn.history:
        gate = _seeding_gate_or_none(knowledge, lawn, past, Seeding(seeding, turf, method))
        if gate is None or gate.state == "open" or past.on > seeding:
            continue
        needed = gate.step.facts.get("days_needed")
        until = past.on + timedelta(days=float(needed)) if isinstance(needed, int | float) else None
        facts: dict[str, object] = {"control": past.control, "on": past.on, "until": until, "method": method}
        yield Step("plan.blocks_seed", "wait", facts, gate.step.sources, (gate.step,)), until


def _seeding_gate_or_none(
    knowledge: Knowledge, lawn: Lawn, past: PastApplication, seeding: Seeding
) -> GateResult | None:
    control = knowledge.controls.get(past.control)
    if control is None:
        return None
    setting = replace(Setting(lawn.turf, past.on, site=lawn.site), seedings=(seeding,))
    timing = open_book(knowledge, setting).timings(control)[0]
    gates = open_book(knowledge, setting).control_gates(control, "broadcast", timing)
    return next((gate for gate in gates if gate.gate == "seeding"), None)


def _weeds(knowledge: Knowledge, lawn: Lawn) -> Iterator[Weed]:
    for zone in lawn.zones:
        for finding in zone.findings:
            yield from (knowledge.weeds[weed] for weed in finding.weeds if weed in knowledge.weeds)


def _once(steps: list[Step]) -> Iterator[Step]:
    """Each step once, in order."""
    seen: list[Step] = []
    for step in steps:
        if step not in seen:
            seen.append(step)
            yield step
