"""Look-alikes while a weed is entered: nearest first, what differs, which look tells them apart."""

from __future__ import annotations

from typing import Any

import pytest

from weedkey.knowledge import load
from weedkey.knowledge.likeness import separate
from weedkey.knowledge.separation import are_told_apart, separating_traits
from weedkey.report.likeness_text import alike_sentence, next_look_sentence, separation_text
from weedkey.report.namer import Namer
from weedkey.report.style import Style

KNOWLEDGE = load()


def _like(name: str, **other: str) -> dict[str, Any]:
    """The values of a new weed with the commonest states of a shipped one, some of them other."""
    weed = KNOWLEDGE.weeds[name]
    looks = {
        trait: [{"state": max(seen, key=lambda row: 1.0 if row.share is None else row.share).state}]
        for trait, seen in weed.looks.items()
    }
    looks.update({trait: [{"state": state}] for trait, state in other.items()})
    return {"id": "new_weed", "name": "new weed", "group": weed.group, "looks": looks}


def test_a_twin_differs_only_in_the_look_that_was_changed() -> None:
    """The sentence names the one look; one look is not enough to tell two weeds apart."""
    found = separate(_like("goosegrass", ligule="absent"), KNOWLEDGE)
    assert found.alike[0].weed == "goosegrass"
    assert found.alike[0].differs == ("ligule",)
    assert not found.alike[0].told_apart
    assert alike_sentence(found.alike[0]) == "this differs from goosegrass only in the ligule"
    assert found.alike[0] in found.unseparated


def test_a_twin_without_any_difference_is_said_to_have_none() -> None:
    """Nothing entered tells it apart, and the sentence does not pretend."""
    found = separate(_like("dallisgrass"), KNOWLEDGE)
    assert found.alike[0].weed == "dallisgrass"
    assert alike_sentence(found.alike[0]).startswith("nothing entered so far tells this from dallisgrass")


@pytest.mark.parametrize("name", ["goosegrass", "white_clover", "yellow_nutsedge", "henbit"])
def test_the_next_look_is_new_applies_and_can_tell(name: str) -> None:
    """It is not entered yet, the group has it, and the weeds it is said to tell apart score it."""
    values = _like(name)
    values["looks"] = dict(list(values["looks"].items())[:6])
    found = separate(values, KNOWLEDGE)
    assert found.next_look is not None
    assert found.next_look not in values["looks"]
    assert values["group"] in KNOWLEDGE.traits[found.next_look].groups
    assert all(KNOWLEDGE.weeds[other].looks.get(found.next_look) for other in found.against)
    again = separate(values, KNOWLEDGE, skipped=(found.next_look,))
    assert again.next_look != found.next_look


@pytest.mark.parametrize("name", ["goosegrass", "annual_bluegrass", "dandelion"])
def test_following_the_next_look_tells_an_unlike_weed_apart(name: str) -> None:
    """Entering, each time, a state that the nearest look-alike does not have ends with all of them told apart."""
    values = _like(name)
    values["looks"] = dict(list(values["looks"].items())[:4])
    for _ in range(12):
        found = separate(values, KNOWLEDGE)
        if found.next_look is None or (found.alike and not found.unseparated):
            break
        taken = {row.state for other in found.against for row in KNOWLEDGE.weeds[other].looks[found.next_look]}
        states = KNOWLEDGE.traits[found.next_look].state_ids
        state = next((one for one in states if one not in taken), states[0])
        values["looks"][found.next_look] = [{"state": state}]
    assert separate(values, KNOWLEDGE).unseparated == ()


def test_what_is_said_agrees_with_the_check_of_pairs() -> None:
    """The same rule as the check that reviewers use."""
    from weedkey.knowledge.likeness import draft_weed

    values = _like("large_crabgrass", ligule="absent", vernation="folded")
    weed = draft_weed(values)
    for near in separate(values, KNOWLEDGE).alike:
        other = KNOWLEDGE.weeds[near.weed]
        assert near.differs == separating_traits(weed, other, KNOWLEDGE.traits)
        assert near.told_apart == are_told_apart(weed, other, KNOWLEDGE.traits)


@pytest.mark.parametrize(
    "values",
    [
        {},
        {"looks": None},
        {"looks": {"ligule": None, "nonsense": [{"state": "x"}], "leaf_width": [{"stat": 1}, 7]}},
        {"group": "nonsense", "looks": {"ligule": [{"state": "hairs"}]}},
    ],
)
def test_values_that_are_not_complete_are_no_error(values: dict[str, Any]) -> None:
    """A form asks while half of it is empty."""
    found = separate(values, KNOWLEDGE)
    assert isinstance(separation_text(found, Namer(KNOWLEDGE), Style()), str)


def test_the_order_is_nearest_first() -> None:
    """Likeness never rises down the list."""
    found = separate(_like("henbit"), KNOWLEDGE)
    likeness = [near.likeness for near in found.alike]
    assert likeness == sorted(likeness, reverse=True)
    assert found.alike[0].weed == "henbit"


def test_the_sentence_of_the_next_look_names_question_and_rivals() -> None:
    """What to look at, and which weeds it would tell apart; nothing where no look would help."""
    values = _like("henbit")
    assert next_look_sentence(separate(values, KNOWLEDGE), Namer(KNOWLEDGE)) == ""
    del values["looks"]["stem_section"]
    said = next_look_sentence(separate(values, KNOWLEDGE), Namer(KNOWLEDGE))
    assert said.startswith("Enter next, to tell it from henbit")
    assert KNOWLEDGE.traits["stem_section"].question in said
