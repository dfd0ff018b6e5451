"""All states of one look with their drawings, on a page."""

from __future__ import annotations

from weedkey.model.drawing import TraitDrawings
from weedkey.model.trait import Trait
from weedkey.report.style import Style
from weedkey.report.traits_text import drawn_trait_text
from weedkey.tui.actions import Action
from weedkey.tui.screens.page import PageScreen
from weedkey.tui.widgets.drawing_box import next_drawing_style

DRAWING_STYLE = Action(
    "screen.next_style", ("d",), "blocks, braille, off", "how drawings are shown: half blocks, braille dots, not at all"
)


class DrawingsScreen(PageScreen):
    """The states of a look: words, what is drawn, drawing."""

    ACTIONS = (DRAWING_STYLE,)
    BINDINGS = [DRAWING_STYLE.binding()]
    HELP_TEXT = (
        "The drawings repeat the words. d goes from half blocks to braille dots (finer, if the font has them) to none;"
        " The choice is kept in the settings. Escape goes back."
    )

    def __init__(self, trait: Trait, drawings: TraitDrawings) -> None:
        super().__init__(self._text)
        self._trait = trait
        self._drawings = drawings

    def _text(self, style: Style) -> str:
        shown = self.weedkey.drawing_style
        size: str | None = self.weedkey.config.text("drawing_size")
        if size == "auto":
            size = "large" if style.width >= 90 else "small"
        if shown == "off":
            size = None
        is_braille = shown == "braille"
        return drawn_trait_text(self._trait, self._drawings, style, size=size, braille=is_braille, ids=False)

    def action_next_style(self) -> None:
        """Half blocks, braille, off, and round again; kept for the next start."""
        self.weedkey.drawing_style = next_drawing_style(self.weedkey.drawing_style)
        self._write()
