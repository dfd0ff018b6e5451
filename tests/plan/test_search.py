"""The search for visits finds the optimum: against brute force and against a solver for integer programmes."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp

from weedkey.plan.search import MOST_TARGETS, Found, Limits, Option, PlanTooLarge, search

CONTROLS = {"a": frozenset("a"), "b": frozenset("b"), "mow": frozenset(), "a_plus_b": frozenset("ab")}
FREE = Limits(CONTROLS, {"a": 1}, {}, {})


def key(found: Found) -> tuple[object, ...]:
    """What is compared, in the order of the aims."""
    ranks = sum(option.rank for option in found.options)
    return (-round(found.weight, 6), found.visits, found.actives, found.repeats, ranks)


def cost_of(taken: Sequence[Option], weights: Sequence[float], limits: Limits) -> tuple[object, ...] | None:
    """The cost of a choice by the definition of the aims; None if it breaks a limit."""
    windows: dict[str, set[int]] = {}
    for option in taken:
        for active in limits.actives[option.control]:
            windows.setdefault(active, set()).add(option.window)
    for active, used in windows.items():
        days = sorted(used)
        if len(days) > limits.yearly.get(active, 99):
            return None
        if any(b - a < limits.interval.get(active, 0) for a, b in itertools.pairwise(days)):
            return None
    return (
        -round(sum(weights[option.target] for option in taken), 6),
        len({option.window for option in taken}),
        len(windows),
        sum(limits.repeats.get(option.control, 0) for option in taken),
        sum(option.rank for option in taken),
    )


def brute_force(options: Sequence[Option], weights: Sequence[float], limits: Limits) -> tuple[object, ...]:
    """The least cost over every choice of at most one option a target."""
    targets = sorted({option.target for option in options})
    rows = [[None, *(option for option in options if option.target == target)] for target in targets]
    costs = [
        cost
        for combo in itertools.product(*rows)
        if (cost := cost_of([option for option in combo if option], weights, limits)) is not None
    ]
    return min(costs)


options_of_small_lawns = st.lists(
    st.tuples(st.integers(0, 3), st.integers(0, 4), st.sampled_from(sorted(CONTROLS)), st.integers(0, 2)),
    min_size=1,
    max_size=10,
    unique_by=lambda row: row[:3],
).map(lambda rows: [Option(*row) for row in rows])


@given(options_of_small_lawns, st.lists(st.integers(1, 9), min_size=4, max_size=4))
def test_no_choice_is_better_than_the_one_found(options: list[Option], weights: list[int]) -> None:
    """Brute force over every choice of a small lawn finds nothing cheaper."""
    assert key(search(options, weights, FREE)) == brute_force(options, weights, FREE)


@given(
    options_of_small_lawns, st.lists(st.integers(1, 9), min_size=4, max_size=4), st.integers(1, 2), st.integers(1, 3)
)
def test_limits_of_a_year_are_kept(options: list[Option], weights: list[int], most: int, gap: int) -> None:
    """With a yearly maximum and a least interval the optimum is the one that keeps both."""
    limits = Limits(CONTROLS, {}, {"a": most}, {"b": gap})
    assert key(search(options, weights, limits)) == brute_force(options, weights, limits)


def solve_with_milp(options: Sequence[Option], targets: int) -> tuple[int, int]:
    """(fewest visits, fewest actives with that many visits) by an integer programme (scipy.optimize.milp, HiGHS)."""
    windows = sorted({o.window for o in options})
    actives = sorted({a for o in options for a in CONTROLS[o.control]})
    count = len(options) + len(windows) + len(actives)

    def row(pairs: dict[int, float]) -> np.ndarray:
        line = np.zeros(count)
        for place, value in pairs.items():
            line[place] = value
        return line

    rows, low = [], []
    for target in range(targets):
        rows.append(row({n: 1 for n, o in enumerate(options) if o.target == target}))
        low.append(1)
    for number, option in enumerate(options):
        rows.append(row({len(options) + windows.index(option.window): 1, number: -1}))
        low.append(0)
        for active in CONTROLS[option.control]:
            rows.append(row({len(options) + len(windows) + actives.index(active): 1, number: -1}))
            low.append(0)
    price = np.zeros(count)
    price[len(options) : len(options) + len(windows)] = 1000
    price[len(options) + len(windows) :] = 1
    done = milp(
        price, constraints=LinearConstraint(np.array(rows), low), integrality=np.ones(count), bounds=Bounds(0, 1)
    )
    return divmod(round(done.fun), 1000)


@pytest.mark.parametrize("seed", range(12))
def test_the_same_optimum_as_an_integer_programme(seed: int) -> None:
    """Fewest visits, then fewest actives, as the HiGHS solver of scipy finds them, on lawns of ten weeds."""
    rng = np.random.default_rng(seed)
    names = sorted(CONTROLS)
    options = []
    for target in range(10):
        for window in sorted(set(rng.integers(0, 8, 3).tolist())):
            options.append(Option(target, window, names[int(rng.integers(0, 4))]))
    found = search(options, [1.0] * 10, FREE)
    assert (found.visits, found.actives) == solve_with_milp(options, 10)


def test_a_lawn_beyond_the_proven_size_is_refused() -> None:
    """More weeds than can be weighed exactly is said, never approximated."""
    options = [Option(target, 0, "mow") for target in range(MOST_TARGETS + 1)]
    with pytest.raises(PlanTooLarge, match="zone by zone"):
        search(options, [1.0] * len(options), FREE)


def test_nothing_to_choose_from_gives_an_empty_plan() -> None:
    """A lawn for which nothing is open has no visits."""
    assert search([], [], FREE) == Found((), 0.0, 0, 0, 0)
