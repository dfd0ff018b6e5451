"""The parts of the job for one lawn, in the order in which they are done."""

from __future__ import annotations

from collections.abc import Iterable

from textual.widget import Widget
from textual.widgets import Static

from weedkey.report.namer import Namer
from weedkey.report.visit_text import zone_line
from weedkey.tui.actions import UNDO
from weedkey.tui.screens.base import PartScreen
from weedkey.tui.widgets.rows import Row, Rows

_PARTS = (
    Row("name", "name a weed that you do not know", "1"),
    Row("add", "add a weed that you know", "2"),
    Row("weeds", "weeds here: look at them, change them", "3"),
    Row("choices", "choices: what may be done about each", "4"),
    Row("ground", "ground: what the weeds say of it", "5"),
    Row("season", "season: the plan of the year", "6"),
    Row("entries", "local entries: add a weed, change a fact", "e"),
    Row("put_on", "write down what was put on", "7"),
    Row("photos", "photos: note where they lie", "8"),
    Row("zone", "add a part of the lawn (a zone)", "9"),
    Row("title", "give the lawn a name", "0"),
)


class LawnScreen(PartScreen):
    """The hub of a visit."""

    ACTIONS = (UNDO,)
    HELP_TEXT = "Go down the rows in order: name what grows, see what may be done, read the ground, take the plan."

    def compose_body(self) -> Iterable[Widget]:
        """Parts, then the zones with what is known of them."""
        yield Static("", id="lawn_name", classes="title", markup=False)
        yield Rows(_PARTS, id="parts")
        yield Static("", id="zones", markup=False)

    def on_mount(self) -> None:
        """Show the lawn."""
        self._show()
        self.query_one("#parts", Rows).focus()
        self.call_after_refresh(self.query_one("#body").scroll_home, animate=False)

    def show_lawn(self) -> None:
        """Show what has changed."""
        super().show_lawn()
        self._show()

    def action_undo(self) -> None:
        """Take the last change of the lawn back."""
        self.take_change_back()

    def _show(self) -> None:
        visit = self.weedkey.visit
        if visit is None:
            return
        namer = Namer(self.weedkey.knowledge)
        self.query_one("#lawn_name", Static).update(visit.lawn.name)
        self.query_one("#zones", Static).update("\n".join(zone_line(zone, namer) for zone in visit.lawn.zones))

    def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """Open the part."""
        self.run_worker(self._open(event.row_id))

    async def _open(self, part: str) -> None:
        from weedkey.tui import parts

        await parts.open_part(self.weedkey, part)
        if self.is_attached:
            self.show_lawn()
