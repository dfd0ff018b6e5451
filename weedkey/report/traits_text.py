"""The looks and their states as text."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from weedkey.model.trait import Trait
from weedkey.report.style import Style

NEEDS_WORDS = {
    "eyes": "by eye",
    "shoot": "pull one shoot",
    "lens": "with a lens",
    "flower": "needs flower, seedhead or fruit",
    "trowel": "dig with a trowel",
    "date": "from the season",
}


def traits_text(traits: Sequence[Trait], style: Style) -> str:
    """Traits by part of the plant: question, how, cost, states as they are typed after ``--look``."""
    blocks = []
    for part, members in groupby(traits, key=lambda trait: trait.part):
        lines = [style.strong(part.upper())]
        for trait in members:
            lines.append(style.bullet(f"{trait.id}: {trait.question}", mark="-", indent=""))
            lines.append(style.faint(f"    {NEEDS_WORDS[trait.needs]}, about {trait.cost_seconds:g} s"))
            lines += [style.wrap(f"{state.id}: {state.words}", "    ", "      ") for state in trait.states]
        blocks.append("\n".join(lines))
    return "\n\n".join(blocks)
