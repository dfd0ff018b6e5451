"""The second opinion of Ellenberg-type values."""

from __future__ import annotations

import pytest
from ground_cases import MEMORY, found, make_knowledge, make_weed, make_zone

from weedkey.ground.site_values import AXES, read_site_values
from weedkey.model.weed import SiteValues

PIGN = ("pign05",)
# Source: Bioindicazione attraverso le piante vascolari, 2005 (values of these species).
NUTSEDGE = make_weed("yellow_nutsedge", site_values=SiteValues(PIGN, 11, 11, 6, 5, 0))
GOOSEGRASS = make_weed("goosegrass", site_values=SiteValues(PIGN, 11, 2, 7, 2, 0))
BLUEGRASS = make_weed("annual_bluegrass", site_values=SiteValues(PIGN, 7, 6, None, 8, 0, ("reaction",)))
MOSS = make_weed("moss")
KNOWLEDGE = make_knowledge([NUTSEDGE, GOOSEGRASS, BLUEGRASS, MOSS])


def axis(name, *findings):
    """One axis of a zone."""
    return next(row for row in read_site_values(KNOWLEDGE, make_zone(*findings)) if row.axis == name)


def test_mean_and_spread_follow_the_cover():
    """Three parts nutsedge (11) and one part goosegrass (2) have a moisture mean of 8.75, spread 3.9."""
    row = axis("moisture", found("yellow_nutsedge", 30), found("goosegrass", 10))
    assert row.mean == pytest.approx(8.75)
    assert row.spread == pytest.approx(3.897, abs=1e-3)
    assert row.weeds == 2


def test_indifferent_and_unknown_cover_is_told():
    """Annual bluegrass is indifferent to reaction; moss has no value at all."""
    row = axis("reaction", found("annual_bluegrass", 50), found("goosegrass", 30), found("moss", 20))
    assert (row.mean, row.indifferent_percent, row.unknown_percent) == (7, 50, 20)


def test_nothing_to_say():
    """Without a value there is no mean."""
    row = axis("reaction", found("moss", 20))
    assert (row.mean, row.spread, row.unknown_percent) == (None, None, 100)
    assert {row.axis for row in read_site_values(KNOWLEDGE, make_zone())} == set(AXES)


def test_beliefs_share_the_cover():
    """An unsettled finding counts for each name by its belief."""
    assert axis("moisture", found({"yellow_nutsedge": 0.5, "goosegrass": 0.5}, 30)).mean == pytest.approx(6.5)
    assert MEMORY != axis("moisture", found("goosegrass", 1)).sources == PIGN
