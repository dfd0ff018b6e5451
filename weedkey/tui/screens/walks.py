"""Every saved walk: search, open, take up again on another day, archive, out as a zip and in again."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from textual.widget import Widget
from textual.widgets import Input, Static

from weedkey.report.walks_text import walk_line
from weedkey.tui import walk_changes
from weedkey.tui.actions import FIND, Action
from weedkey.tui.screens.pick import Narrow, PickScreen
from weedkey.tui.widgets.rows import Row, Rows
from weedkey.walks.listing import SavedWalk, read_walks, search_walks

ARCHIVED = Action("screen.archived", ("a",), "archived", "the archived walks, or those of the list again")
EXPORT = Action("screen.export", ("e",), "export", "write the walks that are shown as one zip of plain files")
IMPORT = Action("screen.bring_in", ("i",), "import", "bring in walks from such a zip; what it would do is shown first")


class SearchField(Narrow):
    """Digits belong to days here, so they are typed."""

    row_keys = ""


class WalksScreen(PickScreen):
    """The walks of the list, or the archived ones."""

    ACTIONS = (FIND, ARCHIVED, EXPORT, IMPORT)
    BINDINGS = [action.binding() for action in ACTIONS]
    HELP_TEXT = (
        "Choose a walk to open it, to walk its lawn again, to read what was put on, or to archive it. / searches for"
        " lawn, place, turf, zone, weed or day; slips of the finger are allowed. Nothing is ever deleted."
    )
    TYPES_FIRST = False
    NO_MATCH = "no walk holds this; type less"

    def __init__(self) -> None:
        super().__init__("", (), filtered=True)
        self._walks: list[SavedWalk] = []
        self._archived = False

    def compose_body(self) -> Iterable[Widget]:
        """Title, field, rows."""
        yield Static("", id="title", classes="title", markup=False)
        yield SearchField(placeholder="/ search: lawn, turf, weed, day", id="narrow")
        yield Rows(id="pick")

    def show_lawn(self) -> None:
        """A walk may have changed, come or gone."""
        super().show_lawn()
        self.read_again()

    def read_again(self) -> None:
        """Read the walks from disk."""
        self._walks = read_walks(self.weedkey.knowledge, archived=self._archived)
        self._start = 0
        self.query_one("#title", Static).update("Archived walks" if self._archived else "Walks")
        self._show()

    def found_walks(self) -> list[SavedWalk]:
        """The walks that hold every word typed."""
        return search_walks(self.weedkey.knowledge, self._walks, self.query_one("#narrow", Input).value)

    def _found(self) -> list[Row]:
        return [Row(walk.name, walk_line(self.weedkey.knowledge, walk)) for walk in self.found_walks()]

    @property
    def _page(self) -> int:
        lines = 3 if self.size.width < 60 else 2 if self.size.width < 100 else 1
        return max(2, min(9, (self.size.height - 11) // lines))

    def extra_rows(self) -> Sequence[Row]:
        """What is done with all of them."""
        return (
            Row("=archived", "the walks of the list" if self._archived else "archived walks", "a"),
            Row("=export", "export what is shown as a zip of plain files", "e"),
            Row("=import", "import a zip of walks", "i"),
        )

    def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """A walk, or what the row says; pages are turned as in every list."""
        walk = next((walk for walk in self._walks if walk.name == event.row_id), None)
        actions = {"=archived": self.action_archived, "=export": self.action_export, "=import": self.action_bring_in}
        if walk is not None:
            event.prevent_default()
            self.run_worker(self._with_one(walk))
        elif event.row_id in actions:
            event.prevent_default()
            actions[event.row_id]()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter goes to the rows that were found."""
        event.prevent_default()
        self.query_one("#pick").focus()

    async def _with_one(self, walk: SavedWalk) -> None:
        await walk_changes.ask_walk_change(self.weedkey, walk)
        self._refresh()

    def _refresh(self) -> None:
        """The walks anew, if this screen is still there: another one may have been opened meanwhile."""
        if self.is_attached:
            self.read_again()

    def action_find(self) -> None:
        """Go to the field."""
        self.query_one("#narrow").focus()

    def action_archived(self) -> None:
        """The archived walks, or the others."""
        self._archived = not self._archived
        self.read_again()

    def action_export(self) -> None:
        """Write what is shown."""
        self.run_worker(walk_changes.ask_export(self.weedkey, self.found_walks()))

    def action_bring_in(self) -> None:
        """Bring walks in."""
        self.run_worker(self._bring_in())

    async def _bring_in(self) -> None:
        await walk_changes.ask_import(self.weedkey)
        self._refresh()
