"""The plan of the year: the operator's sheet, the owner's sheet, what never to use."""

from __future__ import annotations

from collections.abc import Iterable
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

    def _show(self, plan: Plan) -> None:
        self._plan = plan
        visits = len(plan.visits)
        self.query_one("#state", Static).update(f"{visits} visit{'' if visits == 1 else 's'} in the year ahead")
        rows = [
            Row("operator", "the operator's sheet: what, where, when, with which cautions", "1"),
            Row("owner", "the owner's sheet: what you will see, and what you must do", "2"),
        ]
        self.query_one("#sheets", Rows).show_rows(rows)

    def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """Open a sheet."""
        plan = self._plan
        if plan is None:
            return
        from weedkey.report.plan_text import operator_text, owner_text

        knowledge = self.weedkey.knowledge

        def make(style: Style) -> str:
            write = operator_text if event.row_id == "operator" else owner_text
            return write(knowledge, plan, style)

        self.weedkey.push_screen(PageScreen(make))
