"""Section F: four traps for a look that asks for the decision (scores in the ordered-pairs form)."""

from __future__ import annotations

import random

import pytest
from key_cases import exact_table, make_region, make_trait

from weedkey.key import build_table_from_rows, judge
from weedkey.key.score import ASKING_SECONDS, find_information
from weedkey.model.lawn import Look


def gains_of(table, regions):
    """Gain by trait before any answer."""
    return {gain.trait: gain.gain for gain in judge(table, [], regions).gains}


def trait_pair(*names):
    """Yes/no traits by name."""
    return {name: make_trait(name, ["yes", "no"]) for name in names}


def test_two_looks_that_help_only_together():
    """F1: each half of an exclusive-or scores 0.25, the coin 0; both bits come first; never "nothing left"."""
    codes = {"w00": "AA", "w01": "AB", "w10": "BA", "w11": "BB"}
    rows = {
        "bit1": {w: [1.0, 0.0] if code[0] == "A" else [0.0, 1.0] for w, code in codes.items()},
        "bit2": {w: [1.0, 0.0] if code[1] == "A" else [0.0, 1.0] for w, code in codes.items()},
        "coin": {w: [0.5, 0.5] for w in codes},
    }
    table = build_table_from_rows(dict.fromkeys(codes, 1.0), trait_pair(*rows), rows)
    same, other = make_region("A"), make_region("B")
    regions = {"w00": same, "w11": same, "w01": other, "w10": other}
    assert gains_of(table, regions) == pytest.approx({"bit1": 0.25, "bit2": 0.25, "coin": 0.0}, abs=1e-4)
    start = judge(table, [], regions)
    assert start.stop is None
    assert start.next_look.trait == "bit1"
    second = judge(table, [Look("bit1", ("yes",))], regions)
    assert second.next_look.trait == "bit2"
    assert judge(table, [Look("bit1", ("yes",)), Look("bit2", ("no",))], regions).decision.actions == ("do_B",)


def noise_table():
    """Prior .2 .4 .4; a fair coin, and the question "is it taxon 1"."""
    rows = {
        "coin": {w: [0.5, 0.5] for w in ("w1", "w2", "w3")},
        "is_first": {"w1": [1.0, 0.0], "w2": [0.0, 1.0], "w3": [0.0, 1.0]},
    }
    return build_table_from_rows({"w1": 0.2, "w2": 0.4, "w3": 0.4}, trait_pair(*rows), rows)


def test_noise_scores_nothing():
    """F2: a coin scores exactly 0 and comes last, where plain edge cutting prefers it (0.24 against 0.16)."""
    # Source: example of Chen, Hassani & Krause 2017, arXiv 1605.07334.
    table = noise_table()
    both, third = make_region("both"), make_region("third")
    regions = {"w1": both, "w2": both, "w3": third}
    found = gains_of(table, regions)
    assert found["coin"] == 0.0
    assert found["is_first"] == pytest.approx(0.16, abs=1e-4)
    assert judge(table, [], regions).gains[-1].trait == "coin"
    bits = [find_information(table.column(name), range(3), table.prior) for name in ("coin", "is_first")]
    assert bits == pytest.approx([0.0, 0.7219], abs=1e-4)


def decision_table(costs=(0.0, 0.0)):
    """Five equal taxa, 1-4 share a treatment; "split" parts 1 2 5 from 3 4, "is_fifth" asks for the odd one."""
    first = {"w1", "w2", "w5"}
    names = [f"w{number}" for number in range(1, 6)]
    rows = {
        "split": {w: [1.0, 0.0] if w in first else [0.0, 1.0] for w in names},
        "is_fifth": {w: [1.0, 0.0] if w == "w5" else [0.0, 1.0] for w in names},
    }
    traits = {name: make_trait(name, ["yes", "no"], cost) for name, cost in zip(rows, costs, strict=True)}
    same, odd = make_region("A"), make_region("B")
    regions = {w: odd if w == "w5" else same for w in names}
    return build_table_from_rows(dict.fromkeys(names, 1.0), traits, rows), regions


def test_the_name_asks_the_wrong_look():
    """F3: information on the name prefers the split (.971), the decision the odd one (.32 against .16)."""
    table, regions = decision_table()
    bits = [find_information(table.column(name), range(5), table.prior) for name in ("split", "is_fifth")]
    assert bits == pytest.approx([0.9710, 0.7219], abs=1e-4)
    assert gains_of(table, regions) == pytest.approx({"split": 0.16, "is_fifth": 0.32}, abs=1e-4)
    assert judge(table, [], regions).next_look.trait == "is_fifth"


def test_one_decision_stops_at_once():
    """F4: all weeds left share one treatment: every look scores 0, stop, show the decision and the names."""
    table, _ = decision_table()
    same = make_region("A")
    standing = judge(table, [], dict.fromkeys(table.taxa, same))
    assert {gain.gain for gain in standing.gains} == {0.0}
    assert (standing.stop, standing.settled, standing.next_look) == ("settled", True, None)
    assert standing.decision.actions == ("do_A",)
    assert len(standing.candidates) == 5
    assert not standing.name_settled


def test_cost_turns_the_order():
    """F5: four times the cost on the better look turns the order (.08 against .16 per unit)."""
    table, regions = decision_table(costs=(0.0, 3 * ASKING_SECONDS))  # and as much again to ask
    gains = {gain.trait: gain for gain in judge(table, [], regions).gains}
    assert gains["is_fifth"].cost_seconds == 4 * gains["split"].cost_seconds
    assert gains["is_fifth"].score * gains["split"].cost_seconds == pytest.approx(0.08, abs=1e-4)
    assert judge(table, [], regions).next_look.trait == "split"


def test_order_of_taxa_and_names_of_regions_do_not_matter():
    """F6: other names of regions and another order of taxa change no gain by more than 1e-12."""
    draw = random.Random(6)
    taxa = {f"w{number}": [draw.choice("abc") for _ in range(6)] for number in range(12)}
    weights = {taxon: draw.random() for taxon in taxa}
    parts = {taxon: draw.randrange(4) for taxon in taxa}
    first = gains_of(exact_table(taxa, weights), {t: make_region(f"r{p}") for t, p in parts.items()})
    order = list(taxa)
    draw.shuffle(order)
    second = gains_of(
        exact_table({t: taxa[t] for t in order}, {t: weights[t] for t in order}),
        {t: make_region("zyxw"[parts[t]]) for t in order},
    )
    assert second == pytest.approx(first, abs=1e-12)


def test_harm_weighs_the_edges():
    """Edges count by the greater harm of their two ends: 0.2 where a wrong action merely fails."""
    taxa = {"w1": "a", "w2": "b"}
    table = exact_table(taxa)
    mild = {"w1": make_region("A", harm=0.2), "w2": make_region("B", harm=0.2)}
    harsh = {"w1": make_region("A", harm=0.2), "w2": make_region("B", harm=1.0)}
    assert gains_of(table, mild)["t0"] == pytest.approx(0.1)
    assert gains_of(table, harsh)["t0"] == pytest.approx(0.5)


def test_regions_that_share_an_action_need_no_look():
    """Weeds of different regions that all accept one action are settled together (Javdani et al. 2014)."""
    # Source: Javdani et al. 2014, arXiv 1402.5886: stop when every remaining taxon shares an acceptable action.
    table = exact_table({"w1": "a", "w2": "b", "w3": "c"})
    regions = {
        "w1": make_region("A", ["x", "y"]),
        "w2": make_region("B", ["y", "z"]),
        "w3": make_region("C", ["y"]),
    }
    standing = judge(table, [], regions)
    assert standing.settled
    assert standing.decision.actions == ("y",)
    assert standing.decision.probability == pytest.approx(1.0)


def test_what_cannot_be_taken_back_needs_more_belief():
    """A spot kill needs 99 %, a selective treatment 95 %."""
    rows = {"t": {"w1": [0.5, 0.5], "w2": [0.5, 0.5]}}
    table = build_table_from_rows({"w1": 0.97, "w2": 0.03}, trait_pair("t"), rows)
    kill = make_region("kill", irreversible=True)
    spray = make_region("spray")
    assert judge(table, [], {"w1": spray, "w2": kill}).settled
    assert not judge(table, [], {"w1": kill, "w2": spray}).settled
