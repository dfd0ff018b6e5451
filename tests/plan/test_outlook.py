"""The outlook keeps its books, and starts are compared on one measure."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import cache

import pytest

from weedkey.knowledge import load
from weedkey.knowledge.lawn_file import read_lawn
from weedkey.knowledge.locate import shipped_folder
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Finding, Lawn, Zone
from weedkey.plan.outlook import foresee
from weedkey.plan.planner import make_plan
from weedkey.plan.starts import compare_starts, next_months

DEMOS = ("tennessee_zoysiagrass", "gulf_centipedegrass", "transition_tall_fescue")


@cache
def knowledge() -> Knowledge:
    """The shipped knowledge."""
    return load()


def demo(name: str) -> Lawn:
    """A demo lawn."""
    return read_lawn(shipped_folder() / "demo" / f"{name}.yaml", knowledge())


@pytest.mark.parametrize("name", DEMOS)
def test_bands_are_covers_and_low_is_never_above_high(name: str) -> None:
    """Every band lies between 0 and 100, low end first; thirteen months from the visit."""
    lawn = demo(name)
    for scenario, plan in (("nothing", None), ("plan", make_plan(knowledge(), lawn))):
        found = foresee(knowledge(), lawn, plan, scenario)
        assert found is not None
        assert len(found.months) == 13
        assert found.months[0].on == lawn.on
        for month in found.months:
            for band in (month.turf, month.bare, *month.weeds.values()):
                assert -1e-9 <= band.low <= band.high <= 100.01


@pytest.mark.parametrize("name", DEMOS)
def test_a_plan_leaves_fewer_weeds_than_nothing(name: str) -> None:
    """A year on, even a hard year with the plan has fewer weeds than a hard year without."""
    lawn = demo(name)
    nothing = foresee(knowledge(), lawn, None, "nothing")
    planned = foresee(knowledge(), lawn, make_plan(knowledge(), lawn), "plan")
    assert nothing is not None
    assert planned is not None
    assert planned.months[-1].all_weeds.high < nothing.months[-1].all_weeds.high


def test_a_summer_annual_dies_in_winter_and_comes_again() -> None:
    """Goosegrass stands in July, is gone in January and is back a year later, in equal or greater number (gm_map)."""
    zone = Zone("all", 1000.0, (Finding({"goosegrass": 1.0}, 20.0),), turf_cover_percent=80.0)
    lawn = Lawn("any", date(2026, 7, 1), "bermudagrass", "home_lawn", (zone,), "murfreesboro_tn")
    found = foresee(knowledge(), lawn, None, "nothing")
    assert found is not None
    by_month = {(month.on.year, month.on.month): month.all_weeds for month in found.months}
    assert by_month[2026, 7].low == pytest.approx(20)
    assert by_month[2027, 1].high == 0
    assert by_month[2027, 7].low >= 20
    assert by_month[2027, 7].high >= by_month[2027, 7].low


def test_without_a_place_nothing_is_foreseen() -> None:
    """Silence rather than a guess."""
    lawn = replace(demo("tennessee_zoysiagrass"), place=None)
    assert foresee(knowledge(), lawn, None, "nothing") is None


def test_every_assumption_names_who_says_so() -> None:
    """Each assumed figure carries a source or says from memory."""
    lawn = demo("tennessee_zoysiagrass")
    found = foresee(knowledge(), lawn, make_plan(knowledge(), lawn), "plan")
    assert found is not None
    assert all(step.sources for step in found.assumptions)


def test_twelve_starts_side_by_side() -> None:
    """The next twelve months; each row has its own plan, a share handled and the same target date."""
    lawn = demo("tennessee_zoysiagrass")
    days = next_months(lawn.on)
    assert len(days) == 12
    assert days[1] == date(2026, 7, 1)
    rows = compare_starts(knowledge(), lawn, (lawn.on, date(2026, 9, 1)))
    assert [row.start for row in rows] == [lawn.on, date(2026, 9, 1)]
    assert len({row.target for row in rows}) == 1
    assert all(0 <= row.handled_percent <= 100 for row in rows)
    assert all(row.plan.visits[0].first >= row.start for row in rows if row.plan.visits)
