"""Prevalence index and dominance test against the published tables."""

from __future__ import annotations

from fractions import Fraction

import pytest
from ground_cases import COAST, found, make_knowledge, make_lawn, make_weed, make_zone
from hypothesis import given
from hypothesis import strategies as st

from weedkey.ground import read_ground
from weedkey.ground.wetness import RatedCover, dominance_percent, find_dominants, prevalence_index

STATUSES = ("OBL", "FACW", "FAC", "FACU", "UPL")


def covers(*values: float) -> dict[str, float]:
    """Summed cover by status, wettest first."""
    return dict(zip(STATUSES, values, strict=True))


def test_arid_west_table_5():
    """The worked table of the Arid West supplement: 108 / 48 = 2.25, hydrophytic."""
    # Source: US Army Corps of Engineers, ERDC/EL TR-08-28, 2008, Table 5.
    assert prevalence_index(covers(0, 3 + 2 + 10 + 25 + 2, 3, 0, 3)) == Fraction(108, 48) == Fraction("2.25")


def test_midwest_table_3():
    """The worked table of the Midwest supplement: 451 / 164 = 2.75, hydrophytic."""
    # Source: US Army Corps of Engineers, ERDC/EL TR-10-16, 2010, Table 3.
    index = prevalence_index(covers(2, 82.5, 41, 31.5, 7))
    assert index == Fraction(451, 164)
    assert round(float(index), 2) == 2.75


@pytest.mark.parametrize(
    ("cover", "printed", "hydrophytic"),
    [
        # Sources: field forms filed with Burnett County, City of Ramsey and a municipal archive (wetform_a, _b, _c).
        (covers(115, 25, 0, 0, 0), 1.18, True),
        (covers(0, 0, 10, 5, 20), 4.29, False),
        (covers(0, 0, 35, 30, 10), 3.67, False),
    ],
)
def test_filed_field_forms(cover, printed, hydrophytic):
    """Three filed data forms give the printed index."""
    index = prevalence_index(cover)
    assert round(float(index), 2) == printed
    assert (index <= 3) is hydrophytic


def test_dominance_of_the_ramsey_form():
    """One dominant, maize at 20 of 35 %, upland: 0 % of the dominants are wetland plants."""
    # Source: wetland data form, City of Ramsey, sampling point SP2-wet (1 dominant, 0.00 %).
    herbs = [
        RatedCover("maize", Fraction(20), "UPL"),
        RatedCover("broadleaf plantain", Fraction(5), "FACU"),
        RatedCover("bitter wintercress", Fraction(5), "FAC"),
        RatedCover("Norwegian cinquefoil", Fraction(5), "FAC"),
    ]
    assert [plant.plant for plant in find_dominants(herbs)] == ["maize"]
    assert dominance_percent([herbs]) == 0


def test_dominance_of_a_form_with_two_layers_and_a_tie():
    """A tree and three herbs dominate, one of the four is FAC: 25 %. The two herbs of 10 % are tied."""
    # Source: wetland data form, sampling point SP11-1UD (1 of 4 dominants, 25.00 %).
    trees = [RatedCover("aspen", Fraction(35), "FAC")]
    herbs = [
        RatedCover("burdock", Fraction(20), "FACU"),
        RatedCover("canarygrass", Fraction(10), "UPL"),
        RatedCover("dandelion", Fraction(10), "FACU"),
    ]
    assert len(find_dominants(herbs)) == 3
    assert dominance_percent([trees, herbs]) == 25


def test_a_fifth_of_the_cover_dominates_on_its_own():
    """A plant with 20 % of the cover is a dominant although another holds more than half."""
    # Source: ERDC/EL TR-08-28 (50/20 rule).
    layer = [
        RatedCover("a", Fraction(70), "FAC"),
        RatedCover("b", Fraction(20), "UPL"),
        RatedCover("c", Fraction(10), "UPL"),
    ]
    assert [plant.plant for plant in find_dominants(layer)] == ["a", "b"]


def test_nothing_rated_is_not_computable():
    """Without a rated plant there is no index, not an index of 0."""
    assert prevalence_index({}) is None
    knowledge = make_knowledge([make_weed("moss")], places=[COAST])
    wetness = read_ground(knowledge, make_lawn(make_zone(found("moss", 20)))).zones[0].wetness
    assert (wetness.state, wetness.reason, wetness.index) == ("not_computable", "nothing_rated", None)


def test_only_fac_passes_at_exactly_three():
    """The limit is 3.0 or less, so an index of exactly 3 passes."""
    knowledge = make_knowledge([make_weed("doveweed", status="FAC")], places=[COAST])
    wetness = read_ground(knowledge, make_lawn(make_zone(found("doveweed", 7)))).zones[0].wetness
    assert wetness.index == 3
    assert wetness.hydrophytic is True


@pytest.mark.parametrize(("unrated", "state"), [(21, "not_reliable"), (20, "computed")])
def test_eighty_percent_rule(unrated, state):
    """At least 80 % of the cover must be rated; 79 % is not reliable and gets no verdict."""
    # Source: ERDC/EL TR-10-1, 2010 (80 percent of the total cover).
    knowledge = make_knowledge([make_weed("kyllinga", status="FACW"), make_weed("moss")], places=[COAST])
    lawn = make_lawn(make_zone(found("kyllinga", 100 - unrated), found("moss", unrated)))
    wetness = read_ground(knowledge, lawn).zones[0].wetness
    assert wetness.state == state
    assert (wetness.hydrophytic is None) is (state != "computed")


def test_an_unknown_place_has_no_region():
    """Statuses are regional: without a region there is no index."""
    knowledge = make_knowledge([make_weed("kyllinga", status="FACW")])
    wetness = read_ground(knowledge, make_lawn(make_zone(found("kyllinga", 10)), place=None)).zones[0].wetness
    assert (wetness.state, wetness.reason) == ("not_computable", "no_region")


def test_an_unsettled_sedge_shares_its_cover():
    """Cover of a set of names is shared out by belief: half FACW and half FAC gives 2.5."""
    knowledge = make_knowledge([make_weed("one", status="FACW"), make_weed("two", status="FAC")], places=[COAST])
    zone = make_zone(found({"one": 0.5, "two": 0.5}, 30))
    assert read_ground(knowledge, make_lawn(zone)).zones[0].wetness.index == Fraction("2.5")


def test_zones_are_ranked_wettest_first():
    """The report names the zones in order of their index."""
    weeds = [make_weed("dollarweed", status="OBL"), make_weed("goosegrass", status="FACU")]
    lawn = make_lawn(
        make_zone(found("goosegrass", 10), name="drive"), make_zone(found("dollarweed", 10), name="low corner")
    )
    assert read_ground(make_knowledge(weeds, places=[COAST]), lawn).wettest_first == ("low corner", "drive")


def test_an_unknown_status_is_refused():
    """Old plus and minus signs have to be stripped before."""
    with pytest.raises(ValueError, match="FACW"):
        prevalence_index({"FACW+": 3})


@given(st.lists(st.integers(0, 100), min_size=5, max_size=5).filter(any), st.integers(1, 50))
def test_index_is_between_one_and_five_and_has_no_scale(cover, factor):
    """The index lies between 1 and 5 and does not change if all covers are multiplied."""
    index = prevalence_index(covers(*cover))
    assert 1 <= index <= 5
    assert prevalence_index(covers(*(factor * value for value in cover))) == index
