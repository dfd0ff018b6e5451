"""Soil acidity and lime: target pH of a turf, lime from a laboratory's own method, split, material, bags.

In order of trust (uky_id163): the laboratory's recommendation; buffer pH or exchangeable acidity with the formula
of the same laboratory; a table by texture, which only shows that a test is needed. Water pH alone never gives a
rate, and a probe meter only ever asks for a laboratory test. Arithmetic is exact (fractions).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import sqrt

from weedkey.ground import lime_tables as tables
from weedkey.ground.lime_tables import CapRule
from weedkey.model.trace import Step
from weedkey.model.turf import SoilPh, Turf
from weedkey.units import Number, convert_rate, exact

_HUNDRED = Fraction(100)
_NEUTRAL_MEHLICH = Fraction("6.6")


@dataclass(frozen=True, slots=True)
class TargetPh:
    """Target pH of a turf with every source side by side.

    ``agreed`` is the range that all rows share, None if they share none. ``lime_below``: no lime at or above this pH.
    ``aim`` is the lowest middle of the rows, but not below ``lime_below``: the least lime.
    """

    turf: str
    rows: tuple[SoilPh, ...]
    agreed: tuple[Fraction, Fraction] | None
    aim: Fraction | None
    lime_below: Fraction | None
    sources: tuple[str, ...]

    @property
    def disagree(self) -> bool:
        """True if no pH suits every source."""
        return bool(self.rows) and self.agreed is None


@dataclass(frozen=True, slots=True)
class LimeApplication:
    """One application: its number, the months after the first (shortest, longest), lb per 1000 sq ft of material."""

    number: int
    months_after: tuple[int, int]
    lb_per_1000_sqft: Fraction
    retest_first: bool = False


@dataclass(frozen=True, slots=True)
class LimeAdvice:
    """What to do about soil acidity in a zone.

    ``kind``: none, test_first or lime. ``reason``: ph_high_enough, no_soil_ph, unreliable_ph, no_target, no_buffer,
    laboratory_disagrees, laboratory, method. Amounts are None unless ``kind`` is lime. ``lime_type``: dolomitic,
    calcitic or ask (magnesium not known). ``rough_lb``: the low-authority figures by texture, never a prescription.
    """

    kind: str
    reason: str
    target: TargetPh
    step: Step
    soil_ph: Fraction | None = None
    method: str = ""
    trust: str = ""
    lb_cce_per_1000_sqft: Fraction | None = None
    lb_per_1000_sqft: Fraction | None = None
    cce_percent: Fraction | None = None
    tons_per_acre: Fraction | None = None
    lb_for_area: Fraction | None = None
    bags: int | None = None
    cap: CapRule | None = None
    applications: tuple[LimeApplication, ...] = ()
    other_splits: tuple[tuple[CapRule, tuple[LimeApplication, ...]], ...] = ()
    lime_type: str = "ask"
    shows_after_months: tuple[int, int] = tables.SHOWS_AFTER_MONTHS
    rough_lb: tuple[tuple[str, Fraction], ...] = ()


def target_ph(turf: Turf) -> TargetPh:
    """The target pH of a turf; rows that disagree stay side by side."""
    rows = turf.soil_ph
    sources = tuple(dict.fromkeys(source for row in rows for source in row.sources))
    if not rows:
        return TargetPh(turf.id, (), None, None, None, sources)
    low, high = max(exact(row.low) for row in rows), min(exact(row.high) for row in rows)
    agreed = (low, high) if low <= high else None
    stated = [exact(row.lime_only_below) for row in rows if row.lime_only_below is not None]
    below = min(stated) if stated else min(exact(row.low) for row in rows)
    aim = max(below, min((exact(row.low) + exact(row.high)) / 2 for row in rows))
    return TargetPh(turf.id, rows, agreed, aim, below, sources)


def acidity_from_mehlich_buffer(buffer_ph: Number) -> Fraction:
    """Acidity in meq/100 cm3 = (6.6 - buffer pH) x 4, not below 0 (ncda_buff)."""
    return max(Fraction(0), (_NEUTRAL_MEHLICH - exact(buffer_ph)) * 4)


def lime_mehlich_nc(acidity: Number, ph: Number, target: Number, credit_tons: Number = 0) -> Fraction:
    """US tons an acre = acidity x (target - pH) / (6.6 - pH) - credit, not below 0 (ncda_buff).

    Raises ValueError for a pH or a target of 6.6 or more, where the formula is undefined.
    """
    now, goal = exact(ph), exact(target)
    if goal <= now:
        return Fraction(0)
    if now >= _NEUTRAL_MEHLICH or goal >= _NEUTRAL_MEHLICH:
        raise ValueError("the North Carolina formula needs a pH and a target below 6.6")
    return max(Fraction(0), exact(acidity) * (goal - now) / (_NEUTRAL_MEHLICH - now) - exact(credit_tons))


def residual_credit(tons: Number, months: Number, soil: str = "mineral") -> Fraction:
    """Lime put down earlier that has not reacted yet: 8 % a month lost on mineral, 16 % on organic soil (ncda_buff).

    The loss is read as a share of the first amount. Raises ValueError for another soil.
    """
    if soil not in tables.CREDIT_LOSS:
        raise ValueError(f"soil {soil!r} is neither mineral nor organic")
    return exact(tons) * max(Fraction(0), 1 - tables.CREDIT_LOSS[soil] * exact(months))


def lime_pennsylvania_turf(acidity: Number, goal: Number) -> Fraction | None:
    """Pounds of CCE per 1000 sq ft from the turf table (psu_turflime); None above its last row. Only below the goal pH.

    Between two rows the lower one counts, below the first row its smallest entry. Raises ValueError for another
    goal than 6.0, 6.5 or 7.0.
    """
    goals = tables.METHODS["mehlich_pa_turf"].goals
    if exact(goal) not in goals:
        raise ValueError(f"goal {goal} is none of 6.0, 6.5, 7.0")
    column = 1 + goals.index(exact(goal))
    value = exact(acidity)
    if value > tables.PENNSYLVANIA_TURF[-1][0]:
        return None
    rows = [row for row in tables.PENNSYLVANIA_TURF if row[0] <= value]
    return Fraction((rows[-1] if rows else tables.PENNSYLVANIA_TURF[0])[column])


def lime_pennsylvania_field(acidity: Number, goal: Number, ph: Number) -> Fraction:
    """Pounds of CCE an acre from the field equations for goals 6.5 and 7.0 (psu_agguide); 0 at or above the goal.

    Raises ValueError for another goal.
    """
    value, aim = exact(acidity), exact(goal)
    if aim not in tables.METHODS["mehlich_pa_field"].goals:
        raise ValueError(f"goal {goal} is neither 6.5 nor 7.0")
    if exact(ph) >= aim:
        return Fraction(0)
    if aim == Fraction(7):
        return value * 1000
    return value * 840 if value > 4 else Fraction(2000)


def lime_adams_evans(ph: Number, target: Number, buffer_ph: Number) -> Fraction:
    """Pounds of ground limestone an acre; the formula is from memory and was not read at a source.

    pH = 7.79 - 5.55 H + 2.27 H^2 gives the acid saturation H now and at the target;
    lb CaCO3 = 8000 x (8.00 - buffer pH) x (H now - H target) / H now; x 1.5 for ground limestone.
    """
    now, aim = _acid_saturation(float(exact(ph))), _acid_saturation(float(exact(target)))
    if aim >= now:
        return Fraction(0)
    pure = 8000 * max(0.0, 8.0 - float(exact(buffer_ph))) * (now - aim) / now
    return Fraction(round(pure * 1.5 * 1000), 1000)


def lime_smp_iowa(buffer_ph: Number, depth_in: Number = 6) -> Fraction:
    """Pounds of ECCE an acre to pH 6.0 = (38619 - 5915 x buffer pH) x depth x 0.167, at least 0 (code_isulime)."""
    return max(Fraction(0), (38619 - 5915 * exact(buffer_ph)) * exact(depth_in) * Fraction(167, 1000))


def rough_lime_by_texture(ph: Number, texture: str) -> tuple[tuple[str, Fraction], ...]:
    """The low-authority figures to pH 6.5 in lb per 1000 sq ft, each with its source; never a prescription.

    ``texture``: sandy_loam, loam or clay_loam; empty for another texture or a pH of 6.5 and above.
    """
    value = exact(ph)
    rows = tables.TEXTURE_TILLED.get(texture)
    if rows is None or value >= Fraction("6.5"):
        return ()
    nearest = min(rows, key=lambda step: (abs(step - value), step))
    found = [("garden_limetab", Fraction(rows[nearest]))]
    if value == Fraction("5.5"):
        found.append(("garden_ph_text", Fraction(tables.TEXTURE_ONE_POINT[texture])))
    return tuple(found)


def material_for_cce(recommended: Number, cce_percent: Number) -> Fraction:
    """Material = recommendation x 100 / CCE percent (psu_lawn). Raises ValueError for a CCE that is not above 0."""
    if exact(cce_percent) <= 0:
        raise ValueError("the calcium carbonate equivalent must be above 0")
    return exact(recommended) * _HUNDRED / exact(cce_percent)


def split_lime(total_lb: Number, rule: CapRule) -> tuple[LimeApplication, ...]:
    """Cut a total (lb per 1000 sq ft) into applications by a published rule; empty for nothing."""
    left = exact(total_lb)
    if left <= 0:
        return ()
    if rule.style == "half" and left > rule.cap_lb:
        return (
            LimeApplication(1, (0, 0), left / 2),
            LimeApplication(2, rule.months, left / 2, retest_first=True),
        )
    if rule.style == "equal":
        parts = 1 if left < rule.cap_lb else 2 if left < tables.GARDEN_THREE_PARTS_LB else 3
        amounts = [left / parts] * parts
    else:
        amounts = []
        while left > 0:
            amounts.append(min(left, rule.cap_lb) if rule.style == "cap" else left)
            left -= amounts[-1]
    first, last = rule.months
    return tuple(
        LimeApplication(number + 1, (number * first, number * last), amount) for number, amount in enumerate(amounts)
    )


def choose_lime_type(magnesium: str | None) -> str:
    """``dolomitic`` where the soil test calls magnesium low, ``calcitic`` where it does not, ``ask`` if not known."""
    if not magnesium:
        return "ask"
    return "dolomitic" if magnesium.replace("_", " ").lower() in ("low", "very low", "deficient") else "calcitic"


def lime_by_method(method: str, values: Mapping[str, Number], target: TargetPh) -> Fraction | None:
    """Pounds of CCE per 1000 sq ft by the laboratory's method; None if the method cannot say (outside its range).

    ``values`` holds the measurements that the method needs. Raises KeyError for a missing one or unknown method.
    """
    aim = target.aim if target.aim is not None else Fraction(6)
    goal = _goal_of_method(method, aim)
    if method == "laboratory":
        return exact(values["lime_recommendation_lb_per_1000"])
    if goal is None:
        return None
    if method == "mehlich_pa_turf":
        return lime_pennsylvania_turf(values["exchangeable_acidity"], goal)
    if method == "mehlich_nc":
        if exact(values["soil_ph"]) >= _NEUTRAL_MEHLICH or goal >= _NEUTRAL_MEHLICH:
            return None
        acidity = acidity_from_mehlich_buffer(values["buffer_ph"])
        return convert_rate(lime_mehlich_nc(acidity, values["soil_ph"], goal), "ton", "acre", "lb", "1000 sq ft")
    if method == "mehlich_pa_field":
        an_acre = lime_pennsylvania_field(values["exchangeable_acidity"], goal, values["soil_ph"])
    elif method == "adams_evans":
        an_acre = lime_adams_evans(values["soil_ph"], goal, values["buffer_ph"])
    elif method == "smp_iowa":
        an_acre = lime_smp_iowa(values["buffer_ph"])
    else:
        raise KeyError(method)
    return convert_rate(an_acre, "lb", "acre", "lb", "1000 sq ft")


def _goal_of_method(method: str, aim: Fraction) -> Fraction | None:
    """The aim, or the highest goal of the method's table that does not pass the aim; None if all pass it."""
    goals = tables.METHODS[method].goals
    if not goals:
        return aim
    return max((goal for goal in goals if goal <= aim), default=None)


def _acid_saturation(ph: float) -> float:
    """Root of 7.79 - 5.55 H + 2.27 H^2 = pH between 0 and 1."""
    under_root = 5.55**2 - 4 * 2.27 * (7.79 - ph)
    return min(1.0, max(0.0, (5.55 - sqrt(max(0.0, under_root))) / (2 * 2.27)))
