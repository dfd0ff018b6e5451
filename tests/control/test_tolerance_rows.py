"""The meaning of tolerance rows: known true, known false, not known."""

from __future__ import annotations

from datetime import date

import pytest
from control_cases import chemical, row, setting, turf
from hypothesis import given
from hypothesis import strategies as st

from weedkey.control.tolerance import CAUTION_ORDER, read_tolerance
from weedkey.model.control import Tolerance, When
from weedkey.model.vocabulary import GROWTH_STATES, STAND_STAGES
from weedkey.model.window import Window

BERMUDA = turf("bermudagrass")


def read(*rows: Tolerance, kind: str = "selective", timing: str | None = "post_emergence", **more: object) -> object:
    """The reading of these rows on bermudagrass."""
    return read_tolerance(chemical("x", *rows, kind=kind), setting(**more), BERMUDA, timing)


@pytest.mark.parametrize(
    ("rows", "more", "expected", "certain"),
    [
        ((), {}, "not_known", False),
        ((row("zoysiagrass", "safe"),), {}, "not_known", False),
        ((row("bermudagrass", "safe"),), {}, "safe", True),
        ((row("any", "safe"),), {}, "safe", True),
        ((row("any_warm_season", "caution"),), {}, "caution", True),
        ((row("any_cool_season", "safe"),), {}, "not_known", False),
        ((row("bermudagrass", "safe", growth=("dormant",)),), {}, "not_known", False),
        ((row("bermudagrass", "safe", growth=("dormant",)),), {"growth": "dormant"}, "safe", True),
        ((row("bermudagrass", "safe", growth=("dormant",)),), {"growth": None}, "caution", False),
        ((row("bermudagrass", "injures", growth=("growing",)),), {"growth": None}, "injures", False),
        ((row("bermudagrass", "injures", growth=("growing",)),), {"growth": "dormant"}, "not_known", False),
        ((row("bermudagrass", "safe"), row("bermudagrass", "injures")), {}, "injures", True),
        ((row("bermudagrass", "safe"), row("bermudagrass", "caution")), {}, "caution", True),
        ((row("bermudagrass", "safe"), row("bermudagrass", "not_labelled")), {}, "not_labelled", True),
        ((row("bermudagrass", "injures"), row("bermudagrass", "not_labelled")), {}, "injures", False),
        ((row("bermudagrass", "safe"), row("bermudagrass", "injures", rate="above_label")), {}, "safe", True),
        ((row("bermudagrass", "safe", rate="above_label"),), {}, "not_known", False),
        ((row("bermudagrass", "safe"), row("bermudagrass", "injures", rate="high")), {}, "caution", True),
        ((row("bermudagrass", "injures", rate="high"),), {}, "caution", False),
        ((row("bermudagrass", "safe", rate="low"),), {}, "caution", True),
        ((row("bermudagrass", "injures", rate="low"),), {}, "injures", False),
        ((row("bermudagrass", "safe", stand=("established",)),), {"stand": "seedling"}, "not_known", False),
        ((row("bermudagrass", "safe", stand=("established",)),), {"stand": None}, "caution", False),
        ((row("bermudagrass", "safe", stand_min_days=480),), {"stand_age_days": 300}, "not_known", False),
        ((row("bermudagrass", "safe", stand_min_days=480),), {"stand_age_days": None}, "caution", False),
        ((row("bermudagrass", "safe", sites=("golf",)),), {}, "not_known", False),
        ((row("bermudagrass", "safe", sites=("golf",)),), {"site": None}, "caution", False),
        ((row("bermudagrass", "safe", air_below_f=85),), {"air_high_f": 86.0}, "not_known", False),
        ((row("bermudagrass", "safe", air_below_f=85),), {"air_high_f": 85.0}, "safe", True),
        ((row("bermudagrass", "safe", air_above_f=55, air_below_f=80),), {"air_high_f": 50.0}, "not_known", False),
        ((row("bermudagrass", "safe", months=(Window.months(11, 2),)),), {}, "not_known", False),
        ((row("bermudagrass", "safe", months=(Window.months(11, 2),)),), {"on": date(2025, 1, 5)}, "safe", True),
        ((row("bermudagrass", "safe", timing="pre_emergence"),), {}, "not_known", False),
        ((row("bermudagrass", "safe", mixed_with=("triclopyr",)),), {}, "not_known", False),
        (
            (row("bermudagrass", "safe"), row("bermudagrass", "injures", mixed_with=("urea",))),
            {},
            "caution",
            True,
        ),
    ],
)
def test_the_most_cautious_row_that_speaks_decides(
    rows: tuple[Tolerance, ...], more: dict[str, object], expected: str, certain: bool
) -> None:
    """Rows known false are silent, warnings speak unless known false, safety only if known true."""
    reading = read(*rows, **more)
    assert (reading.result, reading.certain) == (expected, certain)


def test_a_tender_cultivar_counts_until_the_cultivar_is_known() -> None:
    """An unknown cultivar may be the tender one; a known tough one silences the row."""
    rows = (row("bermudagrass", "safe"), row("bermudagrass", "injures", cultivars=("diamond",)))
    assert read(*rows).result == "injures"
    assert read(*rows, cultivar="emerald").result == "safe"
    assert read(*rows, cultivar="diamond").result == "injures"


def test_all_but_some_cultivars() -> None:
    """A row for all cultivars but one speaks for the others only."""
    rows = (row("bermudagrass", "safe", not_cultivars=("diamond",)),)
    assert read(*rows, cultivar="emerald").certain
    assert read(*rows, cultivar="diamond").result == "not_known"
    assert not read(*rows).certain


def test_a_warning_alone_is_no_permission() -> None:
    """Injury at a high rate says nothing about safety at the label rate."""
    assert not read(row("bermudagrass", "injures", rate="high")).has_permission
    assert read(row("bermudagrass", "caution")).has_permission


def test_a_non_selective_control_injures_where_no_row_speaks() -> None:
    """Source: NC State (2013), as quoted in the control facts: non-selective ingredients injure every growing turf."""
    assert read(kind="non_selective").result == "injures"


def test_the_unknown_conditions_are_named() -> None:
    """The reading says which answers would settle it."""
    assert read(row("bermudagrass", "safe", growth=("dormant",)), growth=None).unknown == ("growth",)


def test_south_of_the_equator_the_months_turn_over() -> None:
    """November to February in the north is May to August in the south."""
    rows = (row("bermudagrass", "safe", months=(Window.months(11, 2),)),)
    assert read(*rows, southern=True).result == "safe"
    assert read(*rows, southern=True, on=date(2025, 1, 5)).result == "not_known"


growths = st.lists(st.sampled_from(GROWTH_STATES), max_size=3, unique=True).map(tuple)
stands = st.lists(st.sampled_from(STAND_STAGES), max_size=2, unique=True).map(tuple)
rows_of_any_kind = st.builds(
    lambda result, growth, stand, rate: Tolerance(
        "bermudagrass", result, ("from_memory",), When(growth=growth, stand=stand, rate=rate)
    ),
    st.sampled_from(CAUTION_ORDER),
    growths,
    stands,
    st.sampled_from((None, "low", "label", "high", "above_label")),
)


@given(
    rows=st.lists(rows_of_any_kind, max_size=5),
    extra=rows_of_any_kind,
    growth=st.sampled_from((None, *GROWTH_STATES)),
    stand=st.sampled_from((None, *STAND_STAGES)),
)
def test_one_more_warning_never_makes_it_safer(
    rows: list[Tolerance], extra: Tolerance, growth: str | None, stand: str | None
) -> None:
    """Adding a row that injures can only keep or worsen what was answered."""
    order = (*CAUTION_ORDER, "not_known")
    before = read(*rows, growth=growth, stand=stand)
    harmful = Tolerance("bermudagrass", "injures", ("from_memory",), extra.when)
    after = read(*rows, harmful, growth=growth, stand=stand)
    if before.result != "not_known":
        assert order.index(after.result) <= order.index(before.result)
    assert after.has_permission == before.has_permission


@given(
    rows=st.lists(rows_of_any_kind, min_size=1, max_size=5),
    growth=st.sampled_from(GROWTH_STATES),
    stand=st.sampled_from(STAND_STAGES),
)
def test_knowing_less_never_makes_it_safer(rows: list[Tolerance], growth: str, stand: str) -> None:
    """What is certain and safe without knowing growth and stand is so for every growth and stand."""
    unknown = read(*rows, growth=None, stand=None)
    if unknown.certain and unknown.result == "safe":
        assert read(*rows, growth=growth, stand=stand).result == "safe"
