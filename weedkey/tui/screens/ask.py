"""Ask for one value; what is accepted is said before, and again when it was not met."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from textual.widget import Widget
from textual.widgets import Input, Static

from weedkey.tui.screens.base import PartScreen


class AskText(PartScreen):
    """Returns the accepted text, or None."""

    HELP_TEXT = "Type the value and press enter; escape goes back."

    def __init__(self, question: str, value: str, expected: str, accepts: Callable[[str], bool]) -> None:
        super().__init__()
        self._question = question
        self._value = value
        self._expected = expected
        self._accepts = accepts

    def compose_body(self) -> Iterable[Widget]:
        """Question, field, and what is accepted."""
        yield Static(self._question, classes="title", markup=False)
        yield Input(value=self._value, id="value")
        yield Static(f"expected: {self._expected}", id="expected", markup=False)

    def on_mount(self) -> None:
        """Ready to type."""
        self.query_one("#value", Input).focus()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Take the value, or say what is expected."""
        text = event.value.strip()
        if self._accepts(text):
            self.dismiss(text)
        else:
            self.query_one("#expected", Static).update(
                f"{text or 'nothing'} is not accepted; expected: {self._expected}"
            )
