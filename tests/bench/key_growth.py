"""Time and memory of the key as the knowledge grows: one answer (belief, next look, decision) and the table.

    python tests/bench/key_growth.py [150 1000 10000]

Generated weeds x 60 traits (2 to 7 states, a fifth of the facts missing, 18 overlapping regions). Each walk answers
twelve looks of one weed; "first" is the standing before any answer, when every weed is still possible; "mean" is over
all looks of the walks. Pure Python, one process; compare runs on one machine only.
"""

from __future__ import annotations

import sys
import time
import tracemalloc
from itertools import pairwise
from math import log
from pathlib import Path
from statistics import mean, median, quantiles

sys.path.insert(0, str(Path(__file__).parents[1] / "key"))
sys.path.insert(0, str(Path(__file__).parents[2]))

from key_cases import generate_knowledge, generate_regions

from weedkey.key import Context, build_table, judge
from weedkey.model.lawn import Look

CONTEXT = Context(6, "southeast")


def measure_ms(function):
    """Milliseconds of one call, and its result."""
    start = time.perf_counter()
    result = function()
    return (time.perf_counter() - start) * 1000, result


def walk_times(knowledge, regions, table, weed):
    """Milliseconds of each answer of an error-free walk of twelve looks."""
    looks, times = [], []
    for _ in range(12):
        spent, standing = measure_ms(lambda seen=tuple(looks): judge(table, seen, regions))
        times.append(spent)
        if standing.could_ask is None:
            break
        trait = standing.could_ask.trait
        seen = knowledge.weeds[weed].looks.get(trait, ())
        group = knowledge.weeds[weed].group
        looks = [*looks, Look(trait, (group,) if trait == "plant_group" else tuple(row.state for row in seen[:1]))]
    return times


def run(size: int, walks: int) -> float:
    """One printed row; the mean time of an answer."""
    knowledge = generate_knowledge(size, 60)
    regions = generate_regions(knowledge)
    build, table = measure_ms(lambda: build_table(knowledge, CONTEXT))
    columns, _ = measure_ms(lambda: [table.column(trait) for trait in table.traits])
    judge(table, [], regions)
    first = median(measure_ms(lambda: judge(table, [], regions))[0] for _ in range(7))
    weeds = list(knowledge.weeds)[:: max(1, size // walks)][:walks]
    times = [spent for weed in weeds for spent in walk_times(knowledge, regions, table, weed)]
    tracemalloc.start()
    fresh = build_table(knowledge, CONTEXT)
    for trait in fresh.traits:
        fresh.column(trait)
    memory = tracemalloc.get_traced_memory()[0] / 2**20
    tracemalloc.stop()
    high = quantiles(times, n=20)[18]
    print(
        f"{size:7d}   {build:8.2f}  {columns:9.1f}   {first:8.2f}   {mean(times):8.2f}   {high:8.2f}   {memory:7.1f}",
        flush=True,
    )
    return first


def main() -> None:
    """Print a table and the exponents between its rows."""
    sizes = [int(size) for size in sys.argv[1:]] or [150, 1000, 10000]
    print("  weeds   table ms  columns ms   first ms    mean ms   95 % ms   table MiB")
    found = [(size, run(size, 20 if size <= 1000 else 5)) for size in sizes]
    for (small, before), (large, after) in pairwise(found):
        exponent = log(after / before) / log(large / small)
        print(f"first answer grows with exponent {exponent:.2f} from {small} to {large} weeds")


if __name__ == "__main__":
    main()
