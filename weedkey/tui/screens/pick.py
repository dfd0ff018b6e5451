"""Choose one row of a list; typing narrows it; long lists come in pages with rows to tap for more and back."""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping, Sequence
from typing import ClassVar

from textual.events import Key
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Input, Static

from weedkey.tui.screens.base import PartScreen
from weedkey.tui.widgets.rows import Row, Rows

_MORE, _BEFORE = "_more", "_before"
_CHROME_ROWS = 9
_DIGITS = "123456789"
#: Marks that stand in no name keep their meaning while one types.
_APP_KEYS = {"?": "app.help", ":": "app.command_palette"}


class Narrow(Input):
    """A field for a part of a name. Digits, + and - are keys of the rows beneath; arrow down goes there."""

    row_keys = _DIGITS + "+-"

    class RowKey(Message):
        """A key that belongs to a row."""

        def __init__(self, key: str) -> None:
            super().__init__()
            self.key = key

    async def _on_key(self, event: Key) -> None:
        if event.character is not None and event.character in self.row_keys:
            event.stop()
            event.prevent_default()
            self.post_message(self.RowKey(event.character))
            return
        if event.character in _APP_KEYS:
            event.stop()
            event.prevent_default()
            await self.app.run_action(_APP_KEYS[event.character])
            return
        if event.key == "down":
            event.stop()
            self.screen.focus_next()
            return
        await super()._on_key(event)


class PickScreen(PartScreen):
    """Returns the id of the chosen row, or None. With ``filtered`` a field narrows the rows as one types.

    ``other_names`` (by row id) are found as well; the row then says by which name it was found.
    """

    HELP_TEXT = "Choose a row by number, tap, or arrows and enter. In a long list, type a part of the name first."
    #: False: the rows are in reach first, and the field only on its key.
    TYPES_FIRST: ClassVar[bool] = True
    NO_MATCH: ClassVar[str] = "nothing has this in its name; type less"

    def __init__(
        self,
        question: str,
        rows: Sequence[Row],
        *,
        filtered: bool | None = None,
        other_names: Mapping[str, Sequence[str]] | None = None,
    ) -> None:
        super().__init__()
        self._question = question
        self._all = tuple(rows)
        self._other_names = other_names or {}
        self._filtered = len(self._all) > len(_DIGITS) if filtered is None else filtered
        self._start = 0

    def compose_body(self) -> Iterable[Widget]:
        """Question, field, rows."""
        yield Static(self._question, classes="title", markup=False)
        if self._filtered:
            yield Narrow(placeholder="type a part of the name", id="narrow")
        yield Rows(id="pick")

    def on_mount(self) -> None:
        """Show the first page; one may type at once, and digits choose at once."""
        self._show()
        self.query_one("#narrow" if self._filtered and self.TYPES_FIRST else "#pick").focus()

    def on_narrow_row_key(self, event: Narrow.RowKey) -> None:
        """A digit typed in the field chooses a row."""
        self.query_one("#pick", Rows).choose_key(event.key)

    def on_resize(self) -> None:
        """A page is as long as the screen."""
        self._show()

    def on_input_changed(self) -> None:
        """Narrow the list."""
        self._start = 0
        self._show()

    def on_input_submitted(self, event: Input.Submitted) -> None:  # noqa: ARG002 - other lists need it
        """Enter takes the first row that is shown."""
        found = self._found()
        if found:
            self.dismiss(found[self._start].id)

    def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """A row, or another page."""
        if event.row_id == _MORE:
            self._start += self._page
            self._show()
        elif event.row_id == _BEFORE:
            self._start = max(0, self._start - self._page)
            self._show()
        else:
            self.dismiss(event.row_id)

    @property
    def _page(self) -> int:
        return max(3, min(len(_DIGITS), self.size.height - _CHROME_ROWS))

    def _found(self) -> list[Row]:
        if not self._filtered:
            return list(self._all)
        typed = self.query_one("#narrow", Input).value.strip().lower()
        if not typed:
            return list(self._all)
        found = [row for row in self._all if typed in row.words.lower()]
        found.sort(key=lambda row: _nearness(row.words.lower(), typed))
        return [*found, *self._found_by_other_names(typed, {row.id for row in found})]

    def _found_by_other_names(self, typed: str, shown: Container[str]) -> Iterable[Row]:
        for row in self._all:
            name = next((name for name in self._other_names.get(row.id, ()) if typed in name.lower()), None)
            if name is not None and row.id not in shown:
                yield Row(row.id, f"{row.words} — {name}")

    def _show(self) -> None:
        found = self._found()
        page = found[self._start : self._start + self._page]
        rows = [Row(row.id, row.words, _DIGITS[place]) for place, row in enumerate(page)]
        if self._start > 0:
            rows.append(Row(_BEFORE, "… back", "-"))
        left = len(found) - self._start - len(page)
        if left > 0:
            rows.append(Row(_MORE, f"… {left} more", "+"))
        if not found:
            rows = [Row(_BEFORE, self.NO_MATCH)]
        self.query_one("#pick", Rows).show_rows([*rows, *self.extra_rows()])

    def extra_rows(self) -> Sequence[Row]:
        """Rows beneath the list that do something else."""
        return ()


def _nearness(words: str, typed: str) -> int:
    """The name itself first, then names that begin so, then those that hold it; each in the order of the list."""
    if words == typed or words.startswith(f"{typed} ("):
        return 0
    return 1 if words.startswith(typed) else 2
