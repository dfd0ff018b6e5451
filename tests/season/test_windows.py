"""Germination and pre-emergence windows against published dates."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from season_cases import ANNUAL_BLUEGRASS, CRABGRASS, GRIFFIN, SOUTHERN, TROPICAL, make_weed, shipped_places

from weedkey.model.window import Window
from weedkey.season import germination_windows, is_barrier_alive, mean_temperature_f, pre_emergence_windows
from weedkey.season.own_record import OwnTemperatures
from weedkey.season.windows import dates_of_window, soil_crossing_or_none


def only(windows):
    """The one window."""
    assert len(windows) == 1
    return windows[0]


@pytest.mark.parametrize(
    ("place", "first", "last"),
    [
        # Source: UGA Newton County, 2024 (53-58 °F at 4 inches from mid-February to some time in March).
        ("griffin_ga", date(2026, 2, 15), date(2026, 3, 31)),
        # Source: NC State weed alert, March 2011 (up in the south-east of the state by 17 March).
        ("warsaw_nc", date(2026, 3, 1), date(2026, 4, 5)),
        # Source: University of Maryland TT-43, 2008 (first germination after 1 April, Baltimore-Washington).
        ("philadelphia_pa", date(2026, 4, 1), date(2026, 4, 30)),
        # Source: UGA Dawson County column (about 55 °F, before the end of February in a warm winter).
        ("blairsville_ga", date(2026, 2, 28), date(2026, 4, 20)),
    ],
)
def test_crabgrass_starts_when_published(place, first, last):
    """Crabgrass by soil at 1 inch starts within the published weeks."""
    flush = only(germination_windows(CRABGRASS, shipped_places()[place], 2026))
    assert flush.basis == "soil"
    assert first <= flush.start <= last


@pytest.mark.parametrize(
    ("place", "first", "last"),
    [
        # Source: UGA Ben Hill County, 2019 (1-20 March in north Georgia).
        ("blairsville_ga", date(2026, 3, 1), date(2026, 3, 20)),
        # Source: UGA Ben Hill County, 2019 (15 February-15 March in south Georgia).
        ("griffin_ga", date(2026, 2, 15), date(2026, 3, 15)),
        # Source: NC State bermudagrass calendar (late February to mid-March).
        ("charlotte_nc", date(2026, 2, 20), date(2026, 3, 15)),
        # Source: Delaware, 2009 (northern part of the state 15 March-15 April).
        ("philadelphia_pa", date(2026, 3, 15), date(2026, 4, 15)),
        # Source: Texas AgriLife (before 55 °F, January to March).
        ("dallas_tx", date(2026, 1, 1), date(2026, 3, 31)),
    ],
)
def test_spring_barrier_overlaps_the_published_dates(place, first, last):
    """The window shares days with the published one and closes before germination of a normal year."""
    window = only(pre_emergence_windows(CRABGRASS, shipped_places()[place], 2026))
    assert window.opens <= last
    assert window.closes >= first
    assert window.closes < window.germination.start


def test_south_georgia_is_a_little_early():
    """At Tifton the window closes two days before the published one opens: early, never late."""
    # Source: UGA Colquitt County, 2025 (15 February to 5 March, before the soil reaches 55 °F).
    window = only(pre_emergence_windows(CRABGRASS, shipped_places()["tifton_ga"], 2026))
    assert date(2026, 2, 8) <= window.closes <= date(2026, 3, 5)


@pytest.mark.parametrize(
    ("place", "first", "last"),
    [
        # Source: UGA annual bluegrass sheet: last week of August to 15 September in the north.
        ("blairsville_ga", date(2026, 8, 24), date(2026, 9, 15)),
        # Source: the same: by 20 September in the Piedmont.
        ("griffin_ga", date(2026, 9, 1), date(2026, 9, 20)),
        # Source: the same: mid-September to mid-October in the south.
        ("tifton_ga", date(2026, 9, 15), date(2026, 10, 15)),
    ],
)
def test_autumn_barrier_overlaps_the_published_dates(place, first, last):
    """Against annual bluegrass the barrier is due within the published weeks, within three days."""
    window = only(pre_emergence_windows(ANNUAL_BLUEGRASS, shipped_places()[place], 2026))
    assert window.season == "autumn"
    assert window.opens <= last
    assert first <= window.closes <= last + timedelta(days=3)


def test_goosegrass_follows_crabgrass_by_weeks():
    """A germinator at 63-65 °F starts two to six weeks after crabgrass."""
    # Source: Penn State goosegrass sheet (3 to 4 weeks, another page 4 to 6).
    goosegrass = make_weed("goosegrass", germinates=[Window.months(3, 8)], soil_f=(65, 75))
    place = shipped_places()["philadelphia_pa"]
    gap = (
        only(germination_windows(goosegrass, place, 2026)).start
        - only(germination_windows(CRABGRASS, place, 2026)).start
    )
    assert timedelta(weeks=2) <= gap <= timedelta(weeks=6)


def test_doveweed_outlasts_a_single_early_barrier():
    """Doveweed comes at 65-70 °F soil; a crabgrass barrier of ten weeks wears off before its flush ends."""
    # Source: UF/IFAS Northwest District, 2021 (about 70 °F, late May to June); UF doveweed page (late germinator).
    doveweed = make_weed("doveweed", germinates=[Window.months(4, 7)], soil_f=(68, 75))
    place = shipped_places()["tifton_ga"]
    early = only(pre_emergence_windows(CRABGRASS, place, 2026))
    late = only(germination_windows(doveweed, place, 2026))
    assert late.start > only(germination_windows(CRABGRASS, place, 2026)).start + timedelta(weeks=6)
    assert is_barrier_alive(early.closes, 10, late) == "partly"
    assert is_barrier_alive(early.closes, 4, late) == "no"
    assert is_barrier_alive(late.start - timedelta(days=7), 40, late) == "yes"


def test_a_split_barrier_has_its_second_half_six_weeks_later():
    """Half now, half six weeks later; a long flush outlasts the first half."""
    # Source: UF split application advice, 2016.
    window = only(pre_emergence_windows(CRABGRASS, GRIFFIN, 2026))
    assert window.second_half == (window.opens + timedelta(weeks=6), window.closes + timedelta(weeks=6))
    assert window.outlasts(12)
    assert not window.outlasts(52)


def test_two_flushes_a_year_have_two_windows():
    """A weed with a spring and an autumn flush gets both barriers."""
    weed = make_weed(
        "two_flushes", season="both", germinates=[Window.months(3, 5), Window.months(9, 11)], soil_f=(55, 70)
    )
    windows = pre_emergence_windows(weed, GRIFFIN, 2026)
    assert [window.season for window in windows] == ["spring", "autumn"]
    assert [window.germination.basis for window in windows] == ["soil", "soil"]


def test_tubers_get_no_barrier():
    """What comes from tubers or rhizomes is not held by a barrier against seed."""
    # Source: UGA B1393 (perennials from rhizome, tuber or crown are not controlled before emergence).
    nutsedge = make_weed("nutsedge", cycle="perennial", germinates=[Window.months(5, 7)], by=("tubers", "rhizomes"))
    assert germination_windows(nutsedge, GRIFFIN, 2026)
    assert pre_emergence_windows(nutsedge, GRIFFIN, 2026) == ()


def test_soil_alone_makes_a_window():
    """Without calendar months the soil range and the growth season decide."""
    spring = make_weed("spring", soil_f=(57, 73))
    assert only(germination_windows(spring, GRIFFIN, 2026)).season == "spring"
    autumn = make_weed("autumn", season="cool", soil_f=(50, 70))
    assert only(germination_windows(autumn, GRIFFIN, 2026)).season == "autumn"


def test_where_the_soil_never_crosses_the_calendar_speaks():
    """In a place without winter the soil is always warm enough; the calendar is taken and says so."""
    flush = only(germination_windows(CRABGRASS, TROPICAL, 2026))
    assert (flush.basis, flush.peak, flush.start) == ("calendar", None, date(2026, 2, 1))
    assert germination_windows(make_weed("soil_only", soil_f=(57, 73)), TROPICAL, 2026) == ()


def test_a_second_barrier_in_summer_keeps_its_calendar():
    """Two spring windows of one weed are not drawn to the same soil date."""
    # Source: Texas sandbur sheet (a first barrier in March, again in June).
    sandbur = make_weed("sandbur", germinates=[Window.months(3, 4), Window.months(6, 7)], soil_f=(52, 75))
    flushes = germination_windows(sandbur, GRIFFIN, 2026)
    assert [flush.basis for flush in flushes] == ["soil", "calendar"]
    assert flushes[1].start == date(2026, 6, 1)


def test_nothing_known_nothing_said():
    """A weed without germination data has no window."""
    assert germination_windows(make_weed("silent"), GRIFFIN, 2026) == ()


def test_southern_seasons_are_half_a_year_later():
    """Crabgrass starts in September south of the equator, as the calendar of the north is turned."""
    flush = only(germination_windows(CRABGRASS, SOUTHERN, 2026))
    assert flush.basis == "soil"
    assert date(2026, 9, 1) < flush.start < date(2026, 10, 15)


def test_a_window_over_the_turn_of_the_year_and_a_leap_day():
    """November to February ends in the next year, on the 29th if there is one."""
    window = Window.months(11, 2)
    assert dates_of_window(window, GRIFFIN, 2023) == (date(2023, 11, 1), date(2024, 2, 29))
    assert dates_of_window(window, GRIFFIN, 2024)[1] == date(2025, 2, 28)


def test_a_warm_spring_of_ones_own_moves_the_date():
    """Six degrees above the normal in February and March bring germination forward by one to three weeks."""
    days = {}
    for offset in range(90):
        day = date(2026, 1, 20) + timedelta(days=offset)
        mean = mean_temperature_f(GRIFFIN, day) + 6
        days[day] = (mean - 10, mean + 10)
    normal = only(germination_windows(CRABGRASS, GRIFFIN, 2026)).start
    warm = only(germination_windows(CRABGRASS, GRIFFIN, 2026, OwnTemperatures(days))).start
    assert timedelta(days=7) <= normal - warm <= timedelta(days=35)


@given(st.floats(40, 85), st.floats(40, 85), st.booleans())
def test_warmer_limits_come_later_in_spring_and_earlier_in_autumn(one, other, rising):
    """Crossing dates keep the order of their limits."""
    low, high = sorted((one, other))
    first, second = (soil_crossing_or_none(GRIFFIN, 2026, limit, rising) for limit in (low, high))
    if first and second:
        assert first <= second if rising else first >= second
