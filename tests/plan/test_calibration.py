"""Sprayer, spreader and bag arithmetic against published worked cases; the source stands beside each."""

from __future__ import annotations

from fractions import Fraction

import pytest

from weedkey.errors import UsageError
from weedkey.ground.lime import split_lime
from weedkey.ground.lime_tables import CAPS
from weedkey.plan import calibration as cal
from weedkey.season.heat_sum import degree_days_of_day
from weedkey.units import convert, convert_rate

# (case, source, computed value, exact value of the formula, printed value or None, rounding unit of the print)
CASES = [
    ("C01 flow", "ALBANY-CAL", cal.gallons_a_minute(480), 3.75, 3.75, 0.01),
    ("C02 gal/acre", "ALBANY-CAL", cal.gallons_an_acre(3.75, 5, 222), 20.0676, 20, 1),
    # printed with 46.4 for 5940/128 = 46.40625: 20.0649
    ("C03 gal/acre", "ALBANY-CAL", cal.gallons_an_acre(cal.gallons_a_minute(480), 5, 222), 20.0676, 20, 1),
    ("C05 plot", "SLIDES-128", cal.PLOT_128_SQFT, 340.3125, 340, 1),
    ("C06 plot", "LARIMER-CAL", cal.rectangle_sqft(18.5, 18.5), 342.25, None, 1),
    # the source takes 30 mL an ounce
    ("C09 mL", "SLIDES-128", convert(0.8, "fl oz", "mL"), 23.6588, 24, 1),
    ("C10 cover", "SLIDES-128", cal.sqft_a_gallon(40), 1089, None, 1),
    ("C12 plants", "NCSU-XMASCAL", cal.plants_in_course(57, 5), 11, 11, 1),
    ("C14 catch", "NCSU-XMASCAL", cal.gallons_an_acre_from_catch(7.5), 7.5, 7.5, 0.1),
    # printed value is cut off, not rounded
    ("C15 mix", "NCSU-XMASCAL", cal.ounces_a_gallon_of_mix(8, 7.5), 1.0667, 1.06, 0.02),
    ("C16 tank", "NCSU-XMASCAL", 3 * cal.ounces_a_gallon_of_mix(8, 7.5), 3.2, 3.2, 0.1),
    # the source takes 30 mL an ounce
    ("C17 mL", "NCSU-XMASCAL", convert(3.2, "fl oz", "mL"), 94.6353, 96, 3),
    ("C18 gal/acre", "LIST-HAND09", cal.gallons_an_acre_from_1000(1.5), 65.34, 65, 1),
    ("C19 mix", "LIST-HAND09", cal.ounces_a_gallon_of_mix(48, 65), 0.7385, 0.74, 0.01),
    ("C20 L/ha", "IRISH-CAL", cal.litres_a_hectare(1.3, 7.8, 0.5), 200, 200, 1),
    ("C22 bag", "UNL-FERT", cal.product_lb_1000(1, 28), 3.5714, 3.57, 0.01),
    ("C24 bag", "PURD-FERT19", cal.product_lb_1000(0.75, 16), 4.6875, 4.69, 0.01),
    # the page rounds 37.5 down
    ("C25 bag", "PURD-FERT19", cal.count_bags(4.69, 8000, 50).product_lb, 37.52, 37, 2),
    ("C26 bag", "NCSU-FERTQR; UF-ENH73", cal.product_lb_1000(1, 16), 6.25, 6.25, 0.01),
    ("C27 bag", "NCSU-FERTQR; UF-SEM", cal.product_lb_1000(1, 10), 10, 10, 1),
    ("C28 bag", "NCSU-FERTQR", cal.product_lb_1000(0.5, 10), 5, 5, 1),
    ("C29 bag", "NCSU-ZOYCAL-A; NCSU-BERCAL", cal.product_lb_1000(0.5, 5), 10, 10, 1),
    ("C30 P2O5", "UF-ENH73", cal.nutrient_lb(6.25, 4), 0.25, 0.25, 0.01),
    ("C31 K2O", "UF-ENH73", cal.nutrient_lb(6.25, 8), 0.5, 0.5, 0.1),
    ("C32 rectangle", "UCANR-AREA", cal.rectangle_sqft(80, 60), 4800, 4800, 1),
    ("C33 rectangle", "CLEM-1220", cal.rectangle_sqft(50, 25), 1250, 1250, 1),
    # printed with 3.14 for pi
    ("C34 circle", "UCANR-AREA", cal.circle_sqft(20), 1256.637, 1256, 2),
    ("C35 circle", "CLEM-1220", cal.circle_sqft(30), 2827.433, None, 1),
    ("C40 ton/acre", "NCDA-BUFF", convert_rate(0.75, "ton", "acre", "lb", "1000 sq ft"), 34.4353, None, 1),
    ("C41 pints", "PNW-CONV", cal.pints_an_acre(1, 4), 2, 2, 1),
    ("C42 pints", "PNW-CONV", cal.pints_an_acre(1.5, 2), 6, 6, 1),
    ("C43 mL", "PNW-CONV", cal.ml_a_1000(1, 4), 21.7253, 22, 1),
    ("C44 mL", "PNW-CONV", cal.ml_a_1000(1, 2), 43.4505, 43, 1),
    ("C46 mL", "PNW-CONV", cal.ml_a_1000(1, 6), 14.4835, 14, 1),
    ("C47 g", "PNW-CONV", cal.grams_a_1000(1, 50), 20.8261, 21, 1),
    *(
        (f"{case} boom course", "CLEM-CAL", cal.course_ft(spacing), 340.3125 * 12 / spacing, printed, 1)
        for case, spacing, printed in (
            ("C52", 12, 340),
            ("C54", 20, 204),
            ("C55", 22, 185),
            ("C56", 24, 170),
            ("C57", 26, 157),
            ("C58", 28, 146),
            ("C59", 30, 136),
            ("C61", 34, 120),
            ("C62", 36, 113),
            ("C63", 38, 107),
        )
    ),
    # printed lengths are for 5456 to 5480 sq ft, half a percent over 1/8 acre
    *(
        (f"{case} boomless course", "CLEM-CAL", cal.boomless_course_ft(swath), 5445 / swath, printed, 2)
        for case, swath, printed in (
            ("C65", 30, 182),
            ("C66", 32, 171),
            ("C67", 34, 161),
            ("C68", 36, 152),
            ("C69", 38, 144),
            ("C70", 40, 137),
            ("C71", 42, 130),
            ("C72", 44, 124),
        )
    ),
]


@pytest.mark.parametrize(("case", "source", "found", "computed", "printed", "step"), CASES, ids=[c[0] for c in CASES])
def test_published_case(  # noqa: PLR0917 - one column of the table each
    case: str, source: str, found: Fraction, computed: float, printed: float | None, step: float
) -> None:
    """The formula gives the computed value, and the printed one within its rounding."""
    assert float(found) == pytest.approx(computed, rel=2e-4), (case, source)
    if printed is not None:
        assert abs(float(found) - printed) <= step, (case, source)


def test_lime_is_split_at_the_published_cap() -> None:
    """85 lb at a cap of 50 is 50 and 35. Source: University of Maryland, 2019 (UMD-LIME19), case C38."""
    parts = split_lime(85, CAPS["maryland"])
    assert [part.lb_per_1000_sqft for part in parts] == [50, 35]


def test_degree_days_of_a_cold_night() -> None:
    """75 and 27 F at base 50 F is 1 degree-day. Source: Virginia Tech, 2007 (VT-CRAB07), case C49."""
    assert degree_days_of_day(27, 75, 50) == pytest.approx(1)


def test_a_catch_test_says_open_close_or_hold() -> None:
    """Two pounds thrown on 10 x 50 ft are 4 lb per 1000 sq ft; arithmetic."""
    assert cal.judge_catch(2, 50, 10, 4).advice == "hold"
    assert cal.judge_catch(2, 50, 10, 3).advice == "close"
    assert cal.judge_catch(2, 50, 10, 5).advice == "open"
    assert cal.judge_catch(2, 50, 10, 5).share == Fraction(4, 5)


def test_whole_bags_and_what_is_left() -> None:
    """6.25 lb per 1000 sq ft on 12,000 sq ft is 75 lb: two bags of 50 lb, 25 left; arithmetic."""
    bags = cal.count_bags(6.25, 12000, 50)
    assert (bags.product_lb, bags.bags, bags.left_lb) == (75, 2, 25)


@pytest.mark.parametrize("wrong", [0, -1])
def test_nothing_is_divided_by_nothing(wrong: int) -> None:
    """A speed, width or bag that is not above 0 is refused with what is accepted."""
    for call in (
        lambda: cal.gallons_an_acre(1, wrong, 20),
        lambda: cal.course_ft(wrong),
        lambda: cal.count_bags(5, 1000, wrong),
    ):
        with pytest.raises(UsageError, match="above 0"):
            call()
