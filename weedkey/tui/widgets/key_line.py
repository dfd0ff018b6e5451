"""The line of keys at the bottom: Help and Quit are always on it, whatever the width; every word can be tapped."""

from __future__ import annotations

import re
from collections.abc import Sequence

from textual.widgets import Static

from weedkey.tui.actions import HELP, QUIT, Action

_MARKUP = re.compile(r"\[[^\]]*\]")
_GAP = "  "
#: Below this width long names of keys are left out; this many actions are worth a tighter line.
_PHONE, _ENOUGH = 60, 5


class KeyLine(Static):
    """As many of the screen's actions as fit, then Help and Quit."""

    DEFAULT_CSS = "KeyLine { height: 1; background: $panel; color: $foreground; }"

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
    if width >= _PHONE:
        return _GAP.join(_taken([action.link for action in actions], width, _GAP))
    links = [action.short_link for action in actions]
    few = links[: _ENOUGH - 2]
    wide, tight = _taken(few, width, _GAP), _taken(few, width, " ")
    return _GAP.join(wide) if wide == tight else " ".join(tight)


def _taken(links: Sequence[str], width: int, gap: str) -> list[str]:
    last = [HELP.link, QUIT.link]
    taken: list[str] = []
    for link in links:
        if len(_MARKUP.sub("", gap.join([*taken, link, *last]))) <= width:
            taken.append(link)
    return [*taken, *last]
