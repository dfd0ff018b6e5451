"""Which rated rows speak, what they say together, and what stands in for a missing row."""

from __future__ import annotations

from datetime import date

import pytest
from control_cases import MEMORY, annual, chemical, knowledge, response, row, setting, turf, weed

from weedkey.control import Setting
from weedkey.control.gatebook import open_book
from weedkey.control.responses import Reading
from weedkey.model.base import Knowledge
from weedkey.model.control import Control, Tolerance, WorksOn
from weedkey.model.weed import Response, Sequence, Sign, Spread, Weed
from weedkey.model.window import Window


def read(
    *rows: Response,
    control: Control | None = None,
    plant: Weed | None = None,
    timing: str = "post_emergence",
    **more: object,
) -> Reading | None:
    """The reading of these rows for the control x."""
    used = control or chemical("x")
    target = plant or weed("a", responses=rows)
    return read_any(knowledge([target], [used]), target, used, setting(**more), timing)


def read_any(base: Knowledge, target: Weed, used: Control, here: Setting, timing: str) -> Reading | None:
    """The weed's own rows, else what stands in for them."""
    return open_book(base, here).reading(target, used, timing)


def result(*rows: Response, **more: object) -> str:
    """The result alone."""
    found = read(*rows, **more)
    return found.result if found else "no word"


def test_no_row_no_word() -> None:
    """A control without a row for the weed says nothing."""
    assert result() == "no word"


def test_contradictions_stay_side_by_side() -> None:
    """Dandelion and triclopyr: poor (Cornell, 1990) against good (Ohio State): the cautious grade, with the spread."""
    found = read(response("x", "poor"), response("x", "good"))
    assert found is not None
    assert (found.result, found.worst, found.best, len(found.rows)) == ("poor", "poor", "good", 2)


def test_the_row_of_this_turf_counts_more() -> None:
    """Source: Weed Technology 26(1), 2012: sulfentrazone on purple nutsedge under 30 % in bermudagrass, 80 % bare."""
    rows = (response("x", "poor", in_turf=("bermudagrass",)), response("x", "good"))
    assert result(*rows) == "poor"
    assert result(*rows, turf="zoysiagrass") == "good"


def test_one_bad_year_does_not_outweigh_the_rest() -> None:
    """Source: Weed Technology (1993-1994): dithiopyr on crabgrass in tall fescue, 91 % one year, 38 % the next."""
    rows = (
        response("x", "excellent", timing="pre_emergence", in_turf=("tall_fescue",)),
        response("x", "poor", timing="pre_emergence", in_turf=("tall_fescue",)),
        response("x", "excellent", timing="pre_emergence"),
    )
    found = read(*rows, turf="tall_fescue", timing="pre_emergence")
    assert found is not None
    assert (found.result, found.worst) == ("excellent", "poor")


def test_months_of_the_rating() -> None:
    """Source: HortScience 51(6), 2016: dallisgrass, September 94 %, October alone 55 % or less."""
    rows = (
        response("x", "excellent", months=(Window.months(9, 9),), judged_weeks=37),
        response("x", "fair", months=(Window.months(10, 10),), judged_weeks=37),
        response("x", "fair", judged_weeks=10),
    )
    assert result(*rows, on=date(2025, 9, 10)) == "excellent"
    assert result(*rows, on=date(2025, 10, 10)) == "fair"


def test_a_sequence_must_fit_into_its_months() -> None:
    """Source: HortScience 51(6), 2016: September then October 97 %; begun in mid-October there is no room for both."""
    rows = (
        response("x", "excellent", months=(Window.months(9, 10),), sequence=Sequence(sprays=2)),
        response("x", "poor", months=(Window.months(10, 10),)),
    )
    assert result(*rows, on=date(2025, 9, 10)) == "excellent"
    assert result(*rows, on=date(2025, 10, 15)) == "poor"


def test_other_months_say_nothing_now() -> None:
    """A rating for September is no word in May, but the row is kept to say when."""
    found = read(response("x", "good", months=(Window.months(9, 9),)))
    assert found is not None
    assert (found.result, found.off_months, len(found.all_rows)) == ("not_known", True, 1)


def test_a_flowering_plant_is_a_mature_one() -> None:
    """Rows for mature plants speak for flowering ones, rows for seedlings do not."""
    rows = (response("x", "fair", stages=("mature",)), response("x", "excellent", stages=("seedling",)))
    assert result(*rows, weed_stage="flowering") == "fair"
    assert result(*rows, weed_stage="seedling") == "excellent"


def test_early_post_emergence_means_small_plants() -> None:
    """A row for early post-emergence work says nothing of mature plants."""
    found = read(response("x", "good", timing="early_post_emergence"), weed_stage="mature")
    assert found is not None
    assert found.off_stages


def test_rates_above_the_label_never_speak() -> None:
    """Source: Weed Technology 34(4), 2020: triclopyr takes wild violet at 0.81, labels stop near 0.56 kg/ha."""
    assert result(response("x", "good", rate="above_label"), response("x", "fair")) == "fair"
    assert result(response("x", "good", rate="above_label")) == "not_known"


def test_a_listed_use_speaks_only_without_grades() -> None:
    """Listed, not graded."""
    assert result(response("x", "listed")) == "listed"
    assert result(response("x", "listed"), response("x", "poor", sources=MEMORY)) == "poor"


def test_memory_yields_to_publication() -> None:
    """A row from memory fills gaps, it does not settle a dispute."""
    assert result(response("x", "poor", sources=MEMORY), response("x", "good")) == "good"


def test_late_ratings_of_perennials_count_more() -> None:
    """Source: HortScience 51(6), 2016: 65 % or less at 10 weeks, 92 to 97 % at 37 weeks."""
    rows = (response("x", "fair", judged_weeks=10), response("x", "excellent", judged_weeks=37))
    assert result(*rows) == "excellent"
    found = read(*rows)
    assert found is not None
    assert found.judged_weeks == (10, 37)


def test_the_two_timings_are_kept_apart() -> None:
    """A barrier's rating is no rating on standing plants."""
    rows = (response("x", "excellent", timing="pre_emergence"), response("x", "poor"))
    assert result(*rows) == "poor"
    assert result(*rows, timing="pre_emergence") == "excellent"


DIG = Control(
    "dig",
    "digging",
    "hand",
    MEMORY,
    works_on=(
        WorksOn("good", MEMORY, groups=("broadleaf",), not_spreads_by=("rhizomes", "tubers")),
        WorksOn("poor", MEMORY, spreads_by=("rhizomes", "tubers")),
    ),
)


@pytest.mark.parametrize(
    ("spread", "expected"),
    [(("seed",), "good"), (("seed", "rhizomes"), "poor"), (None, "no word")],
)
def test_the_kind_of_plant_stands_in_for_a_missing_row(spread: tuple[str, ...] | None, expected: str) -> None:
    """Digging works on tap roots and fails on rhizomes; an unknown spread fits no row that depends on it."""
    plant = weed("a", spread=Spread(spread, MEMORY) if spread else None)
    assert result(control=DIG, plant=plant) == expected


def test_a_row_of_the_weed_silences_the_kind_of_plant() -> None:
    """The fallback is used only where the weed has no row for the control."""
    assert result(control=DIG, plant=weed("a", responses=(response("dig", "fair"),))) == "fair"


def test_life_cycles_of_a_kind() -> None:
    """A plant that may be perennial is not treated as an annual; 'annual' covers summer and winter annuals."""
    pull = Control("pull", "pulling", "hand", MEMORY, works_on=(WorksOn("good", MEMORY, life_cycles=("annual",)),))
    assert result(control=pull, plant=annual("a")) == "good"
    both = annual("a", life_cycles=(*annual("a").life_cycles, *weed("b").life_cycles))
    assert result(control=pull, plant=both) == "no word"


def test_a_remedy_works_on_weeds_that_show_its_condition() -> None:
    """Aeration answers plants that tell of compaction, unless a source says the opposite."""
    coring = Control("c", "coring", "soil", MEMORY, works_on=(WorksOn("fair", MEMORY, conditions=("compacted",)),))
    assert result(control=coring, plant=weed("a", signs=(Sign("compacted", MEMORY),))) == "fair"
    assert result(control=coring, plant=weed("a", signs=(Sign("compacted", MEMORY, against=True),))) == "no word"


def test_a_turf_of_another_lawn_gives_a_hint() -> None:
    """What injures bermudagrass as turf may hit it as a weed: a hint, never a rating."""
    plant = weed("bermudagrass_weed", turf="bermudagrass", group="grassy")

    def hint(*rows: Tolerance) -> Reading | None:
        control = chemical("x", *rows)
        turfs = [turf("bermudagrass"), turf("tall_fescue", "cool")]
        return read_any(
            knowledge([plant], [control], turfs), plant, control, setting(turf="tall_fescue"), "post_emergence"
        )

    found = hint(row("bermudagrass", "injures"))
    assert found is not None
    assert (found.result, found.fallback) == ("hint", "turf_elsewhere")
    assert hint(row("bermudagrass", "safe")) is None
    assert hint(row("bermudagrass", "injures", stand=("seedling",))) is None
