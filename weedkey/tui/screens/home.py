"""The first screen: what this is for in one line, and three choices."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from textual.widget import Widget
from textual.widgets import Static

from weedkey.report.dates import day_words
from weedkey.storage import list_visits
from weedkey.tui.actions import PALETTE, THEME, Action
from weedkey.tui.screens.base import PartScreen
from weedkey.tui.widgets.rows import Row, Rows

ALL = "walks"


class HomeScreen(PartScreen):
    """Continue, start, or look at a demo lawn."""

    HELP_TEXT = (
        "Choose a row by its key, with the arrows and enter, or by a tap. Start with a demo lawn to see the whole job."
    )

    def compose_body(self) -> Iterable[Widget]:
        """One line on the task, then the rows."""
        yield Static("Walk the lawn, name what grows, and leave with a plan that the grass survives.", classes="title")
        yield Rows(id="home")

    def on_mount(self) -> None:
        """The newest walk comes first."""
        self._show()

    def show_lawn(self) -> None:
        """No lawn is in hand here, and another walk may be the newest now."""
        if self.weedkey.screen is self:
            self.weedkey.visit = None
        super().show_lawn()
        self._show()

    def _show(self) -> None:
        walks = list_visits()
        rows = []
        if walks:
            rows.append(Row("continue", f"continue the walk of {_walk_words(walks[0].name)}", "1"))
        rows += [
            Row("new", "start a new lawn", "2"),
            Row("demo", "open a demo lawn", "3"),
        ]
        words = f"all walks ({len(walks)}): search, walk again, archive, export" if walks else "walks: bring in a zip"
        rows.append(Row(ALL, words, "4"))
        rows.append(Row("entries", "local entries: a weed, place or control of your own", "5"))
        self.query_one("#home", Rows).show_rows(rows)

    def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """Open what was chosen."""
        from weedkey.tui import starting

        if event.row_id == "continue":
            from weedkey.tui.opening import open_visit

            open_visit(self.weedkey, list_visits()[0])
        elif event.row_id == "new":
            self.run_worker(starting.ask_new_lawn(self.weedkey))
        elif event.row_id == "demo":
            self.run_worker(starting.ask_demo(self.weedkey))
        elif event.row_id == ALL:
            from weedkey.tui.screens.walks import WalksScreen

            self.weedkey.push_screen(WalksScreen())
        elif event.row_id == "entries":
            from weedkey.tui.screens.entries import EntriesScreen

            self.weedkey.push_screen(EntriesScreen())

    def shown_actions(self) -> Sequence[Action]:
        """There is nothing behind the first screen."""
        return (PALETTE, THEME)

    def action_back(self) -> None:
        """There is nothing behind the first screen."""


def _walk_words(folder_name: str) -> str:
    """2026-06-03-valley-rental reads "3 June 2026, valley rental"."""
    try:
        day = date.fromisoformat(folder_name[:10])
    except ValueError:
        return folder_name
    return f"{day_words(day)}, {folder_name[11:].replace('-', ' ')}"
