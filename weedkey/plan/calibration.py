"""Sprayer, spreader and bag arithmetic with exact fractions. Units stand in the names; fl oz are fluid ounces.

The constants follow from the units alone: 5940 = 43,560 sq ft x 12 in x 60 min / 5280 ft, and an acre cut into 128
parts is 340.3125 sq ft, of which the fluid ounces caught equal the gallons an acre (university calibration sheets; the
cases that are checked stand in tests/plan/test_calibration.py, each with its source).
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from weedkey.errors import UsageError
from weedkey.units import Number, convert, convert_rate, exact

SQFT_AN_ACRE = 43560
OUNCES_A_GALLON = 128
PLOT_128_SQFT = Fraction(SQFT_AN_ACRE, OUNCES_A_GALLON)
PLOT_8_SQFT = Fraction(SQFT_AN_ACRE, 8)
_GPM_FACTOR = Fraction(SQFT_AN_ACRE * 12 * 60, 5280)


def gallons_a_minute(ounces_a_minute: Number) -> Fraction:
    """Flow in gal/min from the fl oz caught in one minute."""
    return exact(ounces_a_minute) / OUNCES_A_GALLON


def gallons_an_acre(flow_gpm: Number, speed_mph: Number, width_in: Number) -> Fraction:
    """Gal/acre of a sprayer: 5940 x gal/min / (mph x width in inches). Raises UsageError unless both are above 0."""
    return _GPM_FACTOR * exact(flow_gpm) / (_above_nothing(speed_mph, "speed") * _above_nothing(width_in, "width"))


def litres_a_hectare(flow_l_min: Number, speed_km_h: Number, spacing_m: Number) -> Fraction:
    """L/ha of a sprayer: L/min x 600 / (km/h x spacing in m)."""
    return exact(flow_l_min) * 600 / (_above_nothing(speed_km_h, "speed") * _above_nothing(spacing_m, "spacing"))


def gallons_an_acre_from_catch(ounces_caught: Number, plot_sqft: Number = PLOT_128_SQFT) -> Fraction:
    """Gal/acre from the fl oz caught in the time that a plot takes; on 1/128 acre the two numbers are equal."""
    return exact(ounces_caught) * PLOT_128_SQFT / _above_nothing(plot_sqft, "plot")


def sqft_a_gallon(gallons_acre: Number) -> Fraction:
    """Ground that one gallon covers."""
    return SQFT_AN_ACRE / _above_nothing(gallons_acre, "output")


def gallons_an_acre_from_1000(gallons_1000: Number) -> Fraction:
    """Gal/acre from gal per 1000 sq ft."""
    return exact(gallons_1000) * Fraction(SQFT_AN_ACRE, 1000)


def ounces_a_gallon_of_mix(ounces_acre: Number, gallons_acre: Number) -> Fraction:
    """Product in one gallon of spray: product per acre / gal per acre (in the unit of the product)."""
    return exact(ounces_acre) / _above_nothing(gallons_acre, "output")


def course_ft(spacing_in: Number) -> Fraction:
    """Length of the 1/128-acre course for a nozzle spacing (boom)."""
    return PLOT_128_SQFT * 12 / _above_nothing(spacing_in, "spacing")


def boomless_course_ft(swath_ft: Number) -> Fraction:
    """Length of the 1/8-acre course for a swath without a boom."""
    return PLOT_8_SQFT / _above_nothing(swath_ft, "swath")


def plants_in_course(length_ft: Number, spacing_ft: Number) -> int:
    """Whole plants of a row in a course (band work)."""
    return int(exact(length_ft) / _above_nothing(spacing_ft, "spacing"))


def product_lb_1000(nutrient_lb_1000: Number, percent_in_bag: Number) -> Fraction:
    """Pounds of a fertiliser per 1000 sq ft for a wanted nutrient: 1 lb of 28 % is 3.57 lb."""
    return exact(nutrient_lb_1000) * 100 / _above_nothing(percent_in_bag, "percent in the bag")


def nutrient_lb(product_lb: Number, percent_in_bag: Number) -> Fraction:
    """Pounds of a nutrient in a weight of product."""
    return exact(product_lb) * exact(percent_in_bag) / 100


def pints_an_acre(active_lb_acre: Number, active_lb_gal: Number) -> Fraction:
    """Pints of a liquid per acre for pounds of active ingredient that the label states."""
    return exact(active_lb_acre) * 8 / _above_nothing(active_lb_gal, "active ingredient in a gallon")


def ml_a_1000(active_lb_acre: Number, active_lb_gal: Number) -> Fraction:
    """Millilitres of a liquid per 1000 sq ft for pounds of active ingredient per acre that the label states."""
    gallons = exact(active_lb_acre) / _above_nothing(active_lb_gal, "active ingredient in a gallon")
    return convert_rate(gallons, "gal", "acre", "mL", "1000 sq ft")


def grams_a_1000(active_lb_acre: Number, percent_active: Number) -> Fraction:
    """Grams of a dry product per 1000 sq ft for pounds of active ingredient per acre that the label states."""
    product = exact(active_lb_acre) * 100 / _above_nothing(percent_active, "percent of active ingredient")
    return convert_rate(product, "lb", "acre", "g", "1000 sq ft")


def rectangle_sqft(length_ft: Number, width_ft: Number) -> Fraction:
    """Length x width."""
    return exact(length_ft) * exact(width_ft)


def triangle_sqft(base_ft: Number, height_ft: Number) -> Fraction:
    """Base x height / 2."""
    return exact(base_ft) * exact(height_ft) / 2


def circle_sqft(radius_ft: Number) -> float:
    """Pi x radius squared."""
    from math import pi

    return pi * float(exact(radius_ft)) ** 2


@dataclass(frozen=True, slots=True)
class CatchTest:
    """A spreader tried out: what it throws, as a share of the target; ``advice`` is hold, open or close."""

    lb_1000: Fraction
    share: Fraction
    advice: str


#: Within this share of the target a spreader's setting is left as it is (common practice).
CATCH_TOLERANCE = Fraction(5, 100)


def judge_catch(
    caught_lb: Number, length_ft: Number, width_ft: Number, target_lb_1000: Number, passes: int = 1
) -> CatchTest:
    """A catch test: pounds thrown on length x effective width in ``passes`` passes, against the label's pounds per
    1000 sq ft. Raises UsageError for a length, width, target or number of passes that is not above 0.
    """
    area = _above_nothing(length_ft, "length") * _above_nothing(width_ft, "width") * _above_nothing(passes, "passes")
    thrown = exact(caught_lb) * 1000 / area
    share = thrown / _above_nothing(target_lb_1000, "target")
    off = share - 1
    advice = "hold" if abs(off) <= CATCH_TOLERANCE else "close" if off > 0 else "open"
    return CatchTest(thrown, share, advice)


@dataclass(frozen=True, slots=True)
class Bags:
    """A weight as bags: whole bags to buy, and what is left in the last one."""

    product_lb: Fraction
    bags: int
    left_lb: Fraction


def count_bags(product_lb_per_1000: Number, area_sqft: Number, bag: Number, bag_unit: str = "lb") -> Bags:
    """Bags for an area; ``bag`` in any unit of mass. Raises UsageError, UnitError."""
    weight = convert(_above_nothing(bag, "bag"), bag_unit, "lb")
    product = exact(product_lb_per_1000) * exact(area_sqft) / 1000
    bags = -(-product // weight)
    return Bags(product, int(bags), bags * weight - product)


def _above_nothing(value: Number, what: str) -> Fraction:
    number = exact(value)
    if number <= 0:
        raise UsageError(f"a {what} of {value} does not exist", "a number above 0")
    return number
