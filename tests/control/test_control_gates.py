"""Each gate by itself: what opens it, what shuts it, what makes it ask."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from control_cases import (
    MEMORY,
    PUBLISHED,
    annual,
    chemical,
    home_bar,
    knowledge,
    resisted,
    response,
    row,
    setting,
    weed,
)
from hypothesis import given
from hypothesis import strategies as st

from weedkey.control import Choice, GateResult, Setting, list_choices
from weedkey.control.gatebook import GateBook
from weedkey.control.gates import GATES
from weedkey.model.control import (
    Adjuvant,
    Control,
    Gate,
    Limit,
    Reseeding,
    Resistance,
    SiteRule,
    Tolerance,
    WorksOn,
    Yearly,
)
from weedkey.model.lawn import LabelRate, PastApplication, Seeding, Tree
from weedkey.model.weed import Caution, Weed

SAFE = row("bermudagrass", "safe")
DAY = date(2025, 5, 15)


def choice(control: Control, *, others: tuple[Control, ...] = (), plant: Weed | None = None, **more: object) -> Choice:
    """The choice of this control against a weed on which it is good."""
    target = plant or weed("a", responses=(response(control.id, "good", timing="any"),))
    found = list_choices(knowledge([target], [control, *others]), target.id, setting(**more))
    return next(item for item in found if item.control == control.id)


def gate(name: str, control: Control, **more: object) -> GateResult:
    """One gate of that choice."""
    return next(result for result in choice(control, **more).gates if result.gate == name)


def outcome(name: str, control: Control, **more: object) -> str:
    """The rule id of that gate's step."""
    return gate(name, control, **more).step.rule


def limited(kind: str, value: float) -> Control:
    """A safe herbicide with one limit."""
    return chemical("x", SAFE, limits=(Limit(kind, value, PUBLISHED),))


def test_a_choice_shows_every_gate_in_the_fixed_order() -> None:
    """What would open a control can only be seen if no gate is left out."""
    shown = [result.gate for result in choice(chemical("x", SAFE)).gates]
    assert shown == [one.id for one in GATES]


def test_every_gate_result_names_a_rule_of_its_gate() -> None:
    """The wording of the report rests on the outcome words that each gate declares."""
    outcomes = {one.id: one.outcomes for one in GATES}
    for result in choice(chemical("x", SAFE)).gates:
        name, _, word = result.step.rule.partition(".")
        assert (name, word in outcomes[result.gate]) == (result.gate, True)


def test_the_label_is_always_asked() -> None:
    """Source: EPA, label review manual: use inconsistent with the label breaks the law."""
    result = gate("label", chemical("x", SAFE))
    assert (result.state, result.needed, "epa_label" in result.step.sources) == ("ask", False, True)


# --- site and licence ---------------------------------------------------------------------------------------------


def test_barred_on_the_site_is_shut_whatever_else_is_true() -> None:
    """Source: UGA landscape alert (2009): MSMA is not labelled on residential turf."""
    control = chemical("msma", SAFE, sites=(home_bar(),))
    assert outcome("site", control) == "site.barred"
    assert not choice(control, licensed=True).offered
    assert choice(control, site="golf").offered


def test_a_bar_on_one_part_bars_the_mixture() -> None:
    """A mixture with a barred part is barred, even if a row of its own allows it."""
    part = chemical("msma", sites=(home_bar(),))
    mixture = chemical("msma_plus_x", SAFE, parts=("msma", "x"), sites=(SiteRule("home_lawn", "allowed", PUBLISHED),))
    assert outcome("site", mixture, others=(part, chemical("x"))) == "site.barred"


def test_without_a_site_row_the_label_must_list_the_site() -> None:
    """Silence about the site asks and does not shut."""
    result = gate("site", chemical("x", SAFE))
    assert (result.state, result.needed, result.step.rule) == ("ask", False, "site.not_listed")


def test_without_a_site_a_control_that_is_barred_somewhere_waits_for_the_site() -> None:
    """A control that may be barred here is not offered before the site is known."""
    control = chemical("msma", SAFE, sites=(home_bar(),))
    assert (gate("site", control, site=None).state, choice(control, site=None).offered) == ("ask", False)
    assert choice(chemical("x", SAFE), site=None).offered
    school = SiteRule("school_ground", "barred", PUBLISHED, states=("CT",))
    sod = SiteRule("sod_farm", "barred", PUBLISHED)
    assert choice(chemical("x", SAFE, sites=(school, sod)), site=None).offered


@pytest.mark.parametrize(
    ("licensed", "state", "offered"), [(True, "ask", True), (None, "ask", False), (False, "shut", False)]
)
def test_a_restricted_use_needs_the_licence(licensed: bool | None, state: str, offered: bool) -> None:
    """Restricted to certified applicators: shut without a licence, not offered before it is known."""
    control = chemical("x", SAFE, sites=(SiteRule("home_lawn", "restricted", PUBLISHED, licence=True),))
    found = choice(control, licensed=licensed, paid=False)
    assert (found.gates[0].state, found.offered) == (state, offered)


def test_spot_only_sites_shut_the_broadcast_use() -> None:
    """Source: federal agreement of 2009: MSMA on golf turf as spot treatment only."""
    control = chemical("x", SAFE, sites=(SiteRule("golf", "restricted", PUBLISHED, spot_only=True),))
    broadcast = choice(control, site="golf")
    assert (broadcast.offered, broadcast.spot) == (False, True)
    assert choice(control, site="golf", spot=True).offered


def test_a_rule_of_some_states_waits_for_the_state() -> None:
    """Source: trade report (2013): MSMA is not for golf turf in Florida."""
    control = chemical("x", SAFE, sites=(SiteRule("golf", "barred", PUBLISHED, states=("FL",)),))
    assert not choice(control, site="golf", state="").offered
    assert not choice(control, site="golf", state="fl").offered
    assert choice(control, site="golf", state="GA").offered


def test_connecticut_schools_bar_every_lawn_pesticide() -> None:
    """Source: University of Connecticut Extension: no registered lawn pesticide on K-8 school grounds."""
    assert outcome("site", chemical("x", SAFE), site="school_ground", state="CT") == "site.barred_school"
    assert choice(chemical("x", SAFE), site="school_ground", state="TN").offered


@pytest.mark.parametrize(
    ("paid", "licensed", "state"),
    [(True, True, "open"), (True, False, "shut"), (True, None, "ask"), (None, False, "ask"), (False, False, "open")],
)
def test_paid_work_needs_a_licence(paid: bool | None, licensed: bool | None, state: str) -> None:
    """Source: NC Cooperative Extension (2015) and Clemson: no exception for general-use weed killers."""
    assert gate("licence", chemical("x", SAFE), paid=paid, licensed=licensed).state == state


def test_in_south_carolina_a_quote_is_already_regulated() -> None:
    """Source: Clemson Extension (2006), category 3: soliciting or proposing counts."""
    assert gate("licence", chemical("x", SAFE), state="SC").step.facts["quote_is_regulated"] is True


# --- turf, cultivar, stand, growth ----------------------------------------------------------------------------------


@pytest.mark.parametrize("result", ["injures", "not_labelled"])
def test_injury_and_no_label_shut_the_turf_gate(result: str) -> None:
    """Nothing that a row forbids is offered."""
    found = choice(chemical("x", row("bermudagrass", result)))
    assert (found.offered, found.tolerance) == (False, result)


def test_no_row_shuts_the_turf_gate() -> None:
    """Silence is not safety."""
    assert outcome("turf", chemical("x")) == "turf.not_known"
    assert not choice(chemical("x")).offered


def test_parts_say_nothing_of_a_mixtures_safety() -> None:
    """Amicarbazone turns mesotrione harmful on bluegrass (HortScience 53(11), 2018): parts do not add up."""
    mixture = chemical("x_plus_y", parts=("x", "y"))
    assert outcome("turf", mixture, others=(chemical("x", SAFE), chemical("y", SAFE))) == "turf.not_known"


def test_a_safe_row_with_an_open_condition_waits_for_the_answer() -> None:
    """Safe when dormant, and nobody said whether the turf is dormant: asked, not offered."""
    found = choice(chemical("x", row("bermudagrass", "safe", growth=("dormant",))), growth=None)
    assert (found.offered, [one.step.rule for one in found.shut_by]) == (False, ["turf.depends"])


def test_a_cultivar_is_asked_for_where_rows_depend_on_it() -> None:
    """Zoysiagrass cultivars differ (Weed Technology, 1999)."""
    control = chemical("x", SAFE, row("bermudagrass", "caution", cultivars=("diamond",)))
    assert outcome("cultivar", control) == "cultivar.not_known"
    assert outcome("cultivar", control, cultivar="diamond") == "cultivar.stated"
    assert outcome("cultivar", chemical("x", SAFE)) == "cultivar.no_difference"


@pytest.mark.parametrize(("mowings", "offered"), [(None, False), (2, False), (3, True)])
def test_young_turf_is_mown_three_times_first(mowings: int | None, offered: bool) -> None:
    """Source: Clemson HGIC: mow new sod or seedlings three times before any herbicide."""
    found = choice(chemical("x", SAFE), stand="seedling", mowings_since_seeding=mowings)
    assert found.offered is offered


def test_a_row_for_the_very_stage_opens_young_turf() -> None:
    """Source: Weed Technology (2024): a mixture that newly sprigged bermudagrass stood."""
    control = chemical("x", row("bermudagrass", "safe", stand=("sprigs_or_plugs",)))
    assert outcome("stand", control, stand="sprigs_or_plugs") == "stand.row_for_stage"
    assert choice(control, stand="sprigs_or_plugs").offered


def test_a_barrier_waits_until_the_stand_is_a_year_old() -> None:
    """Source: UGA Extension, McIntosh County (2024): turf established over a year."""
    control = chemical("x", SAFE, kind="pre_emergence")
    plant = annual("a", responses=(response("x", "good", timing="pre_emergence"),))
    march = date(2025, 3, 5)
    assert outcome("stand", control, plant=plant, on=march, stand_age_days=300) == "stand.too_young"
    assert choice(control, plant=plant, on=march, stand_age_days=400).offered


def test_an_age_limit_of_its_own() -> None:
    """Sixteen months of establishment for indaziflam (from memory, many labels)."""
    assert outcome("stand", limited("stand_age_days", 487), stand_age_days=400) == "stand.too_young"
    assert outcome("stand", limited("stand_age_days", 487), stand_age_days=None) == "stand.age_not_known"


def test_an_unknown_stand_is_needed() -> None:
    """Young and old turf differ too much to guess."""
    assert not choice(chemical("x", SAFE), stand=None).offered


@pytest.mark.parametrize("growth", ["green_up", "heat_stress", "drought_stress"])
def test_no_spray_on_leaves_at_green_up_or_under_stress(growth: str) -> None:
    """Source: Clemson HGIC and UGA Extension (2019): not in spring transition, heat or drought."""
    assert outcome("growth", chemical("x", SAFE), growth=growth) == f"growth.{growth}"
    assert not choice(chemical("x", SAFE), growth=growth).offered


def test_a_barrier_may_go_down_at_green_up() -> None:
    """The green-up rule is about post-emergence herbicides."""
    plant = annual("a", responses=(response("x", "good", timing="pre_emergence"),))
    control = chemical("x", SAFE, kind="pre_emergence")
    assert choice(control, plant=plant, on=date(2025, 3, 20), growth="green_up").offered


def test_weeks_after_green_up() -> None:
    """Source: UGA: clethodim on centipedegrass not within 3 weeks after green-up."""
    control = limited("days_after_green_up", 21)
    assert outcome("growth", control, days_since_green_up=14) == "growth.too_soon_after_green_up"
    assert gate("growth", control, days_since_green_up=None).state == "ask"
    assert gate("growth", control, days_since_green_up=21).state == "open"


def test_a_measure_waits_for_its_state_of_growth() -> None:
    """Do not aerate dormant turf: the control's own rows."""
    coring = Control(
        "coring",
        "coring",
        "soil",
        MEMORY,
        gates=(Gate("only_while_growing", MEMORY, growth=("growing",)),),
        works_on=(WorksOn("fair", MEMORY),),
    )
    assert gate("growth", coring, plant=weed("a"), growth="dormant").state == "shut"
    assert gate("growth", coring, plant=weed("a"), growth="growing").state == "open"


# --- non-selective --------------------------------------------------------------------------------------------------

GLYPHOSATE = chemical(
    "glyphosate",
    row("any", "injures", growth=("growing", "green_up", "semi_dormant")),
    row("bermudagrass", "caution", growth=("dormant",)),
    row("zoysiagrass", "caution", growth=("dormant",)),
    kind="non_selective",
)
WINTER = {"on": date(2025, 1, 20), "growth": "dormant", "air_high_f": 62.0, "air_low_f": 41.0}


def test_a_non_selective_control_is_for_the_spot_only_on_growing_turf() -> None:
    """It kills whatever green it touches: never offered over the turf, usable on the spot."""
    found = choice(GLYPHOSATE)
    assert (found.offered, found.spot, found.tolerance) == (False, True, "injures")
    asked = choice(GLYPHOSATE, spot=True)
    assert (asked.offered, asked.spot) == (False, True)


@pytest.mark.parametrize(
    ("turf", "growth", "offered"),
    [
        ("bermudagrass", "dormant", True),
        ("bermudagrass", "semi_dormant", False),
        ("bermudagrass", "green_up", False),
        ("bermudagrass", None, False),
        ("zoysiagrass", "dormant", False),
        ("centipedegrass", "dormant", False),
        ("st_augustinegrass", "dormant", False),
        ("tall_fescue", "dormant", False),
    ],
)
def test_a_spray_over_dormant_turf_is_for_fully_dormant_bermudagrass_only(
    turf: str, growth: str | None, offered: bool
) -> None:
    """Source: Mississippi State (2010), Virginia Tech, USGA (2014); other turfs only on the spot."""
    plant = annual("poa", "winter_annual", responses=(response("glyphosate", "good"),))
    found = choice(GLYPHOSATE, plant=plant, turf=turf, **(WINTER | {"growth": growth}))
    assert found.offered is offered


@pytest.mark.parametrize(("high", "state"), [(48.0, "shut"), (55.0, "ask"), (62.0, "open")])
def test_glyphosate_on_dormant_turf_needs_a_warm_day(high: float, state: str) -> None:
    """Source: USGA (2014): at least 50 F; Mississippi State (2010): far better above 60 F."""
    plant = annual("poa", "winter_annual", responses=(response("glyphosate", "good"),))
    assert gate("air_temperature", GLYPHOSATE, plant=plant, **(WINTER | {"air_high_f": high})).state == state


# --- the day --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("turf", "high", "state"),
    [
        ("bermudagrass", 84.0, "open"),
        ("bermudagrass", 87.0, "ask"),
        ("bermudagrass", 90.0, "ask"),
        ("bermudagrass", 91.0, "shut"),
        ("st_augustinegrass", 85.0, "open"),
        ("st_augustinegrass", 86.0, "shut"),
        ("tall_fescue", 80.0, "open"),
        ("tall_fescue", 82.0, "ask"),
        ("tall_fescue", 92.0, "shut"),
        ("bermudagrass", 45.0, "ask"),
        ("bermudagrass", None, "ask"),
    ],
)
def test_ceilings_of_air_temperature(turf: str, high: float | None, state: str) -> None:
    """Source: UF (2021): 90 F, 85 F on St. Augustinegrass; Purdue: risk above 85; Kent County (2009): cool turf 80."""
    control = chemical("x", row("any", "safe"))
    assert gate("air_temperature", control, turf=turf, air_high_f=high).state == state


def test_own_ceiling_and_floor_stop_the_day() -> None:
    """Source: Iowa State (1995): 2,4-D + mecoprop + dicamba not above 85 F; PNW: amicarbazone 55 to 80 F."""
    assert outcome("air_temperature", limited("air_max_f", 85), air_high_f=86.0) == "air_temperature.above_ceiling"
    assert outcome("air_temperature", limited("air_min_f", 55), air_high_f=54.0) == "air_temperature.below_floor"


def test_a_mixture_keeps_the_strictest_limit_of_its_parts() -> None:
    """Limits add up over the parts."""
    part = chemical("p", limits=(Limit("air_max_f", 80, PUBLISHED),))
    mixture = chemical("p_plus_q", SAFE, parts=("p", "q"))
    assert gate("air_temperature", mixture, others=(part,), air_high_f=82.0).state == "shut"


def test_amicarbazone_stops_before_a_cold_night() -> None:
    """Source: PNW handbook: not if a drop below 55 F is due."""
    control = chemical("amicarbazone", SAFE)
    assert outcome("air_temperature", control, air_low_f=50.0) == "air_temperature.night_too_cold"


def test_atrazine_waits_out_a_cold_spell() -> None:
    """Source: Augusta Chronicle (2010): upper 50s F at least."""
    plant = annual("a", "winter_annual", responses=(response("atrazine", "good"),))
    control = chemical("atrazine", SAFE)
    cold = {"on": date(2025, 1, 10), "air_low_f": 44.0}
    assert gate("air_temperature", control, plant=plant, air_high_f=52.0, **cold).state == "shut"
    assert gate("air_temperature", control, plant=plant, air_high_f=60.0, **cold).state == "open"


@pytest.mark.parametrize(("mph", "state"), [(None, "ask"), (1.0, "ask"), (5.0, "open"), (8.0, "open"), (9.0, "shut")])
def test_wind(mph: float | None, state: str) -> None:
    """Source: Pesticide Environmental Stewardship: 3 to 8 mph; calm air may hold an inversion."""
    assert gate("wind", chemical("x", SAFE), wind_mph=mph).state == state


def test_own_wind_limit() -> None:
    """Source: Iowa State (1995): not above 5 mph for 2,4-D + mecoprop + dicamba."""
    assert gate("wind", limited("wind_max_mph", 5), wind_mph=6.0).state == "shut"


@pytest.mark.parametrize(("hours", "state"), [(None, "ask"), (20.0, "shut"), (24.0, "open")])
def test_rain_within_a_day(hours: float | None, state: str) -> None:
    """Source: UF (2021): no rain expected for 24 hours."""
    assert gate("rain", chemical("x", SAFE), hours_to_rain=hours).state == state


def test_own_rain_free_time() -> None:
    """Source: Nebraska table (2016): dicamba 4 h, glyphosate 0.5 to 1 h."""
    assert gate("rain", limited("rain_free_hours", 4), hours_to_rain=3.0).state == "shut"
    assert gate("rain", limited("rain_free_hours", 4), hours_to_rain=6.0).state == "ask"


@pytest.mark.parametrize(
    ("hours", "days_a_week", "state"), [(None, None, "ask"), (None, 0, "open"), (8.0, 7, "shut"), (12.0, 7, "open")]
)
def test_irrigation(hours: float | None, days_a_week: float | None, state: str) -> None:
    """Source: UF (2021): no irrigation for 12 hours after."""
    result = gate("irrigation", chemical("x", SAFE), hours_to_irrigation=hours, irrigation_days_a_week=days_a_week)
    assert result.state == state


@pytest.mark.parametrize(
    ("since", "to", "state"), [(None, None, "ask"), (1, 5, "shut"), (4, 1, "shut"), (4, 3, "open"), (4, None, "ask")]
)
def test_mowing(since: float | None, to: float | None, state: str) -> None:
    """Source: Clemson HGIC: 3 to 4 days before, 2 to 3 days after."""
    assert gate("mowing", chemical("x", SAFE), days_since_mowing=since, days_to_mowing=to).state == state


def test_a_week_without_mowing_for_sethoxydim() -> None:
    """Source: UGA: sethoxydim on centipedegrass, one week each side."""
    assert gate("mowing", limited("no_mow_days_before", 7), days_since_mowing=4, days_to_mowing=9).state == "shut"


def test_soil_ph() -> None:
    """Source: PNW handbook: amicarbazone not above soil pH 7.4."""
    control = limited("soil_ph_max", 7.4)
    assert [gate("soil_ph", control, soil_ph=value).state for value in (None, 7.4, 7.5)] == ["ask", "open", "shut"]


# --- surroundings ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("trees", "under", "state"),
    [
        (None, None, "ask"),
        ((), None, "open"),
        ((), True, "shut"),
        ((Tree("oak", 5, 40),), False, "shut"),
        ((Tree("oak", 30, 40),), False, "ask"),
        ((Tree("oak", None, 40),), None, "ask"),
        ((Tree("oak", 60, 40),), False, "open"),
    ],
)
def test_roots_of_trees(trees: tuple[Tree, ...] | None, under: bool | None, state: str) -> None:
    """Source: Delaware (2008): dicamba not within the dripline, roots reach as far as the tree is tall."""
    assert gate("trees", chemical("dicamba", SAFE), trees=trees, under_trees=under).state == state


def test_a_part_that_roots_take_up_counts_for_the_mixture() -> None:
    """Root zones add up over the parts."""
    mixture = chemical("2_4_d_plus_dicamba", SAFE, parts=("2_4_d", "dicamba"))
    assert gate("trees", mixture, others=(chemical("dicamba"),), under_trees=True).state == "shut"


def test_a_vapour_caution_asks_near_trees() -> None:
    """Source: K-State: ester vapour harms redbud and grape."""
    control = chemical("x", SAFE, cautions=(Caution("trees", "vapour", PUBLISHED),))
    assert gate("trees", control, trees=(Tree("redbud", 10, 20),)).step.rule == "trees.tree_near"


@pytest.mark.parametrize(
    ("well", "water", "state"),
    [(None, None, "ask"), (True, 900.0, "ask"), (False, 50.0, "ask"), (False, 500.0, "open"), (False, None, "ask")],
)
def test_wells_and_water(well: bool | None, water: float | None, state: str) -> None:
    """A caution about water asks until well and water are known to be away."""
    control = chemical("x", SAFE, cautions=(Caution("water", "leaches", PUBLISHED),))
    assert gate("wells_and_water", control, well=well, water_distance_ft=water).state == state


def test_the_published_buffer_of_msma() -> None:
    """Source: federal agreement of 2009: 25 feet beside permanent water."""
    control = chemical("msma", SAFE)
    assert gate("wells_and_water", control, site="golf", water_distance_ft=20.0).state == "shut"


@pytest.mark.parametrize(
    ("children", "pets", "state"), [(None, None, "ask"), (True, False, "ask"), (False, False, "open")]
)
def test_children_and_pets(children: bool | None, pets: bool | None, state: str) -> None:
    """Source: Oregon State (2016): off until dry."""
    assert gate("people", chemical("x", SAFE), children=children, pets=pets).state == state


def reseeded(*rows: Reseeding, kind: str = "selective") -> Control:
    """A herbicide with reseeding intervals."""
    return chemical("x", row("any", "safe"), kind=kind, reseeding=rows)


@pytest.mark.parametrize(("days", "state"), [(20, "shut"), (28, "open")])
def test_four_weeks_before_seeding(days: int, state: str) -> None:
    """Source: Weed Technology 36(4), 2022: halosulfuron 4 weeks before seeding tall fescue."""
    control = reseeded(Reseeding(PUBLISHED, turf="tall_fescue", after_days=28))
    planned = (Seeding(DAY + timedelta(days=days), "tall_fescue"),)
    assert gate("seeding", control, seedings=planned).state == state


def test_slit_seeding_waits_longer() -> None:
    """Source: Weed Technology 19(1), 2005: dithiopyr 6 weeks broadcast, 11 weeks slit seeding."""
    rows = (
        Reseeding(PUBLISHED, turf="tall_fescue", method="seed", after_days=42),
        Reseeding(PUBLISHED, turf="tall_fescue", method="slit_seed", after_days=77),
    )
    on = DAY + timedelta(days=50)
    assert gate("seeding", reseeded(*rows), seedings=(Seeding(on, "tall_fescue", "seed"),)).state == "open"
    assert gate("seeding", reseeded(*rows), seedings=(Seeding(on, "tall_fescue", "slit_seed"),)).state == "shut"


def test_a_barrier_without_an_interval_blocks_seed_for_months() -> None:
    """Source: UGA and Purdue (2011): no barrier before seeding, siduron excepted."""
    plant = annual("a", responses=(response("x", "good", timing="pre_emergence"),))
    more = {"plant": plant, "on": date(2025, 3, 5), "seedings": (Seeding(date(2025, 5, 1), "bermudagrass"),)}
    assert outcome("seeding", reseeded(kind="pre_emergence"), **more) == "seeding.blocks_seed"
    siduron = reseeded(Reseeding(PUBLISHED, allowed_at_seeding=True), kind="pre_emergence")
    assert outcome("seeding", siduron, **more) == "seeding.allowed_at_seeding"


def test_a_seeding_near_without_an_interval_waits_for_the_label() -> None:
    """No number, no guess."""
    planned = (Seeding(DAY + timedelta(days=10), "bermudagrass"),)
    assert not choice(chemical("x", SAFE), seedings=planned).offered


def test_after_seeding() -> None:
    """Source: NC State: mesotrione 4 weeks or two mowings after germination on fine fescue."""
    control = reseeded(Reseeding(PUBLISHED, before_days=28))
    done = (Seeding(DAY - timedelta(days=20), "bermudagrass", done=True),)
    assert outcome("seeding", control, seedings=done) == "seeding.too_soon_after_seed"


def test_the_longest_interval_of_the_parts_counts() -> None:
    """Reseeding intervals add up over the parts."""
    part = chemical("p", reseeding=(Reseeding(PUBLISHED, after_days=40),))
    mixture = chemical("p_plus_q", SAFE, parts=("p",), reseeding=(Reseeding(PUBLISHED, after_days=5),))
    planned = (Seeding(DAY + timedelta(days=20), "bermudagrass"),)
    assert gate("seeding", mixture, others=(part,), seedings=planned).state == "shut"


# --- the record -----------------------------------------------------------------------------------------------------


def past(days: int, control: str = "x", **more: object) -> PastApplication:
    """An application so many days ago."""
    return PastApplication(DAY - timedelta(days=days), control, **more)


def test_yearly_number_of_applications() -> None:
    """Source: PNW handbook: bentazon at most two applications a season."""
    control = chemical("x", SAFE, yearly=(Yearly(PUBLISHED, applications=2),))
    assert gate("yearly_maximum", control, history=(past(40),)).state == "open"
    assert gate("yearly_maximum", control, history=(past(40), past(80))).state == "shut"
    assert gate("yearly_maximum", control, history=(past(40), past(400))).state == "open"


def test_a_mixture_uses_up_its_parts() -> None:
    """Two mixtures with the same active share its maximum."""
    part = chemical("p", yearly=(Yearly(PUBLISHED, applications=1),))
    other = chemical("p_plus_r", parts=("p", "r"))
    mixture = chemical("p_plus_q", SAFE, parts=("p", "q"))
    assert gate("yearly_maximum", mixture, others=(part, other), history=(past(60, "p_plus_r"),)).state == "shut"


def test_yearly_amount() -> None:
    """Source: HortScience 53(11), 2018: mesotrione 560 g/ha a year; amounts in another unit can only be asked about."""
    control = chemical("x", SAFE, yearly=(Yearly(PUBLISHED, amount=560, unit="g/ha"),))
    assert gate("yearly_maximum", control, history=(past(40, amount=280, unit="g/ha"),)).state == "open"
    assert gate("yearly_maximum", control, history=(past(40, amount=560, unit="g/ha"),)).state == "shut"
    assert not choice(control, history=(past(40, amount=0.2, unit="lb/acre"),)).offered


def test_the_typed_maximum_of_the_label() -> None:
    """The label in hand decides: what was used plus the planned rate may not pass its yearly maximum."""
    rate = LabelRate("x", 1.0, "oz", "1000 sq ft", yearly_maximum=2.0)
    used = (past(50, amount=1.5, unit="oz"),)
    assert gate("yearly_maximum", chemical("x", SAFE), history=used, label_rates=(rate,)).state == "shut"


def test_least_interval() -> None:
    """Published and typed intervals; the longer one counts."""
    control = chemical("x", SAFE, yearly=(Yearly(PUBLISHED, interval_days=21),))
    assert gate("interval", control, history=(past(14),)).state == "shut"
    assert gate("interval", control, history=(past(25),)).state == "open"
    typed = (LabelRate("x", 1.0, "oz", "1000 sq ft", interval_days=30),)
    assert gate("interval", control, history=(past(25),), label_rates=typed).state == "shut"
    assert gate("interval", chemical("x", SAFE), history=(past(25),)).state == "ask"


POA = {
    "plant": annual(
        "annual_bluegrass", "winter_annual", responses=(response("x", "good"), response("x_plus_y", "good"))
    )
}


def test_class_rotation_where_resistance_is_known() -> None:
    """Source: Virginia Turfgrass Council, WSSA (2020): annual bluegrass resists four classes; change the class."""
    control = chemical("x", SAFE, group="2", resistance=(resisted("annual_bluegrass"),))
    same = chemical("z", group="2")
    found = gate("class_rotation", control, others=(same,), history=(past(300, "z"),), **POA)
    assert (found.state, found.step.rule) == ("shut", "class_rotation.used_last_year")
    assert gate("class_rotation", control, others=(same,), history=(past(60, "z"),), **POA).state == "open"
    assert gate("class_rotation", control, others=(same,), history=(past(800, "z"),), **POA).state == "open"


def test_another_class_in_the_mixture_keeps_it_open() -> None:
    """Source: UGA (2022): tank-mix two modes of action."""
    x, y = chemical("x", group="2", resistance=(resisted("annual_bluegrass"),)), chemical("y", group="5")
    mixture = chemical("x_plus_y", SAFE, parts=("x", "y"))
    found = gate("class_rotation", mixture, others=(x, y), history=(past(300, "x"),), **POA)
    assert found.step.rule == "class_rotation.other_class_in_mix"
    assert gate("resistance", mixture, others=(x, y), **POA).step.rule == "resistance.part_still_works"


def test_resistance_to_every_part_marks_the_rating() -> None:
    """If every part is resisted the rating holds for susceptible populations only."""
    x = chemical("x", group="2", resistance=(resisted("annual_bluegrass"),))
    y = chemical("y", group="5", resistance=(resisted("annual_bluegrass"),))
    mixture = chemical("x_plus_y", SAFE, parts=("x", "y"))
    found = gate("resistance", mixture, others=(x, y), **POA)
    assert (found.state, found.step.rule) == ("ask", "resistance.susceptible_only")


def test_resistance_without_a_place_is_told_without_a_place() -> None:
    """A source that names no place, or a grade that was given for susceptible plants, does not read "(none)"."""
    control = chemical("x", SAFE, resistance=(Resistance("annual_bluegrass", PUBLISHED),))
    found = gate("resistance", control, **POA)
    assert (found.state, found.step.rule) == ("ask", "resistance.susceptible_somewhere")


# --- the weed -------------------------------------------------------------------------------------------------------


def test_stage_of_the_weed() -> None:
    """Source: Weed Technology (2005 to 2020): mesotrione takes young goosegrass and fails on mature plants."""
    plant = annual(
        "goosegrass",
        responses=(response("x", "poor", stages=("mature",)), response("x", "good", stages=("young",))),
    )
    control = chemical("x", SAFE)
    assert choice(control, plant=plant, weed_stage="young").offered
    assert not choice(control, plant=plant, weed_stage="mature").offered
    unknown = choice(control, plant=plant)
    assert (unknown.offered, unknown.result) == (False, "poor")
    assert gate("weed_stage", control, plant=plant).state == "ask"


def test_a_stage_without_a_rating_shuts() -> None:
    """A rating for seedlings says nothing of tillered plants."""
    plant = annual("a", responses=(response("x", "good", stages=("seedling",)),))
    assert outcome("weed_stage", chemical("x", SAFE), plant=plant, weed_stage="mature") == "weed_stage.wrong_stage"


def test_a_dormant_weed_takes_nothing_up() -> None:
    """Source: Illinois (2011) on tan nimblewill; brown bermudagrass is not killed."""
    assert outcome("weed_stage", chemical("x", SAFE), weed_stage="dormant") == "weed_stage.dormant"


def test_the_weed_must_be_active() -> None:
    """A herbicide on leaves needs leaves."""
    assert outcome("time_of_year", chemical("x", SAFE), on=date(2025, 1, 10)) == "time_of_year.weed_not_active"
    assert outcome("time_of_year", chemical("x", SAFE)) == "time_of_year.fits"


def test_other_months_shut_and_are_named() -> None:
    """Source: HortScience 51(6), 2016: dallisgrass in September, not in May."""
    from weedkey.model.window import Window

    plant = weed("a", responses=(response("x", "excellent", months=(Window.months(9, 9),)),))
    result = gate("time_of_year", chemical("x", SAFE), plant=plant)
    assert (result.step.rule, result.step.facts["months"]) == ("time_of_year.other_months", ["09-01..09-30"])


@pytest.mark.parametrize(
    ("on", "rule"),
    [
        (date(2025, 1, 5), "outside_barrier_window"),
        (date(2025, 3, 1), "barrier_window"),
        (date(2025, 4, 10), "barrier_window"),
        (date(2025, 5, 10), "part_has_sprouted"),
        (date(2025, 8, 1), "outside_barrier_window"),
    ],
)
def test_window_of_a_barrier(on: date, rule: str) -> None:
    """Before the seed sprouts; once it sprouts part is lost."""
    plant = annual("a", responses=(response("x", "good", timing="pre_emergence"),))
    assert (
        outcome("time_of_year", chemical("x", SAFE, kind="pre_emergence"), plant=plant, on=on) == f"time_of_year.{rule}"
    )


def test_a_window_worked_out_for_the_place_replaces_the_rough_one() -> None:
    """The season of the place knows better than whole months."""
    plant = annual("a", responses=(response("x", "good", timing="pre_emergence"),))
    told = (("a", date(2025, 2, 1), date(2025, 2, 20)),)
    control = chemical("x", SAFE, kind="pre_emergence")
    assert gate("time_of_year", control, plant=plant, on=date(2025, 2, 10), barrier_windows=told).state == "open"


def test_a_barrier_does_not_touch_a_standing_perennial() -> None:
    """Source: UGA B1393: perennials from rhizomes, tubers or crowns are not controlled before emergence."""
    plant = weed("a", calendar=annual("b").calendar, responses=(response("x", "fair", timing="pre_emergence"),))
    found = gate("weed_response", chemical("x", SAFE, kind="pre_emergence"), plant=plant, on=date(2025, 3, 10))
    assert found.step.rule == "weed_response.seedlings_only"


@pytest.mark.parametrize("word", ["poor", "none"])
def test_what_does_not_work_is_not_offered(word: str) -> None:
    """Purple nutsedge and bentazon: safe on the turf, useless on the weed."""
    assert not choice(chemical("x", SAFE), plant=weed("a", responses=(response("x", word),))).offered


def test_flowering_weeds_are_mown_before_a_spray() -> None:
    """Source: UGA: mow flowering weeds so that bees are not drawn in."""
    assert gate("bees", chemical("x", SAFE), weed_stage="flowering").step.rule == "bees.mow_first"


def test_every_part_of_a_sequence_must_be_usable() -> None:
    """Dithiopyr then MSMA rates 99 % (Weed Technology), but not where MSMA is barred."""
    from weedkey.model.weed import Sequence

    plant = annual("a", responses=(response("x", "excellent", sequence=Sequence(order=("x", "msma"))),))
    msma = chemical("msma", SAFE, sites=(home_bar(),))
    assert not choice(chemical("x", SAFE), plant=plant, others=(msma,)).offered
    assert choice(chemical("x", SAFE), plant=plant, others=(msma,), site="golf").offered


def test_an_adjuvant_changes_no_gate() -> None:
    """Adjuvants are reported, not judged."""
    control = chemical("x", SAFE, adjuvants=(Adjuvant("required", "nonionic surfactant", PUBLISHED),))
    assert choice(control).offered


def test_every_step_that_shuts_names_a_source() -> None:
    """A reason without a source is no reason."""
    dark: list[Setting] = [
        setting(growth="green_up", wind_mph=20.0, hours_to_rain=1.0, hours_to_irrigation=1.0, days_since_mowing=0),
        setting(
            growth="drought_stress", air_high_f=99.0, on=date(2025, 1, 1), stand="seedling", mowings_since_seeding=0
        ),
        setting(site="school_ground", state="CT", licensed=False, weed_stage="dormant"),
    ]
    target = weed("a", responses=(response("x", "poor"),))
    rows: tuple[Tolerance, ...] = (row("bermudagrass", "injures"),)
    for one in dark:
        found = list_choices(knowledge([target], [chemical("x", *rows)]), "a", replace(one))
        for result in found[0].gates:
            assert result.state != "shut" or result.step.sources, result.step.rule


def test_vapour_of_auxins_in_heat() -> None:
    """Source: University of Delaware (2008): 2,4-D or dicamba not if 85 F is expected; also inside mixtures."""
    mixture = chemical("2_4_d_plus_x", SAFE, parts=("2_4_d", "x"))
    assert gate("air_temperature", mixture, air_high_f=86.0).state == "shut"
    assert gate("air_temperature", mixture, air_high_f=85.0).state == "open"


def test_root_zones_hold_for_parts_without_an_entry_of_their_own() -> None:
    """An ingredient counts even if the knowledge has no control for it alone."""
    mixture = chemical("x_plus_dicamba", SAFE, parts=("x", "dicamba"))
    assert gate("trees", mixture, under_trees=True).state == "shut"


EVERYTHING = chemical(
    "msma",
    row("any", "safe"),
    limits=tuple(
        Limit(kind, value, PUBLISHED)
        for kind, value in (
            ("air_max_f", 85),
            ("air_min_f", 50),
            ("wind_max_mph", 5),
            ("rain_free_hours", 4),
            ("no_irrigation_hours", 12),
            ("no_mow_days_before", 7),
            ("no_mow_days_after", 7),
            ("soil_ph_max", 7.0),
            ("days_after_green_up", 21),
        )
    ),
    parts=("msma", "dicamba"),
    yearly=(Yearly(PUBLISHED, applications=1, interval_days=30),),
    reseeding=(Reseeding(PUBLISHED, after_days=60),),
    resistance=(resisted("a"),),
    cautions=(Caution("trees", "roots", PUBLISHED), Caution("wells", "leaches", PUBLISHED)),
)


def maybe(strategy: st.SearchStrategy[object]) -> st.SearchStrategy[object]:
    """Not known, or a value."""
    return st.none() | strategy


@given(
    more=st.fixed_dictionaries(
        {
            "paid": maybe(st.booleans()),
            "licensed": maybe(st.booleans()),
            "air_high_f": maybe(st.sampled_from((30.0, 70.0, 95.0))),
            "wind_mph": maybe(st.sampled_from((0.0, 4.0, 20.0))),
            "hours_to_rain": maybe(st.sampled_from((0.0, 10.0, 48.0))),
            "hours_to_irrigation": maybe(st.sampled_from((0.0, 48.0))),
            "days_since_mowing": maybe(st.sampled_from((0, 3, 9))),
            "days_to_mowing": maybe(st.sampled_from((0, 3, 9))),
            "soil_ph": maybe(st.sampled_from((0.0, 6.0, 8.0))),
            "under_trees": maybe(st.booleans()),
            "trees": maybe(st.sampled_from(((), (Tree("oak", 0, 40),), (Tree("oak", 500, 40),)))),
            "well": maybe(st.booleans()),
            "water_distance_ft": maybe(st.sampled_from((0.0, 100.0, 900.0))),
            "children": maybe(st.booleans()),
            "cultivar": maybe(st.just("diamond")),
            "history": st.sampled_from(((), (past(5, "msma"),), (past(300, "msma"),))),
            "seedings": st.sampled_from(((), (Seeding(DAY, "bermudagrass"),))),
        }
    )
)
def test_an_idle_gate_keeps_nothing_back(more: dict[str, object]) -> None:
    """The quick answer leaves gates out; none that is left out could have shut, and both answers agree."""
    plant = weed("a", responses=(response("msma", "good"),))
    base = knowledge([plant], [EVERYTHING])
    here = setting(**more)
    found = list_choices(base, "a", here)[0]
    by_id = {one.id: one for one in GATES}
    for result in found.gates:
        assert by_id[result.gate].can_keep_back(here) or result.lets_pass, result.step.rule
    fresh = GateBook(base, here)
    assert fresh.is_offered(EVERYTHING, "broadcast", "post_emergence", plant) is found.offered
