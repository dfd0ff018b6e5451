"""Why: looks for and against, what the next look settles, rivals, "are you sure", what would change the verdict."""

from __future__ import annotations

import math

import pytest
from key_cases import exact_table, make_knowledge, make_region, make_trait, make_weed

from weedkey.key import (
    Context,
    ask_again,
    build_table,
    explain_look,
    explain_weed,
    find_rivals,
    judge,
    list_what_would_change,
)
from weedkey.key.explain import list_split
from weedkey.model.lawn import Look
from weedkey.model.region import Region


def knowledge():
    """Four grasses, three treatments; the ligule separates by treatment, the colour by name."""
    traits = [
        make_trait("ligule", ["membrane", "hairs"], 15.0),
        make_trait("colour", ["pale", "dark"], 1.0),
        make_trait("smell", ["none", "mint"], 5.0),
    ]
    weeds = [
        make_weed("bahia", {"ligule": "membrane", "colour": "pale", "smell": "none"}),
        make_weed("crab", {"ligule": "membrane", "colour": "dark", "smell": "none"}),
        make_weed("goose", {"ligule": "hairs", "colour": "dark", "smell": "none"}),
        make_weed("mint", {"ligule": "hairs", "colour": "pale", "smell": "mint"}),
    ]
    return make_knowledge(weeds, traits)


KNOWLEDGE = knowledge()
TABLE = build_table(KNOWLEDGE, Context(6, flat=True))
SPOT = Region("spot", "spot_treatment_only", frozenset({"kill"}), 1.0, irreversible=True)
REGIONS = {"bahia": SPOT, "crab": make_region("A"), "goose": make_region("A"), "mint": make_region("B")}
LOOKS = [Look("ligule", ("membrane",)), Look("colour", ("pale",))]


def test_looks_for_and_against_a_weed():
    """Each look of a candidate is for or against, with its states and the sources of the facts; strongest first."""
    step = explain_weed(TABLE, LOOKS, "crab", KNOWLEDGE)
    assert step.outcome == "crab"
    outcomes = {child.facts["trait"]: child.outcome for child in step.children[1:]}
    assert outcomes == {"ligule": "for", "colour": "against"}
    assert step.children[0].rule == "key.prior"
    assert all(child.sources == ("from_memory",) for child in step.children[1:])
    assert step.children[1].facts["shows"] == (
        ("dark",) if step.children[1].facts["trait"] == "colour" else ("membrane",)
    )


def test_bits_add_up_to_the_belief():
    """Odds of two weeds equal prior odds times 2 to the difference of their bits."""
    # Source: Bayes; arithmetic.
    bits, belief = {}, {}
    for weed in ("bahia", "goose"):
        step = explain_weed(TABLE, LOOKS, weed)
        bits[weed] = sum(child.facts["bits"] for child in step.children[1:])
        belief[weed] = step.facts["belief"]
    assert math.log2(belief["bahia"] / belief["goose"]) == pytest.approx(bits["bahia"] - bits["goose"], abs=1e-9)


def test_what_the_next_look_settles():
    """For each answer its chance, the weeds that lead and whether the treatment is then settled; chances sum to 1."""
    step = explain_look(TABLE, [Look("colour", ("pale",))], "ligule", REGIONS)
    chances = {child.facts["state"]: child.facts["chance"] for child in step.children}
    assert sum(chances.values()) == pytest.approx(1.0, abs=1e-6)
    membrane = next(child for child in step.children if child.facts["state"] == "membrane")
    assert membrane.facts["weeds"][0][0] == "bahia"
    assert membrane.facts["kind"] == "spot_treatment_only"


def test_the_next_look_says_which_pair_it_separates():
    """The next look names two weeds with different treatments."""
    why = judge(TABLE, [], REGIONS).next_look.why
    assert why.rule == "key.next_look"
    assert REGIONS[why.facts["first"]] != REGIONS[why.facts["second"]]


def test_rivals_and_the_look_that_separates_each():
    """Each rival comes with a look on which the two differ, not answered yet, and whether it matters."""
    rivals = {rival.weed: rival for rival in find_rivals(TABLE, [Look("ligule", ("membrane",))], REGIONS)}
    lead = judge(TABLE, [Look("ligule", ("membrane",))]).candidates[0][0]
    other = "crab" if lead == "bahia" else "bahia"
    assert rivals[other].trait == "colour"
    assert rivals[other].states != rivals[other].rival_states
    assert not rivals[other].same_treatment


def test_rival_that_nothing_separates():
    """Two weeds with the same facts: no look is named."""
    twins = make_knowledge(
        [make_weed("one", {"colour": "pale"}), make_weed("two", {"colour": "pale"})],
        [make_trait("colour", ["pale", "dark"])],
    )
    rivals = find_rivals(build_table(twins, Context(6, flat=True)), [])
    assert (rivals[0].trait, rivals[0].separation) == (None, 0.0)


def test_are_you_sure():
    """The look that most of the belief hangs on is the one without which the lead loses most."""
    looks = [Look("ligule", ("membrane",)), Look("colour", ("pale",)), Look("smell", ("none",))]
    step = ask_again(TABLE, looks, REGIONS)
    drops = {}
    lead = step.facts["lead"]
    for look in looks:
        rest = [other for other in looks if other != look]
        standing = judge(TABLE, rest, REGIONS)
        drops[look.trait] = step.facts["with"] - sum(
            belief for weed, belief in standing.candidates if lead in REGIONS[weed].actions
        )
    assert step.facts["trait"] == max(drops, key=drops.get)
    assert step.facts["drop"] == pytest.approx(max(drops.values()), abs=1e-9)
    assert ask_again(TABLE, [Look("ligule")], REGIONS) is None


def test_what_would_have_changed_the_verdict():
    """Another answer to one look, and the verdict that it would have given."""
    steps = list_what_would_change(TABLE, [*LOOKS, Look("smell", ("none",))], REGIONS)
    assert steps
    for step in steps:
        other = [look for look in [*LOOKS, Look("smell", ("none",))] if look.trait != step.facts["trait"]]
        standing = judge(TABLE, [*other, Look(step.facts["trait"], (step.facts["state"],))], REGIONS)
        assert standing.decision.kind == step.facts["kind"]
        assert standing.decision.actions != ("kill",)


def test_groups_that_are_still_open():
    """Weeds with one treatment stand in one group; beliefs of the groups add up."""
    step = list_split(TABLE, [], REGIONS)
    groups = [{weed for weed, _ in child.facts["weeds"]} for child in step.children]
    assert {"crab", "goose"} in groups
    assert sum(child.facts["belief"] for child in step.children) == pytest.approx(1.0, abs=1e-6)


def test_three_figures_stay_apart():
    """Name, decision and fit are three numbers: here the decision is settled, the name is not, the fit is full."""
    table = exact_table({"w1": "aa", "w2": "ab", "w3": "bb"})
    same = make_region("A")
    standing = judge(table, [Look("t0", ("a",))], {"w1": same, "w2": same, "w3": make_region("B")})
    assert standing.settled
    assert not standing.name_settled
    assert standing.decision.probability == pytest.approx(1.0)
    assert standing.candidates[0][1] == pytest.approx(0.5)
    assert standing.fit_score == 1.0
    on = judge(table, [Look("t0", ("a",))], {"w1": same, "w2": same, "w3": make_region("B")}, goal="name")
    assert on.next_look.trait == "t1"
