"""Measurements: which one counts, and what it says."""

from __future__ import annotations

from datetime import date

import pytest
from ground_cases import CONDITIONS, MEMORY, make_lawn, make_turf, make_zone

from weedkey.ground.measured import is_reliable_ph, judge_measurements, measurements_of_zone
from weedkey.model.lawn import Measured
from weedkey.model.turf import Range, SoilPh

BY_ID = {condition.id: condition for condition in CONDITIONS}


def says(condition, turf=None, **values):
    """What single measurements say of a condition."""
    rows = {what: value if isinstance(value, Measured) else Measured(what, value) for what, value in values.items()}
    return [reading.says for reading in judge_measurements(BY_ID[condition], rows, turf)]


def test_the_zone_wins_over_the_lawn_and_the_latest_over_the_earlier():
    """A value of the zone counts before the lawn's, a later date before an earlier one."""
    zone = make_zone(
        measured=[Measured("soil_ph", 5.0, on=date(2020, 1, 1)), Measured("soil_ph", 6.2, on=date(2025, 1, 1))]
    )
    lawn = make_lawn(zone, measured=(Measured("soil_ph", 4.4, on=date(2026, 1, 1)), Measured("sun_hours", 3)))
    found = measurements_of_zone(lawn, zone)
    assert (found["soil_ph"].value, found["sun_hours"].value) == (6.2, 3)


def test_what_the_lawn_file_says_elsewhere_is_a_measurement():
    """Mowing height, irrigation days and the age of the stand are read."""
    lawn = make_lawn(make_zone(), mowing_height_in=1.5, irrigation_days_a_week=6, stand="seedling")
    found = measurements_of_zone(lawn, lawn.zones[0])
    assert {what: row.value for what, row in found.items()} == {
        "mowing_height_in": 1.5,
        "irrigation_days_a_week": 6,
        "stand": "seedling",
    }


@pytest.mark.parametrize(("hours", "said"), [(30, "yes"), (24, "unclear"), (5, "unclear"), (1, "no"), (0.5, "no")])
def test_bounds_leave_room_for_not_known(hours, said):
    """Over a day is wet, within an hour is drained, between them nothing is settled."""
    # Source: University of Florida, Environmental Horticulture, drainage holes of 18 inches.
    assert says("wet_or_poorly_drained", drain_hours=hours) == [said]


@pytest.mark.parametrize(("word", "said"), [("fails", "yes"), ("Passes", "no"), ("perhaps", "unclear")])
def test_words_are_read_whatever_their_case(word, said):
    """A word of the entry speaks, any other is unclear."""
    assert says("compacted", probe_test=word) == [said]


def test_the_turfs_own_figures_come_first():
    """2 inches is too short for a turf of 2.5 to 4 inches, and fine for one of 1 to 2."""
    assert says("mown_too_short", make_turf(), mowing_height_in=2.0) == ["yes"]
    low = make_turf("zoysiagrass", mowing_in=(Range(1, 2, "in", MEMORY),))
    assert says("mown_too_short", low, mowing_height_in=2.0) == ["no"]


@pytest.mark.parametrize(("ph", "said"), [(5.9, "yes"), (6.2, "unclear"), (6.5, "no")])
def test_sources_that_disagree_leave_a_gap(ph, said):
    """Too acid for every source is yes, enough for every source is no, between them the value says nothing."""
    turf = make_turf("tall_fescue", [SoilPh(6.0, 6.5, MEMORY), SoilPh(6.5, 7.0, MEMORY)])
    assert says("acid_soil", turf, soil_ph=ph) == [said]


def test_a_probe_meter_settles_nothing():
    """Its pH is unreliable for acid and for alkaline ground."""
    # Source: magazine test of soil pH testers (no useful reading in dry soil).
    reading = Measured("soil_ph", 4.5, "probe meter")
    assert says("acid_soil", soil_ph=reading) == ["unreliable"]
    assert not is_reliable_ph(reading)
    assert is_reliable_ph(Measured("soil_ph", 4.5, "laboratory"))


def test_a_reading_for_the_lime_advice_says_nothing_of_the_condition():
    """A buffer pH has no bounds of its own."""
    assert says("acid_soil", buffer_ph=6.1) == []
