"""Lists of choices: order, sets that are not settled, shut ones with their gates."""

from __future__ import annotations

import pytest
from control_cases import MEMORY, chemical, home_bar, knowledge, response, row, setting, weed

from weedkey.control import list_choices, turf_table
from weedkey.errors import UnknownName

SAFE = row("bermudagrass", "safe")
BASE = knowledge(
    [
        weed("a", responses=(response("x", "good"), response("y", "excellent"), response("bad", "excellent"))),
        weed("b", responses=(response("x", "fair"), response("z", "excellent"))),
        weed("c"),
    ],
    [
        chemical("x", SAFE),
        chemical("y", SAFE),
        chemical("z", SAFE),
        chemical("bad", row("bermudagrass", "injures")),
        chemical("silent", SAFE),
    ],
)


def test_offered_choices_come_first_best_result_first() -> None:
    """Excellent before good, shut ones last with the gate that shuts them; controls without a word are left out."""
    found = list_choices(BASE, "a", setting())
    assert [choice.control for choice in found] == ["y", "x", "bad"]
    assert [gate.gate for gate in found[-1].shut_by] == ["turf"]


def test_a_weed_without_any_word_has_no_choices() -> None:
    """Nothing known, nothing listed."""
    assert list_choices(BASE, "c", setting()) == ()


def test_a_set_is_offered_only_what_serves_every_candidate() -> None:
    """Yellow or purple nutsedge: only what takes both, with each result inside."""
    found = {choice.control: choice for choice in list_choices(BASE, {"a": 0.6, "b": 0.4}, setting())}
    assert [control for control, choice in found.items() if choice.offered] == ["x"]
    assert found["x"].result == "fair"
    assert [(item.weed, item.result) for item in found["x"].weeds] == [("a", "good"), ("b", "fair")]
    assert not found["y"].offered
    assert [(item.weed, item.result, item.offered) for item in found["y"].weeds] == [
        ("a", "excellent", True),
        ("b", "not_known", False),
    ]


def test_candidates_up_to_two_percent_do_not_decide() -> None:
    """A faint doubt is shown but does not close the door."""
    found = {choice.control: choice for choice in list_choices(BASE, {"a": 0.98, "b": 0.02}, setting())}
    assert found["y"].offered
    assert found["y"].weeds[1].result == "not_known"


def test_the_order_does_not_depend_on_the_order_of_the_set() -> None:
    """Ties are broken by the id."""
    one = list_choices(BASE, {"a": 0.5, "b": 0.5}, setting())
    other = list_choices(BASE, {"b": 0.5, "a": 0.5}, setting())
    assert one == other


def test_unknown_names_are_refused() -> None:
    """An unknown weed or turf is an error, not an empty list."""
    with pytest.raises(UnknownName):
        list_choices(BASE, "nothing", setting())
    with pytest.raises(UnknownName):
        list_choices(BASE, "a", setting(turf="moon_grass"))
    with pytest.raises(UnknownName):
        turf_table(BASE, setting(turf="moon_grass"))


def test_one_choice_a_control_even_with_two_timings() -> None:
    """A control for both timings stands once, with the timing that is nearer to being offered."""
    both = chemical("x", SAFE, timings=("pre_emergence", "post_emergence"))
    plant = weed("a", responses=(response("x", "good"), response("x", "good", timing="pre_emergence")))
    found = list_choices(knowledge([plant], [both]), "a", setting())
    assert [(choice.control, choice.timing, choice.offered) for choice in found] == [("x", "post_emergence", True)]


def test_the_table_of_a_turf_holds_every_herbicide() -> None:
    """Safe, with care, injures, not labelled, not known: none is left out."""
    controls = [
        chemical("safe", SAFE),
        chemical("careful", row("bermudagrass", "caution", growth=("dormant",))),
        chemical("bad", row("bermudagrass", "injures")),
        chemical("barred", SAFE, sites=(home_bar(),)),
        chemical("silent"),
        chemical("dig", kind="hand"),
    ]
    table = {item.control: item for item in turf_table(knowledge([], controls), setting(growth=None))}
    assert {name: item.tolerance for name, item in table.items()} == {
        "safe": "safe",
        "careful": "caution",
        "bad": "injures",
        "barred": "not_labelled",
        "silent": "not_known",
    }
    assert table["careful"].when[0]["growth"] == ["dormant"]
    assert (table["careful"].certain, table["careful"].unknown) == (False, ("growth",))
    assert table["safe"].control_class["hrac"] == "4"


def test_the_table_without_a_site_keeps_biology_apart_from_law() -> None:
    """Without a site nothing is barred yet; the state of the site says that it must be asked."""
    table = turf_table(knowledge([], [chemical("barred", SAFE, sites=(home_bar(),))]), setting(site=None))
    assert (table[0].tolerance, table[0].site) == ("safe", "ask")


def test_a_hint_is_not_offered() -> None:
    """A weed that is turf elsewhere: the hint is listed, and waits for a fact."""
    plant = weed("zoysiagrass_weed", turf="zoysiagrass")
    control = chemical("x", SAFE, row("zoysiagrass", "injures", MEMORY))
    found = list_choices(knowledge([plant], [control]), "zoysiagrass_weed", setting())
    assert (found[0].result, found[0].offered, found[0].weeds[0].fallback) == ("hint", False, "turf_elsewhere")
