"""The key's rule on open data: accuracy and number of questions, exact and with 10 % wrong answers.

    pip install rdata scikit-learn
    python tests/bench/fetch_data.py FOLDER     (pip download and apt-get download by package name)
    python tests/bench/open_data.py FOLDER [zoo soybean mushroom votes plants network] [--repeats 10]

Protocol: one model a class from the training rows (categorical naive Bayes, alpha 0.5, empirical prior); the key asks
until the best class has 0.95 or its gain floor says stop; a missing cell is answered "can't tell" and counts as a
question. "10 % wrong": each answer is replaced with probability 0.1 by another state; the model knows this rate (rows
mixed with the same channel). Zoo leave-one-out, the others 10-fold stratified; the network 2 000 drawn cases.
plantTraits: every species is its own class, one row each. All with fixed seeds.
"""

from __future__ import annotations

import argparse
import random
import sys
from collections import Counter
from pathlib import Path
from statistics import mean, quantiles

sys.path.insert(0, str(Path(__file__).parent))
sys.path.insert(0, str(Path(__file__).parents[1] / "key"))

import fetch_data
from key_cases import exact_table, make_trait

from weedkey.key import StopRule, Table, build_table_from_rows, judge
from weedkey.key.score import entropy_bits, find_information
from weedkey.model.lawn import Look
from weedkey.model.region import Region

ALPHA = 0.5
WRONG = 0.1
FLOOR = StopRule(gain_floor=0.02)
NO_FLOOR = StopRule(gain_floor=0.0)
SURER = StopRule(delta=0.02, gain_floor=0.02)


def mix(row, error: float):
    """A row of chances seen through a channel with ``error`` wrong answers."""
    count = len(row)
    if count == 1 or error == 0:
        return list(row)
    return [value * (1 - error) + (1 - value) * error / (count - 1) for value in row]


def train(rows, labels, states, error: float, *, gaps_speak: bool) -> Table:
    """Table of classes from training rows; ``gaps_speak``: "can't tell" may depend on the class."""
    classes = sorted(set(labels))
    counts = Counter(labels)
    traits, chances, unseen = {}, {}, {}
    for place, names in enumerate(states):
        trait = f"t{place:03d}"
        traits[trait] = make_trait(trait, names)
        tally = Counter((label, row[place]) for row, label in zip(rows, labels, strict=True))
        chances[trait] = {}
        for label in classes:
            total = sum(tally[label, name] for name in names) + ALPHA * len(names)
            chances[trait][label] = mix([(tally[label, name] + ALPHA) / total for name in names], error)
        # A plant without leaves has no leaf to look at, so a missing cell may speak: counted like a state.
        gaps = sum(tally[label, None] for label in classes)
        unseen[trait] = [
            (tally[label, None] + ALPHA) / (counts[label] + 2 * ALPHA)
            if gaps and gaps_speak
            else gaps / (len(rows) + 1)
            for label in classes
        ]
    return build_table_from_rows({label: float(counts[label]) for label in classes}, traits, chances, unseen)


class Player:
    """Asks by the key's rule; the policy is the same for equal answers, so standings are remembered."""

    def __init__(self, table: Table, rule: StopRule, regions=None) -> None:
        self.table, self.rule, self.regions = table, rule, regions
        self.known: dict[frozenset[Look], object] = {}

    def stand(self, looks):
        """Standing after the looks."""
        key = frozenset(looks)
        if key not in self.known:
            self.known[key] = judge(self.table, looks, self.regions, rule=self.rule)
        return self.known[key]

    def play(self, answer):
        """Ask until stopped; ``answer(trait)`` gives a state or None. The standing and the number of questions."""
        looks: list[Look] = []
        while True:
            standing = self.stand(looks)
            if standing.next_look is None:
                return standing, len(looks)
            trait = standing.next_look.trait
            state = answer(trait)
            looks.append(Look(trait, () if state is None else (state,)))


def flip(state, names, draw):
    """Another state at random in one of ten answers."""
    if state is None or draw is None or draw.random() >= WRONG or len(names) < 2:
        return state
    return draw.choice([name for name in names if name != state])


def folds(labels, count, seed=1):
    """Stratified fold numbers; ``count`` 0 means leave-one-out."""
    if count == 0:
        return list(range(len(labels)))
    draw = random.Random(seed)
    where = [0] * len(labels)
    for label in sorted(set(labels)):
        members = [place for place, value in enumerate(labels) if value == label]
        draw.shuffle(members)
        for turn, place in enumerate(members):
            where[place] = turn % count
    return where


def run_classes(name, rows, labels, folded, repeats):
    """Rows of the table for one data set with classes."""
    states = [sorted({row[place] for row in rows if row[place] is not None}) for place in range(len(rows[0]))]
    where = folds(labels, folded)
    gaps = any(None in row for row in rows)
    for title, error, rule, turns, gaps_speak in (
        ("exact, no gain floor", 0.0, NO_FLOOR, 1, True),
        ("exact", 0.0, FLOOR, 1, True),
        ("exact, gaps are silent", 0.0, FLOOR, 1, False),
        ("10 % wrong", WRONG, FLOOR, repeats, True),
        ("10 % wrong, silent", WRONG, FLOOR, repeats, False),
        ("10 % wrong, silent, .98", WRONG, SURER, repeats, False),
    ):
        if not gaps and not gaps_speak and rule is FLOOR:
            continue
        results = []
        for part in sorted(set(where)):
            inside = [place for place in range(len(rows)) if where[place] != part]
            table = train([rows[p] for p in inside], [labels[p] for p in inside], states, error, gaps_speak=gaps_speak)
            player = Player(table, rule)
            for turn in range(turns):
                draw = random.Random(1000 * turn + part) if error else None
                for place in (p for p in range(len(rows)) if where[p] == part):
                    standing, count = player.play(
                        lambda trait, place=place, draw=draw: flip(
                            rows[place][int(trait[1:])], states[int(trait[1:])], draw
                        )
                    )
                    best, belief = standing.candidates[0]
                    results.append((best == labels[place], count, belief >= 0.95))
        report(name, title, results)


def report(name, title, results):
    """One printed row: right, mean / median / 95th percentile of questions, reached, right among those."""
    counts = [count for _, count, _ in results]
    reached = [right for right, _, settled in results if settled]
    cuts = quantiles(counts, n=20)
    print(
        f"{name:12s} {title:24s} {100 * mean(right for right, _, _ in results):6.2f} %  "
        f"{mean(counts):6.2f} / {cuts[9]:4.0f} / {cuts[18]:4.0f}   "
        f"reached {100 * len(reached) / len(results):5.1f} %, right {100 * mean(reached or [0]):5.1f} %",
        flush=True,
    )


def run_plants(folder, repeats):
    """Every species one row: to the end with exact answers, and with 10 % wrong answers."""
    rows = fetch_data.load_plants(folder)
    states = [sorted({row[place] for row in rows if row[place] is not None}) for place in range(len(rows[0]))]
    as_state = {f"w{n:03d}": ["missing" if cell is None else cell for cell in row] for n, row in enumerate(rows)}
    run_to_the_end("plantTraits", as_state)
    for title, error, rule in (
        ("exact", 0.0, FLOOR),
        ("10 % wrong", WRONG, FLOOR),
        ("10 % wrong, no gain floor", WRONG, NO_FLOOR),
        ("10 % wrong, .98", WRONG, SURER),
    ):
        traits, chances = {}, {}
        for place, names in enumerate(states):
            traits[f"t{place:03d}"] = make_trait(f"t{place:03d}", names)
            chances[f"t{place:03d}"] = {
                f"w{n:03d}": mix([1.0 if row[place] == name else 0.0 for name in names], error)
                for n, row in enumerate(rows)
                if row[place] is not None
            }
        table = build_table_from_rows({f"w{n:03d}": 1.0 for n in range(len(rows))}, traits, chances)
        player = Player(table, rule)
        results = []
        for turn in range(repeats if error else 1):
            draw = random.Random(turn) if error else None
            for number, row in enumerate(rows):
                standing, count = player.play(
                    lambda trait, row=row, draw=draw: flip(row[int(trait[1:])], states[int(trait[1:])], draw)
                )
                best, belief = standing.candidates[0]
                results.append((best == f"w{number:03d}", count, belief >= 0.95))
        report("plantTraits", title, results)


def run_to_the_end(name, taxa):
    """Mean questions until only identical rows remain, exact answers, equal weights (E2, E3)."""
    table = exact_table(taxa)
    player = Player(table, StopRule(delta=1e-9, gain_floor=0.0))
    counts = []
    for row in taxa.values():
        looks: list[Look] = []
        while True:
            standing = player.stand(looks)
            if standing.could_ask is None or standing.could_ask.gain < 1e-9:
                break
            trait = standing.could_ask.trait
            looks.append(Look(trait, (row[int(trait[1:])],)))
        counts.append(len(looks))
    print(f"{name:12s} to the end, exact: mean {mean(counts):.4f}, longest {max(counts)}", flush=True)


def run_zoo(folder, repeats):
    """A7, E2 and the class rows."""
    rows, labels = fetch_data.load_zoo(folder)
    names = fetch_data.read_member(folder, "orange3", "Orange/datasets/zoo.tab").decode().splitlines()[0].split("\t")
    print_information("zoo", rows, labels, names[1:17])
    run_to_the_end("zoo", {f"w{n:03d}": list(row) for n, row in enumerate(rows)})
    decisions = {f"w{n:03d}": Region(label, label, frozenset({label}), 1.0) for n, label in enumerate(labels)}
    table = exact_table({f"w{n:03d}": list(row) for n, row in enumerate(rows)})
    player = Player(table, NO_FLOOR, decisions)
    results = []
    for number, row in enumerate(rows):
        standing, count = player.play(lambda trait, row=row: row[int(trait[1:])])
        results.append((standing.decision.kind == labels[number], count, standing.decision.probability >= 0.95))
    report("zoo", "101 animals, 7 types", results)
    run_classes("zoo", rows, labels, 0, repeats)


def print_information(name, rows, labels, columns):
    """Class entropy and the five most telling attributes, by the functions of the key, beside scikit-learn."""
    from math import log

    from sklearn.metrics import mutual_info_score

    counts = Counter(labels)
    traits, chances = {}, {}
    for place, column in enumerate(columns):
        states = sorted({row[place] or "" for row in rows})
        traits[column] = make_trait(column, [state or "missing" for state in states])
        tally = Counter((label, row[place] or "") for row, label in zip(rows, labels, strict=True))
        chances[column] = {c: [tally[c, state] / counts[c] for state in states] for c in counts}
    table = build_table_from_rows({c: float(n) for c, n in counts.items()}, traits, chances)
    bits = {column: find_information(table.column(column), range(len(table.taxa)), table.prior) for column in columns}
    worst = max(
        abs(bits[column] - mutual_info_score([row[place] or "" for row in rows], labels) / log(2))
        for place, column in enumerate(columns)
    )
    top = sorted(bits, key=lambda column: -bits[column])[:5]
    told = ", ".join(f"{column} {bits[column]:.4f}" for column in top)
    print(f"{name:12s} class entropy {entropy_bits(table.prior):.4f}; {told}; scikit-learn differs by {worst:.1e}")


def run_mushroom(folder, repeats):
    """A8, the four published rules (G1-G4), and the class rows (G5)."""
    rows, labels = fetch_data.load_mushroom(folder)
    import warnings

    import rdata

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        frame = rdata.read_rda(folder / "unpacked/usr/lib/R/site-library/cba/data/Mushroom.rda")["Mushroom"]
    names = [str(c) for c in frame.columns if c != "class" and frame[c].nunique(dropna=False) > 1]
    print_information("mushroom", rows, labels, names)
    check_mushroom_rules(rows, labels, names)
    run_classes("mushroom", rows, labels, 10, min(repeats, 5))


def check_mushroom_rules(rows, labels, names):
    """Errors of the published rules with 1, 2, 4 and 6 attributes (Duch, Adamczak & Grabczewski 1996-97)."""
    errors = [0, 0, 0, 0]
    for row, label in zip(rows, labels, strict=True):
        of = dict(zip(names, row, strict=True))
        first = of["odor"] not in ("almond", "anise", "none")
        second = first or of["spore-print-color"] == "green"
        third = second or (
            of["odor"] == "none"
            and of["stalk-surface-below-ring"] == "scaly"
            and of["stalk-color-above-ring"] != "brown"
        )
        fourth = third or (of["habitat"] == "leaves" and of["cap-color"] == "white")
        for place, poisonous in enumerate((first, second, third, fourth)):
            errors[place] += poisonous != (label == "poisonous")
    print(f"mushroom     published rules with 1 / 2 / 4 / 6 attributes: errors {errors} (published 120, 48, 8, 0)")


def run_network(folder, cases=2000):
    """G8: 63 diseases and 4 groups, cases drawn from the full network, model with independent findings."""
    network = fetch_data.load_network(folder)
    findings = [name for name in network.order if name != "Fault"]
    draw = random.Random(7)
    drawn = [network.draw(draw) for _ in range(cases)]
    groups, place = {}, 0
    for size, group in fetch_data.NETWORK_GROUPS:
        for disease in network.states["Fault"][place : place + size]:
            groups[disease] = Region(group, group, frozenset({group}), 1.0)
        place += size
    given = {name: network.given_disease(name) for name in findings}
    prior = dict(zip(network.states["Fault"], network.tables["Fault"][()], strict=True))
    costs = random.Random(3)
    dealt = {name: float(costs.choice((1, 2, 4, 8))) for name in findings}
    for title, error, goal, costly, rule in (
        ("name", 0.0, "name", False, NO_FLOOR),
        ("decision", 0.0, "decision", False, NO_FLOOR),
        ("decision, 10 % wrong", WRONG, "decision", False, NO_FLOOR),
        ("decision, costs 1-8", 0.0, "decision", True, NO_FLOOR),
        ("name, costs 1-8", 0.0, "name", True, NO_FLOOR),
    ):
        traits = {n: make_trait(n, network.states[n], 100 * dealt[n] if costly else 0.0) for n in findings}
        rows = {n: {d: mix(row, error) for d, row in given[n].items()} for n in findings}
        table = build_table_from_rows(prior, traits, rows)
        player = Player(table, rule, groups if goal == "decision" else None)
        slips = random.Random(11) if error else None
        results, spent = [], []
        for case in drawn:
            asked: list[str] = []

            def answer(trait, case=case, asked=asked):
                asked.append(trait)
                return flip(case[trait], network.states[trait], slips)  # noqa: B023 - used at once

            standing, count = player.play(answer)
            truth = case["Fault"]
            if goal == "decision":
                right, reached = standing.decision.kind == groups[truth].kind, standing.decision.probability >= 0.95
            else:
                group = groups[standing.candidates[0][0]].kind
                right, reached = group == groups[truth].kind, standing.candidates[0][1] >= 0.95
            results.append((right, count, reached))
            spent.append(sum(dealt[trait] for trait in asked))
        report("network", title, results)
        if costly:
            print(f"{'':12s} {'':24s} mean cost {mean(spent):.2f}")


def main() -> None:
    """Run the data sets named on the command line."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=Path)
    parser.add_argument("sets", nargs="*", default=["zoo", "soybean", "votes", "mushroom", "plants", "network"])
    parser.add_argument("--repeats", type=int, default=10)
    args = parser.parse_args()
    print("data         run                     right     questions: mean / median / 95th percentile   0.95 reached")
    for name in args.sets:
        if name == "zoo":
            run_zoo(args.folder, args.repeats)
        elif name in ("soybean", "votes"):
            rows, labels = getattr(fetch_data, f"load_{name}")(args.folder)
            run_classes(name, rows, labels, 10, args.repeats)
        elif name == "mushroom":
            run_mushroom(args.folder, args.repeats)
        elif name == "plants":
            run_plants(args.folder, args.repeats)
        else:
            run_network(args.folder)


if __name__ == "__main__":
    main()
