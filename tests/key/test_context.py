"""Priors from region, month, turf and ground, and what can be seen when."""

from __future__ import annotations

from dataclasses import replace

import pytest
from key_cases import FROM_MEMORY, make_knowledge, make_trait, make_weed

from weedkey.key import NOT_IN_LIST, Context, build_table
from weedkey.key.answers import confuse_states, share_states, tell_flower
from weedkey.key.context import PRIOR_FLOOR, explain_prior, weigh_weed
from weedkey.model.weed import Abundance, CalendarRow, LifeCycle, Sign
from weedkey.model.window import Window

SUMMER = CalendarRow(FROM_MEMORY, active=(Window.months(4, 10),), flowers=(Window.months(6, 8),))
WINTER = CalendarRow(FROM_MEMORY, active=(Window.months(10, 4),), flowers=(Window.months(2, 4),))


def grass(name, calendar=(SUMMER,), how="common", **fields):
    """A grass of the southeast."""
    return make_weed(name, {}, calendar=calendar, regions=(Abundance("southeast", how, FROM_MEMORY),), **fields)


def test_month_and_region_weigh():
    """A common weed in its season weighs 1, a rare one a tenth; outside its season it falls back."""
    july = Context(7, "southeast")
    assert weigh_weed(grass("a"), july) == 1.0
    assert weigh_weed(grass("a", how="rare"), july) == pytest.approx(0.1)
    assert weigh_weed(grass("a"), Context(1, "southeast")) == pytest.approx(0.1)
    assert weigh_weed(grass("a"), Context(3, "southeast")) == pytest.approx(0.3)


def test_an_annual_that_is_dead_weighs_least():
    """A summer annual in January weighs no more than the floor allows, and never nothing."""
    annual = replace(grass("b"), life_cycles=(LifeCycle("summer_annual", FROM_MEMORY),))
    assert weigh_weed(annual, Context(1, "southeast")) == pytest.approx(0.02)
    assert weigh_weed(grass("c", how="absent", calendar=(WINTER,)), Context(7, "southeast")) == PRIOR_FLOOR


def test_the_turf_itself_is_hardly_a_weed():
    """Bermudagrass in bermudagrass is not what one looks for."""
    weed = grass("bermudagrass_weed", turf="bermudagrass")
    assert weigh_weed(weed, Context(7, "southeast", "bermudagrass")) == pytest.approx(0.02)
    assert weigh_weed(weed, Context(7, "southeast", "zoysiagrass")) == 1.0


def test_ground_conditions_weigh():
    """A wet corner speaks for weeds of wet ground and against those that a source calls dry."""
    wet = grass("a", signs=(Sign("wet_or_poorly_drained", FROM_MEMORY),))
    dry = grass("b", signs=(Sign("wet_or_poorly_drained", FROM_MEMORY, against=True),))
    here = Context(7, "southeast", conditions=("wet_or_poorly_drained",))
    assert [weigh_weed(weed, here) for weed in (wet, grass("c"), dry)] == pytest.approx([1.0, 0.3, 0.1])


def test_flat_switches_every_prior_off():
    """With flat priors all weeds start equal."""
    knowledge = make_knowledge([grass("a"), grass("b", how="rare")], [])
    assert build_table(knowledge, Context(7, "southeast", flat=True)).prior[:2] == pytest.approx([0.49, 0.49])


def test_two_percent_for_a_plant_that_is_not_listed():
    """The reserved taxon has 2 % and the priors sum to 1."""
    table = build_table(make_knowledge([grass("a"), grass("b")], []), Context(7, "southeast"))
    assert table.taxa[-1] == NOT_IN_LIST
    assert table.prior[-1] == pytest.approx(0.02)
    assert sum(table.prior) == pytest.approx(1.0)


def test_the_prior_explains_itself():
    """The step of a prior carries its factors and the sources of the rows."""
    step = explain_prior(grass("a"), Context(7, "southeast"), 0.5)
    assert (step.facts["region"], step.facts["month"], step.sources) == (1.0, 1.0, FROM_MEMORY)


def test_flowers_by_month():
    """Flowers show in their window and almost never outside; a year without a month takes the mean."""
    assert tell_flower(grass("a"), Context(7, "southeast")) == 1.0
    assert tell_flower(grass("a"), Context(1, "southeast")) == pytest.approx(0.05)
    assert tell_flower(grass("a"), Context(None)) == pytest.approx(3 / 12)
    assert tell_flower(grass("a", calendar=()), Context(7)) is None


def test_mowing_takes_heads_away():
    """On mown turf a look that is seen only sometimes can be told half as often."""
    trait = make_trait("head", ["open", "finger"], needs="flower", mown="sometimes")
    weed = make_weed("a", {"head": "open"}, calendar=(SUMMER,))
    told = [
        build_table(make_knowledge([weed], [trait]), Context(7, mown=mown)).column("head").tells(0)
        for mown in (True, False)
    ]
    assert told[0] == pytest.approx(told[1] / 2)


def test_a_trait_out_of_its_months():
    """The winter look cannot be told in July."""
    trait = make_trait("winter", ["green", "straw"], months=Window.months(11, 3))
    knowledge = make_knowledge([make_weed("a", {"winter": "green"})], [trait])
    july, january = (build_table(knowledge, Context(month)).column("winter").tells(0) for month in (7, 1))
    assert july == pytest.approx(0.05 * january)


@pytest.mark.parametrize(
    ("seen", "expected"),
    [
        ([("x", None)], (1.0, 0.0, 0.0)),
        ([("x", None), ("y", None)], (0.5, 0.5, 0.0)),
        ([("x", 0.8), ("y", 0.2)], (0.8, 0.2, 0.0)),
        ([("x", 0.8)], (0.8, 0.1, 0.1)),
        ([("x", None), ("y", 0.05)], (0.95, 0.05, 0.0)),
        ([("x", 0.8), ("y", 0.8)], (0.5, 0.5, 0.0)),
    ],
)
def test_shares(seen, expected):
    """Shares as the answer model reads them: unknown split equal, what is left over goes to the states not listed."""
    assert share_states("xyz", seen) == pytest.approx(expected)


def test_confusion():
    """Wrong answers spread over all others, or over the neighbours of an ordered trait; nothing is ever 0."""
    assert confuse_states((1.0, 0.0, 0.0), 0.1, ordered=False) == pytest.approx((0.9, 0.05, 0.05))
    ordered = confuse_states((0.0, 1.0, 0.0, 0.0), 0.12, ordered=True)
    total = 0.06 + 0.88 + 0.06 + 0.04
    assert ordered == pytest.approx((0.06 / total, 0.88 / total, 0.06 / total, 0.04 / total))
    assert sum(ordered) == pytest.approx(1.0)
    assert min(confuse_states((1.0, 0.0), 0.0, ordered=False)) > 0
