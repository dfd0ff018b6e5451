"""Plain words become proposals with the phrase that matched; nothing is applied; what is not known is said."""

from __future__ import annotations

import pytest
from key_cases import make_knowledge, make_trait

from weedkey.key import propose_looks, read_words
from weedkey.model.trait import State


def trait(name, states, also=(), **fields):
    """A trait whose states carry words and everyday words."""
    made = make_trait(name, [state for state, _, _ in states], also=also, **fields)
    words = tuple(State(state, words, tuple(more)) for state, words, more in states)
    return type(made)(**{**{f: getattr(made, f) for f in made.__dataclass_fields__}, "states": words})


KNOWLEDGE = make_knowledge(
    [],
    [
        trait(
            "stem_section",
            [
                ("three_sided", "three-sided, with edges you can feel", ["triangular stem"]),
                ("square", "square, four edges", ["square stem"]),
                ("round", "round", ["round stem"]),
            ],
            also=("stem shape",),
        ),
        trait(
            "plant_colour",
            [("yellow_green", "pale or yellow-green", ["light green"]), ("dark_green", "dark green", [])],
        ),
        trait("leaf_gloss", [("glossy", "glossy", ["shiny"]), ("dull", "dull", [])]),
        trait("moisture", [("wet", "wet or soggy", ["wet corner", "wet"]), ("dry", "dry", [])]),
        trait(
            "auricles", [("absent", "none", ["no auricles"]), ("clasping", "long and clasping", [])], also=("auricle",)
        ),
        trait("leaf_margin", [("smooth", "smooth", []), ("toothed", "toothed", ["teeth"])]),
        trait("ligule_edge", [("even", "even", []), ("toothed", "toothed or torn", ["toothed"])]),
        trait("stolons", [("present", "yes, runners", ["runners"]), ("absent", "no", [])]),
    ],
)


def states(text):
    """Proposed (trait, states) pairs."""
    return [(proposal.trait, proposal.states) for proposal in propose_looks(KNOWLEDGE, text)]


def test_a_practitioners_sentence():
    """The sentence of the issue gives four proposals, each with the part of the text that it matched."""
    found = propose_looks(KNOWLEDGE, "three sided stem, shiny yellow green, wet corner")
    assert {(p.trait, p.states[0], p.matched) for p in found} == {
        ("stem_section", "three_sided", "three sided"),
        ("leaf_gloss", "glossy", "shiny"),
        ("plant_colour", "yellow_green", "yellow green"),
        ("moisture", "wet", "wet corner"),
    }


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("no auricles", ("auricles", ("absent",))),
        ("without auricles", ("auricles", ("absent",))),
        ("no runners", ("stolons", ("absent",))),
        ("not square stem", ("stem_section", ("three_sided", "round"))),
    ],
)
def test_negations(text, expected):
    """Saying "No" and "without" turn a phrase round: absent, or every other state."""
    assert states(text) == [expected]


def test_spelling_and_hyphens():
    """Near spellings, hyphens and capitals are understood."""
    assert states("Yellow-Green") == [("plant_colour", ("yellow_green",))]
    assert states("glosy")[0] == ("leaf_gloss", ("glossy",))
    assert states("triangular stems") == [("stem_section", ("three_sided",))]


def test_the_part_named_decides_between_two_looks():
    """Saying "Toothed leaf" is the leaf margin, "toothed ligule" the ligule."""
    assert states("toothed leaf margin") == [("leaf_margin", ("toothed",))]
    assert states("toothed ligule") == [("ligule_edge", ("toothed",))]


def test_no_match_is_said_plainly():
    """Words that match nothing are listed; nothing is made up."""
    reading = read_words(KNOWLEDGE, "smells of parrots")
    assert reading.proposals == ()
    assert "parrots" in reading.unmatched


def test_a_present_part():
    """A part named without more is proposed as one of its other states."""
    assert states("it has auricles") == [("auricles", ("clasping",))]


@pytest.mark.parametrize("text", ["", "   ", ",,;;", "no", "the a is", "x" * 5000, "é ß 漢字 \x00"])
def test_odd_text(text):
    """Empty, long or strange text never breaks anything."""
    assert propose_looks(KNOWLEDGE, text) == []


def test_a_proposal_is_a_look_only_when_asked():
    """A proposal carries the look that it would be."""
    proposal = propose_looks(KNOWLEDGE, "shiny")[0]
    assert (proposal.look.trait, proposal.look.states) == ("leaf_gloss", ("glossy",))
