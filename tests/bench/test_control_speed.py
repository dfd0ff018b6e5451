"""How long the whole flora, one weed and one turf take, beside a fixed piece of plain Python of the same run.

Run by hand: ``pytest tests/bench/test_control_speed.py -s``. Ratios rather than seconds are compared.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from dataclasses import replace
from datetime import date

from weedkey.control import Setting, decision_regions, gatebook, judge_weed, list_choices, turf_table
from weedkey.knowledge import load

#: Builds of a small frozen record that take about as long as one flora may: see the assertion.
UNITS = 60_000


def best_ms(work: Callable[[], object], rounds: int = 5) -> float:
    """The fastest of some rounds in milliseconds, each with nothing remembered of the setting."""
    best = float("inf")
    for _ in range(rounds):
        gatebook._open_book.cache_clear()
        start = time.perf_counter()
        work()
        best = min(best, time.perf_counter() - start)
    return best * 1000


def test_the_flora_is_judged_in_a_moment() -> None:
    """All weeds in one setting take less than building sixty thousand tuples and dictionaries does."""
    knowledge = load()
    here = Setting(
        turf="bermudagrass",
        on=date(2025, 5, 15),
        site="home_lawn",
        region="southeast",
        state="TN",
        growth="growing",
        air_high_f=80.0,
        air_low_f=60.0,
        paid=True,
        licensed=True,
    )
    ahead = tuple(
        replace(here, on=date(2025 + (month > 12), (month - 1) % 12 + 1, day))
        for month in range(5, 17)
        for day in (16, 28)
    )
    unit = best_ms(lambda: [{"a": n, "b": (n, n + 1), "c": str(n)} for n in range(UNITS)])
    flora = best_ms(lambda: decision_regions(knowledge, here))
    lines = {
        f"{len(knowledge.weeds)} weeds, one setting": flora,
        f"{len(knowledge.weeds)} weeds, with 24 settings ahead": best_ms(
            lambda: decision_regions(knowledge, here, ahead), 2
        ),
        "choices for dallisgrass": best_ms(lambda: list_choices(knowledge, "dallisgrass", here)),
        "verdict for dallisgrass with 24 settings ahead": best_ms(
            lambda: judge_weed(knowledge, "dallisgrass", here, ahead)
        ),
        "table of a turf": best_ms(lambda: turf_table(knowledge, here)),
    }
    for name, spent in lines.items():
        sys.stdout.write(f"{name}: {spent:.1f} ms, {spent / unit:.2f} units\n")
    assert flora < unit
