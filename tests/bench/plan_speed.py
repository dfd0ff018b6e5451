"""How long the search for visits and a whole plan take. Run by hand: python tests/bench/plan_speed.py

The search is given 25 findings, 80 controls and 25 half months at random, some with limits that bind.
"""

from __future__ import annotations

import random
import time

from weedkey.knowledge import load
from weedkey.knowledge.lawn_file import read_lawn
from weedkey.knowledge.locate import shipped_folder
from weedkey.plan.planner import make_plan
from weedkey.plan.search import Limits, Option, search

FINDINGS, CONTROLS, WINDOWS, ROUNDS = 25, 80, 25, 12


def random_case(seed: int) -> tuple[list[Option], list[float], Limits]:
    """Each finding has 2 to 12 controls, each open for one to six half months."""
    chance = random.Random(seed)
    names = [f"control {number}" for number in range(CONTROLS)]
    actives = {n: frozenset({n} if chance.random() < 0.7 else {n, chance.choice(names)}) for n in names}
    options = []
    for target in range(FINDINGS):
        for control in chance.sample(names, chance.randint(2, 12)):
            first, length = chance.randint(0, WINDOWS - 1), chance.randint(1, 6)
            for window in range(first, min(WINDOWS, first + length)):
                options.append(Option(target, window, control, chance.randint(0, 2)))
    tied = dict.fromkeys(names[:10], 2)
    limits = Limits(actives, {n: chance.choice([0, 0, 1]) for n in names}, tied, tied)
    return options, [chance.random() * 100 + 1 for _ in range(FINDINGS)], limits


def main() -> None:
    """Print seconds of each case and of each demo lawn."""
    for seed in range(ROUNDS):
        case = random_case(seed)
        started = time.perf_counter()
        found = search(*case)
        print(f"case {seed}: {time.perf_counter() - started:.3f} s, {found.visits} visits, {found.actives} actives")
    knowledge = load()
    for path in sorted((shipped_folder() / "demo").glob("*.yaml")):
        lawn = read_lawn(path, knowledge)
        started = time.perf_counter()
        make_plan(knowledge, lawn)
        print(f"{path.stem}: {time.perf_counter() - started:.3f} s")


if __name__ == "__main__":
    main()
