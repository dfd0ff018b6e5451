"""Growth potential and growth state."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from season_cases import (
    BERMUDAGRASS,
    GRIFFIN,
    MEMORY,
    SOUTHERN,
    TALL_FESCUE,
    TROPICAL,
    frost,
    make_turf,
    shipped_places,
)

from weedkey.model.turf import Range
from weedkey.model.vocabulary import GROWTH_STATES
from weedkey.season import (
    dormancy_or_none,
    green_up_or_none,
    growth_potential,
    growth_state,
    last_green_up_or_none,
)
from weedkey.units import to_fahrenheit


@pytest.mark.parametrize(
    ("mean_c", "cool", "warm"),
    [(10, 0.191, 0.011), (15, 0.662, 0.073), (20, 1.0, 0.291), (24.8, 0.683, 0.676), (25, 0.662, 0.693),
     (28, 0.347, 0.912), (31, 0.135, 1.0)],
)  # fmt: skip
def test_growth_potential_of_the_published_equation(mean_c, cool, warm):
    """Cool- and warm-season growth potential at seven mean temperatures."""
    # Source: turfgrass research centre, growth potential article, 2014 (equation as in Golf Course Management 2005).
    assert growth_potential("cool", to_fahrenheit(mean_c)) == pytest.approx(cool, abs=5e-4)
    assert growth_potential("warm", to_fahrenheit(mean_c)) == pytest.approx(warm, abs=5e-4)


def test_published_check_values():
    """Above 24.8 °C warm-season turf grows more than cool-season; 2.5 °C off the optimum leaves 0.90."""
    # Source: turfgrass research centre, two articles of 2023.
    assert growth_potential("warm", to_fahrenheit(24.9)) > growth_potential("cool", to_fahrenheit(24.9))
    assert growth_potential("warm", to_fahrenheit(24.7)) < growth_potential("cool", to_fahrenheit(24.7))
    assert growth_potential("cool", to_fahrenheit(22.5)) == pytest.approx(0.90, abs=5e-3)


def test_heat_does_not_slow_warm_season_turf():
    """Above 31 °C the warm-season potential stays at 1."""
    # Source: turfgrass research centre, 2014 ("31 or higher").
    assert growth_potential("warm", 105) == 1


def test_an_unknown_season_is_refused():
    """There are two seasons."""
    with pytest.raises(ValueError, match="neither"):
        growth_potential("wet", 70)


@given(st.sampled_from(["warm", "cool"]), st.floats(-40, 130))
def test_potential_is_a_share(season, mean_f):
    """Always between 0 and 1."""
    assert 0 <= growth_potential(season, mean_f) <= 1


@pytest.mark.parametrize(
    ("on", "state"),
    [(date(2026, 1, 20), "dormant"), (date(2026, 4, 5), "green_up"), (date(2026, 6, 15), "growing"),
     (date(2026, 10, 15), "growing"), (date(2026, 11, 25), "semi_dormant")],
)  # fmt: skip
def test_bermudagrass_through_the_year_at_griffin(on, state):
    """Dormant in January, greening up in early April, growing from June to October, semi-dormant in late November."""
    # Source: Delaware summary of an NC State report, 2007 (50 °F soil); UGA 2010, 2025 (65 °F soil); practice.
    found, step = growth_state(BERMUDAGRASS, GRIFFIN, on)
    assert found == step.outcome == state


@pytest.mark.parametrize(
    ("place", "earliest", "latest"),
    [
        # Source: NC State bermudagrass calendar: full green-up, then several weeks to early April-May feeding.
        ("charlotte_nc", date(2026, 4, 10), date(2026, 5, 15)),
        # Source: Augusta county column, 2012: full green-up of bahiagrass early to mid May is the Georgia late end.
        ("macon_ga", date(2026, 4, 1), date(2026, 5, 15)),
        # Source: University of Missouri G6706: zoysiagrass of good quality from mid-May in Missouri (Topeka is west).
        ("topeka_ks", date(2026, 5, 1), date(2026, 5, 25)),
    ],
)
def test_full_green_up_of_warm_season_turf(place, earliest, latest):
    """Green-up ends within the published weeks."""
    _, last = green_up_or_none(BERMUDAGRASS, shipped_places()[place], 2026)
    assert earliest <= last <= latest


def test_warm_season_turf_rests_at_fall_frosts():
    """Zoysiagrass in the Missouri climate rests from the frosts of October."""
    # Source: University of Missouri G6706 (dormant at fall frosts); Topeka first 32 °F on 14 October.
    first, full = dormancy_or_none(make_turf("zoysiagrass"), shipped_places()["topeka_ks"], 2026)
    assert first == date(2026, 10, 14)
    assert first < full < date(2026, 12, 1)


@pytest.mark.parametrize(
    ("place", "on", "state"),
    [
        # Source: Delaware summary of an NC State report, 2007 (roots stop at 77 °F, shoots at 40 °F, soil at 4 inches).
        ("griffin_ga", date(2026, 7, 20), "heat_stress"),
        ("griffin_ga", date(2026, 10, 10), "growing"),
        ("indianapolis_in", date(2026, 1, 20), "dormant"),
        ("indianapolis_in", date(2026, 3, 20), "green_up"),
        ("indianapolis_in", date(2026, 9, 15), "growing"),
        ("seattle_wa", date(2026, 1, 20), "growing"),
    ],
)
def test_tall_fescue_by_place(place, on, state):
    """Heat stress in a Georgia July, dormancy in an Indiana January, growth through a Seattle winter."""
    assert growth_state(TALL_FESCUE, shipped_places()[place], on)[0] == state


def test_no_winter_no_rest():
    """Where nothing freezes or cools the turf grows all year and never greens up."""
    days = [date(2026, 1, 1) + timedelta(days=offset) for offset in range(0, 365, 10)]
    assert {growth_state(BERMUDAGRASS, TROPICAL, day)[0] for day in days} == {"growing"}
    assert green_up_or_none(BERMUDAGRASS, TROPICAL, 2026) is None
    assert dormancy_or_none(BERMUDAGRASS, TROPICAL, 2026) is None


def test_half_a_year_later_south_of_the_equator():
    """January is growth and July is dormancy in the turned place."""
    assert growth_state(BERMUDAGRASS, SOUTHERN, date(2026, 1, 20))[0] == "growing"
    assert growth_state(BERMUDAGRASS, SOUTHERN, date(2026, 7, 20))[0] == "dormant"
    first, last = green_up_or_none(BERMUDAGRASS, SOUTHERN, 2026)
    assert date(2026, 9, 1) < first < last < date(2026, 11, 15)
    assert last_green_up_or_none(BERMUDAGRASS, SOUTHERN, date(2027, 1, 20)) == (first, last)
    assert last_green_up_or_none(BERMUDAGRASS, TROPICAL, date(2027, 1, 20)) is None


def test_the_turfs_own_figure_decides_dormancy():
    """A turf whose entry says 55 °F rests when one of the season's figure does not; air figures are not soil."""
    on = date(2026, 12, 5)
    tender = make_turf("tender", dormant_below_f=(Range(55, 55, "F soil", MEMORY),))
    by_air = make_turf("by_air", dormant_below_f=(Range(60, 60, "F air", MEMORY),))
    states = [growth_state(turf, GRIFFIN, on)[0] for turf in (tender, BERMUDAGRASS, by_air)]
    assert states == ["dormant", "semi_dormant", "semi_dormant"]


def test_a_published_frost_ends_the_season():
    """An early published frost brings semi-dormancy before the air alone would."""
    early = replace(GRIFFIN, frost=(frost("first_autumn", 10, 20, "mean"),))
    assert growth_state(BERMUDAGRASS, early, date(2026, 10, 25))[0] == "semi_dormant"
    assert growth_state(BERMUDAGRASS, GRIFFIN, date(2026, 10, 25))[0] == "growing"


def test_the_state_explains_itself():
    """Soil, air and sources stand in the step."""
    _, step = growth_state(BERMUDAGRASS, GRIFFIN, date(2026, 1, 20))
    assert step.rule == "season.growth_state"
    assert {"soil_f", "air_mean_f", "warming", "place"} <= set(step.facts)
    assert {"udel_temp07", "dssat_cli_ga"} <= set(step.sources)


@given(st.sampled_from([BERMUDAGRASS, TALL_FESCUE]), st.dates(date(2024, 1, 1), date(2027, 12, 31)))
def test_every_day_has_a_state_of_the_vocabulary(turf, on):
    """No day of the year and no leap day is without a state."""
    for place in (GRIFFIN, SOUTHERN, TROPICAL):
        assert growth_state(turf, place, on)[0] in GROWTH_STATES
