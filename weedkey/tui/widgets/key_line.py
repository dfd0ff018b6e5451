"""The line of keys at the bottom: Help and Quit are always on it, whatever the width; every word can be tapped."""

from __future__ import annotations

import re
from collections.abc import Sequence

from textual.widgets import Static

from weedkey.tui.actions import HELP, QUIT, Action

_MARKUP = re.compile(r"\[[^\]]*\]")
_GAP = "  "


class KeyLine(Static):
    """As many of the screen's actions as fit, then Help and Quit."""

    DEFAULT_CSS = "KeyLine { dock: bottom; height: 1; background: $panel; color: $foreground; }"

    def __init__(self, actions: Sequence[Action] = ()) -> None:
        super().__init__("")
        self._actions = tuple(actions)

    def show_actions(self, actions: Sequence[Action]) -> None:
        """Other actions than before."""
        self._actions = tuple(actions)
        self._write()

    def on_resize(self) -> None:
        """Fit the line to the width."""
        self._write()

    def _write(self) -> None:
        self.update(line_for(self._actions, max(1, self.size.width)))


def line_for(actions: Sequence[Action], width: int) -> str:
    """The markup of the line: Help and Quit last and always, before them what fits in ``width`` cells."""
    last = [HELP.link, QUIT.link]
    taken: list[str] = []
    for action in actions:
        if _cells([*taken, action.link, *last]) <= width:
            taken.append(action.link)
    return _GAP.join([*taken, *last])


def _cells(parts: Sequence[str]) -> int:
    return len(_GAP.join(_MARKUP.sub("", part) for part in parts))
