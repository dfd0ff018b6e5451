"""The shipped conditions: complete, testable, and in line with the vocabulary."""

from __future__ import annotations

import pytest
from ground_cases import shipped_conditions

from weedkey.ground.report import _COST_ORDER
from weedkey.model.vocabulary import CONDITION_IDS

#: Remedies that other files describe; a remedy outside this list has no entry.
REMEDIES = {
    "drainage", "irrigate_less_often", "irrigate_deeper", "core_aeration", "lime", "phosphorus", "nitrogen_timing",
    "nitrogen_less", "prune_for_light", "shade_tolerant_cover", "overseed", "plug", "sod", "topdress", "sulfur",
    "gypsum", "traffic_control", "mow_high", "mow_low",
}  # fmt: skip


def test_every_condition_is_there():
    """All conditions of the vocabulary, once."""
    assert set(shipped_conditions()) == set(CONDITION_IDS)


@pytest.mark.parametrize(
    "condition", sorted(shipped_conditions().values(), key=lambda row: row.id), ids=lambda row: row.id
)
def test_each_condition_can_be_settled_and_mended(condition):
    """A test that says how, what settles it, minutes and cost; a measurement; a remedy that exists."""
    assert condition.tests
    assert condition.measurements
    assert {remedy.control for remedy in condition.remedies} <= REMEDIES
    for test in condition.tests:
        assert test.how.endswith(".")
        assert test.settles.endswith(".")
        assert test.minutes > 0
        assert test.money in _COST_ORDER


@pytest.mark.parametrize(
    "condition", sorted(shipped_conditions().values(), key=lambda row: row.id), ids=lambda row: row.id
)
def test_bounds_never_say_yes_and_no_at_once(condition):
    """Between the bound that says yes and the one that says no the value says nothing."""
    for row in condition.measurements:
        if row.yes_below is not None and row.no_above is not None:
            assert row.yes_below <= row.no_above
        if row.yes_above is not None and row.no_below is not None:
            assert row.no_below <= row.yes_above
        assert not set(row.yes_words) & set(row.no_words)


def test_opposites_point_back():
    """Where two conditions contradict each other, at least one says so and none contradicts itself."""
    for condition in shipped_conditions().values():
        assert condition.opposite != condition.id
    assert shipped_conditions()["acid_soil"].opposite == "alkaline_soil"
    assert shipped_conditions()["wet_or_poorly_drained"].opposite == "dry_or_droughty"
