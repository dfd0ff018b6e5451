"""What can be done on the screen one came from: every action is a row, to read, to tap or to choose."""

from __future__ import annotations

from collections.abc import Iterable

from textual.events import Key
from textual.screen import Screen
from textual.widget import Widget
from textual.widgets import Input, Static

from weedkey.tui.actions import HELP, key_words, screen_actions
from weedkey.tui.screens.base import PartScreen
from weedkey.tui.widgets.rows import Row, Rows

_MARKS = """\
ok  safe, open      !  with care      x  never, shut      ?  not known, to be asked

The label in hand overrides everything. Nothing is offered for which no fact is known.
Every answer is on disk before the next question shows; quit at any time."""
_ROWS = "rows: a digit or letter, a tap, or the arrows (j and k) and enter (l) choose one"
_FIELD = "field: type, enter takes it; escape leaves it"


class HelpScreen(PartScreen):
    """Returns the name of the action that was chosen, or None."""

    def __init__(self, about: Screen[object]) -> None:
        super().__init__()
        self._about = about

    def compose_body(self) -> Iterable[Widget]:
        """The screen's own help, what its parts are for, its actions, the marks."""
        yield Static(getattr(self._about, "HELP_TEXT", "") or "Keys of this screen", classes="title", markup=False)
        lines = [_ROWS] if self._about.query(Rows) else []
        lines += [_FIELD] if self._about.query(Input) else []
        yield Static("\n".join(lines), markup=False)
        yield Rows(self._rows(), id="actions")
        yield Static("\n" + _MARKS, markup=False)

    def on_mount(self) -> None:
        """The rows can be chosen at once; the text above them stays in sight."""
        self.query_one("#actions", Rows).focus()
        self.call_after_refresh(self.query_one("#body").scroll_home, animate=False)

    def _rows(self) -> list[Row]:
        actions = [action for action in screen_actions(self._about) if action.name != HELP.name]
        return [Row(action.name, f"{action.words}: {action.help}", key_words(action.keys[0])) for action in actions]

    def on_key(self, event: Key) -> None:
        """The keys shown are those of the screen one came from; here they stay what they are everywhere."""
        event.prevent_default()

    def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """Go back and do it there."""
        self.dismiss(event.row_id)
