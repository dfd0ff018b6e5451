"""What can be done on the screen one came from."""

from __future__ import annotations

from collections.abc import Iterable

from textual.screen import Screen
from textual.widget import Widget
from textual.widgets import Static

from weedkey.tui.actions import BACK, DOWN, EVERYWHERE
from weedkey.tui.screens.base import PartScreen

_MARKS = """\
ok  safe, open      !  with care      x  never, shut      ?  not known, to be asked

The label in hand overrides everything. Nothing is offered for which no fact is known.
Every answer is on disk before the next question shows; quit at any time."""


class HelpScreen(PartScreen):
    """Keys and words of one screen."""

    def __init__(self, about: Screen[object]) -> None:
        super().__init__()
        self._about = about

    def compose_body(self) -> Iterable[Widget]:
        """The screen's own help, its actions, the marks."""
        yield Static(getattr(self._about, "HELP_TEXT", "") or "Keys of this screen", classes="title", markup=False)
        actions = (*getattr(self._about, "ACTIONS", ()), BACK, DOWN, *EVERYWHERE)
        lines = [f"{_key(action.keys[0]):>5}  {action.words}: {action.help}" for action in actions]
        yield Static("\n".join(lines), markup=False)
        yield Static("\n" + _MARKS, markup=False)


def _key(key: str) -> str:
    return {"escape": "esc", "question_mark": "?", "colon": ":", "space": "space"}.get(key, key)
