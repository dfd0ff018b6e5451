"""Closing of bare spots."""

from __future__ import annotations

import math
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from season_cases import GRIFFIN, MEMORY, SOUTHERN, TROPICAL, make_turf, shipped_places

from weedkey.model.turf import Establish, SpreadRate
from weedkey.model.window import Window
from weedkey.season import advise_repair, close_spot
from weedkey.season.recovery import TIP_TO_EDGE

PURDUE = ("asa_zoy05",)
# Source: Purdue plugs of 64 cm2, 91 days from June: m2 covered, and mm a day of one runner, of the same cultivars.
PURDUE_PLUGS = {"el_toro": (0.49, 13.8), "zorro": (0.19, 8.2), "meyer": (0.12, 4.9), "diamond": (0.04, 1.7)}
PLUG_RADIUS_MM = math.sqrt(6400 / math.pi)


def edge_of_plug(square_metres):
    """Mean advance of a plug's edge in mm a day over 91 days, from the area that it covered."""
    return (math.sqrt(square_metres * 1e6 / math.pi) - PLUG_RADIUS_MM) / 91


MEYER_EDGE = edge_of_plug(PURDUE_PLUGS["meyer"][0])
ZOYSIAGRASS = make_turf(
    "zoysiagrass",
    rates=[SpreadRate("gap_closing", edge_of_plug(area), edge_of_plug(area), PURDUE, cultivar=name)
           for name, (area, _) in PURDUE_PLUGS.items()],
)  # fmt: skip
JUNE = date(2026, 6, 3)


def test_tip_to_edge_ratio_is_that_of_the_purdue_plugs():
    """Edge and tip rates of four cultivars in one trial give the range that turns a tip rate into an edge rate."""
    # Source: Purdue University, ASA-CSSA-SSSA meeting abstract, 2005.
    ratios = [edge_of_plug(area) / tip for area, tip in PURDUE_PLUGS.values()]
    assert round(min(ratios), 2) == TIP_TO_EDGE[0]
    assert round(max(ratios), 2) == TIP_TO_EDGE[1]


def test_plugs_grow_back_to_the_published_cover():
    """At the Purdue edge rate a gap as wide as a Meyer plug's gain closes in about 91 good days."""
    # Source: Purdue University, 2005: Meyer plugs covered 0.12 m2 in 91 days from June.
    gained_in = 2 * MEYER_EDGE * 91 / 25.4
    closure = close_spot(ZOYSIAGRASS, TROPICAL, JUNE, gained_in, "meyer")
    assert closure.days_low == closure.days_high
    assert 91 <= closure.days_high <= 120


def test_bermudagrass_divots_close_in_weeks():
    """A divot of 4 inches closes in a Tennessee summer faster than the published 44 days to 95 %."""
    # Source: Pisa, Acta Horticulturae 783 (17.3 cm a week of one runner); USGA 2022 (Tifway 44 days, Knoxville).
    turf = make_turf("bermudagrass", rates=[SpreadRate("tip_growth", 24.7, 24.7, ("actahort_783",))])
    closure = close_spot(turf, shipped_places()["murfreesboro_tn"], date(2026, 5, 24), 4)
    assert closure.days_low < closure.days_high <= 44
    assert closure.closes == "yes"


def test_a_kansas_void_in_two_grasses():
    """Kentucky bluegrass all but closes a 12 inch void in 21 months, tall fescue does not by far."""
    # Source: Kansas State University: 30.5 cm void, 1.0 cm left (bluegrass), more than 18 cm left (fescue).
    days = 640
    bluegrass = make_turf(
        "kentucky_bluegrass",
        "cool",
        [SpreadRate("gap_closing", (305 - 10) / 2 / days, (305 - 10) / 2 / days, ("ksu_tf",), peak=False)],
    )
    fescue = make_turf(
        "tall_fescue", "cool", [SpreadRate("gap_closing", 0, (305 - 180) / 2 / days, ("ksu_tf",), peak=False)]
    )
    topeka = shipped_places()["topeka_ks"]
    closed = close_spot(bluegrass, topeka, date(2026, 9, 1), 305 / 25.4)
    assert 500 <= closed.days_high <= 800
    open_still = close_spot(fescue, topeka, date(2026, 9, 1), 305 / 25.4)
    assert (open_still.closes, open_still.days_low, open_still.days_high) == ("no", None, None)


def test_without_a_rate_nothing_is_promised():
    """No published rate, no figure; cover figures of a whole plot are no rate of a spot."""
    assert close_spot(make_turf("bahiagrass"), GRIFFIN, JUNE, 12).closes == "not_known"
    plugs = make_turf("buffalograss", rates=[SpreadRate("cover_after", 100, 100, MEMORY, days=90)])
    closure = close_spot(plugs, GRIFFIN, JUNE, 12)
    assert (closure.closes, closure.days_low, closure.last_date) == ("not_known", None, None)


def test_a_cultivar_narrows_the_range():
    """Meyer alone has one figure; without a name the whole range of the trial stands."""
    wide, meyer = close_spot(ZOYSIAGRASS, GRIFFIN, JUNE, 6), close_spot(ZOYSIAGRASS, GRIFFIN, JUNE, 6, "meyer")
    assert wide.days_low < meyer.days_low == meyer.days_high < wide.days_high


def test_the_last_date_is_the_last():
    """A spot made on the last date closes before growth stops, one made a day later does not."""
    first = close_spot(ZOYSIAGRASS, GRIFFIN, JUNE, 6, "meyer")
    on_it = close_spot(ZOYSIAGRASS, GRIFFIN, first.last_date, 6, "meyer")
    late = close_spot(ZOYSIAGRASS, GRIFFIN, first.last_date + timedelta(days=1), 6, "meyer")
    assert (on_it.closes, late.closes) == ("yes", "no")
    assert on_it.last_date == first.last_date


def test_autumn_is_too_late_and_winter_waits_for_spring():
    """A spot of October stays open; one of January counts from the spring and names the next season's last date."""
    # Source: NTEP bermudagrass wear trial, Gainesville: 45 % in 7 weeks from late November, 94 % in 4 from April.
    autumn, winter = (
        close_spot(ZOYSIAGRASS, GRIFFIN, day, 6, "meyer") for day in (date(2026, 10, 10), date(2026, 1, 10))
    )
    assert (autumn.closes, winter.closes) == ("no", "no")
    assert autumn.days_high > 150
    assert winter.last_date.month in (7, 8, 9)
    assert winter.stops == date(2026, 1, 10)


def test_where_growth_never_stops():
    """Without a winter there is no last date."""
    closure = close_spot(ZOYSIAGRASS, TROPICAL, JUNE, 6, "meyer")
    assert (closure.closes, closure.stops, closure.last_date) == ("yes", None, None)


def test_southern_spots_close_in_january():
    """South of the equator January is the season and July is not."""
    assert close_spot(ZOYSIAGRASS, SOUTHERN, date(2026, 12, 3), 6, "meyer").closes == "yes"
    assert close_spot(ZOYSIAGRASS, SOUTHERN, date(2026, 5, 20), 6, "meyer").closes == "no"


def test_a_spot_has_a_size():
    """Nothing and less are refused."""
    with pytest.raises(ValueError, match="no spot"):
        close_spot(ZOYSIAGRASS, GRIFFIN, JUNE, 0)


@given(st.floats(1, 40), st.floats(1, 40), st.dates(date(2026, 1, 1), date(2026, 12, 31)))
def test_a_wider_spot_never_closes_sooner(one, other, on):
    """More inches, at least as many days, and a last date that is no later."""
    small, wide = sorted((one, other))
    near, far = (close_spot(ZOYSIAGRASS, GRIFFIN, on, size) for size in (small, wide))
    assert far.days_low is None or near.days_low <= far.days_low
    assert far.last_date is None or near.last_date >= far.last_date
    assert {near.closes, far.closes} <= {"yes", "perhaps", "no"}


def test_repair_advice():
    """A spot that closes is left; one that does not is replanted in its window, else waited for."""
    # Source: Clemson HGIC 1204 (warm-season renovation April to June).
    window = Establish("plugs", Window.months(4, 6), ("clem_reno",))
    turf = make_turf(
        "zoysiagrass",
        rates=[
            SpreadRate("gap_closing", MEYER_EDGE, MEYER_EDGE, PURDUE),
            SpreadRate("cover_after", 100, 100, MEMORY, days=300),
        ],
        establish=(window,),
    )
    assert advise_repair(turf, GRIFFIN, JUNE, 3).kind == "let_it_close"
    wide = advise_repair(turf, GRIFFIN, JUNE, 40)
    assert (wide.kind, wide.methods[0][1:], len(wide.fill_in)) == ("replant", (JUNE, date(2026, 6, 30)), 1)
    late = advise_repair(turf, GRIFFIN, date(2026, 9, 1), 40)
    assert (late.kind, late.methods[0][1]) == ("wait", date(2027, 4, 1))
