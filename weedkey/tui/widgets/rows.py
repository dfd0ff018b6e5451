"""A list of rows that can be tapped, chosen by number, by arrows or by j and k."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass

from rich.markup import escape
from textual.binding import Binding
from textual.containers import VerticalScroll
from textual.message import Message
from textual.widgets import OptionList
from textual.widgets.option_list import Option


@dataclass(frozen=True, slots=True)
class Row:
    """``id`` is handed back when the row is chosen; ``key`` is the letter or digit that chooses it."""

    id: str
    words: str
    key: str = ""


class Rows(OptionList):
    """Rows with their keys in front."""

    BINDINGS = [
        Binding("j", "cursor_down", "down", show=False),
        Binding("k", "cursor_up", "up", show=False),
        Binding("l,right", "select", "choose", show=False),
    ]
    DEFAULT_CSS = """
    Rows { height: auto; max-height: 100000; border: none; padding: 0; background: $background; overflow: hidden; }
    Rows:focus { border: none; background: $background; }
    Rows:nocolor > .option-list--option-highlighted { text-style: reverse; }
    """

    class Chosen(Message):
        """A row was chosen by tap, enter or key."""

        def __init__(self, row_id: str) -> None:
            super().__init__()
            self.row_id = row_id

    def __init__(self, rows: Sequence[Row] = (), *, id: str | None = None) -> None:  # noqa: A002 - Textual's own word
        super().__init__(id=id)
        self._rows: tuple[Row, ...] = ()
        self._wrapped_for = 0
        self.show_rows(rows)

    def show_rows(self, rows: Sequence[Row]) -> None:
        """Other rows than before; the first one is under the cursor."""
        self._rows = tuple(rows)
        self._write(0)

    def on_resize(self) -> None:
        """Rows are wrapped with a hanging indent for the width."""
        if self._rows and self._wrapped_for != self.size.width:
            self._write(self.highlighted or 0)

    def _write(self, highlighted: int) -> None:
        self._wrapped_for = self.size.width
        self.clear_options()
        self.add_options([Option(_label(row, self.size.width), id=row.id) for row in self._rows])
        if self._rows:
            self.highlighted = min(highlighted, len(self._rows) - 1)

    @property
    def rows(self) -> tuple[Row, ...]:
        """The rows shown."""
        return self._rows

    def count_lines(self, width: int) -> int:
        """How many lines the rows take at a width."""
        return sum(_label(row, width).count("\n") + 1 for row in self._rows)

    def choose_key(self, key: str) -> bool:
        """Choose the row that has this key; False if none has."""
        for row in self._rows:
            if row.key and row.key == key:
                self.choose(row.id)
                return True
        return False

    def choose(self, row_id: str) -> None:
        """Choose a row by its id."""
        self.post_message(self.Chosen(row_id))

    def action_cursor_down(self) -> None:
        """One row down; the page follows."""
        super().action_cursor_down()
        self._follow()

    def action_cursor_up(self) -> None:
        """One row up; the page follows."""
        super().action_cursor_up()
        self._follow()

    def action_first(self) -> None:
        """The first row."""
        super().action_first()
        self._follow()

    def action_last(self) -> None:
        """The last row."""
        super().action_last()
        self._follow()

    def line_of(self, place: int) -> int:
        """On which line of the list a row begins; rows may be several lines high."""
        return sum(str(self.get_option_at_index(number).prompt).count("\n") + 1 for number in range(place))

    def _follow(self) -> None:
        """The list is as high as its rows, so that there is one thing to scroll: the page that it stands in."""
        pages = [widget for widget in self.ancestors if isinstance(widget, VerticalScroll)]
        if not pages or self.highlighted is None:
            return
        first, last = self.line_of(self.highlighted), self.line_of(self.highlighted + 1)
        above = self.region.y + first - pages[0].region.y
        below = self.region.y + last - pages[0].region.bottom
        if self.highlighted == 0:
            pages[0].scroll_home(animate=False)
        elif above < 0:
            pages[0].scroll_relative(y=above, animate=False)
        elif below > 0:
            pages[0].scroll_relative(y=below, animate=False)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Enter or tap."""
        event.stop()
        if event.option.id is not None:
            self.post_message(self.Chosen(event.option.id))


def _label(row: Row, width: int) -> str:
    """The row wrapped to the width; the lines after the first stand under its words."""
    lead = len(row.key) + 2 if row.key else 0
    room = width - lead - 1
    lines = textwrap.wrap(row.words, room, break_on_hyphens=False) if room > 10 else [row.words]
    words = ("\n" + " " * lead).join(escape(line) for line in lines or [""])
    return f"[b]{escape(row.key)}[/]  {words}" if row.key else words
