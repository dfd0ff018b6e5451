"""What the lawn will look like by month: turf, weeds by life cycle, bare ground; as bands from stated assumptions.

Two runs make a band: a kind year and a hard year. Each month, in this order: annuals die outside their active window
or come up again, perennials spread while active; the month is written down; visits take effect; turf closes bare
ground in step with its growth potential. Covers are percent of the whole lawn. docs/plan.md explains it on one page.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

from weedkey.control import Setting
from weedkey.control.weed_calendar import WeedYear, read_year
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Lawn
from weedkey.model.place import Place
from weedkey.model.trace import Step
from weedkey.model.turf import Turf
from weedkey.plan.lawn_verdict import weed_percent
from weedkey.plan.results import FindingPlan, Plan
from weedkey.plan.situation import place_of, setting_for
from weedkey.season.climate import mean_temperature_f
from weedkey.season.growth import GROWTH_SOURCES, growth_potential

CYCLES = ("summer_annual", "winter_annual", "annual", "perennial")
#: Share of the cover that a treatment takes, (hard year, kind year), where the sources grade it without a percent.
CONTROL_SHARE = {"excellent": (0.90, 0.98), "good": (0.80, 0.90), "fair": (0.60, 0.80), "listed": (0.30, 0.80)}
#: Any other word: nothing to something.
OTHER_SHARE = (0.0, 0.5)
#: An annual comes again in equal or greater number unless the cause is mended (gm_map says equal or greater).
COMES_AGAIN = (1.5, 1.0)
#: Share of the seed that is left after a year without new seed: all of it, or what Nebraska's burial test shows for 11
#: annual grasses (57 % germinated at once, 28 % after one to four years).
SEED_LEFT = (1.0, 0.5)
SEED_SOURCES = ("ws_neb17",)
#: Growth of a perennial's cover a month while it is active.
SPREAD_A_MONTH = (0.06, 0.0)
#: Share of the bare ground that creeping turf closes in a month at a growth potential of 1; bunch grasses hardly any.
CLOSES_A_MONTH = (0.15, 0.40)
BUNCH_CLOSES_A_MONTH = (0.0, 0.05)
_HARD, _KIND = 0, 1


@dataclass(frozen=True, slots=True)
class Band:
    """Lowest and highest of the two runs, percent of the lawn."""

    low: float
    high: float


@dataclass(frozen=True, slots=True)
class OutlookMonth:
    """One month: ``weeds`` by life cycle; ``bare`` includes dead weeds that still lie there."""

    on: date
    turf: Band
    bare: Band
    weeds: dict[str, Band]

    @property
    def all_weeds(self) -> Band:
        """All life cycles together."""
        return Band(sum(b.low for b in self.weeds.values()), sum(b.high for b in self.weeds.values()))


@dataclass(frozen=True, slots=True)
class Outlook:
    """``scenario`` is nothing, plan or wait. ``assumptions``: each figure that is assumed, with who says so."""

    scenario: str
    months: tuple[OutlookMonth, ...]
    assumptions: tuple[Step, ...]

    @property
    def worst_bare(self) -> Band:
        """The largest bare cover of the year in the kind and in the hard run."""
        return Band(max(m.bare.low for m in self.months), max(m.bare.high for m in self.months))


@dataclass(slots=True)
class _Patch:
    """The cover of one finding as the months go by."""

    number: int
    cycle: str
    year: WeedYear
    cover: float
    seed: float
    is_up: bool


@dataclass(slots=True)
class _Run:
    """One run: hard or kind."""

    turf: float
    bare: float
    patches: list[_Patch] = field(default_factory=list)


def foresee(knowledge: Knowledge, lawn: Lawn, plan: Plan | None, scenario: str, months: int = 13) -> Outlook | None:
    """The outlook from the day of the lawn's visit; None where place or turf are not known. ``plan`` None = nothing
    is done; a plan that starts later leaves the lawn to itself until then.
    """
    place, turf = place_of(knowledge, lawn.place), knowledge.turfs.get(lawn.turf)
    if place is None or turf is None or lawn.area_sqft <= 0:
        return None
    days = _months(lawn.on, months)
    settings = [setting_for(knowledge, lawn, None, day) for day in days]
    runs = [_run(knowledge, lawn, plan, settings, pace) for pace in (_HARD, _KIND)]
    rows = []
    for number, day in enumerate(days):
        hard, kind = runs[_HARD][number], runs[_KIND][number]
        weeds = {cycle: _band(hard[2][cycle], kind[2][cycle]) for cycle in hard[2]}
        rows.append(OutlookMonth(day, _band(hard[0], kind[0]), _band(hard[1], kind[1]), weeds))
    return Outlook(scenario, tuple(rows), _assumptions(turf, plan))


def _run(
    knowledge: Knowledge, lawn: Lawn, plan: Plan | None, settings: Sequence[Setting], pace: int
) -> list[tuple[float, float, dict[str, float]]]:
    place, turf = place_of(knowledge, lawn.place), knowledge.turfs[lawn.turf]
    run = _start(knowledge, lawn, settings[0])
    rows = []
    for number, setting in enumerate(settings):
        until = settings[number + 1].on if number + 1 < len(settings) else setting.on + timedelta(days=30)
        for patch in run.patches if number else ():
            _live(run, patch, setting, pace)
        weeds = dict.fromkeys(sorted({patch.cycle for patch in run.patches}, key=CYCLES.index), 0.0)
        for patch in run.patches:
            weeds[patch.cycle] += patch.cover
        rows.append((run.turf, run.bare, weeds))
        if plan is not None:
            _treat(run, plan, setting.on, until, pace)
        _close(run, turf, place, setting.on, pace)
    return rows


def _start(knowledge: Knowledge, lawn: Lawn, setting: Setting) -> _Run:
    area, turf, bare, patches, number = lawn.area_sqft, 0.0, 0.0, [], 0
    for zone in lawn.zones:
        share = zone.area_sqft / area
        rest = max(0.0, 100.0 - weed_percent(zone) - zone.bare_percent)
        turf += share * (rest if zone.turf_cover_percent is None else zone.turf_cover_percent)
        bare += share * zone.bare_percent
        for finding in zone.findings:
            first = max(finding.weeds.items(), key=lambda row: (row[1], row[0]))[0]
            entry = knowledge.weeds[first]
            year = read_year(entry, setting.region)
            cycle = entry.life_cycles[0].kind if entry.is_annual else "perennial"
            cover = share * finding.cover_percent
            is_up = year.is_active(setting) is not False
            patches.append(_Patch(number, cycle, year, cover if is_up else 0.0, cover, is_up))
            number += 1
    return _Run(turf, bare, patches)


def _treat(run: _Run, plan: Plan, first: date, until: date, pace: int) -> None:
    targets = {row.target: number for number, row in enumerate(plan.findings)}
    for visit in plan.visits:
        if not first <= visit.first < until:
            continue
        for action in visit.actions:
            for target in action.targets:
                number = targets[target]
                share = control_share(plan.findings[number], action.control)[pace]
                patch = run.patches[number]
                if action.use == "barrier":
                    patch.seed *= 1 - share
                else:
                    patch.seed *= 1 - share * (1 - SEED_LEFT[pace])
                    run.bare += patch.cover * share
                    patch.cover *= 1 - share


def control_share(finding: FindingPlan, control: str) -> tuple[float, float]:
    """Share of the cover that a control takes, (hard, kind): percent of the sources, else the grade's assumed share."""
    for choice in finding.verdict.choices:
        if choice.control != control:
            continue
        percents = [item.percent for item in choice.weeds if item.percent is not None]
        if percents:
            return min(low for low, _ in percents) / 100, max(high for _, high in percents) / 100
        return CONTROL_SHARE.get(choice.result, OTHER_SHARE)
    return OTHER_SHARE


def _live(run: _Run, patch: _Patch, setting: Setting, pace: int) -> None:
    if patch.cycle == "perennial":
        if patch.year.is_active(setting) is not False:
            _take(run, patch, patch.cover * SPREAD_A_MONTH[pace])
        return
    active = patch.year.is_active(setting)
    if active is False and patch.is_up:
        run.bare += patch.cover
        patch.cover, patch.is_up = 0.0, False
    elif active is not False and not patch.is_up:
        patch.is_up = True
        _take(run, patch, patch.seed * COMES_AGAIN[pace])


def _take(run: _Run, patch: _Patch, more: float) -> None:
    """A weed takes bare ground first, then turf."""
    from_bare = min(run.bare, more)
    from_turf = min(run.turf, more - from_bare)
    run.bare -= from_bare
    run.turf -= from_turf
    patch.cover += from_bare + from_turf


def _close(run: _Run, turf: Turf, place: Place | None, on: date, pace: int) -> None:
    creeps = any(habit in ("stolons", "rhizomes") for habit in turf.habit)
    share = (CLOSES_A_MONTH if creeps else BUNCH_CLOSES_A_MONTH)[pace]
    potential = growth_potential(turf.season, mean_temperature_f(place, on + timedelta(days=15))) if place else 0.0
    gain = run.bare * share * potential
    run.bare -= gain
    run.turf += gain


def _band(one: float, other: float) -> Band:
    return Band(round(min(one, other), 2), round(max(one, other), 2))


def _months(start: date, count: int) -> list[date]:
    """The start, then the first of each following month."""
    days = [start]
    while len(days) < count:
        days.append((days[-1].replace(day=1) + timedelta(days=32)).replace(day=1))
    return days


def _assumptions(turf: Turf, plan: Plan | None) -> tuple[Step, ...]:
    creeps = any(habit in ("stolons", "rhizomes") for habit in turf.habit)
    closes = CLOSES_A_MONTH if creeps else BUNCH_CLOSES_A_MONTH
    steps = [
        Step(
            "plan.assume_comes_again",
            "assumed",
            {"low": COMES_AGAIN[1], "high": COMES_AGAIN[0]},
            ("gm_map", "from_memory"),
        ),
        Step("plan.assume_spread", "assumed", {"percent": SPREAD_A_MONTH[0] * 100}, ("from_memory",)),
        Step(
            "plan.assume_closing",
            "assumed",
            {"turf": turf.id, "low": closes[0] * 100, "high": closes[1] * 100},
            ("from_memory", *GROWTH_SOURCES),
        ),
    ]
    if plan is not None:
        steps.append(Step("plan.assume_control", "assumed", {}, ("from_memory",)))
        left = {"low": SEED_LEFT[_KIND] * 100, "high": SEED_LEFT[_HARD] * 100}
        steps.append(Step("plan.assume_seed", "assumed", left, SEED_SOURCES))
    return tuple(steps)
