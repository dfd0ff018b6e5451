"""Simulated users on our own knowledge: every weed x turf x month that makes sense, mown lawn.

    python tests/bench/own_knowledge.py                          table of the key at error rates 0, 5, 10 %
    python tests/bench/own_knowledge.py --rivals                 against fixed order, information on the name,
                                                                 hard elimination, a scikit-learn tree
    python tests/bench/own_knowledge.py --outside                plants that are not in the list (leave one out)
    python tests/bench/own_knowledge.py --why                    what the number of looks hangs on
    python tests/bench/own_knowledge.py --calibrate              writes weedkey/key/calibration_points.py

A user stands in front of one plant of the weed: it shows one state of each trait, drawn by the stated shares (a fact
that is missing is drawn from the weeds that have it). A fifth of the looks end in "can't tell"; so does a flower out of
season, and half of the looks that the mower takes away. A wrong answer is another state at random. A weed makes sense
if it is not the turf itself, and its region and month weigh at least 0.1. Each such case counts once.
Right decision: the action named first is one that the true weed accepts (or the same verdict where none is needed).
Fixed seeds. Field seconds are those of knowledge/traits.yaml plus 15 s to ask.
"""

from __future__ import annotations

import argparse
import random
import sys
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from itertools import pairwise
from pathlib import Path
from statistics import mean, quantiles

sys.path.insert(0, str(Path(__file__).parents[2]))

from weedkey.control import decision_regions
from weedkey.key import DOES_NOT_APPLY, NOT_IN_LIST, Context, StopRule, Table, build_table, judge
from weedkey.key.answers import CAN_TELL
from weedkey.key.context import weigh_month, weigh_region
from weedkey.key.decide import STOP_RULE, Standing
from weedkey.key.score import ASKING_SECONDS, NOT_KNOWN, find_information
from weedkey.knowledge import load
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Lawn, Look
from weedkey.model.region import Region
from weedkey.model.weed import Seen
from weedkey.plan.situation import setting_for, settings_ahead

#: A place with its normals for each turf, where that turf is at home.
PLACES = {
    "bermudagrass": "griffin_ga",
    "zoysiagrass": "charlotte_nc",
    "centipedegrass": "columbia_sc",
    "st_augustinegrass": "gainesville_fl",
    "bahiagrass": "jacksonville_fl",
    "tall_fescue": "murfreesboro_tn",
    "kentucky_bluegrass": "indianapolis_in",
    "perennial_ryegrass": "philadelphia_pa",
    "buffalograss": "topeka_ks",
    "fine_fescue": "ann_arbor_mi",
}
MONTHS = (3, 5, 7, 9, 11)
CANNOT_TELL = 0.2
MOST_LOOKS = 25


@dataclass(frozen=True)
class Scene:
    """One turf in one month: table, regions and the weeds that make sense."""

    turf: str
    month: int
    context: Context
    table: Table
    regions: Mapping[str, Region]
    weeds: tuple[str, ...]


@dataclass(frozen=True)
class Result:
    """What one simulated walk came to."""

    name_right: bool
    decision_right: bool
    looks: int
    seconds: float
    settled: bool
    name_settled: bool
    name_belief: float
    decision_belief: float
    fit: bool
    fit_score: float
    outside: float


def make_scene(knowledge: Knowledge, turf: str, month: int) -> Scene:
    """Table and regions for a home lawn of the turf in the middle of the month."""
    lawn = Lawn("simulated", date(2025, month, 15), turf, "home_lawn", (), place=PLACES[turf])
    setting = setting_for(knowledge, lawn)
    regions = decision_regions(knowledge, setting, settings_ahead(knowledge, lawn, None, lawn.on))
    context = Context(month, setting.region, turf)
    weeds = tuple(
        weed.id
        for weed in knowledge.weeds.values()
        if weed.turf != turf
        and weigh_region(weed, setting.region) >= 0.1
        and weigh_month(weed, month, setting.region) >= 0.1
    )
    return Scene(turf, month, context, build_table(knowledge, context), regions, weeds)


class Plant:
    """One plant of a weed, and the user in front of it."""

    def __init__(self, scene: Scene, weed: str, draw: random.Random, error: float, truth: Table | None = None) -> None:
        self.table = truth or scene.table
        self.taxon = self.table.find_taxon(weed)
        self.draw = draw
        self.error = error

    def answer(self, trait: str) -> Look:
        """The user's answer to one look."""
        column = self.table.column(trait)
        seen = column.tells(self.taxon) / CAN_TELL.get(column.trait.needs, 0.95)
        if self.draw.random() < CANNOT_TELL or self.draw.random() > seen:
            return Look(trait)
        states = column.trait.state_ids
        if self.draw.random() >= column.applies[self.taxon]:
            return Look(trait, (DOES_NOT_APPLY,))
        state = self.draw.choices(states, self._shares(trait))[0]
        if self.draw.random() < self.error and len(states) > 1:
            state = self.draw.choice([other for other in states if other != state])
        return Look(trait, (state,))

    def _shares(self, trait: str) -> list[float]:
        """Shares of the states in the weed, with the model's own error taken out again."""
        column = self.table.column(trait)
        count = len(column.trait.states)
        row = column.rows[self.taxon][:count]
        error = min(max(column.trait.misread, 0.01), 0.5)
        floor = error / max(count - 1, 1) * sum(row)
        return [max(value - 1.05 * floor, 0.0) for value in row] if max(row) > 1.05 * floor else list(row)


Chooser = Callable[[Standing, Table], str | None]


def follow_key(standing: Standing, _: Table) -> str | None:
    """The key's own next look."""
    return standing.next_look.trait if standing.next_look else None


def follow_order(standing: Standing, table: Table) -> str | None:
    """One fixed order for everybody (that of traits.yaml), skipping what does not apply."""
    if standing.stop == "settled":
        return None
    open_looks = {gain.trait for gain in standing.gains}
    return next((trait for trait in table.traits if trait in open_looks), None)


def follow_name(standing: Standing, table: Table) -> str | None:
    """Plain information gain on the name, cost ignored; stops on the decision like the key."""
    if standing.stop == "settled" or not standing.gains:
        return None
    belief = [0.0] * len(table.taxa)
    for weed, weight in standing.candidates:
        belief[table.index[weed]] = weight
    belief[-1] = standing.not_in_list
    live = [taxon for taxon, weight in enumerate(belief) if weight > 1e-5]
    weights = [belief[taxon] for taxon in live]
    best = max(standing.gains, key=lambda gain: find_information(table.column(gain.trait), live, weights))
    return best.trait


def walk(
    scene: Scene,
    plant: Plant,
    weed: str,
    *,
    goal: str,
    choose: Chooser = follow_key,
    rule: StopRule = STOP_RULE,
    memory: dict[tuple[str, frozenset[Look]], Standing] | None = None,
    table: Table | None = None,
) -> Result:
    """Ask until the key stops (or the chooser does); judge the end against the true weed."""
    table = table or scene.table
    looks: list[Look] = []
    seconds = 0.0
    memory = {} if memory is None else memory
    while True:
        key = (goal, frozenset(looks))
        standing = memory.get(key)
        if standing is None:
            standing = memory[key] = judge(table, looks, scene.regions, goal=goal, rule=rule)
        trait = choose(standing, table)
        if trait is None or len(looks) >= MOST_LOOKS:
            break
        looks.append(plant.answer(trait))
        seconds += table.traits[trait].cost_seconds + ASKING_SECONDS
    return make_result(scene, standing, weed, len(looks), seconds)


def make_result(scene: Scene, standing: Standing, weed: str, looks: int, seconds: float) -> Result:
    """The end of a walk beside the truth."""
    region = scene.regions.get(weed, NOT_KNOWN)
    decision = standing.decision
    right = decision.actions[0] in region.actions if decision and decision.actions else False
    top = standing.candidates[0]
    return Result(
        top[0] == weed,
        right,
        looks,
        seconds,
        standing.stop == "settled",
        top[1] >= 1 - STOP_RULE.delta,
        top[1],
        decision.probability if decision else 0.0,
        standing.fit,
        standing.fit_score,
        standing.not_in_list,
    )


def simulate(
    scenes: list[Scene],
    error: float,
    goal: str,
    repeats: int,
    *,
    choose: Chooser = follow_key,
    rule: StopRule = STOP_RULE,
) -> list[Result]:
    """All walks over all scenes."""
    results = []
    for scene in scenes:
        memory: dict[tuple[str, frozenset[Look]], Standing] = {}
        for weed in scene.weeds:
            for turn in range(repeats):
                draw = random.Random(f"{scene.turf} {scene.month} {weed} {turn} {error}")
                plant = Plant(scene, weed, draw, error)
                results.append(walk(scene, plant, weed, goal=goal, choose=choose, rule=rule, memory=memory))
    return results


def show(title: str, results: list[Result], *, by_name: bool = False) -> None:
    """One printed row."""
    looks = [float(result.looks) for result in results]
    seconds = [result.seconds for result in results]
    reached = [result for result in results if (result.name_settled if by_name else result.settled)]
    good = [result.name_right if by_name else result.decision_right for result in reached]
    print(
        f"{title:34s} {len(results):6d}  name {100 * mean(r.name_right for r in results):5.1f} %  "
        f"decision {100 * mean(r.decision_right for r in results):5.1f} %  "
        f"looks {mean(looks):5.2f} / {quantiles(looks, n=20)[18]:4.0f}  "
        f"seconds {mean(seconds):5.0f} / {quantiles(seconds, n=20)[18]:5.0f}  "
        f"reached {100 * len(reached) / len(results):5.1f} %, right {100 * mean(good or [0]):5.1f} %  "
        f"fit alarm {100 * mean(not r.fit for r in results):4.1f} %",
        flush=True,
    )


def calibration_error(pairs: list[tuple[float, bool]], bins: int = 10) -> float:
    """Expected calibration error over equal-width bins."""
    total = 0.0
    for place in range(bins):
        inside = [
            (p, r) for p, r in pairs if place / bins <= p < (place + 1) / bins or (place == bins - 1 and p == 1.0)
        ]
        if inside:
            total += len(inside) * abs(mean(p for p, _ in inside) - mean(r for _, r in inside))
    return total / len(pairs)


def fit_points(pairs: list[tuple[float, bool]], most: int = 12) -> list[tuple[float, float]]:
    """Monotone points (pool adjacent violators on bins of equal counts), from belief to share right."""
    pairs = sorted(pairs)
    size = max(1, len(pairs) // most)
    blocks: list[list[float]] = []
    for start in range(0, len(pairs), size):
        part = pairs[start : start + size]
        blocks.append([mean(p for p, _ in part), mean(float(r) for _, r in part), float(len(part))])
        while len(blocks) > 1 and blocks[-2][1] > blocks[-1][1]:
            last = blocks.pop()
            weight = blocks[-1][2] + last[2]
            blocks[-1][:2] = [(blocks[-1][place] * blocks[-1][2] + last[place] * last[2]) / weight for place in (0, 1)]
            blocks[-1][2] = weight
    return [(round(p, 4), round(r, 4)) for p, r, _ in blocks]


def interpolate(points: list[tuple[float, float]], belief: float) -> float:
    """The same straight lines as weedkey.key.calibration, on points given."""
    if belief <= points[0][0]:
        return points[0][1]
    for (low, low_share), (high, high_share) in pairwise(points):
        if belief <= high:
            return low_share + (belief - low) / (high - low) * (high_share - low_share)
    return points[-1][1]


def collect_pairs(scenes: list[Scene], repeats: int) -> dict[str, list[tuple[float, bool]]]:
    """(belief, right) after every number of looks of every walk with 5 % wrong answers: name and decision."""
    pairs: dict[str, list[tuple[float, bool]]] = {"name": [], "decision": []}
    for scene in scenes:
        memory: dict[frozenset[Look], Standing] = {}
        for weed in scene.weeds:
            for turn in range(repeats):
                draw = random.Random(f"calibration {scene.turf} {scene.month} {weed} {turn}")
                plant = Plant(scene, weed, draw, 0.05)
                looks: list[Look] = []
                for _ in range(8):
                    key = frozenset(looks)
                    if key not in memory:
                        memory[key] = judge(scene.table, looks, scene.regions, goal="name")
                    standing = memory[key]
                    result = make_result(scene, standing, weed, 0, 0)
                    pairs["name"].append((result.name_belief, result.name_right))
                    pairs["decision"].append((result.decision_belief, result.decision_right))
                    if standing.could_ask is None:
                        break
                    looks.append(plant.answer(standing.could_ask.trait))
    return pairs


def calibrate(scenes: list[Scene]) -> None:
    """Fit on odd walks, test on even ones, and write the points."""
    pairs = collect_pairs(scenes, 2)
    lines = []
    for what, found in pairs.items():
        points = fit_points(found[::2])
        raw = calibration_error(found[1::2])
        after = calibration_error([(interpolate(points, p), r) for p, r in found[1::2]])
        print(f"{what:9s} {len(found)} beliefs; expected calibration error raw {raw:.3f}, calibrated {after:.3f}")
        body = "".join(f"        ({p}, {r}),\n" for p, r in points)
        lines.append(f'    "{what}": (\n{body}    ),\n')
    path = Path(__file__).parents[2] / "weedkey/key/calibration_points.py"
    head = path.read_text(encoding="utf-8").split("POINTS:")[0]
    text = f"POINTS: Mapping[str, tuple[tuple[float, float], ...]] = {{\n{''.join(lines)}}}\n"
    path.write_text(head + text, encoding="utf-8")


class InventedPlant(Plant):
    """A plant of no kind: every answer is that of another weed of one group, drawn anew for each look."""

    def __init__(self, scene: Scene, likes: list[str], draw: random.Random, error: float) -> None:
        super().__init__(scene, likes[0], draw, error)
        self.likes = likes

    def answer(self, trait: str) -> Look:
        """The answer of a weed of the group, drawn for this look."""
        self.taxon = self.table.find_taxon(self.draw.choice(self.likes))
        return super().answer(trait)


def leave_out(knowledge: Knowledge, scenes: list[Scene], repeats: int) -> None:
    """Plants that are not in the list: a weed, a whole genus left out, or a plant that was never seen."""
    for mode in ("weed left out", "genus left out", "invented plant"):
        for error in (0.0, 0.05):
            found: list[tuple[bool, Result]] = []
            for scene in scenes:
                for place, weed in enumerate(scene.weeds):
                    if place % 4 == 0:
                        found.extend(_walk_outside(knowledge, scene, weed, mode=mode, error=error, repeats=repeats))
            share = 100 / len(found)
            wrong = [result for confident, result in found if confident]
            alarm = share * sum(not result.fit for _, result in found)
            same = 100 * mean([result.decision_right for result in wrong] or [0])
            print(
                f"{mode}, {100 * error:2.0f} % wrong: {len(found)} walks, alarm or short list "
                f"{share * (len(found) - len(wrong)):.1f} %, fit alarm {alarm:.1f} %, "
                f"confident wrong name {share * len(wrong):.1f} % (of these the treatment is right all the same: "
                f"{same:.0f} %), looks {mean(r.looks for _, r in found):.2f}",
                flush=True,
            )


def _walk_outside(knowledge, scene, weed, *, mode, error, repeats):
    entry = knowledge.weeds[weed]
    genus = entry.scientific.split()[0]
    gone = (
        {weed}
        if mode == "weed left out"
        else {k for k, v in knowledge.weeds.items() if v.scientific.split()[0] == genus}
    )
    table = scene.table
    if mode != "invented plant":
        rest = {k: v for k, v in knowledge.weeds.items() if k not in gone}
        table = build_table(replace(knowledge, weeds=rest), scene.context)
    for turn in range(repeats):
        draw = random.Random(f"outside {scene.turf} {scene.month} {weed} {turn} {error}")
        if mode == "invented plant":
            likes = [other for other in scene.weeds if knowledge.weeds[other].group == entry.group]
            plant: Plant = InventedPlant(scene, likes, draw, error)
        else:
            plant = Plant(scene, weed, draw, error)
        result = walk(scene, plant, weed, goal="name", table=table)
        yield result.fit and result.name_settled, result


def fill_gaps(scene: Scene, knowledge: Knowledge) -> Scene:
    """The same scene as if every fact were known: one state drawn for each missing one."""
    weeds = {}
    for weed in knowledge.weeds.values():
        looks = dict(weed.looks)
        for trait in knowledge.traits.values():
            column = scene.table.column(trait.id)
            taxon = scene.table.find_taxon(weed.id)
            if trait.id not in looks and column.applies[taxon] > 0.5 and trait.id != "plant_group":
                draw = random.Random(f"fill {weed.id} {trait.id}")
                state = draw.choices(trait.state_ids, column.rows[taxon][: len(trait.states)])[0]
                looks[trait.id] = (Seen(state, ("from_memory",)),)
        weeds[weed.id] = replace(weed, looks=looks)
    filled = replace(knowledge, weeds=weeds)
    return replace(scene, table=build_table(filled, scene.context))


def show_why(knowledge: Knowledge, scenes: list[Scene]) -> None:
    """What the number of looks hangs on: "can't tell", gaps in the knowledge, the error that the model allows for."""
    global CANNOT_TELL  # noqa: PLW0603 - one bench, one switch
    usual = CANNOT_TELL
    show("as it is", simulate(scenes, 0.0, "decision", 1))
    CANNOT_TELL = 0.0
    show("everybody can tell", simulate(scenes, 0.0, "decision", 1))
    CANNOT_TELL = usual
    filled = [fill_gaps(scene, knowledge) for scene in scenes]
    show("no gaps in the knowledge", simulate(filled, 0.0, "decision", 1))
    CANNOT_TELL = 0.0
    show("both", simulate(filled, 0.0, "decision", 1))
    sure = replace(knowledge, traits={k: replace(v, misread=0.01) for k, v in knowledge.traits.items()})
    exact = [fill_gaps(replace(scene, table=build_table(sure, scene.context)), sure) for scene in scenes]
    show("both, and the model trusts answers", simulate(exact, 0.0, "decision", 1))
    CANNOT_TELL = usual


def eliminate(scenes: list[Scene], error: float, repeats: int) -> list[Result]:
    """Hard elimination: the key's own looks, but a weed drops out at the first answer that it never shows."""
    results = []
    for scene in scenes:
        table = scene.table
        memory: dict[tuple[str, frozenset[Look]], Standing] = {}
        for weed in scene.weeds:
            for turn in range(repeats):
                draw = random.Random(f"{scene.turf} {scene.month} {weed} {turn} {error}")
                results.append(_eliminate_one(scene, Plant(scene, weed, draw, error), weed, table, memory))
    return results


def _eliminate_one(scene, plant, weed, table, memory) -> Result:
    looks: list[Look] = []
    seconds = 0.0
    alive = [taxon for taxon in range(len(table.taxa)) if table.taxa[taxon] != NOT_IN_LIST]
    while True:
        regions = [scene.regions[table.taxa[taxon]] for taxon in alive]
        common = frozenset.intersection(*(region.actions for region in regions)) if regions else frozenset()
        key = ("decision", frozenset(looks))
        if key not in memory:
            memory[key] = judge(table, looks, scene.regions)
        standing = memory[key]
        if common or not alive or standing.could_ask is None or len(looks) >= MOST_LOOKS:
            break
        look = plant.answer(standing.could_ask.trait)
        looks.append(look)
        seconds += table.traits[look.trait].cost_seconds + ASKING_SECONDS
        if look.states:
            column = table.column(look.trait)
            place = column.position[look.states[0]]
            floor = 2.5 * column.trait.misread / max(len(column.trait.states) - 1, 1)
            alive = [taxon for taxon in alive if column.rows[taxon][place] / column.tells(taxon) > min(floor, 0.3)]
    best = max(alive, key=lambda taxon: table.prior[taxon], default=None)
    named = table.taxa[best] if best is not None else ""
    accepted = scene.regions[weed].actions
    right = bool(common & accepted) if common else bool(named) and bool(scene.regions[named].actions & accepted)
    return Result(
        named == weed, right, len(looks), seconds, bool(common), len(alive) == 1, 1.0, 1.0, bool(alive), 1.0, 0.0
    )


def grow_tree(scenes: list[Scene], error: float, repeats: int) -> list[Result]:
    """A scikit-learn tree on yes/no questions, grown on error-free plants of each scene, then asked like a user."""
    import numpy as np
    from sklearn.tree import DecisionTreeClassifier

    results = []
    for scene in scenes:
        traits = list(scene.table.traits)
        columns = [
            (trait, state) for trait in traits for state in (*scene.table.traits[trait].state_ids, DOES_NOT_APPLY)
        ]
        data, labels = [], []
        for weed in scene.weeds:
            for turn in range(6):
                draw = random.Random(f"tree {scene.turf} {scene.month} {weed} {turn}")
                plant = Plant(scene, weed, draw, 0.0)
                seen = {trait: plant.answer(trait).states for trait in traits}
                data.append([1.0 if (state,) == seen[trait] else 0.0 for trait, state in columns])
                labels.append(weed)
        tree = DecisionTreeClassifier(criterion="entropy", min_samples_leaf=2, random_state=1).fit(
            np.array(data), labels
        )
        for weed in scene.weeds:
            for turn in range(repeats):
                draw = random.Random(f"{scene.turf} {scene.month} {weed} {turn} {error}")
                results.append(_ask_tree(scene, tree, columns, Plant(scene, weed, draw, error), weed))
    return results


def _ask_tree(scene, tree, columns, plant, weed) -> Result:
    node, asked, seen, seconds = 0, 0, {}, 0.0
    parts = tree.tree_
    while parts.children_left[node] != -1:
        trait, state = columns[parts.feature[node]]
        asked += 1
        if trait not in seen:
            seen[trait] = plant.answer(trait).states
            seconds += scene.table.traits[trait].cost_seconds + ASKING_SECONDS
        node = parts.children_right[node] if seen[trait] == (state,) else parts.children_left[node]
    named = tree.classes_[int(parts.value[node].argmax())]
    right = bool(scene.regions[named].actions & scene.regions[weed].actions)
    return Result(named == weed, right, len(seen), seconds, True, True, 1.0, 1.0, True, 1.0, 0.0)


def main() -> None:
    """Run what the command line asks for."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--turfs", nargs="*", default=list(PLACES))
    parser.add_argument("--months", nargs="*", type=int, default=list(MONTHS))
    parser.add_argument("--repeats", type=int, default=1)
    parser.add_argument("--rivals", action="store_true")
    parser.add_argument("--outside", action="store_true")
    parser.add_argument("--calibrate", action="store_true")
    parser.add_argument("--why", action="store_true")
    args = parser.parse_args()
    knowledge = load()
    scenes = [make_scene(knowledge, turf, month) for turf in args.turfs for month in args.months]
    cases = sum(len(scene.weeds) for scene in scenes)
    print(f"{len(knowledge.weeds)} weeds, {len(scenes)} scenes (turf x month), {cases} cases of weed x turf x month")
    if args.calibrate:
        calibrate(scenes)
    elif args.why:
        show_why(knowledge, scenes)
    elif args.outside:
        leave_out(knowledge, scenes, args.repeats)
    elif args.rivals:
        for error in (0.0, 0.1):
            tag = f"{100 * error:2.0f} % wrong"
            show(f"the key, {tag}", simulate(scenes, error, "decision", args.repeats))
            show(f"fixed order, {tag}", simulate(scenes, error, "decision", args.repeats, choose=follow_order))
            show(f"name information, {tag}", simulate(scenes, error, "decision", args.repeats, choose=follow_name))
            show(f"hard elimination, {tag}", eliminate(scenes, error, args.repeats))
            show(f"scikit-learn tree, {tag}", grow_tree(scenes, error, args.repeats))
    else:
        for error in (0.0, 0.05, 0.1):
            show(f"decision, {100 * error:2.0f} % wrong", simulate(scenes, error, "decision", args.repeats))
        for error in (0.0, 0.05, 0.1):
            show(f"name, {100 * error:2.0f} % wrong", simulate(scenes, error, "name", args.repeats), by_name=True)


if __name__ == "__main__":
    main()
