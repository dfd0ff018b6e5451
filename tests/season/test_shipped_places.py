"""The shipped places: complete and plausible."""

from __future__ import annotations

import pytest
from season_cases import shipped_places

from weedkey.model.source import UNPUBLISHED
from weedkey.model.vocabulary import REGIONS, WETLAND_REGIONS


def test_all_places_load():
    """38 places, from the mountains of Georgia to the north-west."""
    assert len(shipped_places()) == 38
    assert {place.region for place in shipped_places().values()} == set(REGIONS)


@pytest.mark.parametrize("place", shipped_places().values(), ids=lambda place: place.id)
def test_each_place_is_plausible(place):
    """Highs above lows in every month, July warmer than January, a source, a hardiness zone only with a source."""
    assert all(high > low for high, low in zip(place.high_f, place.low_f, strict=True))
    assert place.high_f[6] > place.high_f[0]
    assert place.wetland_region in WETLAND_REGIONS
    assert not set(place.sources) & UNPUBLISHED
    assert bool(place.hardiness_zone) == bool(place.hardiness_sources)
    assert place.period


def test_a_value_copied_from_its_source():
    """Blairsville has a January mean of 49.6 and 26.8 °F."""
    # Source: DSSAT climate file of the Georgia weather network, 25 years from 1996.
    place = shipped_places()["blairsville_ga"]
    assert (place.high_f[0], place.low_f[0], place.sources) == (49.6, 26.8, ("dssat_cli_ga",))
