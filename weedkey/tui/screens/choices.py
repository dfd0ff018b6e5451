"""The verdict on one finding, then every choice; each opens to its gates, reasons, sources and cautions."""

from __future__ import annotations

from collections.abc import Iterable

from textual.widget import Widget
from textual.widgets import Static

from weedkey.control import Choice, Verdict, judge_weed
from weedkey.plan.situation import beliefs_of, setting_for, settings_ahead
from weedkey.report.choices_text import choice_line, in_order, one_choice_text, verdict_text
from weedkey.report.namer import Namer
from weedkey.report.references import References
from weedkey.report.style import Style
from weedkey.tui.screens.base import PartScreen
from weedkey.tui.screens.page import PageScreen
from weedkey.tui.widgets.rows import Row, Rows


class ChoicesScreen(PartScreen):
    """A finding of a zone."""

    HELP_TEXT = "The verdict stands on top. Choose a control to see every gate with its reason, sources and cautions."

    def __init__(self, zone: str, place: int) -> None:
        super().__init__()
        self._zone = zone
        self._place = place
        self._verdict: Verdict | None = None

    def compose_body(self) -> Iterable[Widget]:
        """Verdict, then rows of choices."""
        yield Static("", id="verdict", markup=False)
        yield Rows(id="choices")

    def on_mount(self) -> None:
        """Judge the finding."""
        visit = self.weedkey.visit
        if visit is None:
            return
        zone = visit.zone(self._zone)
        finding = zone.findings[self._place]
        knowledge = self.weedkey.knowledge
        lawn = self.weedkey.lawn_with_history()
        setting = setting_for(knowledge, lawn, zone)
        ahead = settings_ahead(knowledge, lawn, zone, lawn.on)
        self._verdict = judge_weed(knowledge, beliefs_of(finding.weeds), setting, ahead, finding.cover_percent)
        self._write()
        self.query_one("#choices", Rows).show_rows(self._rows(self._verdict))
        self.query_one("#choices", Rows).focus()
        self.call_after_refresh(self.query_one("#body").scroll_home, animate=False)

    def on_resize(self) -> None:
        """Text follows the width."""
        self._write()

    def _write(self) -> None:
        visit = self.weedkey.visit
        if visit is None or self._verdict is None:
            return
        finding = visit.zone(self._zone).findings[self._place]
        knowledge = self.weedkey.knowledge
        style = Style(width=self.text_width)
        text = verdict_text(beliefs_of(finding.weeds), self._verdict, Namer(knowledge), References(knowledge), style)
        self.query_one("#verdict", Static).update("\n" + text + "\n")

    def _rows(self, verdict: Verdict) -> list[Row]:
        namer = Namer(self.weedkey.knowledge)
        places = {id(choice): place for place, choice in enumerate(verdict.choices)}
        rows = [(places[id(choice)], choice) for choice in in_order(verdict)]
        return [Row(str(place), f"{_word(choice)}  {choice_line(choice, namer)}") for place, choice in rows]

    def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """Open one choice."""
        if self._verdict is None:
            return
        choice = self._verdict.choices[int(event.row_id)]
        knowledge = self.weedkey.knowledge

        def make(style: Style) -> str:
            return one_choice_text(knowledge, choice, style)

        self.weedkey.push_screen(PageScreen(make))


def _word(choice: Choice) -> str:
    if choice.offered:
        return "ok open"
    return "!  spot only" if choice.spot else "x  shut"
