"""Degree-days by the simple average."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from season_cases import GRIFFIN

from weedkey.season import date_of_degree_days_or_none, degree_days, parse_daily_temperatures
from weedkey.season.heat_sum import degree_days_of_day


def test_virginia_example():
    """75 and 27 °F with base 50 give one degree-day."""
    # Source: Virginia Tech Crop and Soil Environmental News, 2007.
    assert degree_days_of_day(27, 75, 50) == 1
    own = parse_daily_temperatures("2026-03-01,27,75")
    assert degree_days(GRIFFIN, date(2026, 3, 1), date(2026, 3, 1), 50, own=own) == 1


def test_a_cold_day_takes_nothing_back():
    """A day below the base counts 0, not less."""
    # Source: Virginia Tech Crop and Soil Environmental News, 2007 (negatives as 0).
    own = parse_daily_temperatures("2026-03-01,10,30\n2026-03-02,50,70")
    assert degree_days(GRIFFIN, date(2026, 3, 1), date(2026, 3, 2), 50, own=own) == 10


def test_soil_degree_days():
    """The Maryland model works on soil at 2.5 cm above 12 °C: it starts before the air model of base 50 °F at 140."""
    # Source: Crop Science 36:990-996, 1996 (first emergence of smooth crabgrass at 42-78 degree-days C).
    start = date(2026, 1, 1)
    first = date_of_degree_days_or_none(GRIFFIN, start, 42 * 9 / 5, 53.6, depth_in=1)
    late = date_of_degree_days_or_none(GRIFFIN, start, 230 * 9 / 5, 53.6, depth_in=1)
    assert date(2026, 3, 15) < first < date(2026, 4, 15)
    assert date(2026, 4, 20) < late < date(2026, 5, 25)


def test_an_end_before_the_start_sums_nothing():
    """An empty span has no degree-days."""
    assert degree_days(GRIFFIN, date(2026, 3, 2), date(2026, 3, 1), 50) == 0


def test_a_sum_that_is_never_reached():
    """More than a year brings is None."""
    assert date_of_degree_days_or_none(GRIFFIN, date(2026, 1, 1), 10**6, 50) is None


@given(st.integers(0, 200), st.integers(0, 120), st.integers(0, 120))
def test_sums_add_up(start, one, two):
    """The sum over a span is the sum over its parts."""
    first = date(2026, 1, 1) + timedelta(days=start)
    middle = first + timedelta(days=one)
    last = middle + timedelta(days=two + 1)
    whole = degree_days(GRIFFIN, first, last, 50)
    parts = degree_days(GRIFFIN, first, middle, 50) + degree_days(GRIFFIN, middle + timedelta(days=1), last, 50)
    assert whole == pytest.approx(parts)
