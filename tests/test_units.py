"""Units: exact factors, checked against pint and against printed tables."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from weedkey import units
from weedkey.errors import UnitError

#: our id -> how pint writes it. Pint's acre is built on the survey foot, ours on the international foot.
PINT = {
    "m": "meter",
    "cm": "centimeter",
    "mm": "millimeter",
    "km": "kilometer",
    "in": "inch",
    "ft": "foot",
    "yd": "yard",
    "mi": "mile",
    "sq m": "meter**2",
    "ha": "hectare",
    "sq in": "inch**2",
    "sq ft": "foot**2",
    "sq yd": "yard**2",
    "acre": "43560 * foot**2",
    "kg": "kilogram",
    "g": "gram",
    "mg": "milligram",
    "t": "metric_ton",
    "lb": "pound",
    "oz": "ounce",
    "ton": "short_ton",
    "m3": "meter**3",
    "L": "liter",
    "mL": "milliliter",
    "gal": "gallon",
    "qt": "quart",
    "pt": "pint",
    "cup": "cup",
    "fl oz": "fluid_ounce",
    "tbsp": "tablespoon",
    "tsp": "teaspoon",
    "cu ft": "foot**3",
    "cu yd": "yard**3",
    "s": "second",
    "min": "minute",
    "h": "hour",
    "day": "day",
    "m/s": "meter/second",
    "mph": "mile/hour",
    "km/h": "kilometer/hour",
    "ft/min": "foot/minute",
    "F deg": "delta_degF",
    "C deg": "delta_degC",
}
BASES = {
    "length": "meter",
    "area": "meter**2",
    "mass": "kilogram",
    "volume": "meter**3",
    "time": "second",
    "speed": "meter/second",
    "temperature difference": "delta_degC",
}


@pytest.fixture(scope="module")
def registry():
    """The other library's units."""
    pint = pytest.importorskip("pint")
    return pint.UnitRegistry()


@pytest.mark.parametrize("unit", [unit for unit in units.UNITS.values() if unit.kind != "temperature"])
def test_factor_equals_pint(registry, unit):
    """Every factor agrees with pint to the last digits of a float."""
    other = registry(PINT[unit.id]).to(BASES[unit.kind]).magnitude
    assert float(unit.factor) == pytest.approx(other, rel=1e-12)


@pytest.mark.parametrize("celsius", [-40, 0, 12, 37.5, 100])
def test_temperature_equals_pint(registry, celsius):
    """Celsius, Fahrenheit and kelvin agree with pint."""
    quantity = registry.Quantity(celsius, "degC")
    assert float(units.convert(celsius, "C", "F")) == pytest.approx(quantity.to("degF").magnitude, abs=1e-9)
    assert float(units.convert(celsius, "C", "K")) == pytest.approx(quantity.to("kelvin").magnitude, abs=1e-9)


def test_minus_forty_is_the_same_on_both_scales():
    """-40 °C is -40 °F, exactly."""
    assert units.convert(-40, "C", "F") == -40


def test_ton_per_acre_in_pounds_per_1000_sq_ft():
    """One US ton an acre is 2000/43.56 = 45.9 lb per 1000 sq ft."""
    # Source: arithmetic on 43560 sq ft an acre; NCDA lime page works with the same figure.
    rate = units.convert_rate(1, "ton", "acre", "lb", "1000 sq ft")
    assert rate == Fraction(2000 * 1000, 43560)
    assert units.format_number(rate, 1) == "45.9"


def test_gallon_per_1000_sq_ft_in_gallons_per_acre():
    """1.5 gallons per 1000 sq ft is 65.34 gallons an acre."""
    # Source: extension text on hand-held sprayers, 2009 (1.5 gal per 1000 sq ft, about 65 gal/acre).
    assert units.convert_rate("1.5", "gal", "1000 sq ft", "gal", "acre") == Fraction("65.34")


def test_fluid_ounces_of_a_gallon():
    """128 fluid ounces make a gallon, so ounces from 1/128 acre are gallons an acre."""
    # Source: Albany County Weed & Pest, Calibrating Your Sprayer (gallons a minute = ounces a minute / 128).
    assert units.convert(480, "fl oz", "gal") == Fraction("3.75")


def test_a_typed_decimal_is_exact():
    """0.1 is one tenth and not the nearest float."""
    assert units.exact(0.1) == Fraction(1, 10)
    assert units.exact("1 1/2") == Fraction(3, 2)
    assert units.exact("1,000") == 1000


@pytest.mark.parametrize(
    ("text", "amount", "unit"),
    [
        ("2.5 lb", "5/2", "lb"),
        ("1 1/2 fl oz", "3/2", "fl oz"),
        ("-5°C", "-5", "C"),
        ("1,000 Square Feet", "1000", "sq ft"),
        (".5 gallons", "1/2", "gal"),
        ("3 US tons", "3", "ton"),
        ("40 m\u00b2", "40", "sq m"),
    ],
)
def test_quantities_are_read_as_people_write_them(text, amount, unit):
    """Number and unit are read whatever the case, the plural or the spelling."""
    quantity = units.parse_quantity(text)
    assert quantity.amount == Fraction(amount)
    assert quantity.unit.id == unit


@pytest.mark.parametrize("text", ["lb", "", "two lb", "3", "3 stone", "1/0 lb", "1,00 lb", "3 lb lb"])
def test_what_is_no_quantity_is_refused(text):
    """A missing number, a missing unit or an unknown unit raises UnitError with a sentence."""
    with pytest.raises(UnitError) as caught:
        units.parse_quantity(text)
    assert str(caught.value)


def test_mass_is_never_turned_into_volume():
    """Ounces and fluid ounces are different things."""
    with pytest.raises(UnitError, match="mass"):
        units.convert(1, "oz", "fl oz")


@pytest.mark.parametrize("text", ["3 lb per 1000 sq ft", "3 lb / 1000 sq ft", "3 pounds per 1,000 square feet"])
def test_rates_are_read(text):
    """A rate is an amount per an area or a volume."""
    assert units.parse_rate(text).to("lb", "acre") == Fraction("130.68")


@pytest.mark.parametrize("text", ["3 lb", "lb per acre", "3 lb per 0 acre"])
def test_what_is_no_rate_is_refused(text):
    """Half a rate raises UnitError."""
    with pytest.raises(UnitError):
        units.parse_rate(text)


@pytest.mark.parametrize(
    ("number", "digits", "text"),
    [
        ("93.75", 0, "94"),
        ("7.145", 2, "7.15"),
        (2, 2, "2"),
        ("-0.004", 2, "0"),
        ("-2.5", 0, "-3"),
        ("1/3", 3, "0.333"),
    ],
)
def test_numbers_are_printed_plainly(number, digits, text):
    """Halves go away from zero and trailing zeros are dropped."""
    assert units.format_number(number, digits) == text


_KINDS = sorted({unit.kind for unit in units.UNITS.values()})


@given(
    st.sampled_from(_KINDS).flatmap(
        lambda kind: st.tuples(*[st.sampled_from([u for u in units.UNITS.values() if u.kind == kind])] * 2)
    ),
    st.fractions(min_value=-(10**6), max_value=10**6, max_denominator=1000),
)
def test_there_and_back_is_exact(pair, amount):
    """Converting there and back gives the very same number."""
    one, other = pair
    assert units.convert(units.convert(amount, one, other), other, one) == amount


@given(st.fractions(min_value=-1000, max_value=1000, max_denominator=100), st.sampled_from(sorted(units.UNITS)))
def test_printed_quantities_can_be_read_again(amount, unit):
    """What is printed with enough digits is read as the same quantity."""
    rounded = Fraction(units.format_number(amount, 6))
    printed = units.format_quantity(units.Quantity(rounded, units.UNITS[unit]), 6)
    again = units.parse_quantity(printed)
    assert (again.amount, again.unit.id) == (rounded, unit)
