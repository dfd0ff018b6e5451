"""The plan of the year: the operator's sheet, the owner's sheet, what never to use."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial
from typing import TYPE_CHECKING

from textual.widget import Widget
from textual.widgets import Static

from weedkey.model.lawn import Lawn
from weedkey.report.style import Style
from weedkey.tui.screens.base import PartScreen
from weedkey.tui.screens.page import PageScreen
from weedkey.tui.widgets.rows import Row, Rows

if TYPE_CHECKING:
    from weedkey.plan.results import Plan


class SeasonScreen(PartScreen):
    """The plan of one lawn, made beside the paint."""

    HELP_TEXT = "Choose the operator's sheet for the work, or the owner's sheet for plain words."

    def __init__(self, lawn: Lawn) -> None:
        super().__init__()
        self._lawn = lawn
        self._plan: Plan | None = None

    def compose_body(self) -> Iterable[Widget]:
        """A line on the state, then the sheets."""
        yield Static("The plan is being made …", id="state", classes="title", markup=False)
        yield Rows(id="sheets")

    def on_mount(self) -> None:
        """Search in the background; the screen answers meanwhile."""
        self.run_worker(self._make, thread=True)
        self.query_one("#sheets", Rows).focus()

    def _make(self) -> None:
        from weedkey.plan.planner import make_plan

        plan = make_plan(self.weedkey.knowledge, self._lawn)
        self.weedkey.call_from_thread(self._show, plan)

    def _say_visits(self) -> None:
        if self._plan is not None:
            visits = len(self._plan.visits)
            self.query_one("#state", Static).update(f"{visits} visit{'' if visits == 1 else 's'} in the year ahead")

    def _show(self, plan: Plan) -> None:
        self._plan = plan
        self._say_visits()
        rows = [
            Row("operator", "the operator's sheet: what, where, when, with which cautions", "1"),
            Row("owner", "the owner's sheet: what you will see, and what you must do", "2"),
            Row("outlook", "outlook: turf, weeds and bare ground by month, for nothing and for the plan", "3"),
            Row("starts", "start now or wait: the same lawn started in each of the next months", "4"),
            Row("record", "records of the applications, to fill in", "5"),
            Row("applied", "what was put on so far, over all walks of this lawn", "6"),
        ]
        self.query_one("#sheets", Rows).show_rows(rows)

    def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """Open a sheet; what takes a while is made beside the paint."""
        if self._plan is None:
            return
        if event.row_id == "starts":
            self.query_one("#state", Static).update("The starts are being compared …")
        self.run_worker(partial(self._open, event.row_id, self._plan), thread=True)

    def _open(self, sheet: str, plan: Plan) -> None:
        from weedkey.tui.sheets import sheet_maker

        make = sheet_maker(self.weedkey.knowledge, self._lawn, plan, sheet)
        self.weedkey.call_from_thread(self._push, make)

    def _push(self, make: Callable[[Style], str]) -> None:
        self._say_visits()
        self.weedkey.push_screen(PageScreen(make))
