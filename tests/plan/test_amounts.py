"""Amounts from a typed label rate: exact, in US and metric units, per area or per tank."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from plan_cases import empty_knowledge

from weedkey.errors import UnitError, UsageError
from weedkey.model.lawn import Finding, LabelRate, Lawn, PastApplication, Spots, Zone
from weedkey.model.trace import Step
from weedkey.plan.amounts import amount_for, amounts_of, total_year, treated_sqft
from weedkey.plan.lawn_verdict import judge_lawn
from weedkey.plan.results import Action, Plan, Target, Visit
from weedkey.units import convert

LAWN = Lawn(
    "any",
    date(2026, 6, 3),
    "zoysiagrass",
    "home_lawn",
    (
        Zone("front", 4000.0, (Finding({"a": 1.0}, 10.0),)),
        Zone("back", 2000.0, (Finding({"b": 1.0}, 5.0, spots=Spots(4, 12.0)),)),
    ),
    label_rates=(LabelRate("x", 0.5, "fl oz", "1000 sq ft", yearly_maximum=1.2),),
    history=(PastApplication(date(2026, 3, 1), "x", amount=0.5, unit="fl oz"),),
)


def plan_of(*actions: Action, lawn: Lawn = LAWN) -> Plan:
    """A plan of one visit."""
    from weedkey.ground import GroundReport

    visit = Visit(date(2026, 6, 3), date(2026, 6, 15), actions)
    return Plan(lawn, lawn.on, (), judge_lawn(empty_knowledge(), lawn), (visit,), (), (), GroundReport((), ()), ())


def action(use: str = "lawn", zones: tuple[str, ...] = ("front",), place: str = "front") -> Action:
    """One action of control x."""
    return Action("x", use, zones, (Target(place, 0),), ("a",), Step("plan.lawn", "use"))


def test_product_water_and_tanks() -> None:
    """0.5 fl oz per 1000 sq ft on 4000 sq ft with 1 gal per 1000 and a 3 gal tank: 2 fl oz, one full tank and 1 gal."""
    found = amount_for(LAWN.label_rates[0], 4000, 1, 3)
    assert found.product.amount == 2
    assert found.tanks is not None
    assert (found.tanks.water_gal, found.tanks.full, found.tanks.last_gal, found.tanks.left_gal) == (4, 1, 1, 2)
    assert (found.tanks.in_full.amount, found.tanks.in_last.amount) == (Fraction(3, 2), Fraction(1, 2))


def test_a_rate_per_acre_and_a_metric_one() -> None:
    """43.56 units an acre are one per 1000 sq ft; 10 mL per 100 sq m are 10 mL on 1076.39 sq ft (by definition)."""
    assert amount_for(LabelRate("x", 43.56, "fl oz", "acre"), 1000).product.amount == 1
    metric = amount_for(LabelRate("x", 10, "mL", "100 sq m"), convert(100, "sq m", "sq ft"))
    assert metric.product.amount == 10


def test_a_rate_per_gallon_needs_the_sprayers_output() -> None:
    """1 fl oz per gallon at 2 gal per 1000 sq ft on 1500 sq ft is 3 fl oz; without the output it is refused."""
    rate = LabelRate("x", 1, "fl oz", "gal")
    assert amount_for(rate, 1500, 2).product.amount == 3
    with pytest.raises(UsageError, match="spray volume"):
        amount_for(rate, 1500)


def test_a_rate_per_weight_is_refused() -> None:
    """A rate per pound of soil is no rate for a lawn."""
    with pytest.raises(UnitError, match="neither per area"):
        amount_for(LabelRate("x", 1, "fl oz", "lb"), 1000)


def test_only_the_ground_that_is_treated_counts() -> None:
    """A spot treatment of four 12-inch spots is 3.14 sq ft (circles), not the zone."""
    assert treated_sqft(LAWN, action()) == 4000
    spots = treated_sqft(LAWN, action("spot", ("back",), "back"))
    assert float(spots) == pytest.approx(3.1416, abs=1e-3)


def test_the_year_is_summed_against_the_typed_maximum() -> None:
    """0.5 used and 0.5 planned stay within 1.2; a second visit of 0.5 goes over it."""
    (once,) = total_year(plan_of(action()))
    assert (once.used, once.planned, once.state) == (Fraction(1, 2), Fraction(1, 2), "within")
    (twice,) = total_year(plan_of(action(), action()))
    assert twice.state == "over"


def test_amounts_of_a_plan_name_their_visit() -> None:
    """Only controls with a typed rate get an amount."""
    (row,) = amounts_of(plan_of(action()))
    assert (row.visit, row.product.amount) == (0, 2)


@given(
    st.fractions(Fraction(1, 100), 100), st.fractions(1, 100000), st.fractions(Fraction(1, 10), 5), st.fractions(1, 200)
)
def test_nothing_is_lost_between_the_tanks(rate: Fraction, area: Fraction, carrier: Fraction, tank: Fraction) -> None:
    """Product in all tanks together is the product of the area, exactly."""
    typed = LabelRate("x", float(rate), "fl oz", "1000 sq ft")
    found = amount_for(typed, area, carrier, tank)
    assert found.tanks is not None
    mixed = found.tanks.full * found.tanks.in_full.amount + found.tanks.in_last.amount
    assert mixed == found.product.amount
