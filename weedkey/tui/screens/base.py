"""What every screen has: the lawn line on top, a body that scrolls, the line of keys at the bottom."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, ClassVar

from rich.markup import escape
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical, VerticalScroll
from textual.events import Key
from textual.screen import Screen
from textual.widget import Widget
from textual.widgets import Input, Static

from weedkey.tui.actions import BACK, DOWN, UNDO, Action
from weedkey.tui.widgets.key_line import KeyLine
from weedkey.tui.widgets.rows import Rows

if TYPE_CHECKING:
    from weedkey.tui.app import WeedkeyApp


class PartScreen(Screen[str | None]):
    """A part of the job. ``ACTIONS`` stand in the key line; ``HELP_TEXT`` is shown on ``?``."""

    ACTIONS: ClassVar[tuple[Action, ...]] = ()
    HELP_TEXT: ClassVar[str] = ""
    BINDINGS = [
        BACK.binding(),
        DOWN.binding(),
        UNDO.binding(),
        Binding("down,j", "scroll_lines(1)", show=False),
        Binding("up,k", "scroll_lines(-1)", show=False),
        Binding("home,g", "scroll_lines(-9999)", show=False),
        Binding("end,G", "scroll_lines(9999)", show=False),
    ]

    @property
    def weedkey(self) -> WeedkeyApp:
        """The application, with its own type."""
        return self.app  # type: ignore[return-value]

    def compose(self) -> ComposeResult:
        """Lawn line, body, key line."""
        yield Static(escape(self.weedkey.lawn_line()), id="lawn_line")
        with VerticalScroll(id="body", can_focus=False):
            yield from self.compose_body()
        with Vertical(id="foot"):
            yield Static(self.HELP_TEXT, id="hint", classes="" if self.HELP_TEXT else "-empty", markup=False)
            yield KeyLine(self.shown_actions())

    def compose_body(self) -> Iterable[Widget]:
        """The widgets of the part."""
        return ()

    def shown_actions(self) -> Sequence[Action]:
        """Actions for the key line, the most needed first."""
        return (BACK, DOWN, *self.ACTIONS)

    def on_screen_resume(self) -> None:
        """The lawn may have changed on another screen."""
        self.show_lawn()

    def on_key(self, event: Key) -> None:
        """Digits and letters choose a row, unless the user is typing."""
        if isinstance(self.focused, Input) or event.character is None:
            return
        for rows in self.query(Rows):
            if rows.choose_key(event.character):
                event.stop()
                event.prevent_default()
                return

    def action_back(self) -> None:
        """One screen back; nothing is lost."""
        self.dismiss(None)

    def action_undo(self) -> None:
        """Where nothing is answered or changed there is nothing to take back."""
        self.notify("There is nothing to take back on this screen.")

    def take_change_back(self) -> None:
        """Take the last change of the lawn in this sitting back, on disk as well."""
        visit = self.weedkey.visit
        if visit is None or visit.undo_change() is None:
            self.notify("There is no change of this lawn to take back.")
            return
        self.notify("The last change of the lawn is taken back.")
        self.show_lawn()

    def show_lawn(self) -> None:
        """Show what the lawn has become; a screen that shows more of it than the line on top does more."""
        self.query_one("#lawn_line", Static).update(escape(self.weedkey.lawn_line()))

    def action_scroll_lines(self, lines: int) -> None:
        """Some lines down, or up."""
        self.query_one("#body", VerticalScroll).scroll_relative(y=lines, animate=False)

    def action_more(self) -> None:
        """Next page, from the top again after the last."""
        body = self.query_one("#body", VerticalScroll)
        if body.scroll_offset.y >= body.max_scroll_y:
            body.scroll_home(animate=False)
        else:
            body.scroll_page_down(animate=False)

    @property
    def text_width(self) -> int:
        """Cells for text in the body."""
        return max(20, min(100, self.size.width - 5))
