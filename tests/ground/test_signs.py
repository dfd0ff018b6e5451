"""Signs: what counts once, what outweighs what, and that more evidence never lowers its own condition."""

from __future__ import annotations

from dataclasses import replace

import pytest
from ground_cases import COAST, MEMORY, found, make_knowledge, make_lawn, make_turf, make_weed, make_zone, says
from hypothesis import assume, given
from hypothesis import strategies as st

from weedkey.ground import list_signs, read_ground
from weedkey.ground.results import EVIDENCE
from weedkey.ground.signs import PER_SOURCE, STRONGEST, group_of, strength_of_sign
from weedkey.model.lawn import Finding, Measured

GOOSE = make_weed("goosegrass", [says("compacted", f"s{number}") for number in range(9)])
RUSH = make_weed("path_rush", [says("compacted", "msst_ind12", "umd_cond")])
KNOTWEED = make_weed("knotweed", [says("compacted", "uiuc_ind", "udel_ind08", "umd_cond")])
YELLOW = make_weed(
    "yellow_nutsedge",
    [says("wet_or_poorly_drained", "a", "b", "c")],
    scientific="Cyperus esculentus",
    family="Cyperaceae",
)
PURPLE = make_weed(
    "purple_nutsedge", [says("wet_or_poorly_drained", "a", "b")], scientific="Cyperus rotundus", family="Cyperaceae"
)
KYLLINGA = make_weed(
    "green_kyllinga", [says("wet_or_poorly_drained", "a", "d")], scientific="Kyllinga brevifolia", family="Cyperaceae"
)
DOLLARWEED = make_weed("dollarweed", [says("wet_or_poorly_drained", "e", "f", "g")])
CLOVER = make_weed("white_clover", [says("low_nitrogen", "a", "b")], scientific="Trifolium repens", family="Fabaceae")
MEDIC = make_weed(
    "black_medic",
    [says("low_nitrogen", "a", "b"), says("dry_or_droughty", "a")],
    scientific="Medicago lupulina",
    family="Fabaceae",
)
SORREL = make_weed(
    "red_sorrel",
    [
        says("acid_soil", *"abcdef"),
        says("acid_soil", "mich_turf", against=True),
        says("dry_or_droughty", "a", "b", "c"),
    ],
)
CRABGRASS = make_weed("crabgrass")
WEEDS = (GOOSE, RUSH, KNOTWEED, YELLOW, PURPLE, KYLLINGA, DOLLARWEED, CLOVER, MEDIC, SORREL, CRABGRASS)
TURF = make_turf()
KNOWLEDGE = make_knowledge(WEEDS, [TURF], [COAST])


def reading(condition, *findings, measured=(), knowledge=KNOWLEDGE):
    """The reading of one condition in a zone of these findings."""
    report = read_ground(knowledge, make_lawn(make_zone(*findings, measured=measured)))
    return next(row for row in report.zones[0].conditions if row.condition == condition)


def test_one_sign_is_a_hint_however_often_it_is_written():
    """Nine sources for goosegrass are still one sign, and no money is spent on one sign."""
    # Source: site indicators notes: goosegrass = compaction in nine lists; two signs before money (common practice).
    row = reading("compacted", found("goosegrass", 30))
    assert (row.evidence, row.independent, row.may_spend) == ("hint", 1, False)
    assert strength_of_sign(GOOSE, "compacted") == STRONGEST


def test_two_independent_signs_are_likely():
    """Goosegrass and path rush together make compaction likely."""
    row = reading("compacted", found("goosegrass", 30), found("path_rush", 10))
    assert (row.evidence, row.independent, row.may_spend) == ("likely", 2, True)


def test_several_sedges_count_once():
    """Three sedges in one zone are one sign; a dollarweed beside them is the second."""
    sedges = [found("yellow_nutsedge", 10), found("purple_nutsedge", 10), found("green_kyllinga", 10)]
    row = reading("wet_or_poorly_drained", *sedges)
    assert (row.independent, row.evidence) == (1, "hint")
    assert len(row.signs) == 3
    assert reading("wet_or_poorly_drained", *sedges, found("dollarweed", 5)).evidence == "likely"


def test_legumes_count_once():
    """Clover and black medic live off their own nitrogen for the same reason: one sign."""
    assert reading("low_nitrogen", found("white_clover", 20), found("black_medic", 20)).independent == 1
    assert group_of(CLOVER) == group_of(MEDIC) == "Fabaceae"


def test_one_finding_is_one_sign_whatever_its_names():
    """A set of two names that both mean compaction is one plant on the lawn, hence one sign."""
    row = reading("compacted", found({"goosegrass": 0.5, "path_rush": 0.5}, 30))
    assert (row.independent, row.evidence) == (1, "hint")
    assert row.signs[0].belief == 1.0


def test_an_unsettled_sedge_is_a_full_sign_when_all_names_agree():
    """Yellow or purple nutsedge, 0.6 to 0.4: both say wet, so the belief is whole."""
    row = reading("wet_or_poorly_drained", found({"yellow_nutsedge": 0.6, "purple_nutsedge": 0.4}, 30))
    assert row.signs[0].belief == pytest.approx(1.0)
    half = reading("wet_or_poorly_drained", found({"yellow_nutsedge": 0.5, "crabgrass": 0.5}, 30))
    assert half.signs[0].weight == pytest.approx(half.signs[0].strength / 2)


def test_a_measurement_outweighs_all_signs():
    """A failed probe makes it measured without a sign; a passed probe ends it whatever the weeds say."""
    assert reading("compacted", measured=[Measured("probe_test", "fails")]).evidence == "measured"
    signs = [found("goosegrass", 30), found("path_rush", 20), found("knotweed", 20)]
    denied = reading("compacted", *signs, measured=[Measured("probe_test", "passes")])
    assert denied.evidence == "none"
    assert [row.kind for row in denied.against] == ["measurement"]
    assert len(denied.signs) == 3


def test_a_denying_source_is_shown_and_takes_strength():
    """Red sorrel lives at neutral pH too: shown against, and a quarter of the strength goes."""
    # Source: Michigan State University Extension turf weed descriptions (red sorrel at neutral pH).
    row = reading("acid_soil", found("red_sorrel", 20))
    assert [(item.kind, item.about, item.sources) for item in row.against] == [("source", "red_sorrel", ("mich_turf",))]
    assert row.signs[0].strength == pytest.approx(STRONGEST * (1 - PER_SOURCE["not_stated"]))


def test_the_opposite_condition_is_shown_and_can_hold_back():
    """Wet and dry signs in one zone stand against each other; the lighter one is not likely."""
    wet = [found("yellow_nutsedge", 3), found("dollarweed", 3)]
    dry = [found("red_sorrel", 60), found("black_medic", 60)]
    row = reading("wet_or_poorly_drained", *wet, *dry)
    assert {item.about for item in row.against if item.kind == "opposite"} == {"red_sorrel", "black_medic"}
    assert row.evidence == "hint"


def test_one_plant_among_many_is_no_sign():
    """A trace of a sign among much that is silent has too little weight to count."""
    # Source: UF IFAS EP634 (one or two weeds of a species do not diagnose a problem).
    row = reading("compacted", found("goosegrass", 0.1), found("crabgrass", 60))
    assert (row.evidence, row.independent) == ("none", 0)
    assert len(row.signs) == 1


def test_the_cheapest_test_comes_first():
    """The screwdriver before the laboratory; the zone names it for the condition that is likely."""
    report = read_ground(
        KNOWLEDGE, make_lawn(make_zone(found("goosegrass", 30), found("path_rush", 9), found("red_sorrel", 9)))
    )
    zone = report.zones[0]
    assert (zone.next_test.id, zone.next_test_for) == ("probe_test", "compacted")
    wet = next(row for row in zone.conditions if row.condition == "wet_or_poorly_drained")
    assert wet.test.id == "look"


def test_lime_is_no_remedy_until_a_laboratory_asks():
    """Sorrel alone brings a test, not lime; a laboratory figure brings lime."""
    # Source: Clemson HGIC, Red Sorrel (a reason to test, not to lime by eye).
    turf = replace(TURF, soil_ph=())
    knowledge = make_knowledge(WEEDS, [turf], [COAST])
    assert reading("acid_soil", found("red_sorrel", 40), knowledge=knowledge).remedies == ()
    from weedkey.model.turf import SoilPh

    knowledge = make_knowledge(WEEDS, [replace(TURF, soil_ph=(SoilPh(6, 6.5, MEMORY),))], [COAST])
    figures = [Measured("soil_ph", 5.2, "laboratory"), Measured("lime_recommendation_lb_per_1000", 60)]
    row = reading("acid_soil", found("red_sorrel", 40), measured=figures, knowledge=knowledge)
    assert [remedy.control for remedy in row.remedies] == ["lime"]


@pytest.mark.parametrize(
    ("season", "habit", "remedies"),
    [("cool", ("bunch",), ["overseed", "sod"]), ("warm", ("stolons",), ["plug", "sod"])],
)
def test_remedies_fit_the_turf(season, habit, remedies):
    """Thin cool-season turf is overseeded, thin turf with runners is plugged."""
    knowledge = make_knowledge([], [replace(TURF, season=season, habit=habit)], [COAST])
    row = reading("thin_turf", measured=[Measured("turf_cover_percent", 60)], knowledge=knowledge)
    assert (row.evidence, [remedy.control for remedy in row.remedies]) == ("measured", remedies)


def test_signs_of_a_condition_are_listed_by_strength():
    """The list for teaching puts the best supported weed first and names who denies it."""
    rows = list_signs(KNOWLEDGE, "compacted")
    assert [row[0] for row in rows] == ["goosegrass", "knotweed", "path_rush"]
    assert list_signs(KNOWLEDGE, "acid_soil")[0][3] == ("mich_turf",)
    with pytest.raises(KeyError):
        list_signs(KNOWLEDGE, "haunted")


def test_a_source_counts_once():
    """Two rows of one source are one voice, the stronger wording counting."""
    twice = make_weed("twice", [says("compacted", "a"), says("compacted", "a", strength="weak")])
    assert strength_of_sign(twice, "compacted") == pytest.approx(PER_SOURCE["not_stated"])
    memory = make_weed("memory", [says("compacted", "from_memory")])
    assert strength_of_sign(memory, "compacted") == pytest.approx(PER_SOURCE["not_stated"] / 2)


def test_a_weed_that_is_not_in_the_knowledge_is_silent():
    """An unknown id does not stop the reading."""
    assert reading("compacted", found("stranger", 20), found("goosegrass", 20)).independent == 1


IDS = [weed.id for weed in WEEDS]
CONDITION = st.sampled_from(["compacted", "wet_or_poorly_drained", "low_nitrogen", "acid_soil", "dry_or_droughty"])


@st.composite
def findings(draw):
    """A settled weed or a set of two or three names with beliefs that sum to 1."""
    names = draw(st.lists(st.sampled_from(IDS), min_size=1, max_size=3, unique=True))
    shares = draw(st.lists(st.integers(1, 9), min_size=len(names), max_size=len(names)))
    beliefs = {name: share / sum(shares) for name, share in zip(names, shares, strict=True)}
    return Finding(beliefs, draw(st.integers(0, 60)))


ZONES = st.lists(findings(), max_size=7)


def standing(row):
    """Evidence as a rank, then weight and number of signs: what must never fall."""
    return EVIDENCE.index(row.evidence), row.weight, row.independent


def supports(finding, condition):
    """True if a name of the finding points to the condition."""
    return any(strength_of_sign(KNOWLEDGE.weeds[weed], condition) > 0 for weed in finding.weeds)


@given(ZONES, findings(), CONDITION)
def test_one_more_sign_never_lowers_its_condition(before, extra, condition):
    """A finding that points to the condition never lowers its evidence, weight or count."""
    assume(supports(extra, condition))
    one, two = reading(condition, *before), reading(condition, *before, extra)
    assume(not opposes(extra, condition))
    assert all(a <= b for a, b in zip(standing(one), standing(two), strict=True))


def opposes(finding, condition):
    """True if a name of the finding points to the opposite as well."""
    opposite = {"wet_or_poorly_drained": "dry_or_droughty", "dry_or_droughty": "wet_or_poorly_drained"}
    return condition in opposite and supports(finding, opposite[condition])


@given(ZONES, CONDITION, st.integers(1, 40), st.data())
def test_more_cover_of_a_sign_never_lowers_its_condition(zone, condition, more, data):
    """A supporting weed that spreads never lowers its condition."""
    speaking = [
        index for index, finding in enumerate(zone) if supports(finding, condition) and not opposes(finding, condition)
    ]
    assume(speaking)
    index = data.draw(st.sampled_from(speaking))
    grown = [replace(f, cover_percent=f.cover_percent + more) if i == index else f for i, f in enumerate(zone)]
    pairs = zip(standing(reading(condition, *zone)), standing(reading(condition, *grown)), strict=True)
    assert all(a <= b for a, b in pairs)


@given(ZONES, CONDITION, st.sampled_from(IDS), st.sampled_from(sorted(PER_SOURCE)))
def test_one_more_source_never_lowers_its_condition(zone, condition, weed, strength):
    """Another source that states the sign of a weed never lowers the condition."""
    entry = KNOWLEDGE.weeds[weed]
    richer = replace(entry, signs=(*entry.signs, says(condition, "one_more", strength=strength)))
    knowledge = make_knowledge([richer if other.id == weed else other for other in WEEDS], [TURF], [COAST])
    pairs = zip(
        standing(reading(condition, *zone)), standing(reading(condition, *zone, knowledge=knowledge)), strict=True
    )
    assert all(a <= b for a, b in pairs)


@given(ZONES)
def test_a_confirming_measurement_never_lowers_its_condition(zone):
    """A failed probe lifts compaction to measured, whatever stood there."""
    assert reading("compacted", *zone, measured=[Measured("probe_test", "fails")]).evidence == "measured"


@given(ZONES, st.randoms(use_true_random=False))
def test_order_never_matters(zone, random):
    """Findings in another order give the same report, to the last digit."""
    shuffled = list(zone)
    random.shuffle(shuffled)
    one = read_ground(KNOWLEDGE, make_lawn(make_zone(*zone)))
    two = read_ground(KNOWLEDGE, make_lawn(make_zone(*shuffled)))
    assert one == two


@given(ZONES, ZONES, st.sampled_from([0.01, 0.1, 0.5, 2, 3, 10]))
def test_scaling_every_cover_alike_changes_nothing(front, back, factor):
    """Only the proportions of the covers count."""

    def scaled(zone):
        return [replace(finding, cover_percent=finding.cover_percent * factor) for finding in zone]

    one = read_ground(KNOWLEDGE, make_lawn(make_zone(*front), make_zone(*back, name="back")))
    two = read_ground(KNOWLEDGE, make_lawn(make_zone(*scaled(front)), make_zone(*scaled(back), name="back")))
    for before, after in zip(one.zones, two.zones, strict=True):
        for a, b in zip(before.conditions, after.conditions, strict=True):
            assert (a.evidence, a.independent, a.may_spend) == (b.evidence, b.independent, b.may_spend)
            assert a.weight == pytest.approx(b.weight, abs=1e-8)


@given(ZONES, ZONES, CONDITION)
def test_one_zone_never_speaks_for_another(front, back, condition):
    """What grows in the back changes nothing in the front."""
    alone = read_ground(KNOWLEDGE, make_lawn(make_zone(*front))).zones[0]
    both = read_ground(KNOWLEDGE, make_lawn(make_zone(*front), make_zone(*back, name="back"))).zones[0]
    assert alone == both
