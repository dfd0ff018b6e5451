"""Sulfur comes only after a laboratory, and never without its warnings."""

from __future__ import annotations

import pytest
from ground_cases import make_turf

from weedkey.ground.sulfur import advise_sulfur
from weedkey.model.turf import SoilPh

TURF = make_turf("tall_fescue", [SoilPh(6.0, 7.2, ("psu_liming02",))])


@pytest.mark.parametrize(
    ("ph", "reliable", "kind"),
    [(7.2, True, "none"), (7.8, False, "test_first"), (7.8, True, "with_warnings"), (None, True, "none")],
)
def test_sulfur_needs_a_laboratory_ph_above_every_target(ph, reliable, kind):
    """At the target nothing; above it a laboratory first."""
    assert advise_sulfur(TURF, ph, reliable).kind == kind


def test_published_limits():
    """At most 5 to 10 lb at one time, air below 75 °F, two to three months between."""
    # Source: Clemson University Precision Agriculture, quoting Southern Lawns EC 707.
    advice = advise_sulfur(TURF, 7.8, True)
    assert (advice.cap_lb_per_1000_sqft, advice.air_below_f, advice.repeat_months) == ((5, 10), 75, (2, 3))
    assert "sulfur_water_in" in advice.warnings
    assert "clem_sulf" in advice.step.sources
