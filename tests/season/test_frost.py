"""Frost dates: published ones first, an estimate that says so where there is none."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from statistics import mean, median

import pytest
from season_cases import GRIFFIN, SOUTHERN, TROPICAL, frost, shipped_places

from weedkey.season import first_autumn_frost_or_none, frost_dates, last_spring_frost_or_none


@pytest.mark.parametrize(
    ("place", "spring", "autumn"),
    [
        # Source: light-freeze table (32 °F, 50 percent), almanac_frost.
        ("chicago_il", (4, 22), (10, 26)),
        ("indianapolis_in", (4, 22), (10, 20)),
        ("topeka_ks", (4, 21), (10, 14)),
        ("phoenix_az", (2, 5), (12, 15)),
        # Source: NOAA freeze-probability tables reprinted (50 percent in spring, 20 percent in autumn).
        ("macon_ga", (3, 20), (11, 1)),
        ("tifton_ga", (3, 2), (11, 13)),
        # Source: NC State frost table 2020 and county table 2009 (Wadesboro, Anson county).
        ("polkton_nc", (3, 28), (11, 4)),
    ],
)
def test_published_frost_dates(place, spring, autumn):
    """The shipped places give their published dates."""
    found = shipped_places()[place]
    last, first = last_spring_frost_or_none(found, 2026), first_autumn_frost_or_none(found, 2026)
    assert ((last.on.month, last.on.day), (first.on.month, first.on.day)) == (spring, autumn)
    assert not last.estimated
    assert last.sources


def test_estimates_stand_near_the_published_dates():
    """Estimated without the published dates, the shipped places are off by about a week on average."""
    # Source: the published dates of the shipped places (their own fit, so only the size of the error is checked).
    spring, autumn = [], []
    for place in shipped_places().values():
        bare = replace(place, frost=())
        for event, errors, find in (
            ("last_spring", spring, last_spring_frost_or_none),
            ("first_autumn", autumn, first_autumn_frost_or_none),
        ):
            rows = [
                row
                for row in place.frost
                if row.event == event and any(word in row.basis for word in ("50", "average", "range"))
            ]
            published, estimate = find(place, 2026), find(bare, 2026)
            if rows and published and estimate:
                assert estimate.estimated
                errors.append((estimate.on - published.on).days)
    assert len(spring) >= 12
    assert abs(median(spring)) <= 2
    assert mean(map(abs, spring)) <= 7
    assert mean(map(abs, autumn)) <= 6


def test_the_usual_meaning_comes_first():
    """A mean stands before a 10 percent date, whatever the order in the file."""
    rows = (frost("last_spring", 4, 7, "10 percent chance of a later one"), frost("last_spring", 3, 20, "50 percent"))
    assert last_spring_frost_or_none(replace(GRIFFIN, frost=rows), 2026).on == date(2026, 3, 20)
    assert [row.on.day for row in frost_dates(replace(GRIFFIN, frost=rows), 2026)] == [20, 7]


def test_a_january_first_frost_belongs_to_the_winter_before():
    """Florida's first frost of 3 January is that of the autumn before."""
    # Source: light-freeze table, Tampa 3 January.
    place = replace(GRIFFIN, frost=(frost("first_autumn", 1, 3, "50 percent"),))
    assert first_autumn_frost_or_none(place, 2026).on == date(2027, 1, 3)


def test_no_frost_where_no_winter():
    """A warm place has neither."""
    assert frost_dates(TROPICAL, 2026) == ()


def test_southern_frosts_lie_around_july():
    """South of the equator the first frost comes in autumn and the last in spring of the same calendar year."""
    first, last = first_autumn_frost_or_none(SOUTHERN, 2026), last_spring_frost_or_none(SOUTHERN, 2026)
    assert date(2026, 4, 1) < first.on < date(2026, 7, 1) < last.on < date(2026, 10, 15)
