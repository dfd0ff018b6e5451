"""A page of text that scrolls, made by the report layer for the width of the screen."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from textual.binding import Binding
from textual.widget import Widget
from textual.widgets import Static

from weedkey.report.style import Style
from weedkey.tui.screens.base import PartScreen

_LETTER_WIDTH = 80


class PageScreen(PartScreen):
    """``make`` gives the text for a style; it is made again when the width changes."""

    HELP_TEXT = "Space or enter shows the next page, j and k a line; escape goes back. y copies the page, f writes it."
    BINDINGS = [Binding("enter", "more", show=False)]

    def __init__(self, make: Callable[[Style], str]) -> None:
        super().__init__()
        self._make = make

    def compose_body(self) -> Iterable[Widget]:
        """One block of text."""
        yield Static("", id="page", markup=False)

    def on_mount(self) -> None:
        """Fill the page."""
        self._write()

    def on_resize(self) -> None:
        """Fill it for the new width."""
        self._write()

    def _write(self) -> None:
        self.query_one("#page", Static).update(self._make(Style(codes=False, width=self.text_width)))

    def result_text(self) -> str:
        """The whole page, as wide as a letter."""
        return self._make(Style(codes=False, width=_LETTER_WIDTH)).strip("\n") + "\n"
