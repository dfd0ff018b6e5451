"""What must hold for any answers: order, undo, neutral answers, repeatability, and no answer that breaks the key."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from key_cases import (
    exact_table,
    generate_knowledge,
    generate_regions,
    make_knowledge,
    make_region,
    make_trait,
    make_weed,
)

from weedkey.key import DOES_NOT_APPLY, Context, build_table, judge
from weedkey.key.belief import find_belief, sort_evidence
from weedkey.model.lawn import Look

KNOWLEDGE = generate_knowledge(40, 16, seed=7)
REGIONS = generate_regions(KNOWLEDGE)
CONTEXT = Context(6, "southeast")
TABLE = build_table(KNOWLEDGE, CONTEXT)


@st.composite
def looks_of(draw):
    """Any answer: states that exist or not, several, both, unsure, can't tell."""
    trait = draw(st.sampled_from([*KNOWLEDGE.traits, "removed_trait"]))
    known = list(KNOWLEDGE.traits[trait].state_ids) if trait in KNOWLEDGE.traits else []
    states = draw(st.lists(st.sampled_from([*known, DOES_NOT_APPLY, "removed_state"]), max_size=3))
    return Look(trait, tuple(states), draw(st.booleans()), draw(st.booleans()))


many_looks = st.lists(looks_of(), max_size=12)


def plain(standing):
    """A standing as comparable values, without the record of the looks given."""
    return (
        standing.candidates, standing.not_in_list, standing.decision, standing.fit, standing.fit_score, standing.stop,
        standing.next_look, standing.gains, standing.contradictions, standing.left_pair, standing.ignored,
    )  # fmt: skip


@given(looks=many_looks, order=st.randoms(use_true_random=False))
def test_order_does_not_matter(looks, order):
    """D2: any order of any answers gives the same standing to the last digit."""
    other = list(looks)
    order.shuffle(other)
    assert plain(judge(TABLE, looks, REGIONS)) == plain(judge(TABLE, other, REGIONS))


@given(looks=many_looks, extra=looks_of(), place=st.integers(0, 12))
def test_undo_is_exact(looks, extra, place):
    """D3: an answer put in anywhere and taken back leaves exactly what was there."""
    before = plain(judge(TABLE, looks, REGIONS))
    given_looks = [*looks[:place], extra, *looks[place:]]
    judge(TABLE, given_looks, REGIONS)
    del given_looks[min(place, len(looks))]
    assert plain(judge(TABLE, given_looks, REGIONS)) == before


@given(looks=many_looks)
def test_runs_repeat_exactly(looks):
    """A fresh table gives the same standing as one that has seen a thousand answers."""
    assert plain(judge(TABLE, looks, REGIONS)) == plain(judge(build_table(KNOWLEDGE, CONTEXT), looks, REGIONS))


@given(looks=many_looks)
def test_nothing_is_dropped_and_belief_is_a_distribution(looks):
    """Every look is kept, every unusable one is named, and beliefs sum to 1 and are never 0 by an answer."""
    standing = judge(TABLE, looks, REGIONS)
    assert standing.looks == tuple(looks)
    named = [entry.look for entry in standing.ignored]
    for look in looks:
        if look.trait == "removed_trait" or "removed_state" in look.states:
            assert look in named
    total = sum(belief for _, belief in standing.candidates) + standing.not_in_list
    assert total == pytest.approx(1.0, abs=1e-9)
    assert 0.0 <= standing.fit_score <= 1.0
    assert all(gain.gain >= 0 for gain in standing.gains)


@given(looks=many_looks, trait=st.sampled_from(list(KNOWLEDGE.traits)))
def test_one_of_every_answer_is_neutral(looks, trait):
    """D5: "one of everything" changes the belief at no point of a walk."""
    answers = tuple(answer for answer in TABLE.column(trait).answers if answer)
    base = [look for look in looks if look.trait != trait and look.trait in KNOWLEDGE.traits]
    base = [look for look in base if KNOWLEDGE.traits[look.trait].correlated is None]
    before = find_belief(TABLE, sort_evidence(TABLE, base))
    after = find_belief(TABLE, sort_evidence(TABLE, [*base, Look(trait, answers)]))
    assert after == pytest.approx(before, abs=1e-12)


@given(shares=st.lists(st.floats(0.05, 0.95), min_size=2, max_size=4), state=st.sampled_from("xyz"))
def test_missing_fact_is_neutral_for_any_shares(shares, state):
    """D7: whatever the others show, a weed without the fact keeps its odds at the first answer to 1e-9."""
    trait = make_trait("t", "xyz")
    weeds = [make_weed(f"w{n}", {"t": {"x": share, "y": 1 - share}}) for n, share in enumerate(shares)]
    table = build_table(make_knowledge([*weeds, make_weed("gap", {})], [trait]), Context(6, flat=True))
    gap = table.find_taxon("gap")
    after = find_belief(table, sort_evidence(table, [Look("t", (state,))]))
    assert after[gap] / (1 - after[gap]) == pytest.approx(table.prior[gap] / (1 - table.prior[gap]), abs=1e-9)


@given(codes=st.sets(st.text("ab", min_size=4, max_size=4), min_size=2, max_size=10))
def test_gain_never_exceeds_what_is_unsettled(codes):
    """No look promises more than the whole of the belief that stands between different treatments."""
    taxa = {f"w{n}": list(code) for n, code in enumerate(sorted(codes))}
    regions = {taxon: make_region("even" if n % 2 else "odd") for n, taxon in enumerate(taxa)}
    standing = judge(exact_table(taxa), [], regions)
    whole = 1 - sum(weight**2 for _, weight in standing.decision.regions)
    assert all(gain.gain <= whole + 1e-9 for gain in standing.gains)
