"""What the ground says: a grid of zones and conditions where there is room, a list where there is not."""

from __future__ import annotations

from collections.abc import Iterable

from textual.widget import Widget
from textual.widgets import Static

from weedkey.ground import GroundReport, read_ground
from weedkey.model.lawn import Lawn
from weedkey.report.ground_text import ground_grid, zone_page
from weedkey.report.namer import Namer
from weedkey.report.style import Style
from weedkey.tui.screens.base import PartScreen
from weedkey.tui.screens.page import PageScreen
from weedkey.tui.widgets.rows import Row, Rows


class GroundScreen(PartScreen):
    """All zones of a lawn."""

    HELP_TEXT = (
        "Weeds are clues, never proof. Choose a zone to read the evidence, who says so, the test and the remedy."
    )

    def __init__(self, lawn: Lawn) -> None:
        super().__init__()
        self._lawn = lawn
        self._report: GroundReport | None = None

    def compose_body(self) -> Iterable[Widget]:
        """Grid, then a row a zone."""
        yield Static("What the ground says", classes="title")
        yield Static("", id="grid", markup=False)
        yield Rows(id="zones")

    def on_mount(self) -> None:
        """Read the ground."""
        self._report = read_ground(self.weedkey.knowledge, self._lawn)
        rows = [
            Row(str(place), f"read about {zone.zone}", str(place + 1)) for place, zone in enumerate(self._report.zones)
        ]
        self.query_one("#zones", Rows).show_rows(rows)
        self.query_one("#zones", Rows).focus()
        self._write()
        self.call_after_refresh(self.query_one("#body").scroll_home, animate=False)

    def on_resize(self) -> None:
        """Grid or list, by width."""
        self._write()

    def _write(self) -> None:
        if self._report is not None:
            grid = ground_grid(self._report, Namer(self.weedkey.knowledge), Style(width=self.size.width - 3))
            self.query_one("#grid", Static).update(grid)

    def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """Open one zone."""
        if self._report is not None:
            zone, knowledge = self._report.zones[int(event.row_id)], self.weedkey.knowledge
            self.weedkey.push_screen(PageScreen(lambda style: zone_page(knowledge, zone, style)))
