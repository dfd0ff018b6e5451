"""Exact units of the trade: length, area, mass, volume, temperature, time, speed; factors are fractions.

A typed number keeps its decimal value (``0.1`` is one tenth). A customary unit is tied to the metric one by
its definition: inch 25.4 mm, avoirdupois pound 0.45359237 kg, US gallon 231 cubic inches, acre 43560 square
feet.
Sources: nist_sp811 (Appendix B) and nist_hb44 (Appendix C). All feet are international feet.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from weedkey.errors import UnitError

SOURCES = ("nist_sp811", "nist_hb44")

Number = int | float | str | Fraction

_INCH_M = Fraction(254, 10000)
_FOOT_M = 12 * _INCH_M
_YARD_M = 3 * _FOOT_M
_MILE_M = 5280 * _FOOT_M
_POUND_KG = Fraction(45359237, 100000000)
_GALLON_M3 = 231 * _INCH_M**3
_HOUR_S = Fraction(3600)
#: 459.67 °F below zero is absolute zero; one °F is 5/9 of a kelvin.
_FAHRENHEIT_ZERO_K = Fraction(45967, 100) * Fraction(5, 9)
_CELSIUS_ZERO_K = Fraction(27315, 100)


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit: value in the base unit of its kind = amount * ``factor`` + ``offset``."""

    id: str
    kind: str
    factor: Fraction
    names: tuple[str, ...]
    offset: Fraction = Fraction(0)


def _unit(unit_id: str, kind: str, factor: int | Fraction, *names: str, offset: Fraction = Fraction(0)) -> Unit:
    return Unit(unit_id, kind, Fraction(factor), (unit_id, *names), offset)


_ALL = (
    _unit("m", "length", 1, "meter", "meters", "metre", "metres"),
    _unit("cm", "length", Fraction(1, 100), "centimeter", "centimeters", "centimetre", "centimetres"),
    _unit("mm", "length", Fraction(1, 1000), "millimeter", "millimeters", "millimetre", "millimetres"),
    _unit("km", "length", 1000, "kilometer", "kilometers", "kilometre", "kilometres"),
    _unit("in", "length", _INCH_M, "inch", "inches"),
    _unit("ft", "length", _FOOT_M, "foot", "feet"),
    _unit("yd", "length", _YARD_M, "yard", "yards"),
    _unit("mi", "length", _MILE_M, "mile", "miles"),
    _unit("sq m", "area", 1, "m2", "square meter", "square meters", "square metre", "square metres"),
    _unit("ha", "area", 10000, "hectare", "hectares"),
    _unit("sq in", "area", _INCH_M**2, "in2", "square inch", "square inches"),
    _unit("sq ft", "area", _FOOT_M**2, "ft2", "sqft", "square foot", "square feet"),
    _unit("sq yd", "area", _YARD_M**2, "yd2", "square yard", "square yards"),
    _unit("acre", "area", 43560 * _FOOT_M**2, "acres", "ac"),
    _unit("kg", "mass", 1, "kilogram", "kilograms"),
    _unit("g", "mass", Fraction(1, 1000), "gram", "grams"),
    _unit("mg", "mass", Fraction(1, 1000000), "milligram", "milligrams"),
    _unit("t", "mass", 1000, "tonne", "tonnes", "metric ton", "metric tons"),
    _unit("lb", "mass", _POUND_KG, "lbs", "pound", "pounds"),
    _unit("oz", "mass", _POUND_KG / 16, "ounce", "ounces", "oz wt"),
    _unit("ton", "mass", 2000 * _POUND_KG, "tons", "us ton", "us tons", "short ton", "short tons"),
    _unit("m3", "volume", 1, "cubic meter", "cubic meters", "cubic metre", "cubic metres"),
    _unit("L", "volume", Fraction(1, 1000), "liter", "liters", "litre", "litres"),
    _unit("mL", "volume", Fraction(1, 1000000), "milliliter", "milliliters", "millilitre", "millilitres", "cc"),
    _unit("gal", "volume", _GALLON_M3, "gallon", "gallons", "us gal", "us gallon", "us gallons"),
    _unit("qt", "volume", _GALLON_M3 / 4, "quart", "quarts"),
    _unit("pt", "volume", _GALLON_M3 / 8, "pint", "pints"),
    _unit("cup", "volume", _GALLON_M3 / 16, "cups"),
    _unit("fl oz", "volume", _GALLON_M3 / 128, "fluid ounce", "fluid ounces", "floz"),
    _unit("tbsp", "volume", _GALLON_M3 / 256, "tablespoon", "tablespoons"),
    _unit("tsp", "volume", _GALLON_M3 / 768, "teaspoon", "teaspoons"),
    _unit("cu ft", "volume", _FOOT_M**3, "ft3", "cubic foot", "cubic feet"),
    _unit("cu yd", "volume", _YARD_M**3, "yd3", "cubic yard", "cubic yards"),
    _unit("K", "temperature", 1, "kelvin"),
    _unit("C", "temperature", 1, "°c", "deg c", "celsius", offset=_CELSIUS_ZERO_K),
    _unit("F", "temperature", Fraction(5, 9), "°f", "deg f", "fahrenheit", offset=_FAHRENHEIT_ZERO_K),
    _unit("F deg", "temperature difference", Fraction(5, 9), "degree-days f", "f degrees"),
    _unit("C deg", "temperature difference", 1, "degree-days c", "c degrees"),
    _unit("s", "time", 1, "second", "seconds", "sec"),
    _unit("min", "time", 60, "minute", "minutes"),
    _unit("h", "time", _HOUR_S, "hour", "hours", "hr"),
    _unit("day", "time", 24 * _HOUR_S, "days"),
    _unit("m/s", "speed", 1),
    _unit("mph", "speed", _MILE_M / _HOUR_S, "mi/h"),
    _unit("km/h", "speed", 1000 / _HOUR_S, "kph"),
    _unit("ft/min", "speed", _FOOT_M / 60, "fpm"),
)

UNITS: Mapping[str, Unit] = {unit.id: unit for unit in _ALL}
_BY_NAME = {name.lower(): unit for unit in _ALL for name in unit.names}

_NUMBER = re.compile(
    r"\s*(?P<sign>[-+\u2212]?)\s*(?:(?P<whole>\d+)\s+(?P<top>\d+)\s*/\s*(?P<bottom>\d+)"
    r"|(?P<top2>\d+)\s*/\s*(?P<bottom2>\d+)"
    r"|(?P<decimal>(?:\d{1,3}(?:,\d{3})+|\d+)(?:\.\d*)?|\.\d+))\s*"
)


@dataclass(frozen=True, slots=True)
class Quantity:
    """An exact amount with its unit."""

    amount: Fraction
    unit: Unit

    def to(self, unit: str | Unit) -> Quantity:
        """The same quantity in another unit of the same kind; raises UnitError for another kind."""
        target = unit if isinstance(unit, Unit) else find_unit(unit)
        return Quantity(convert(self.amount, self.unit, target), target)

    def __str__(self) -> str:
        return format_quantity(self)


@dataclass(frozen=True, slots=True)
class Rate:
    """An amount per another quantity: 3 lb per 1000 sq ft is ``amount`` 3 lb, ``per`` 1000 sq ft."""

    amount: Quantity
    per: Quantity

    def to(self, unit: str, per: str) -> Fraction:
        """The number in ``unit`` per ``per`` (``"1000 sq ft"`` or ``"acre"``); raises UnitError."""
        base = parse_per(per)
        share = convert(base.amount, base.unit, self.per.unit) / self.per.amount
        return convert(self.amount.amount, self.amount.unit, find_unit(unit)) * share


def exact(number: Number) -> Fraction:
    """The number as typed: 0.1 becomes one tenth, "1 1/2" three halves. Raises UnitError otherwise."""
    if isinstance(number, Fraction):
        return number
    if isinstance(number, int | float):
        text = repr(number)
        if text in ("inf", "-inf", "nan"):
            raise UnitError(f"{text} is not a number", "a finite number")
        return Fraction(text)
    return parse_number(number)


def parse_number(text: str) -> Fraction:
    """Read ``2``, ``2.5``, ``.5``, ``1/2``, ``1 1/2``, ``1,000``; raises UnitError for anything else."""
    match = _NUMBER.fullmatch(text)
    if match is None:
        raise UnitError(f"{text.strip()!r} is not a number", "a number such as 2, 2.5, 1/2, 1 1/2 or 1,000")
    return _matched_number(match, text)


def find_unit(name: str) -> Unit:
    """The unit of this name, whatever its case or plural; raises UnitError with the units that are known."""
    found = UNITS.get(name.strip()) or _BY_NAME.get(_tidy(name))
    if found is None:
        raise UnitError(f"no unit is called {name.strip()!r}", "one of " + ", ".join(UNITS))
    return found


def convert(amount: Number, source: str | Unit, target: str | Unit) -> Fraction:
    """The exact amount in ``target``; raises UnitError if the two units measure different things."""
    one = source if isinstance(source, Unit) else find_unit(source)
    other = target if isinstance(target, Unit) else find_unit(target)
    if one.kind != other.kind:
        raise UnitError(
            f"{one.id} is a unit of {one.kind} and {other.id} of {other.kind}: they cannot be converted",
            f"two units of {one.kind}",
        )
    return (exact(amount) * one.factor + one.offset - other.offset) / other.factor


def parse_quantity(text: str) -> Quantity:
    """Read ``"2.5 lb"``, ``"1 1/2 fl oz"``, ``"40 F"``; raises UnitError."""
    match = _NUMBER.match(text)
    if match is None:
        raise UnitError(f"{text.strip()!r} does not begin with a number", "a number and a unit, such as 2.5 lb")
    rest = text[match.end() :]
    if not rest.strip():
        raise UnitError(f"{text.strip()!r} has no unit", "a number and a unit, such as 2.5 lb")
    return Quantity(_matched_number(match, text), find_unit(rest))


def parse_per(text: str) -> Quantity:
    """Read what a rate is stated per: ``"acre"``, ``"1000 sq ft"``, ``"gal"``; raises UnitError."""
    plain = re.sub(r"^\s*(?:per|/)\s+", "", text)
    quantity = parse_quantity(plain) if _NUMBER.match(plain) else Quantity(Fraction(1), find_unit(plain))
    if quantity.amount <= 0:
        raise UnitError(f"{text.strip()!r} is not more than nothing", "a quantity above 0")
    return quantity


def parse_rate(text: str) -> Rate:
    """Read ``"3 lb per 1000 sq ft"`` or ``"1.5 fl oz / gal"``; raises UnitError."""
    parts = re.split(r"\s+per\s+|\s*/\s*(?=(?:\d[\d,.]*\s+)?[A-Za-z])", text, maxsplit=1)
    if len(parts) != len(("amount", "per")):
        raise UnitError(f"{text.strip()!r} is not a rate", "an amount per something", "3 lb per 1000 sq ft")
    return Rate(parse_quantity(parts[0]), parse_per(parts[1]))


def convert_rate(amount: Number, unit: str, per: str, to_unit: str, to_per: str) -> Fraction:
    """A rate in other units: (1, "ton", "acre", "lb", "1000 sq ft") gives 2000/43.56; raises UnitError."""
    return Rate(Quantity(exact(amount), find_unit(unit)), parse_per(per)).to(to_unit, to_per)


def to_fahrenheit(celsius: float) -> float:
    """°C to °F, for models that work in floats."""
    return celsius * 9 / 5 + 32


def to_celsius(fahrenheit: float) -> float:
    """°F to °C, for models that work in floats."""
    return (fahrenheit - 32) * 5 / 9


def format_number(number: Number, digits: int = 2) -> str:
    """Decimal text with at most ``digits`` places, halves rounded away from zero, no trailing zeros."""
    value = exact(number)
    scale = 10**digits
    scaled = abs(value) * scale
    rounded = (2 * scaled.numerator + scaled.denominator) // (2 * scaled.denominator)
    whole, rest = divmod(rounded, scale)
    text = str(whole)
    if rest:
        text += "." + str(rest).rjust(digits, "0").rstrip("0")
    return "-" + text if value < 0 and rounded else text


def format_quantity(quantity: Quantity, digits: int = 2) -> str:
    """Text such as ``"2.5 lb"`` or ``"1 acre"``."""
    return f"{format_number(quantity.amount, digits)} {quantity.unit.id}"


def _tidy(name: str) -> str:
    words = name.strip().lower().replace(".", "").replace("\u00b2", "2").replace("\u00b3", "3")
    return re.sub(r"\s+", " ", words)


def _matched_number(match: re.Match[str], text: str) -> Fraction:
    parts = match.groupdict()
    top, bottom = parts["top"] or parts["top2"], parts["bottom"] or parts["bottom2"]
    if bottom is None:
        value = Fraction(parts["decimal"].replace(",", "").rstrip("."))
    elif int(bottom) == 0:
        raise UnitError(f"{text.strip()!r} divides by zero", "a number such as 1/2")
    else:
        value = int(parts["whole"] or 0) + Fraction(int(top), int(bottom))
    return -value if parts["sign"] in ("-", "\u2212") else value
