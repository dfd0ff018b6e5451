"""The looks and their states as text."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from weedkey.model.drawing import Drawing, TraitDrawings
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


#: Words narrower than this stand above their drawing, not beside it.
NARROWEST_WORDS = 20


def drawn_trait_text(
    trait: Trait,
    drawings: TraitDrawings,
    style: Style,
    *,
    size: str | None,
    braille: bool = False,
    ids: bool = True,
) -> str:
    """The question and each state: its words, what is drawn, and the drawing beside them (none if ``size`` is None).

    ``ids``: also the id of each state, as it is typed after ``--look``.
    """
    blocks = [style.wrap(style.strong(trait.question))]
    for state in trait.states:
        drawing = drawings.of_state(state.id)
        words = f"{state.id}: {state.words}" if ids else state.words
        blocks.append(beside(drawing, words, style, size=size, braille=braille))
    return "\n\n".join(blocks)


def beside(drawing: Drawing | None, words: str, style: Style, *, size: str | None, braille: bool = False) -> str:
    """Words with their drawing on the left, or beneath where the width is too small for both."""
    from weedkey.report.drawing import SIZES, drawing_lines

    shows = f"drawn: {drawing.shows}" if drawing else ""
    if drawing is None or size is None:
        return "\n".join(filter(None, [style.wrap(words, "", "  "), shows and style.wrap(shows, "  ")]))
    art = drawing_lines(drawing, size, braille=braille)
    room = style.width - SIZES[size][0] - 4
    if room < NARROWEST_WORDS:
        return "\n".join([style.wrap(words, "", "  "), *(line.rstrip() for line in art), style.wrap(shows, "  ")])
    narrow = Style(style.codes, room)
    text = [*narrow.wrap(words).split("\n"), *narrow.wrap(shows, "  ").split("\n")]
    art += [" " * SIZES[size][0]] * (len(text) - len(art))
    text += [""] * (len(art) - len(text))
    return "\n".join(f"{left}    {right}".rstrip() for left, right in zip(art, text, strict=True))


def drawn_trait_json(trait: Trait, drawings: TraitDrawings) -> dict[str, object]:
    """The drawings of a look as plain values; paths as in SVG, in a box 64 wide and 48 high."""
    words = {state.id: state.words for state in trait.states}
    return {
        "trait": trait.id,
        "question": trait.question,
        "drawings": [
            {
                "state": drawing.state,
                "words": words.get(drawing.state, ""),
                "shows": drawing.shows,
                "strokes": list(drawing.strokes),
                "fills": list(drawing.fills),
            }
            for drawing in drawings.drawings
        ],
        "sources": list(drawings.sources),
    }
