"""When two weeds count as told apart by their looks."""

from __future__ import annotations

import math
from collections.abc import Mapping
from itertools import product

import pytest

from weedkey.knowledge.separation import are_told_apart, has_no_such_part, overlap_or_none, separating_traits
from weedkey.model.trait import State, Trait
from weedkey.model.weed import LifeCycle, Seen, Weed

FROM = ("from_memory",)
LIVES = (LifeCycle("perennial", FROM),)


def look(name: str, *, mown: str = "always", correlated: str | None = None, groups: tuple[str, ...] = ()) -> Trait:
    """A look with the states a, b and absent."""
    states = tuple(State(state, state) for state in ("a", "b", "absent"))
    kinds = groups or ("broadleaf", "moss_or_algae")
    return Trait(name, "?", "leaf", kinds, states, "eyes", 5, 0.05, FROM, mown=mown, correlated=correlated)


def weed(name: str, group: str = "broadleaf", **looks: float) -> Weed:
    """A weed with the share of plants that show state a in each look."""
    rows = {
        key: tuple(Seen(state, FROM, part) for state, part in (("a", share), ("b", 1 - share)) if part)
        for key, share in looks.items()
    }
    return Weed(
        id=name, name=name, scientific=name, family="", group=group, growth_season="warm", life_cycles=LIVES, looks=rows
    )


def traits(*looks: Trait) -> Mapping[str, Trait]:
    """Looks by id."""
    return {one.id: one for one in looks}


def test_overlaps_of_independent_looks_multiply() -> None:
    """The coefficient of two joint distributions is the product (Bhattacharyya, Bull. Calcutta Math. Soc. 35, 1943)."""
    left, right = weed("left", one=0.9, two=0.3), weed("right", one=0.2, two=0.8)
    joint = math.fsum(
        math.sqrt(p * q * r * s) for (p, q), (r, s) in product(((0.9, 0.2), (0.1, 0.8)), ((0.3, 0.8), (0.7, 0.2)))
    )
    each = [overlap_or_none(left, right, name) for name in ("one", "two")]
    assert math.prod(value for value in each if value is not None) == pytest.approx(joint)


def test_two_looks_that_differ_are_enough_if_one_stands_on_mown_turf() -> None:
    """Flower and seedhead alone do not help whoever walks a mown lawn."""
    left, right = weed("left", one=1.0, two=1.0), weed("right", one=0.0, two=0.0)
    assert are_told_apart(left, right, traits(look("one"), look("two", mown="rarely")))
    assert not are_told_apart(left, right, traits(look("one", mown="rarely"), look("two", mown="rarely")))


def test_two_looks_that_repeat_each_other_count_once() -> None:
    """Hairs of the leaf and hairs of the stem are one difference."""
    left, right = weed("left", one=1.0, two=1.0), weed("right", one=0.0, two=0.0)
    same = traits(look("one", correlated="hairs"), look("two", correlated="hairs"))
    assert separating_traits(left, right, same) == ("one", "two")
    assert not are_told_apart(left, right, same)


def test_several_looks_that_each_tell_a_part_do_it_together() -> None:
    """Overlap 0.6 each: two leave 0.36, three leave 0.22, which is as good as two looks of 0.5 (0.25)."""
    names = ("one", "two", "three")
    left = weed("left", **dict.fromkeys(names, 1.0))
    looks = [look(name) for name in names]
    right = weed("right", **dict.fromkeys(names, 0.36))
    assert overlap_or_none(left, right, "one") == pytest.approx(0.6)
    assert separating_traits(left, right, traits(*looks)) == ()
    assert not are_told_apart(left, right, traits(*looks[:2]))
    assert are_told_apart(left, right, traits(*looks))


def test_a_part_that_the_other_kind_lacks_is_a_difference() -> None:
    """A liverwort has no leaf veins; but "absent" in a broadleaf is no difference to a plant without the part."""
    veins = look("veins", groups=("broadleaf",))
    leafy, flat = weed("leafy", veins=1.0), weed("flat", "moss_or_algae")
    assert has_no_such_part(leafy, flat, veins)
    bare = Weed(
        id="bare",
        name="bare",
        scientific="bare",
        family="",
        group="broadleaf",
        growth_season="warm",
        life_cycles=LIVES,
        looks={"veins": (Seen("absent", FROM),)},
    )
    assert not has_no_such_part(bare, flat, veins)
    assert not has_no_such_part(weed("silent"), flat, veins)


def test_silence_is_no_difference() -> None:
    """A look that one entry does not score tells nothing."""
    assert separating_traits(weed("left", one=1.0), weed("right"), traits(look("one"))) == ()
