"""What stands around the spray: trees, wells and water, people and pets, seed in the ground, the soil's pH."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from weedkey.control import general_rules as rules
from weedkey.control.gates.base import Gate, Question
from weedkey.control.mixtures import caution_sources, lowest_limit_or_none, reseeding_of
from weedkey.control.results import GateResult
from weedkey.control.tolerance import names_turf
from weedkey.model.control import Reseeding
from weedkey.model.lawn import Seeding, Tree


class TreesGate(Gate):
    """Root zones and vapour: under the canopy root-active herbicides are shut, as far as the tree is tall they ask."""

    id: ClassVar[str] = "trees"
    outcomes: ClassVar[tuple[str, ...]] = (
        "no_caution",
        "no_trees",
        "far_enough",
        "not_known",
        "under_canopy",
        "in_root_zone",
        "tree_near",
    )
    idle_without: ClassVar[tuple[str, ...]] = ("under_trees", "trees")

    def check(self, question: Question) -> GateResult:
        """Any ingredient that roots take up counts for the whole mixture."""
        setting = question.setting
        root_active = {
            active: rules.ROOT_ACTIVES[active] for active in question.actives if active in rules.ROOT_ACTIVES
        }
        cautions = caution_sources(question.parts, ("trees",))
        if not root_active and not cautions:
            return self._open("no_caution", {})
        sources = tuple(dict.fromkeys((*(s for found in root_active.values() for s in found), *cautions)))
        facts: dict[str, object] = {"parts": sorted(root_active), "under_trees": setting.under_trees}
        if setting.under_trees and root_active:
            return self._shut("under_canopy", facts, sources)
        if setting.trees is None:
            return self._ask("not_known", facts, sources)
        if not setting.trees and not setting.under_trees:
            return self._open("no_trees", facts, sources)
        return self._check_trees(setting.trees, facts, sources, bool(root_active))

    def _check_trees(
        self, trees: tuple[Tree, ...], facts: dict[str, object], sources: tuple[str, ...], root_active: bool
    ) -> GateResult:
        near = [tree for tree in trees if _reach(tree) is not False]
        facts |= {"trees": sorted({tree.kind for tree in near})}
        if root_active and any(_is_under(tree) for tree in near):
            return self._shut("under_canopy", facts, (*sources, *rules.CANOPY_SOURCES))
        if not near:
            return self._open("far_enough", facts, (*sources, *rules.ROOT_REACH_SOURCES))
        outcome = "in_root_zone" if root_active else "tree_near"
        return self._ask(outcome, facts, (*sources, *rules.ROOT_REACH_SOURCES))


def _reach(tree: Tree) -> bool | None:
    """Do the tree's roots reach the place? None if distance or height is not known."""
    if tree.distance_ft is None or tree.height_ft is None:
        return None
    return tree.distance_ft <= tree.height_ft * rules.ROOT_REACH_PER_HEIGHT


def _is_under(tree: Tree) -> bool:
    if tree.distance_ft is None:
        return False
    if tree.height_ft is None:
        return tree.distance_ft <= 0
    return tree.distance_ft <= tree.height_ft * rules.CANOPY_PER_HEIGHT


class WaterGate(Gate):
    """Wells, ponds, ditches: herbicides with a caution about water ask until both are known to be absent or far."""

    id: ClassVar[str] = "wells_and_water"
    outcomes: ClassVar[tuple[str, ...]] = (
        "no_caution",
        "far_enough",
        "not_known",
        "well",
        "water_near",
        "inside_buffer",
    )
    idle_without: ClassVar[tuple[str, ...]] = ("water_distance_ft",)

    def check(self, question: Question) -> GateResult:
        """Shut inside a published buffer; ask where a well or water is near or not known."""
        setting = question.setting
        distance = setting.water_distance_ft
        facts: dict[str, object] = {"well": setting.well, "water_distance_ft": distance}
        for active in question.actives:
            buffer = rules.WATER_BUFFER_FT.get(active)
            if buffer and distance is not None and distance < buffer.value:
                return self._shut("inside_buffer", facts | {"buffer_ft": buffer.value, "part": active}, buffer.sources)
        cautions = caution_sources(question.parts, ("water", "wells"))
        if not cautions:
            return self._open("no_caution", facts)
        if setting.well:
            return self._ask("well", facts, cautions)
        if distance is not None and distance < rules.WATER_FAR_FT.value:
            return self._ask("water_near", facts, cautions)
        if setting.well is None or distance is None:
            return self._ask("not_known", facts, cautions)
        return self._open("far_enough", facts, cautions)


class PeopleGate(Gate):
    """Children and pets stay off until the spray has dried, longer if the label says so."""

    id: ClassVar[str] = "people"
    outcomes: ClassVar[tuple[str, ...]] = ("nobody", "keep_off", "not_known")
    only_asks: ClassVar[bool] = True

    def check(self, question: Question) -> GateResult:
        """Ask unless neither children nor pets live there."""
        setting = question.setting
        facts = {"children": setting.children, "pets": setting.pets}
        if setting.children or setting.pets:
            return self._ask("keep_off", facts, rules.PEOPLE_SOURCES)
        if setting.children is None or setting.pets is None:
            return self._ask("not_known", facts, rules.PEOPLE_SOURCES)
        return self._open("nobody", facts, rules.PEOPLE_SOURCES)


class SeedingGate(Gate):
    """Seed that is planned or has just been sown: the longest interval of the control and its ingredients counts."""

    id: ClassVar[str] = "seeding"
    outcomes: ClassVar[tuple[str, ...]] = (
        "none_planned",
        "far_enough",
        "allowed_at_seeding",
        "blocks_seed",
        "too_soon_before_seed",
        "too_soon_after_seed",
        "too_few_mowings",
        "interval_not_known",
        "disturbs_seed",
    )
    without_chemistry: ClassVar[bool] = True
    idle_without: ClassVar[tuple[str, ...]] = ("seedings",)

    def check(self, question: Question) -> GateResult:
        """Shut inside an interval; ask where a seeding is near and no interval is known."""
        if not question.control.is_chemical:
            return self._check_measure(question)
        results = [self._check_one(question, seeding) for seeding in question.setting.seedings]
        if not results:
            return self._open("none_planned", {})
        return max(results, key=lambda result: {"open": 0, "ask": 1, "shut": 2}[result.state])

    def _check_one(self, question: Question, seeding: Seeding) -> GateResult:
        days = (seeding.on - question.setting.on).days
        facts: dict[str, object] = {"seeding": seeding.on, "method": seeding.method, "days": days}
        if days < 0 or seeding.done:
            return self._check_done(question, seeding, -days, facts)
        return self._check_planned(question, seeding, days, facts)

    def _check_planned(self, question: Question, seeding: Seeding, days: int, facts: dict[str, object]) -> GateResult:
        rows = list(_rows_for(question, seeding))
        known = [row for row in rows if row.after_days is not None]
        if known:
            longest = max(known, key=lambda row: row.after_days or 0)
            return self._compare(days, longest.after_days or 0, "too_soon_before_seed", facts, longest.sources)
        allowed = [row for row in rows if row.allowed_at_seeding]
        if allowed:
            return self._open("allowed_at_seeding", facts, allowed[0].sources)
        blocking = next((row for row in rows if row.blocks_seed), None)
        if blocking is not None or question.control.kind == "pre_emergence":
            sources = blocking.sources if blocking else rules.BARRIER_SEED_DAYS.sources
            return self._compare(days, rules.BARRIER_SEED_DAYS.value, "blocks_seed", facts, sources)
        if days <= rules.SEEDING_ASK_DAYS.value:
            return self._ask("interval_not_known", facts, rules.SEEDING_ASK_DAYS.sources, needed=True)
        return self._open("far_enough", facts)

    def _compare(
        self, days: int, needed: float, outcome: str, facts: dict[str, object], sources: tuple[str, ...]
    ) -> GateResult:
        facts |= {"days_needed": needed}
        if days < needed:
            return self._shut(outcome, facts, sources)
        return self._open("far_enough", facts, sources)

    def _check_done(self, question: Question, seeding: Seeding, age: int, facts: dict[str, object]) -> GateResult:
        facts |= {"days": age, "mowings": seeding.mowings_since}
        for row in _rows_for(question, seeding):
            if row.before_days is not None and age < row.before_days:
                return self._shut("too_soon_after_seed", facts | {"days_needed": row.before_days}, row.sources)
            few = row.mowings_before is not None and (seeding.mowings_since or 0) < row.mowings_before
            if few and age < rules.BARRIER_SEED_DAYS.value:
                return self._shut("too_few_mowings", facts | {"mowings_needed": row.mowings_before}, row.sources)
        return self._open("far_enough", facts)

    def _check_measure(self, question: Question) -> GateResult:
        for part in question.parts:
            for row in part.gates:
                if row.days_after_seeding is None:
                    continue
                for seeding in question.setting.seedings:
                    age = (question.setting.on - seeding.on).days
                    if seeding.done and 0 <= age < row.days_after_seeding:
                        facts: dict[str, object] = {"days": age, "days_needed": row.days_after_seeding}
                        return self._shut("disturbs_seed", facts, row.sources)
        return self._open("none_planned", {})


def _rows_for(question: Question, seeding: Seeding) -> Iterator[Reseeding]:
    """Rows for the grass that is sown and the way it is sown; sod and plugs are met by rows for any method only."""
    turf = question.knowledge.turfs.get(seeding.turf)
    season = turf.season if turf else ""
    for row in reseeding_of(question.parts):
        if names_turf(row.turf, seeding.turf, season) and row.method in ("any", seeding.method):
            yield row


class SoilPhGate(Gate):
    """Some herbicides injure, or last too long, above a soil pH."""

    id: ClassVar[str] = "soil_ph"
    outcomes: ClassVar[tuple[str, ...]] = ("no_limit", "fits", "not_known", "above_limit")
    idle_without: ClassVar[tuple[str, ...]] = ("soil_ph",)

    def check(self, question: Question) -> GateResult:
        """Shut above the strictest limit, ask if the pH is not known."""
        limit = lowest_limit_or_none(question.parts, "soil_ph_max", question.setting.turf)
        soil_ph = question.setting.soil_ph
        if limit is None:
            return self._open("no_limit", {"soil_ph": soil_ph})
        facts = {"soil_ph": soil_ph, "limit": limit.value}
        if soil_ph is None:
            return self._ask("not_known", facts, limit.sources)
        if soil_ph > limit.value:
            return self._shut("above_limit", facts, limit.sources)
        return self._open("fits", facts, limit.sources)
