"""The weeds entered so far; each can be read about, changed or removed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from textual.widget import Widget
from textual.widgets import Static

from weedkey.report.namer import Namer
from weedkey.report.visit_text import finding_words
from weedkey.report.weed_text import weed_text
from weedkey.tui.actions import UNDO
from weedkey.tui.parts import ask_cover
from weedkey.tui.screens.base import PartScreen
from weedkey.tui.screens.page import PageScreen
from weedkey.tui.screens.pick import PickScreen
from weedkey.tui.widgets.rows import Row, Rows

_KEYS = "123456789ABCDEFHIJKLMNOPQRSUVWXYZ"


class WeedsHereScreen(PartScreen):
    """A row a finding."""

    HELP_TEXT = "Choose a weed to read its entry, to change how much of it there is, or to remove it."

    ACTIONS = (UNDO,)

    def compose_body(self) -> Iterable[Widget]:
        """Rows of findings."""
        yield Static("Weeds here", classes="title")
        yield Rows(id="findings")

    def on_mount(self) -> None:
        """Show them."""
        self._show()
        self.query_one("#findings", Rows).focus()

    def _show(self) -> None:
        visit = self.weedkey.visit
        if visit is None:
            return
        namer = Namer(self.weedkey.knowledge)
        places = [(zone, place) for zone in visit.lawn.zones for place in range(len(zone.findings))]
        rows = []
        for number, (zone, place) in enumerate(places):
            finding = zone.findings[place]
            key = _KEYS[number] if number < len(_KEYS) else ""
            unsettled = "" if finding.is_settled else " (not settled)"
            words = f"{finding_words(finding, namer)} — {zone.name}, {finding.cover_percent:g} %{unsettled}"
            rows.append(Row(f"{place}\t{zone.name}", words, key))
        if not rows:
            rows = [Row("", "nothing is entered any more; esc goes back, u takes the last change back")]
        self.query_one("#findings", Rows).show_rows(rows)

    def show_lawn(self) -> None:
        """Show what has changed."""
        super().show_lawn()
        self._show()

    def action_undo(self) -> None:
        """Take the last change of the lawn back."""
        self.take_change_back()

    def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """Ask what to do with it."""
        place, _, zone = event.row_id.partition("\t")
        if not place:
            return
        self.run_worker(self._change(zone, int(place)))

    async def _change(self, zone_name: str, place: int) -> None:
        app = self.weedkey
        if app.visit is None:
            return
        finding = app.visit.zone(zone_name).findings[place]
        rows = [Row(weed, f"read about {Namer(app.knowledge).weed(weed)}") for weed in finding.weeds]
        rows += [Row("=cover", "change how much of it there is"), Row("=remove", "remove it")]
        chosen = await app.push_screen_wait(PickScreen(finding_words(finding, Namer(app.knowledge)), rows))
        if chosen == "=cover":
            cover = await ask_cover(app, f"{finding.cover_percent:g}")
            if cover is not None:
                app.visit.replace_finding(zone_name, place, replace(finding, cover_percent=cover))
        elif chosen == "=remove":
            app.visit.replace_finding(zone_name, place, None)
        elif chosen:
            weed = app.knowledge.weeds[chosen]
            app.push_screen(PageScreen(lambda style: weed_text(app.knowledge, weed, style)))
        self._show()
