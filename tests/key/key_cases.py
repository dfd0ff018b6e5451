"""Small tables and generated knowledge for the tests and the benches of the key."""

from __future__ import annotations

import random
from collections.abc import Iterable, Mapping, Sequence

from weedkey.key import Table, build_table_from_rows
from weedkey.model.base import Knowledge
from weedkey.model.region import Region
from weedkey.model.trait import State, Trait
from weedkey.model.vocabulary import GROUPS
from weedkey.model.weed import Abundance, CalendarRow, LifeCycle, Seen, Weed
from weedkey.model.window import Window

FROM_MEMORY = ("from_memory",)


def make_trait(trait_id: str, states: Iterable[str], cost_seconds: float = 0.0, **fields: object) -> Trait:
    """A trait with the given state ids that every group has, unless fields say otherwise."""
    given: dict[str, object] = {
        "question": f"{trait_id}?",
        "part": "leaf",
        "groups": GROUPS,
        "needs": "eyes",
        "misread": 0.05,
        "sources": FROM_MEMORY,
        **fields,
    }
    return Trait(
        id=trait_id,
        states=tuple(State(state, state.replace("_", " ")) for state in states),
        cost_seconds=cost_seconds,
        **given,  # type: ignore[arg-type]
    )


def make_weed(weed_id: str, looks: Mapping[str, object], group: str = "grassy", **fields: object) -> Weed:
    """A weed; each look is a state, a list of states, or a mapping of state to share."""
    seen: dict[str, tuple[Seen, ...]] = {}
    for trait, states in looks.items():
        if isinstance(states, str):
            seen[trait] = (Seen(states, FROM_MEMORY),)
        elif isinstance(states, Mapping):
            seen[trait] = tuple(Seen(state, FROM_MEMORY, share) for state, share in states.items())
        else:
            seen[trait] = tuple(Seen(state, FROM_MEMORY) for state in states)  # type: ignore[attr-defined]
    return Weed(
        id=weed_id,
        name=weed_id.replace("_", " "),
        scientific=f"Planta {weed_id}",
        family="Poaceae",
        group=group,
        growth_season="warm",
        life_cycles=(LifeCycle("perennial", FROM_MEMORY),),
        looks=seen,
        **fields,  # type: ignore[arg-type]
    )


def make_knowledge(weeds: Iterable[Weed], traits: Iterable[Trait]) -> Knowledge:
    """Knowledge with weeds and traits only."""
    return Knowledge({weed.id: weed for weed in weeds}, {trait.id: trait for trait in traits}, {}, {}, {}, {}, {})


def exact_table(
    taxa: Mapping[str, Sequence[str]],
    prior: Mapping[str, float] | None = None,
    costs: Sequence[float] | None = None,
) -> Table:
    """A table of exact answers: ``taxa`` maps each taxon to its state in every trait (trait ids t0, t1 …)."""
    width = len(next(iter(taxa.values())))
    traits, rows = {}, {}
    for place in range(width):
        states = sorted({row[place] for row in taxa.values()})
        name = f"t{place}"
        traits[name] = make_trait(name, states, costs[place] if costs else 0.0)
        rows[name] = {taxon: [1.0 if row[place] == state else 0.0 for state in states] for taxon, row in taxa.items()}
    return build_table_from_rows(prior or dict.fromkeys(taxa, 1.0), traits, rows)


def make_region(name: str, actions: Iterable[str] | None = None, harm: float = 1.0, **fields: object) -> Region:
    """A decision region; its only action is its own name unless actions are given."""
    return Region(name, "treat_now", frozenset(actions or (f"do_{name}",)), harm, **fields)  # type: ignore[arg-type]


def generate_knowledge(weeds: int = 150, traits: int = 60, seed: int = 1) -> Knowledge:
    """Invented weeds and looks of the size and raggedness of the real ones (gaps, shares, groups, seasons)."""
    draw = random.Random(seed)
    groups = ("grassy", "broadleaf", "sedge")
    made = [make_trait("plant_group", GROUPS, 3.0, misread=0.03)]
    for number in range(traits - 1):
        states = [f"s{place}" for place in range(draw.choice((2, 3, 4, 5, 6, 7)))]
        made.append(
            make_trait(
                f"t{number:02d}",
                states,
                draw.choice((1.0, 3.0, 5.0, 10.0, 15.0, 60.0)),
                groups=draw.choice((groups, groups, ("grassy", "sedge"), ("broadleaf",))),
                needs=draw.choice(("eyes", "eyes", "shoot", "flower", "lens")),
                misread=draw.choice((0.05, 0.1)),
                ordered=draw.random() < 0.2,
                mown=draw.choice(("always", "always", "sometimes")),
            )
        )
    return make_knowledge([_generate_weed(draw, number, made, groups) for number in range(weeds)], made)


def _generate_weed(draw: random.Random, number: int, traits: Sequence[Trait], groups: Sequence[str]) -> Weed:
    group = draw.choice(groups)
    looks: dict[str, object] = {}
    for trait in traits[1:]:
        if group in trait.groups and draw.random() < 0.8:
            shown = draw.sample(trait.state_ids, draw.choice((1, 1, 1, 2)))
            first = draw.choice((0.5, 0.8, 0.9))
            looks[trait.id] = shown[0] if len(shown) == 1 else {shown[0]: first, shown[1]: 1 - first}
    start = draw.randint(1, 12)
    row = CalendarRow(
        FROM_MEMORY,
        active=(Window.months(start, (start + 6) % 12 + 1),),
        flowers=(Window.months(start, (start + 2) % 12 + 1),),
    )
    regions = (Abundance("southeast", draw.choice(("common", "occasional", "rare")), FROM_MEMORY),)
    return make_weed(f"w{number:05d}", looks, group, calendar=(row,), regions=regions)


def generate_regions(knowledge: Knowledge, count: int = 18, actions: int = 14, seed: int = 2) -> dict[str, Region]:
    """Invented decision regions that overlap in their actions; a fifth of them cannot be taken back."""
    draw = random.Random(seed)
    made = []
    for number in range(count):
        if draw.random() < 0.2:
            made.append(Region(f"r{number}", "spot_treatment_only", frozenset({"kill"}), 1.0, irreversible=True))
        else:
            chosen = draw.sample([f"a{place}" for place in range(actions)], draw.randint(1, 8))
            made.append(Region(f"r{number}", "treat_now", frozenset(chosen), 0.2))
    return {weed: draw.choice(made) for weed in knowledge.weeds}
