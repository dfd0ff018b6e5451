"""The shipped weeds and turfs at the shipped places: published crabgrass dates, and nothing that falls over."""

from __future__ import annotations

from datetime import date
from functools import cache
from pathlib import Path

import pytest

from weedkey.knowledge.loading import build_folder
from weedkey.season import close_spot, germination_windows, pre_emergence_windows

PLACES = ("blairsville_ga", "griffin_ga", "miami_fl", "topeka_ks", "seattle_wa")


@cache
def shipped():
    """Everything that can be built of the shipped knowledge."""
    made, _ = build_folder(Path(__file__).resolve().parents[2] / "knowledge")
    return made


@pytest.mark.parametrize(
    ("place", "first", "last"),
    [
        # Source: UGA Newton County, 2024 (mid-February to some time in March).
        ("griffin_ga", date(2026, 2, 15), date(2026, 3, 31)),
        # Source: NC State weed alert, 2011 (south-east of the state by 17 March).
        ("warsaw_nc", date(2026, 3, 1), date(2026, 3, 31)),
        # Source: University of Maryland TT-43, 2008 (after 1 April).
        ("philadelphia_pa", date(2026, 4, 1), date(2026, 4, 30)),
    ],
)
def test_large_crabgrass_of_the_shipped_entry(place, first, last):
    """The shipped entry starts within the published weeks."""
    windows = germination_windows(shipped()["weed"]["large_crabgrass"], shipped()["place"][place], 2026)
    assert len(windows) == 1
    assert first <= windows[0].start <= last


@pytest.mark.parametrize("place", PLACES)
def test_every_shipped_weed_has_sound_windows(place):
    """Start before peak before end, barrier before germination, at cold, hot, frostless and mild places."""
    for weed in shipped()["weed"].values():
        for flush in germination_windows(weed, shipped()["place"][place], 2028):
            assert flush.start <= (flush.peak or flush.start) <= flush.end
            assert flush.step.sources
        for window in pre_emergence_windows(weed, shipped()["place"][place], 2028):
            assert window.opens < window.closes < window.germination.start


@pytest.mark.parametrize("place", PLACES)
def test_every_shipped_turf_answers_for_a_spot(place):
    """A figure in order, or an honest not known."""
    for turf in shipped()["turf"].values():
        closure = close_spot(turf, shipped()["place"][place], date(2026, 6, 3), 8)
        if closure.closes == "not_known":
            assert closure.days_low is None
        elif closure.days_low is not None and closure.days_high is not None:
            assert 1 <= closure.days_low <= closure.days_high
