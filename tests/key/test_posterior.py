"""Section D: belief against scikit-learn and against arithmetic; missing facts, doubt, and slips."""

from __future__ import annotations

import random

import numpy as np
import pytest
from key_cases import (
    exact_table,
    generate_knowledge,
    make_knowledge,
    make_region,
    make_trait,
    make_weed,
)
from sklearn.naive_bayes import CategoricalNB

from weedkey.key import DOES_NOT_APPLY, NOT_IN_LIST, Context, build_table, build_table_from_rows, judge
from weedkey.key.belief import find_belief, sort_evidence
from weedkey.key.score import find_edges, find_gain, group_by_name
from weedkey.model.lawn import Look


def belief_of(table, looks):
    """Posterior by taxon."""
    return dict(zip(table.taxa, find_belief(table, sort_evidence(table, looks)), strict=True))


def test_posterior_equals_scikit_learn():
    """D1: with all attributes answered the posterior equals CategoricalNB.predict_proba."""
    # Source: scikit-learn, sklearn.naive_bayes.CategoricalNB (alpha 0.5, empirical prior).
    draw = np.random.default_rng(1)
    data = draw.integers(0, 4, size=(120, 16))
    labels = draw.integers(0, 7, size=120)
    model = CategoricalNB(alpha=0.5, min_categories=4).fit(data, labels)
    traits = {f"t{place}": make_trait(f"t{place}", [f"s{state}" for state in range(4)]) for place in range(16)}
    rows = {
        f"t{place}": {f"c{label}": np.exp(logs[label]).tolist() for label in range(7)}
        for place, logs in enumerate(model.feature_log_prob_)
    }
    prior = {f"c{label}": float(np.exp(log)) for label, log in enumerate(model.class_log_prior_)}
    table = build_table_from_rows(prior, traits, rows)
    for row in data[:40]:
        looks = [Look(f"t{place}", (f"s{state}",)) for place, state in enumerate(row)]
        ours = list(belief_of(table, looks).values())
        assert np.max(np.abs(np.array(ours) - model.predict_proba(row[None, :])[0])) < 1e-12


def test_arithmetic():
    """D8: prior .9/.1, P(yes) .2/.9, answer yes: .6667/.3333."""
    table = build_table_from_rows(
        {"a": 0.9, "b": 0.1}, {"t": make_trait("t", ["yes", "no"])}, {"t": {"a": [0.2, 0.8], "b": [0.9, 0.1]}}
    )
    assert belief_of(table, [Look("t", ("yes",))]) == pytest.approx({"a": 2 / 3, "b": 1 / 3}, abs=1e-9)


def test_identification_score():
    """D9: three tests, answers + - +: normalised score of A is 0.8759."""
    # Source: identification score of Willcox, Lapage, Bascomb & Curtis 1973, J Gen Microbiol 77:317-330; arithmetic.
    plus = {"A": (0.99, 0.01, 0.9), "B": (0.5, 0.5, 0.5)}
    traits = {f"t{place}": make_trait(f"t{place}", ["plus", "minus"]) for place in range(3)}
    rows = {f"t{p}": {taxon: [chances[p], 1 - chances[p]] for taxon, chances in plus.items()} for p in range(3)}
    table = build_table_from_rows({"A": 1.0, "B": 1.0}, traits, rows)
    looks = [Look("t0", ("plus",)), Look("t1", ("minus",)), Look("t2", ("plus",))]
    assert belief_of(table, looks)["A"] == pytest.approx(0.8759, abs=1e-4)


def test_cannot_tell_equal_for_all_is_neutral():
    """D4: "can't tell" with the same chance for all weeds changes nothing, and the gain shrinks by 1 - u."""
    trait = {"t": make_trait("t", ["yes", "no"])}
    rows = {"t": {"a": [0.2, 0.8], "b": [0.9, 0.1]}}
    prior = {"a": 0.6, "b": 0.4}
    seen = build_table_from_rows(prior, trait, rows)
    unseen = build_table_from_rows(prior, trait, rows, cannot_tell=0.3)
    assert belief_of(unseen, [Look("t")]) == pytest.approx(prior, abs=1e-12)
    gains = []
    for table in (seen, unseen):
        grouping = group_by_name(table, table.prior)
        gains.append(find_gain(table.column("t"), grouping, find_edges(grouping)))
    assert gains[1] == pytest.approx(0.7 * gains[0], abs=1e-12)


def test_cannot_tell_out_of_flower_speaks():
    """A flower that cannot be seen speaks for the weed that does not flower in that month."""
    knowledge = generate_knowledge(60, 20, seed=3)
    flower = next(trait.id for trait in knowledge.traits.values() if trait.needs == "flower")
    table = build_table(knowledge, Context(6, "southeast"))
    column = table.column(flower)
    told = [column.tells(place) for place in range(len(table.taxa))]
    after = belief_of(table, [Look(flower)])
    low, high = min(told), max(told)
    raised = {after[taxon] / table.prior[place] for place, taxon in enumerate(table.taxa) if told[place] == low}
    lowered = {after[taxon] / table.prior[place] for place, taxon in enumerate(table.taxa) if told[place] == high}
    assert min(raised) > 1 > max(lowered)


def test_one_of_all_states_says_nothing():
    """D5: "one of {all states}" leaves the belief unchanged."""
    table = build_table_from_rows(
        {"a": 0.6, "b": 0.4}, {"t": make_trait("t", ["x", "y"])}, {"t": {"a": [0.2, 0.8], "b": [0.9, 0.1]}}
    )
    assert belief_of(table, [Look("t", ("y", "x"))]) == pytest.approx({"a": 0.6, "b": 0.4}, abs=1e-12)


def test_impossible_state_raises_the_fit_alarm():
    """D6: a state with chance 0 everywhere: no error, belief unchanged, the fit alarm rings."""
    rows = {"t": {"a": [0.5, 0.5, 0.0], "b": [0.5, 0.5, 0.0]}}
    table = build_table_from_rows({"a": 0.6, "b": 0.4}, {"t": make_trait("t", ["x", "y", "z"])}, rows)
    standing = judge(table, [Look("t", ("z",))])
    assert dict(standing.candidates) == pytest.approx({"a": 0.6, "b": 0.4}, abs=1e-12)
    assert not standing.fit
    assert [step.outcome for step in standing.contradictions] == ["no_weed_shows_it"]


def test_missing_fact_is_neutral_at_first():
    """D7: a weed without a fact keeps its odds against all others when that look is the first answer."""
    trait = make_trait("t", ["x", "y", "z"])
    weeds = [make_weed("a", {"t": "x"}), make_weed("b", {"t": {"y": 0.7, "z": 0.3}}), make_weed("gap", {})]
    table = build_table(make_knowledge(weeds, [trait]), Context(6, "southeast"))
    gap = table.find_taxon("gap")
    for states in (("x",), ("y",), ("z",), ("x", "y")):
        after = belief_of(table, [Look("t", states)])
        assert after["gap"] / (1 - after["gap"]) == pytest.approx(table.prior[gap] / (1 - table.prior[gap]), abs=1e-9)
    assert belief_of(table, [Look("t")])["gap"] == pytest.approx(table.prior[gap], abs=1e-9)


def test_missing_fact_any_order():
    """D7: with missing facts too, any order of the answers gives the same result."""
    knowledge = generate_knowledge(40, 20, seed=9)
    table = build_table(knowledge, Context(6, "southeast"))
    looks = [Look(trait.id, (trait.state_ids[0],)) for trait in knowledge.traits.values()]
    first = belief_of(table, looks)
    draw = random.Random(1)
    for _ in range(10):
        draw.shuffle(looks)
        assert belief_of(table, looks) == first


def test_one_wrong_answer_of_six():
    """D10: with one wrong answer of six the true weed of 150 stays among the first five in 90 % of cases."""
    draw = random.Random(10)
    taxa = {f"w{number}": [draw.choice("abcd") for _ in range(12)] for number in range(150)}
    error = 0.05
    traits = {f"t{place}": make_trait(f"t{place}", "abcd") for place in range(12)}
    rows = {
        f"t{place}": {w: [1 - error if s == row[place] else error / 3 for s in "abcd"] for w, row in taxa.items()}
        for place in range(12)
    }
    table = build_table_from_rows(dict.fromkeys(taxa, 1.0), traits, rows)
    hits = 0
    for taxon, row in taxa.items():
        chosen = draw.sample(range(12), 6)
        wrong = draw.choice(chosen)
        looks = [
            Look(f"t{place}", (draw.choice([s for s in "abcd" if s != row[place]]) if place == wrong else row[place],))
            for place in chosen
        ]
        hits += taxon in [name for name, _ in judge(table, looks).candidates[:5]]
    assert hits / 150 >= 0.9


def test_both_is_not_one_of():
    """Saying "I see both" speaks for the plant that shows both, "one of these" for neither."""
    trait = make_trait("t", ["white", "pink", "blue"])
    weeds = [make_weed("one", {"t": "white"}), make_weed("two", {"t": {"white": 0.5, "pink": 0.5}})]
    table = build_table(make_knowledge(weeds, [trait]), Context(6, flat=True))
    both = belief_of(table, [Look("t", ("white", "pink"), both=True)])
    one_of = belief_of(table, [Look("t", ("white", "pink"))])
    assert both["two"] > 0.9 * (1 - both[NOT_IN_LIST])
    assert one_of["two"] == pytest.approx(one_of["one"], rel=0.05)


def test_both_formula():
    """Saying "I see both" is the product of 1 - (1 - P)^3."""
    # Source: chance to see a state at least once on three plants, arithmetic.
    table = build_table_from_rows(
        {"a": 1.0, "b": 1.0}, {"t": make_trait("t", ["x", "y"])}, {"t": {"a": [0.5, 0.5], "b": [0.9, 0.1]}}
    )
    expected = [(1 - 0.5**3) ** 2, (1 - 0.1**3) * (1 - 0.9**3)]
    found = belief_of(table, [Look("t", ("x", "y"), both=True)])
    assert found["a"] == pytest.approx(expected[0] / sum(expected), abs=1e-9)


def test_unsure_halves_the_evidence():
    """An unsure look is mixed half and half with an even spread."""
    table = build_table_from_rows(
        {"a": 1.0, "b": 1.0}, {"t": make_trait("t", ["x", "y"])}, {"t": {"a": [0.9, 0.1], "b": [0.1, 0.9]}}
    )
    found = belief_of(table, [Look("t", ("x",), unsure=True)])
    assert found["a"] == pytest.approx(0.7, abs=1e-9)  # (0.45 + 0.25) / 1


def test_does_not_apply_is_an_answer():
    """Saying "Does not apply" speaks for the groups that lack the part."""
    ligule = make_trait("ligule", ["absent", "membrane"], groups=("grassy",))
    weeds = [make_weed("grass", {"ligule": "membrane"}), make_weed("leaf", {}, "broadleaf")]
    table = build_table(make_knowledge(weeds, [ligule]), Context(6, flat=True))
    found = belief_of(table, [Look("ligule", (DOES_NOT_APPLY,))])
    assert found["leaf"] > 0.9
    membrane = belief_of(table, [Look("ligule", ("membrane",))])
    assert membrane["grass"] > 0.9


def test_asked_if_decides_whether_a_part_exists():
    """A look on leaflets does not apply to a plant with simple leaves, and is not offered once they are simple."""
    leaf = make_trait("leaf_type", ["simple", "three"])
    leaflet = make_trait("leaflet", ["heart", "egg"], asked_if=("leaf_type", ("three",)))
    weeds = [
        make_weed("plain", {"leaf_type": "simple"}),
        make_weed("plain_two", {"leaf_type": "simple"}),
        make_weed("clover", {"leaf_type": "three", "leaflet": "egg"}),
        make_weed("sorrel", {"leaf_type": "three", "leaflet": "heart"}),
    ]
    table = build_table(make_knowledge(weeds, [leaf, leaflet]), Context(6, flat=True))
    before = {gain.trait for gain in judge(table, [Look("leaf_type", ("simple",))]).gains}
    after = {gain.trait for gain in judge(table, [Look("leaf_type", ("three",))]).gains}
    assert "leaflet" not in before
    assert "leaflet" in after


def test_correlated_looks_are_damped():
    """Two looks of one set weigh as 2 / (1 + rho) looks, in any order; another set is not touched."""
    rows = {name: {"a": [0.9, 0.1], "b": [0.1, 0.9]} for name in "pqr"}
    traits = {
        "p": make_trait("p", ["x", "y"], correlated="twins"),
        "q": make_trait("q", ["x", "y"], correlated="twins"),
        "r": make_trait("r", ["x", "y"]),
    }
    table = build_table_from_rows({"a": 1.0, "b": 1.0}, traits, rows)
    odds = dict.fromkeys("pqr", 9.0)
    twins = belief_of(table, [Look("q", ("x",)), Look("p", ("x",))])
    assert twins["a"] / twins["b"] == pytest.approx((odds["p"] * odds["q"]) ** (1 / 1.5), rel=1e-9)
    free = belief_of(table, [Look("p", ("x",)), Look("r", ("x",))])
    assert free["a"] / free["b"] == pytest.approx(81.0, rel=1e-9)


def test_the_same_answer_twice_counts_once():
    """Repeating an answer adds nothing: a wrong answer would be repeated as well."""
    table = build_table_from_rows(
        {"a": 1.0, "b": 1.0}, {"t": make_trait("t", ["x", "y"])}, {"t": {"a": [0.9, 0.1], "b": [0.1, 0.9]}}
    )
    once = belief_of(table, [Look("t", ("x",))])
    assert belief_of(table, [Look("t", ("x",))] * 7) == pytest.approx(once, abs=1e-12)


def test_exact_answers_find_every_taxon():
    """With exact answers and distinct rows every taxon is found, whatever the region map says."""
    draw = random.Random(2)
    codes = sorted({tuple(draw.choice("abc") for _ in range(5)) for _ in range(20)})
    taxa = {f"w{place}": list(code) for place, code in enumerate(codes)}
    table = exact_table(taxa)
    regions = {taxon: make_region("one" if place % 2 else "two") for place, taxon in enumerate(taxa)}
    for taxon, row in taxa.items():
        looks = [Look(f"t{place}", (state,)) for place, state in enumerate(row)]
        assert judge(table, looks, regions).candidates[0][0] == taxon
