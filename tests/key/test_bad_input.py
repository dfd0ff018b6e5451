"""Bad input: contradictions, unknown words, parts that cannot be there, hundreds of answers, empty knowledge."""

from __future__ import annotations

import pytest
from key_cases import generate_knowledge, generate_regions, make_knowledge, make_region, make_trait, make_weed

from weedkey.errors import UnknownName, UsageError
from weedkey.key import DOES_NOT_APPLY, Context, build_table, compare, explain_look, explain_weed, judge
from weedkey.model.lawn import Look


def small_knowledge():
    """Two grasses and a broadleaf weed with a grass part, a leaf part and the plant group."""
    traits = [
        make_trait("plant_group", ["grassy", "broadleaf", "sedge", "rush", "other_monocot", "moss_or_algae"], 3.0),
        make_trait("ligule", ["absent", "membrane", "hairs"], 15.0, groups=("grassy",)),
        make_trait("colour", ["pale", "dark", "blue"], 1.0),
    ]
    weeds = [
        make_weed("crab", {"ligule": "membrane", "colour": "pale"}),
        make_weed("goose", {"ligule": "hairs", "colour": "dark"}),
        make_weed("clover", {"colour": "dark"}, "broadleaf"),
    ]
    return make_knowledge(weeds, traits)


TABLE = build_table(small_knowledge(), Context(6, flat=True))
REGIONS = {"crab": make_region("A"), "goose": make_region("B"), "clover": make_region("C")}


def test_two_answers_that_exclude_each_other():
    """Both are kept, both count, and the contradiction is named."""
    looks = [Look("colour", ("pale",)), Look("colour", ("dark",))]
    standing = judge(TABLE, looks, REGIONS)
    assert standing.looks == tuple(looks)
    assert [step.outcome for step in standing.contradictions] == ["two_answers"]
    assert standing.contradictions[0].facts["states"] == (("dark",), ("pale",))


def test_a_state_that_no_weed_shows():
    """It is kept and named; the order of the candidates stays."""
    standing = judge(TABLE, [Look("colour", ("blue",))], REGIONS)
    assert [step.outcome for step in standing.contradictions] == ["no_weed_shows_it"]
    assert len({round(belief, 6) for _, belief in standing.candidates}) == 1


def test_a_part_that_the_settled_group_does_not_have():
    """A ligule on a broadleaf plant is explained, not dropped."""
    looks = [Look("plant_group", ("broadleaf",)), Look("colour", ("dark",)), Look("ligule", ("absent",))]
    standing = judge(TABLE, looks, REGIONS)
    outcomes = {step.outcome: step for step in standing.contradictions}
    assert outcomes["does_not_apply"].facts["trait"] == "ligule"
    assert outcomes["does_not_apply"].facts["groups"] == ("grassy",)


def test_a_part_that_cannot_be_there_is_not_offered():
    """After "broadleaf" the ligule is no longer asked."""
    offered = {gain.trait for gain in judge(TABLE, [Look("plant_group", ("broadleaf",))]).gains}
    assert "ligule" not in offered


def test_removed_traits_and_states_are_kept_and_named():
    """An old walk with traits or states that are gone: marked and ignored, the known part still counts."""
    looks = [Look("gone", ("x",)), Look("colour", ("gone",)), Look("colour", ("pale", "gone"))]
    standing = judge(TABLE, looks, REGIONS)
    assert [(entry.look.trait, entry.reason) for entry in standing.ignored] == [
        ("colour", "unknown_state"), ("colour", "unknown_state"), ("gone", "unknown_trait"),
    ]  # fmt: skip
    assert standing.candidates == judge(TABLE, [Look("colour", ("pale",))], REGIONS).candidates


def test_cannot_tell_gives_way_to_an_answer():
    """Saying "Can't tell" and later a real answer on the same look: the answer counts, the first is marked."""
    looks = [Look("colour"), Look("colour", ("pale",))]
    standing = judge(TABLE, looks, REGIONS)
    assert [entry.reason for entry in standing.ignored] == ["answered_since"]
    assert standing.candidates == judge(TABLE, looks[1:], REGIONS).candidates


def test_hundreds_of_answers():
    """Four hundred answers, most of them contradictory: beliefs stay numbers between 0 and 1."""
    knowledge = generate_knowledge(30, 20, seed=5)
    table = build_table(knowledge, Context(6, "southeast"))
    looks = [
        Look(trait.id, (trait.state_ids[turn % len(trait.states)],), unsure=turn % 2 == 0)
        for turn in range(20)
        for trait in knowledge.traits.values()
    ]
    standing = judge(table, looks, generate_regions(knowledge))
    assert len(standing.looks) == 400
    assert all(0.0 <= belief <= 1.0 for _, belief in standing.candidates)
    assert standing.stop is not None


def test_empty_knowledge():
    """No weeds at all: nothing fits, nothing breaks."""
    standing = judge(build_table(make_knowledge([], []), Context(6)), [Look("x", ("y",))], {})
    assert (standing.candidates, standing.fit, standing.settled) == ((), False, False)


def test_a_weed_without_a_decision():
    """A weed that the regions leave out has no acceptable action, so it never counts as settled."""
    standing = judge(TABLE, [Look("plant_group", ("broadleaf",))], {"crab": make_region("A")}, goal="decision")
    assert standing.decision.probability < 0.5
    assert not standing.settled


def test_no_regions_at_all():
    """An empty map of regions gives a decision of its own kind and no actions."""
    standing = judge(TABLE, [], {})
    assert (standing.decision.kind, standing.decision.actions) == ("not_known", ())


@pytest.mark.parametrize("values", [{"month": 0}, {"month": 13}, {"month": 6, "region": "atlantis"}])
def test_context_refuses_what_does_not_exist(values):
    """A month or region that does not exist is a usage error with the accepted range."""
    with pytest.raises(UsageError, match="Expected"):
        Context(**values)


def test_unknown_names():
    """Explaining or comparing something unknown names it."""
    with pytest.raises(UnknownName):
        explain_weed(TABLE, [], "nobody")
    with pytest.raises(UnknownName):
        explain_look(TABLE, [], "nothing")
    with pytest.raises(UnknownName):
        compare(small_knowledge(), ["crab", "nobody"], Context(6))
    with pytest.raises(UsageError):
        compare(small_knowledge(), ["crab", "crab"], Context(6))


def test_budget_of_field_time():
    """With no time for any look the key stops and says which pair is left."""
    standing = judge(TABLE, [], REGIONS, budget_seconds=2.0)
    assert standing.stop == "budget"
    assert standing.next_look is None
    assert set(standing.left_pair) <= set(REGIONS)


def test_does_not_apply_where_everybody_has_the_part():
    """Saying "Does not apply" to a part that every weed has changes nothing and is named."""
    standing = judge(TABLE, [Look("colour", (DOES_NOT_APPLY,))], REGIONS)
    assert [step.outcome for step in standing.contradictions] == ["no_weed_shows_it"]
    assert standing.candidates == judge(TABLE, [], REGIONS).candidates


def test_nothing_in_the_list_fits():
    """Answers that fit no weed end in "fits nothing here", not in a name."""
    traits = [make_trait(f"t{place}", "ab", misread=0.02) for place in range(8)]
    weeds = [make_weed(name, dict.fromkeys((trait.id for trait in traits), name)) for name in "ab"]
    table = build_table(make_knowledge(weeds, traits), Context(6, flat=True))
    looks = [Look(f"t{place}", ("a" if place < 4 else "b",)) for place in range(8)]
    standing = judge(table, looks)
    assert not standing.fit
    assert not standing.settled
    assert not standing.name_settled
