"""A list of rows that can be tapped, chosen by number, by arrows or by j and k."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rich.markup import escape
from textual.binding import Binding
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
    DEFAULT_CSS = "Rows { height: auto; max-height: 100%; border: none; padding: 0; background: $background; }"

    class Chosen(Message):
        """A row was chosen by tap, enter or key."""

        def __init__(self, row_id: str) -> None:
            super().__init__()
            self.row_id = row_id

    def __init__(self, rows: Sequence[Row] = (), *, id: str | None = None) -> None:  # noqa: A002 - Textual's own word
        super().__init__(id=id)
        self._rows: tuple[Row, ...] = ()
        self.show_rows(rows)

    def show_rows(self, rows: Sequence[Row]) -> None:
        """Other rows than before; the first one is under the cursor."""
        self._rows = tuple(rows)
        self.clear_options()
        self.add_options([Option(_label(row), id=row.id) for row in rows])
        if rows:
            self.highlighted = 0

    @property
    def rows(self) -> tuple[Row, ...]:
        """The rows shown."""
        return self._rows

    def choose_key(self, key: str) -> bool:
        """Choose the row that has this key; False if none has."""
        for row in self._rows:
            if row.key and row.key == key:
                self.post_message(self.Chosen(row.id))
                return True
        return False

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Enter or tap."""
        event.stop()
        if event.option.id is not None:
            self.post_message(self.Chosen(event.option.id))


def _label(row: Row) -> str:
    return f"[b]{escape(row.key)}[/]  {escape(row.words)}" if row.key else escape(row.words)
