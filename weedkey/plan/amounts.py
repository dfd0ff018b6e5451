"""Amounts from the rate that the user typed from the label in hand. The program never supplies a rate.

Everything is exact: a typed 0.1 is one tenth. US and metric units mix freely.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta
from fractions import Fraction
from math import pi

from weedkey.errors import UnitError, UsageError
from weedkey.model.lawn import LabelRate, Lawn, Zone
from weedkey.plan.results import Action, Plan
from weedkey.units import Number, Quantity, Rate, convert, exact, find_unit, parse_per

_YEAR_DAYS = 365
_SQIN_A_SQFT = 144


@dataclass(frozen=True, slots=True)
class Tanks:
    """One mix. ``full``: tanks filled to the brim; ``last_gal``: water of the last, smaller one (0 if none).

    ``in_full``, ``in_last``: product in each. ``left_gal``: spray left over where the operator fills only whole tanks.
    """

    water_gal: Fraction
    full: int
    last_gal: Fraction
    in_full: Quantity
    in_last: Quantity
    left_gal: Fraction


@dataclass(frozen=True, slots=True)
class Amount:
    """Product of one control in one visit. ``per_1000`` is None where the rate is stated per volume of spray."""

    control: str
    area_sqft: Fraction
    product: Quantity
    per_1000: Quantity | None
    tanks: Tanks | None
    visit: int | None = None


@dataclass(frozen=True, slots=True)
class YearTotal:
    """Uses of one control in 365 days against the maximum typed from the label, in the rate's unit and area.

    ``state``: within, over, not_known (an amount of the past is not recorded) or no_maximum.
    """

    control: str
    unit: str
    used: Fraction
    planned: Fraction
    maximum: Fraction | None
    state: str


def amount_for(
    rate: LabelRate, area_sqft: Number, carrier_gal_1000: Number | None = None, tank_gal: Number | None = None
) -> Amount:
    """Product, and where carrier (gal of spray per 1000 sq ft, from a calibration) and tank are known, the tanks.

    A rate per volume of spray ("per gal") needs the carrier. Raises UsageError, UnitError.
    """
    area = _positive(area_sqft, "area")
    per = parse_per(rate.per)
    water = _positive(carrier_gal_1000, "carrier") * area / 1000 if carrier_gal_1000 is not None else None
    amount = Quantity(exact(rate.amount), find_unit(rate.unit))
    per_1000: Quantity | None = None
    if per.unit.kind == "area":
        each = Rate(amount, per).to(amount.unit.id, "1000 sq ft")
        per_1000 = Quantity(each, amount.unit)
        product = Quantity(each * area / 1000, amount.unit)
    elif per.unit.kind == "volume":
        if water is None:
            raise UsageError(
                f"the rate of {rate.control} is per {rate.per}", "the spray volume of your sprayer", "--carrier 1"
            )
        product = Quantity(amount.amount * convert(water, "gal", per.unit) / per.amount, amount.unit)
    else:
        raise UnitError(
            f"a rate per {rate.per} is neither per area nor per volume of spray", "per 1000 sq ft, acre, gal"
        )
    tanks = _fill(product, water, _positive(tank_gal, "tank")) if water is not None and tank_gal is not None else None
    return Amount(rate.control, area, product, per_1000, tanks)


def amounts_of(
    plan: Plan, carrier_gal_1000: Number | None = None, tank_gal: Number | None = None
) -> tuple[Amount, ...]:
    """The amounts of every action whose rate was typed, in the order of the visits."""
    rates = {rate.control: rate for rate in plan.lawn.label_rates}
    found = []
    for number, visit in enumerate(plan.visits):
        for action in visit.actions:
            rate, area = rates.get(action.control), treated_sqft(plan.lawn, action)
            if rate is None or area <= 0:
                continue
            if parse_per(rate.per).unit.kind == "volume" and carrier_gal_1000 is None:
                continue
            one = amount_for(rate, area, carrier_gal_1000, tank_gal)
            found.append(Amount(one.control, one.area_sqft, one.product, one.per_1000, one.tanks, number))
    return tuple(found)


def treated_sqft(lawn: Lawn, action: Action) -> Fraction:
    """Ground under an action: whole zones, or for spot use the spots counted, else the share under the weeds."""
    zones = {zone.name: zone for zone in lawn.zones}
    if action.use != "spot":
        return sum((exact(zones[name].area_sqft) for name in action.zones), Fraction(0))
    return sum((_spot_sqft(zones[t.zone], t.place) for t in action.targets), Fraction(0))


def total_year(plan: Plan) -> tuple[YearTotal, ...]:
    """Past and planned uses of every control with a typed rate; amounts are per the rate's own area, as labels state
    the maximum.
    """
    return tuple(_total(plan, rate) for rate in plan.lawn.label_rates)


def _total(plan: Plan, rate: LabelRate) -> YearTotal:
    since = plan.start - timedelta(days=_YEAR_DAYS)
    past = [row for row in plan.lawn.history if row.control == rate.control and since <= row.on <= plan.start]
    known = [row for row in past if row.amount is not None and row.unit == rate.unit]
    used = sum((exact(row.amount or 0) for row in known), Fraction(0))
    uses = sum(1 for visit in plan.visits for action in visit.actions if action.control == rate.control)
    planned = exact(rate.amount) * uses
    maximum = exact(rate.yearly_maximum) if rate.yearly_maximum is not None else None
    if maximum is None:
        state = "no_maximum"
    elif used + planned > maximum:
        state = "over"
    else:
        state = "within" if len(known) == len(past) else "not_known"
    return YearTotal(rate.control, rate.unit, used, planned, maximum, state)


def _fill(product: Quantity, water: Fraction, tank: Fraction) -> Tanks:
    full = int(water // tank)
    last = water - full * tank
    share = product.amount / water
    left = tank - last if last else Fraction(0)
    return Tanks(water, full, last, Quantity(share * tank, product.unit), Quantity(share * last, product.unit), left)


def _spot_sqft(zone: Zone, place: int) -> Fraction:
    finding = zone.findings[place]
    if finding.spots is not None:
        round_sqin = pi * finding.spots.diameter_in**2 / 4
        return exact(round(finding.spots.count * round_sqin / _SQIN_A_SQFT, 3))
    return exact(zone.area_sqft) * exact(finding.cover_percent) / 100


def spot_areas(plan: Plan) -> Iterator[tuple[str, Fraction]]:
    """(control, square feet) of every spot treatment in the plan."""
    for visit in plan.visits:
        for action in visit.actions:
            if action.use == "spot":
                yield action.control, treated_sqft(plan.lawn, action)


def _positive(value: Number | None, what: str) -> Fraction:
    number = exact(value if value is not None else 0)
    if number <= 0:
        raise UsageError(f"a {what} of {value} does not exist", "a number above 0")
    return number
