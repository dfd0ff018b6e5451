"""Daily temperatures from monthly means, and the user's own record."""

from __future__ import annotations

from calendar import monthrange
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from season_cases import GRIFFIN, MEMORY, SOUTHERN

from weedkey.errors import LawnError
from weedkey.model.place import Place
from weedkey.season import daily_temperature, mean_temperature_f, parse_daily_temperatures

TWELVE = st.lists(st.floats(-20, 100), min_size=12, max_size=12)


def monthly_mean(place, year, month, index):
    """Mean of the daily lows (0) or highs (1) of a month."""
    days = monthrange(year, month)[1]
    return sum(daily_temperature(place, date(year, month, day))[index] for day in range(1, days + 1)) / days


@given(TWELVE, TWELVE, st.sampled_from([2023, 2024]), st.integers(1, 12))
def test_daily_values_give_back_the_monthly_means(highs, lows, year, month):
    """Averaged over the days of a month the daily values are the monthly mean again, leap year or not."""
    place = Place("x", "x", "southeast", 30, -80, tuple(highs), tuple(lows), MEMORY)
    assert monthly_mean(place, year, month, 1) == pytest.approx(highs[month - 1], abs=1e-6)
    assert monthly_mean(place, year, month, 0) == pytest.approx(lows[month - 1], abs=1e-6)


def test_the_year_runs_smoothly():
    """No day differs from the next by more than half a degree at Griffin, over the turn of the year too."""
    days = [date(2023, 1, 1) + timedelta(days=offset) for offset in range(800)]
    means = [mean_temperature_f(GRIFFIN, day) for day in days]
    assert max(abs(one - two) for one, two in pairwise(means)) < 0.5


def test_the_29th_of_february_lies_between_its_neighbours():
    """A leap day has a temperature like the days around it."""
    before, leap, after = (mean_temperature_f(GRIFFIN, date(2024, 2, 28) + timedelta(days=day)) for day in range(3))
    assert before <= leap <= after


def test_a_constant_year_stays_constant():
    """Twelve equal means give the same value every day."""
    place = replace(GRIFFIN, high_f=(70.0,) * 12, low_f=(50.0,) * 12)
    low, high = daily_temperature(place, date(2025, 8, 3))
    assert (low, high) == (pytest.approx(50), pytest.approx(70))


def test_half_a_year_later_south_of_the_equator():
    """The turned place is as warm in January as Griffin in July."""
    south = mean_temperature_f(SOUTHERN, date(2025, 1, 15))
    assert south == pytest.approx(mean_temperature_f(GRIFFIN, date(2025, 7, 16)), abs=0.5)


def test_own_record_replaces_the_normals():
    """A recorded day counts as recorded, a missing day falls back to the normal."""
    own = parse_daily_temperatures("date,min,max\n2026-03-01,30,50\n")
    assert daily_temperature(GRIFFIN, date(2026, 3, 1), own) == (30, 50)
    assert daily_temperature(GRIFFIN, date(2026, 3, 2), own) == daily_temperature(GRIFFIN, date(2026, 3, 2))


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("2026-03-01,0,10", "C"),
        ("date;min_c;max_c\n2026-03-01;0;10", ""),
        ("Date,Min (C),Max (C)\n2026-03-01,0,10", ""),
        ("date\tmin\tmax\n# a note\n2026-03-01\t32\t50", ""), ("\ufeffdate,min_f,max_f\n\n2026-03-01,32,50", "F"),
    ],
)  # fmt: skip
def test_records_are_read_in_both_scales(text, unit):
    """Celsius or Fahrenheit, from the argument or the heading; comma, semicolon or tab; notes and blank lines."""
    assert parse_daily_temperatures(text, unit).days == {date(2026, 3, 1): (32.0, 50.0)}


def test_every_bad_row_is_named_with_its_line():
    """Not the first problem but all of them."""
    text = "date,min,max\n2026-02-30,1,2\n2026-03-01,50,40\n2026-03-02,a,40\n2026-03-03,40\n2026-03-04,-200,40\n"
    with pytest.raises(LawnError) as caught:
        parse_daily_temperatures(text, where="mine.csv")
    lines = [issue.where.line for issue in caught.value.issues]
    assert lines == [2, 3, 4, 5, 6]
    assert "mine.csv:2" in str(caught.value)


@pytest.mark.parametrize(("text", "unit"), [("", ""), ("date,min,max\n", ""), ("2026-03-01,1,2", "K")])
def test_what_is_no_record_is_refused(text, unit):
    """Nothing to read and an unknown scale are refused; so is a day that stands twice."""
    with pytest.raises(LawnError):
        parse_daily_temperatures(text, unit)
    with pytest.raises(LawnError, match="twice"):
        parse_daily_temperatures("2026-03-01,1,2\n2026-03-01,1,2")
