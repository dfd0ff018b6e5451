"""Soil temperature: the damped wave, and published figures."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from season_cases import GRIFFIN, SOUTHERN, shipped_places

from weedkey.season import mean_temperature_f, soil_temperature_f
from weedkey.season.own_record import OwnTemperatures
from weedkey.season.soil import DIFFUSIVITY_M2_S, is_warming
from weedkey.units import to_celsius

DEPTH_IN = st.floats(0, 40)


def year_of_soil(place, depth_in, year=2023):
    """Soil temperature of every day of a year."""
    return [soil_temperature_f(place, date(year, 1, 1) + timedelta(days=day), depth_in) for day in range(365)]


def test_mean_of_the_soil_follows_the_mean_of_the_air():
    """Mean annual soil = 2.49 + 0.91 x mean annual air, in °C, at any depth."""
    # Source: Soil Science Society of America Journal 2021(6):2100-2114 (69 stations, error 0.74 °C).
    air = sum(mean_temperature_f(GRIFFIN, date(2023, 1, 1) + timedelta(days=day)) for day in range(365)) / 365
    for depth in (1, 4, 20):
        mean = sum(year_of_soil(GRIFFIN, depth)) / 365
        assert to_celsius(mean) == pytest.approx(2.49 + 0.91 * to_celsius(air), abs=0.02)


def test_a_single_wave_is_damped_and_delayed_as_published():
    """A pure yearly wave of 20 °F keeps exp(-z/d) of its swing and lags by z/d of a radian."""
    # Source: Oklahoma State University, soil physics model description: d = sqrt(2 D / w).
    share = [(month + 0.5) / 12 for month in range(12)]
    wave = tuple(60 - 20 * math.cos(2 * math.pi * part) for part in share)
    place = replace(GRIFFIN, high_f=wave, low_f=wave)
    top, deep = year_of_soil(place, 0), year_of_soil(place, 40)
    damping = 40 * 0.0254 / math.sqrt(2 * DIFFUSIVITY_M2_S / (2 * math.pi / (365.2425 * 86400)))
    swing = (max(deep) - min(deep)) / (max(top) - min(top))
    assert swing == pytest.approx(math.exp(-damping), abs=0.01)
    lag_days = deep.index(max(deep)) - top.index(max(top))
    assert lag_days == pytest.approx(damping * 365.25 / (2 * math.pi), abs=2)


@given(DEPTH_IN, DEPTH_IN)
def test_deeper_never_swings_more(one, other):
    """The yearly swing never grows with depth."""
    shallow, deep = sorted((one, other))
    top, bottom = year_of_soil(GRIFFIN, shallow), year_of_soil(GRIFFIN, deep)
    assert max(bottom) - min(bottom) <= max(top) - min(top) + 0.05


@pytest.mark.parametrize(
    ("month", "day", "normal_f"),
    [
        # Source: Illinois State Water Survey: 4 inches under sod, state mean 78.3 °F on 15 July, 0.9 above the average.
        (7, 15, 77.4),
        # Source: Illinois State Water Survey, July 2018: 81 °F, 4 above the average, first half of July.
        (7, 8, 77.0),
    ],
)
def test_illinois_soil_under_sod_in_july(month, day, normal_f):
    """Chicago and Indianapolis lie around the published Illinois mean at 4 inches, within 3 °F."""
    places = shipped_places()
    for place in ("chicago_il", "indianapolis_in"):
        assert soil_temperature_f(places[place], date(2026, month, day)) == pytest.approx(normal_f, abs=3)


def test_illinois_soil_under_sod_in_winter():
    """From 1 November to 15 February the model lies within 3 °F of the published 38.6 °F (a normal winter)."""
    # Source: Illinois State Water Survey, February 2015.
    days = [date(2025, 11, 1) + timedelta(days=offset) for offset in range(107)]
    places = shipped_places()
    means = [
        sum(soil_temperature_f(places[place], day) for day in days) / len(days)
        for place in ("chicago_il", "indianapolis_in")
    ]
    assert sum(means) / 2 == pytest.approx(38.6, abs=3)


def test_own_warm_spell_warms_the_soil_slowly():
    """Two weeks 10 °F above the normal warm 1 inch more than 8 inches, and neither by more than 10."""
    start = date(2026, 3, 1)
    days = {}
    for offset in range(14):
        day = start + timedelta(days=offset)
        mean = mean_temperature_f(GRIFFIN, day) + 10
        days[day] = (mean - 10, mean + 10)
    own = OwnTemperatures(days)
    end = start + timedelta(days=13)
    gains = [
        soil_temperature_f(GRIFFIN, end, depth, own) - soil_temperature_f(GRIFFIN, end, depth) for depth in (1, 4, 8)
    ]
    assert 10 > gains[0] > gains[1] > gains[2] > 2
    later = end + timedelta(days=59)
    assert soil_temperature_f(GRIFFIN, later, 4, own) - soil_temperature_f(GRIFFIN, later, 4) < 1


def test_own_record_equal_to_the_normals_changes_nothing():
    """A record of normal days gives the normal soil."""
    days = {}
    for offset in range(90):
        day = date(2026, 1, 1) + timedelta(days=offset)
        mean = mean_temperature_f(GRIFFIN, day)
        days[day] = (mean - 8, mean + 8)
    on = date(2026, 3, 20)
    assert soil_temperature_f(GRIFFIN, on, 4, OwnTemperatures(days)) == pytest.approx(
        soil_temperature_f(GRIFFIN, on, 4)
    )


def test_warming_half_of_the_year():
    """April warms and October cools in the north, the other way round in the south."""
    assert [is_warming(GRIFFIN, date(2026, month, 15)) for month in (4, 10)] == [True, False]
    assert [is_warming(SOUTHERN, date(2026, month, 15)) for month in (4, 10)] == [False, True]


def test_depth_above_ground_is_refused():
    """A negative depth is no depth."""
    with pytest.raises(ValueError, match="above the ground"):
        soil_temperature_f(GRIFFIN, date(2026, 3, 1), -1)
