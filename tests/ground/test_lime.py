"""Lime: the worked examples of the laboratories, the caps, and what must never happen."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from ground_cases import MEMORY, make_turf
from hypothesis import given
from hypothesis import strategies as st

from weedkey.ground import lime, lime_tables
from weedkey.ground.lime_advice import advise_lime
from weedkey.model.lawn import Measured
from weedkey.model.turf import SoilPh
from weedkey.units import convert_rate, format_number

CENTIPEDEGRASS = make_turf(
    "centipedegrass",
    [
        SoilPh(5.5, 6.5, ("uga_769",), lime_only_below=5.5),
        SoilPh(5.0, 6.0, ("uga_coast",)),
        SoilPh(5.5, 5.5, ("ncsu_lee16",)),
    ],
)
TALL_FESCUE = make_turf(
    "tall_fescue",
    [SoilPh(6.0, 6.0, ("uga_polk18",)), SoilPh(6.0, 7.2, ("psu_liming02",)), SoilPh(6.5, 7.0, ("wvu_502",))],
)


def measured(**values: object) -> dict[str, Measured]:
    """Measurements by kind; a pair is (value, method)."""
    rows = {}
    for what, value in values.items():
        number, method = value if isinstance(value, tuple) else (value, "laboratory")
        rows[what] = Measured(what, number, method)
    return rows


def test_l1_north_carolina_worked_example():
    """Acidity 1.2, pH 5.0, target 6.0: factor 0.625 and 0.75 ton an acre, 34.4 lb per 1000 sq ft."""
    # Source: NC Department of Agriculture, lime-requirement factor table (prints 0.76; arithmetic gives 0.75).
    tons = lime.lime_mehlich_nc("1.2", "5.0", "6.0")
    assert tons == Fraction("0.75")
    assert float(tons) == pytest.approx(0.76, abs=0.02)
    assert format_number(convert_rate(tons, "ton", "acre", "lb", "1000 sq ft"), 1) == "34.4"


def test_l2_acidity_from_buffer_ph():
    """A Mehlich buffer pH of 6.3 is an acidity of 1.2."""
    # Source: NC Department of Agriculture, (6.6 - buffer pH) x 4.
    assert lime.acidity_from_mehlich_buffer("6.3") == Fraction("1.2")


def test_l3_lawn_material_at_80_percent():
    """75 lb recommended is 93.75 lb of an 80 % material, printed as 94."""
    # Source: Penn State laboratory, Home Lawn - Maintain.
    assert lime.material_for_cce(75, 80) == Fraction("93.75")
    assert format_number(lime.material_for_cce(75, 80), 0) == "94"


def test_l4_garden_material_at_70_percent():
    """5 lb per 100 sq ft is 7.14 lb of a 70 % material, printed as 7."""
    # Source: Penn State laboratory, Home Garden.
    assert format_number(lime.material_for_cce(5, 70), 2) == "7.14"


def test_l5_maryland_split():
    """85 lb per 1000 sq ft goes down as 50 now and 35 after six months."""
    # Source: University of Maryland Extension, Liming a Lawn, 2019.
    parts = lime.split_lime(85, lime_tables.CAPS["maryland"])
    assert [part.lb_per_1000_sqft for part in parts] == [50, 35]
    assert parts[1].months_after == (6, 6)


@pytest.mark.parametrize(
    ("acidity", "goals"),
    [
        ("2.0", (50, 50, 50)), ("3.9", (50, 70, 90)), ("5.2", (50, 90, 110)), ("10.3", (140, 180, 230)),
        ("20.0", (320, 390, 460)), ("25.7", (410, 530, 600)),
    ],
)  # fmt: skip
def test_l6_pennsylvania_turf_table(acidity, goals):
    """The turf table by exchangeable acidity and pH goal, 10.3 to 6.5 being 180 lb."""
    # Source: Penn State laboratory, Turf handbook Table 1 (lb CCE per 1000 sq ft).
    assert tuple(lime.lime_pennsylvania_turf(acidity, goal) for goal in ("6.0", "6.5", "7.0")) == goals


def test_pennsylvania_turf_table_is_whole_and_rises():
    """38 steps; more acidity and a higher goal never ask for less lime."""
    # Source: Penn State laboratory, Turf handbook Table 1.
    rows = lime_tables.PENNSYLVANIA_TURF
    assert len(rows) == 38
    assert all(
        one[0] < two[0] and all(a <= b for a, b in zip(one[1:], two[1:], strict=True)) for one, two in pairwise(rows)
    )
    assert all(low <= middle <= high for _, low, middle, high in rows)


@pytest.mark.parametrize(("acidity", "printed"), [("5.2", 119), ("10.3", 236), ("20.0", 459), ("25.7", 590)])
def test_l7_pennsylvania_field_equation_to_seven(acidity, printed):
    """Acidity x 1000 lb an acre to pH 7.0; it stands about 10 lb around the turf table of the same university."""
    # Source: Penn State Agronomy Guide (equation); Turf handbook Table 1 (comparison).
    an_acre = lime.lime_pennsylvania_field(acidity, 7, "5.5")
    pounds = convert_rate(an_acre, "lb", "acre", "lb", "1000 sq ft")
    assert format_number(pounds, 0) == str(printed)
    assert abs(pounds - lime.lime_pennsylvania_turf(acidity, 7)) < 10.5


def test_l8_pennsylvania_field_equation_below_acidity_four():
    """Acidity 3.0 at pH 6.2 with goal 6.5: 2000 lb an acre, 45.9 lb per 1000 sq ft."""
    # Source: Penn State Agronomy Guide.
    an_acre = lime.lime_pennsylvania_field(3, "6.5", "6.2")
    assert an_acre == 2000
    assert format_number(convert_rate(an_acre, "lb", "acre", "lb", "1000 sq ft"), 1) == "45.9"
    assert lime.lime_pennsylvania_field(6, "6.5", "6.2") == 5040
    assert lime.lime_pennsylvania_field(6, "6.5", "6.5") == 0


def test_l9_centipedegrass_at_5_6_is_not_limed():
    """A pH of 5.6 is high enough for centipedegrass."""
    # Source: University of Georgia laboratories, code 769 (lime only below 5.5).
    advice = advise_lime(CENTIPEDEGRASS, measured(soil_ph=5.6, buffer_ph=(6.3, "mehlich_nc")), 1000)
    assert (advice.kind, advice.reason, advice.lb_per_1000_sqft) == ("none", "ph_high_enough", None)


def test_l10_georgia_half():
    """A recommendation of 80 lb on St. Augustinegrass: 40 lb, wait four months, test again."""
    # Source: University of Georgia laboratories, code 792.
    parts = lime.split_lime(80, lime_tables.CAPS["georgia"])
    assert [part.lb_per_1000_sqft for part in parts] == [40, 40]
    assert parts[1].months_after == (4, 4)
    assert parts[1].retest_first
    assert [part.lb_per_1000_sqft for part in lime.split_lime(50, lime_tables.CAPS["georgia"])] == [50]


def test_l11_pennsylvania_two_or_more():
    """120 lb under the Pennsylvania rule: two applications, 4 to 6 months apart, none above 100 lb."""
    # Source: Penn State laboratory, Home Lawn - Maintain.
    parts = lime.split_lime(120, lime_tables.CAPS["pennsylvania"])
    assert len(parts) >= 2
    assert max(part.lb_per_1000_sqft for part in parts) <= 100
    assert parts[1].months_after == (4, 6)


@pytest.mark.parametrize(("total", "parts"), [(100, 1), (110, 2), (200, 2), (210, 3)])
def test_pennsylvania_garden_parts(total, parts):
    """11 to 20 lb per 100 sq ft in two equal parts, 21 and more in three."""
    # Source: Penn State laboratory, Home Garden.
    assert len(lime.split_lime(total, lime_tables.CAPS["pennsylvania_garden"])) == parts


def test_residual_credit():
    """Recent lime loses 8 % a month on mineral and 16 % on organic soil."""
    # Source: NC Department of Agriculture, residual credit.
    assert lime.residual_credit(1, 6) == Fraction("0.52")
    assert lime.residual_credit(1, 6, "organic") == Fraction("0.04")
    assert lime.residual_credit(1, 13) == 0


def test_adams_evans_from_memory():
    """The arithmetic of the remembered formula; it is no published case and the method says so."""
    # Source: from memory (pH 5.0, target 6.5, buffer 7.60: acid saturation 0.707 and 0.260, 3035 lb an acre).
    assert float(lime.lime_adams_evans(5, "6.5", "7.60")) == pytest.approx(3035, abs=1)
    assert lime_tables.METHODS["adams_evans"].trust == "from_memory"


def test_iowa_form():
    """Buffer pH 6.0 and 6 inches: 3135 lb an acre; nothing from buffer pH 6.53 up."""
    # Source: code excerpt attributed to Iowa State University (low authority), arithmetic.
    assert format_number(lime.lime_smp_iowa(6), 0) == "3135"
    assert lime.lime_smp_iowa("6.53") == 0


def test_texture_table_only_shows_the_spread():
    """Clay loam needs about twice the sandy loam; two low-authority pages differ by half again."""
    # Source: garden pages without an institution (garden_limetab, garden_ph_text).
    sandy = dict(lime.rough_lime_by_texture("5.5", "sandy_loam"))
    assert sandy == {"garden_limetab": 60, "garden_ph_text": 35}
    clay = dict(lime.rough_lime_by_texture("5.5", "clay_loam"))
    assert clay["garden_limetab"] / sandy["garden_limetab"] == Fraction(105, 60)
    assert lime.rough_lime_by_texture("6.5", "loam") == ()


def test_the_north_carolina_formula_guards_its_rails():
    """A target at or below the pH gives nothing, a pH of 6.6 or more is undefined."""
    # Source: NC Department of Agriculture, factor formula.
    assert lime.lime_mehlich_nc(3, "6.2", "6.0") == 0
    with pytest.raises(ValueError, match=r"6\.6"):
        lime.lime_mehlich_nc(3, "6.0", "6.6")


def test_targets_stand_side_by_side():
    """Centipedegrass sources meet only at 5.5; tall fescue sources share nothing and the lowest middle is taken."""
    # Source: UGA code 769, UGA coast column, NC State Lee County 2016; UGA Polk 2018, Penn State 2002, WVU 502.
    target = lime.target_ph(CENTIPEDEGRASS)
    assert target.agreed == (Fraction("5.5"), Fraction("5.5"))
    assert (target.aim, target.lime_below, target.disagree) == (Fraction("5.5"), Fraction("5.5"), False)
    target = lime.target_ph(TALL_FESCUE)
    assert (target.agreed, target.aim, target.disagree) == (None, Fraction(6), True)
    assert len(target.rows) == 3


@pytest.mark.parametrize("method", ["probe_meter", "probe meter", "colour_kit"])
def test_a_probe_meter_only_asks_for_a_laboratory(method):
    """However low it reads, it never gives lime, and neither does a colour kit."""
    # Source: magazine test of probe meters; HortTechnology 17(3), 2007 (kits matched in 33 to 94 %).
    given_values = measured(soil_ph=(4.6, method), buffer_ph=(6.0, "mehlich_nc"))
    advice = advise_lime(TALL_FESCUE, given_values, 1000)
    assert (advice.kind, advice.reason) == ("test_first", "unreliable_ph")


def test_water_ph_alone_gives_no_rate():
    """A laboratory pH without a buffer reading asks for one; texture only shows rough figures."""
    # Source: University of Kentucky ID-163 (two soils of one pH need different amounts).
    advice = advise_lime(TALL_FESCUE, measured(soil_ph=5.5, soil_texture="clay loam"), 1000)
    assert (advice.kind, advice.reason, advice.lb_per_1000_sqft) == ("test_first", "no_buffer", None)
    assert dict(advice.rough_lb)["garden_limetab"] == 105


def test_a_buffer_reading_needs_its_laboratory():
    """A buffer pH without a method is of no use: the buffers differ."""
    # Source: SERA-IEG-6 / Clemson, 2007 (several buffers, several numbers).
    assert advise_lime(TALL_FESCUE, measured(soil_ph=5.5, buffer_ph=(6.3, "")), 1000).reason == "no_buffer"


def test_the_laboratorys_own_figure_wins():
    """With a recommendation the formula is not used; material, bags, tons and parts follow from it."""
    values = measured(
        soil_ph=5.4, lime_recommendation_lb_per_1000=75, buffer_ph=(6.0, "mehlich_nc"), cce_percent=80, lime_bag_lb=40,
        magnesium="low",
    )  # fmt: skip
    advice = advise_lime(TALL_FESCUE, values, 4000)
    assert (advice.kind, advice.method) == ("lime", "laboratory")
    assert advice.lb_per_1000_sqft == Fraction("93.75")
    assert advice.lb_for_area == 375
    assert advice.bags == 10
    assert [part.lb_per_1000_sqft for part in advice.applications] == [50, Fraction("43.75")]
    assert format_number(advice.tons_per_acre, 2) == "2.04"
    assert advice.lime_type == "dolomitic"
    assert {rule.id for rule, _ in advice.other_splits} == set(lime_tables.CAPS) - {"maryland"}


def test_north_carolina_advice_from_end_to_end():
    """Tall fescue, pH 5.0, buffer pH 6.3: 34.4 lb CCE per 1000 sq ft, one application."""
    # Source: NC Department of Agriculture worked example.
    advice = advise_lime(TALL_FESCUE, measured(soil_ph=5.0, buffer_ph=(6.3, "mehlich_nc")), 1000)
    assert format_number(advice.lb_cce_per_1000_sqft, 1) == "34.4"
    assert len(advice.applications) == 1
    assert advice.trust == "published"
    assert advice.lime_type == "ask"


def test_a_laboratory_that_disagrees_is_asked():
    """A lime figure for centipedegrass at pH 5.8 is not followed blindly."""
    advice = advise_lime(CENTIPEDEGRASS, measured(soil_ph=5.8, lime_recommendation_lb_per_1000=40), 1000)
    assert (advice.kind, advice.reason) == ("test_first", "laboratory_disagrees")


def test_a_method_without_the_goal_says_so():
    """The turf table has no goal as low as centipedegrass wants."""
    values = measured(soil_ph=5.0, exchangeable_acidity=("5.2", "mehlich_pa_turf"))
    values["exchangeable_acidity"] = Measured("exchangeable_acidity", 5.2, "mehlich_pa_turf")
    assert advise_lime(CENTIPEDEGRASS, values, 1000).reason == "outside_method"


@given(st.fractions(3, 9, max_denominator=20), st.fractions(4, 8, max_denominator=20))
def test_no_lime_without_a_laboratory(ph, buffer_ph):
    """Whatever the readings, a turf without figures or a pH without a reliable method never gets lime."""
    unknown = make_turf("unknown", [])
    values = measured(soil_ph=float(ph), buffer_ph=(float(buffer_ph), "mehlich_nc"))
    assert advise_lime(unknown, values, 1000).kind == "test_first"
    values["soil_ph"] = Measured("soil_ph", float(ph), "probe_meter")
    assert advise_lime(TALL_FESCUE, values, 1000).kind == "test_first"


@given(
    st.floats(3.5, 8),
    st.floats(4.0, 6.6),
    st.sampled_from(["mehlich_nc", "adams_evans", "mehlich_pa_turf", "smp_iowa"]),
)
def test_centipedegrass_is_never_limed_at_or_above_its_trigger(ph, buffer_ph, method):
    """No reading and no method limes centipedegrass at 5.5 or above."""
    # Source: UGA code 769, UGA coast column.
    values = measured(soil_ph=ph, buffer_ph=(buffer_ph, method), exchangeable_acidity=(4.0, method))
    advice = advise_lime(CENTIPEDEGRASS, values, 1000)
    assert ph < 5.5 or advice.kind == "none"


@given(st.fractions(0, 600, max_denominator=8), st.sampled_from(sorted(lime_tables.CAPS)))
def test_parts_add_up_and_keep_the_cap(total, rule):
    """The parts sum to the total; a cap rule never lays more than its cap at one time."""
    parts = lime.split_lime(total, lime_tables.CAPS[rule])
    assert sum((part.lb_per_1000_sqft for part in parts), Fraction(0)) == total
    if lime_tables.CAPS[rule].style == "cap":
        assert all(part.lb_per_1000_sqft <= lime_tables.CAPS[rule].cap_lb for part in parts)


@given(st.floats(4.0, 6.6), st.floats(4.0, 6.6), st.floats(5.0, 6.5))
def test_a_more_acid_buffer_never_asks_for_less(one, other, ph):
    """Lower buffer pH, at least as much lime."""
    low, high = sorted((one, other))
    amounts = [
        lime.lime_mehlich_nc(lime.acidity_from_mehlich_buffer(buffer_ph), ph, "6.5") for buffer_ph in (low, high)
    ]
    assert amounts[0] >= amounts[1]


def test_memory_only_targets_are_named():
    """A target from memory keeps that word in its sources."""
    assert lime.target_ph(make_turf("bahiagrass", [SoilPh(5.5, 6.5, MEMORY)])).sources == MEMORY
