"""Ask for one value; what is accepted is said before, and again when it was not met. Usual values can be tapped."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from textual.events import Key
from textual.widget import Widget
from textual.widgets import Input, Static

from weedkey.tui.screens.base import PartScreen
from weedkey.tui.widgets.rows import Row, Rows

_TAKE = "=take"


class AskText(PartScreen):
    """Returns the accepted text, or None. ``offers``: usual values, so that the question can be answered by taps."""

    HELP_TEXT = "Type the value and press enter, or tap a row; the arrow down goes to the rows, escape goes back."

    def __init__(
        self, question: str, value: str, expected: str, accepts: Callable[[str], bool], *, offers: Sequence[str] = ()
    ) -> None:
        super().__init__()
        self._question = question
        self._value = value
        self._expected = expected
        self._accepts = accepts
        self._offers = tuple(offers)

    def compose_body(self) -> Iterable[Widget]:
        """Question, field, what is accepted, rows."""
        yield Static(self._question, classes="title", markup=False)
        yield Input(value=self._value, id="value")
        yield Static(f"expected: {self._expected}", id="expected", markup=False)
        yield Rows([Row(_TAKE, "take it"), *(Row(offer, offer) for offer in self._offers)], id="offers")

    def on_mount(self) -> None:
        """Ready to type."""
        self.query_one("#value", Input).focus()

    def on_key(self, event: Key) -> None:
        """The arrow down leaves the field for the rows."""
        if event.key == "down" and isinstance(self.focused, Input):
            event.stop()
            self.query_one("#offers", Rows).focus()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Take the value, or say what is expected."""
        self._take(event.value)

    def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """What stands in the field, or a usual value."""
        self._take(self.query_one("#value", Input).value if event.row_id == _TAKE else event.row_id)

    def _take(self, value: str) -> None:
        text = value.strip()
        if self._accepts(text):
            self.dismiss(text)
        else:
            self.query_one("#expected", Static).update(
                f"{text or 'nothing'} is not accepted; expected: {self._expected}"
            )
