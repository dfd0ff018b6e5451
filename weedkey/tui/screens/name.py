"""Naming: one look at a time, what is still possible beneath it, and the treatment as far as it is settled."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from textual.containers import Horizontal, Vertical
from textual.widget import Widget
from textual.widgets import Static

from weedkey.key import Standing, Table
from weedkey.key.decide import NextLook
from weedkey.model.drawing import TraitDrawings
from weedkey.model.lawn import Look
from weedkey.model.region import Region
from weedkey.report.drawing import SIZES
from weedkey.report.name_text import belief_lines, decision_line, headline, look_words
from weedkey.report.namer import Namer
from weedkey.report.style import Style
from weedkey.report.wording import sentence
from weedkey.tui import naming
from weedkey.tui.actions import UNDO, WHY, Action
from weedkey.tui.screens.base import PartScreen
from weedkey.tui.widgets.drawing_box import DrawingBox, drawings_or_none
from weedkey.tui.widgets.rows import Row, Rows

SEVERAL = Action(
    "screen.several", ("m",), "mark several", "mark two or more states, then say one of these or all of them"
)
UNSURE = Action("screen.unsure", ("n",), "not sure", "the next answer counts half")
OTHER = Action("screen.other", ("o",), "other look", "choose another look than the one proposed")
WORDS = Action("screen.words", ("t",), "type words", "say in plain words what you see; each match is confirmed")
COMPARE = Action("screen.compare", ("c",), "compare", "the likeliest plants side by side, only what tells them apart")
DRAWINGS = Action(
    "screen.drawings", ("d",), "drawings", "all states of this look with their drawings; turn drawings off"
)
TAKE = Action("screen.take", ("s",), "stop here", "take the plant over as far as it is known")

#: Narrower screens (in cells) have one column, and a row for what the line of keys has no room for.
PHONE_BELOW = 60


class NameScreen(PartScreen):
    """The naming in hand of the visit."""

    ACTIONS = (UNDO, SEVERAL, UNSURE, OTHER, WORDS, WHY, DRAWINGS, COMPARE, TAKE)
    BINDINGS = [action.binding() for action in ACTIONS]
    HELP_TEXT = (
        "Answer with a number, a tap, or arrows and enter. 0 is can't tell: it never counts against a plant."
        " A wrong answer never rules a plant out; u takes any answer back."
    )
    CSS = """
    #columns { height: auto; }
    #columns > Vertical { height: auto; width: 1fr; }
    #asked { height: auto; }
    #states { width: 1fr; }
    #drawing { margin: 0 1; }
    #asked.-beneath { layout: vertical; }
    NameScreen.-phone #columns, NameScreen.-middle #columns { layout: vertical; }
    NameScreen.-wide #possible { padding-left: 2; }
    """

    def __init__(self) -> None:
        super().__init__()
        self._table: Table | None = None
        self._regions: Mapping[str, Region] = {}
        self._goal = "decision"
        self._look: NextLook | None = None
        self._marked: list[str] | None = None
        self._unsure = False
        self._drawings: TraitDrawings | None = None
        self._question_lines = 0

    def compose_body(self) -> Iterable[Widget]:
        """Question and states on the left (above), what is possible and the trail on the right (beneath)."""
        with Horizontal(id="columns"):
            with Vertical():
                yield Static("", id="head", classes="title", markup=False)
                yield Static("", id="how", markup=False)
                with Horizontal(id="asked"):
                    yield Rows(id="states")
                    yield DrawingBox(id="drawing")
            with Vertical(id="possible"):
                yield Static("", id="belief", markup=False)
                yield Static("", id="trail", markup=False)

    def on_mount(self) -> None:
        """Build the key for this lawn and ask the first look."""
        self._table, self._regions = naming.open_key(self.weedkey)
        self.query_one("#states", Rows).focus()
        self._ask()

    def on_resize(self) -> None:
        """Texts follow the width."""
        if self._table is not None:
            self._show_standing(self._standing())
            self._place_drawing()

    def _standing(self) -> Standing:
        visit = self.weedkey.visit
        if self._table is None or visit is None or visit.naming is None:
            raise RuntimeError("no naming is open")
        return visit.naming.judge(self._table, self._regions or None, goal=self._goal)

    def _ask(self, look: NextLook | None = None) -> None:
        """Show the next look, or the one that was asked for."""
        self._marked, self._unsure = None, False
        standing = self._standing()
        self._look = look or standing.next_look
        self._drawings = drawings_or_none(self._look.trait) if self._look else None
        self._show_standing(standing)
        self.query_one("#states", Rows).show_rows(self._rows(standing))
        self._place_drawing()
        self.call_after_refresh(self.query_one("#body").scroll_home, animate=False)

    def _rows(self, standing: Standing) -> list[Row]:
        if self._look is None:
            rows = [Row("=take", "take it over as it stands", "1")]
            if not standing.name_settled:
                rows.append(Row("=name", "go on to the name", "2"))
            return [*rows, Row("=other", "look at something else", "o"), Row("=drop", "drop this plant", "x")]
        namer = Namer(self.weedkey.knowledge)
        marks = self._marked
        rows = []
        for number, state in enumerate(self._look.states, 1):
            mark = "" if marks is None else ("[x] " if state in marks else "[ ] ")
            key = str(number) if number <= 9 else chr(ord("A") + number - 10)
            rows.append(Row(state, mark + namer.state(self._look.trait, state), key))
        if marks is not None:
            return [*rows, Row("=one_of", "it is one of these", "e"), Row("=both", "I see all of these", "b")]
        rows.append(Row("=cannot", "can't tell", "0"))
        if self.size.width < PHONE_BELOW and self._drawings is not None:
            rows.append(Row("=drawings", "see them drawn", "d"))
        return rows

    def _show_standing(self, standing: Standing) -> None:
        namer, style = Namer(self.weedkey.knowledge), Style(width=self._column_width)
        count = len(standing.looks)
        if self._look is None:
            head, how = headline(standing, namer, style), ""
        else:
            head = style.wrap(f"Look {count + 1}: {self._look.question}")
            trait = self.weedkey.knowledge.traits[self._look.trait]
            unsure = " — the next answer counts half" if self._unsure else ""
            how = style.wrap(f"{trait.how} (about {trait.cost_seconds:g} s){unsure}".strip())
        self.query_one("#head", Static).update(head)
        self.query_one("#how", Static).update(how)
        self._question_lines = 3 + head.count("\n") + how.count("\n")  # one blank line above them
        lines = [decision_line(standing, namer, style)] if standing.looks else []
        lines += belief_lines(standing, namer, width=self._column_width)
        self.query_one("#belief", Static).update("\n" + "\n".join(line for line in lines if line))
        trail = [f"  {number}. {look_words(look, namer)}" for number, look in enumerate(standing.looks, 1)]
        notes = [style.bullet(sentence(step, namer), "!") for step in standing.contradictions]
        text = "\n".join([*(["", "seen so far (u takes the last one back):", *trail] if trail else []), *notes])
        self.query_one("#trail", Static).update(text)

    @property
    def _column_width(self) -> int:
        return (self.size.width - 8) // 2 if self.size.width >= 100 else self.text_width

    def _place_drawing(self) -> None:
        """Room for the drawing: large beneath the answers or small beside them; beneath on a phone if all fits."""
        box = self.query_one("#drawing", DrawingBox)
        is_phone = self.size.width < PHONE_BELOW
        is_off = self._drawings is None or self.weedkey.drawing_style == "off"
        if is_off or (is_phone and not self._fits_beneath()):
            box.set_size(None)
            return
        has_room = self.size.width >= 100 and self.size.height >= 30
        is_large = has_room and self.weedkey.config.text("drawing_size") != "small"
        self.query_one("#asked").set_class(is_large or is_phone, "-beneath")
        box.set_size("large" if is_large else "small")
        self._draw_state()

    def _fits_beneath(self) -> bool:
        """True if question, answers and a small drawing stand on a phone without scrolling."""
        rows = self.query_one("#states", Rows).count_lines(self.size.width - 4)
        return self._question_lines + rows + SIZES["small"][1] <= self.size.height - 3

    def _draw_state(self) -> None:
        """The drawing of the state under the cursor."""
        rows = self.query_one("#states", Rows)
        state = rows.rows[rows.highlighted].id if rows.rows and rows.highlighted is not None else ""
        drawing = self._drawings.of_state(state) if self._drawings else None
        self.query_one("#drawing", DrawingBox).show_drawing(drawing, braille=self.weedkey.drawing_style == "braille")

    def on_option_list_option_highlighted(self, event: Rows.OptionHighlighted) -> None:
        """The drawing follows the cursor."""
        event.stop()
        self._draw_state()

    def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """An answer, or what the row says."""
        event.stop()
        if event.row_id.startswith("="):
            self._choose(event.row_id)
        elif self._marked is not None:
            self._toggle(event.row_id)
        else:
            self._answer((event.row_id,))

    def _choose(self, row: str) -> None:
        if row == "=cannot":
            self._answer(())
        elif row in ("=one_of", "=both") and self._marked:
            self._answer(tuple(self._marked), both=row == "=both")
        elif row == "=take":
            self.action_take()
        elif row == "=name":
            self._goal = "name"
            self._ask()
        elif row == "=other":
            self.action_other()
        elif row == "=drawings":
            self.action_drawings()
        elif row == "=drop":
            visit = self.weedkey.visit
            if visit is not None:
                visit.drop_naming()
            self.dismiss(None)

    def _toggle(self, state: str) -> None:
        if self._marked is None:
            return
        if state in self._marked:
            self._marked.remove(state)
        else:
            self._marked.append(state)
        rows = self.query_one("#states", Rows)
        place = rows.highlighted
        rows.show_rows(self._rows(self._standing()))
        rows.highlighted = place

    def _answer(self, states: tuple[str, ...], *, both: bool = False) -> None:
        visit = self.weedkey.visit
        if self._look is None or visit is None or visit.naming is None:
            return
        visit.naming.answer(Look(self._look.trait, states, both=both, unsure=self._unsure))
        self._ask()

    def action_undo(self) -> None:
        """Take the last answer back; with marks shown, drop the marks."""
        visit = self.weedkey.visit
        if self._marked is None and visit is not None and visit.naming is not None and visit.naming.undo() is None:
            self.notify("There is no answer to take back.")
        self._goal = "decision"
        self._ask()

    def action_several(self) -> None:
        """Mark several states."""
        if self._look is not None:
            self._marked = [] if self._marked is None else None
            self.query_one("#states", Rows).show_rows(self._rows(self._standing()))

    def action_unsure(self) -> None:
        """The next answer counts half."""
        self._unsure = not self._unsure
        self._show_standing(self._standing())

    def action_other(self) -> None:
        """Choose another look."""
        self.run_worker(self._other())

    async def _other(self) -> None:
        if self._table is None:
            return
        look = await naming.ask_other_look(self.weedkey, self._standing())
        if look is not None:
            self._ask(look)

    def action_words(self) -> None:
        """Plain words."""
        self.run_worker(self._words())

    async def _words(self) -> None:
        await naming.ask_words(self.weedkey)
        self._ask()

    def action_why(self) -> None:
        """Why this look, what would change, what else it could be."""
        if self._table is not None:
            naming.show_why(self.weedkey, self._table, self._standing(), self._regions, self._look)

    def action_drawings(self) -> None:
        """All states of the look with their drawings."""
        if self._look is None or self._drawings is None:
            self.notify("There is nothing to draw here.")
            return
        from weedkey.tui.screens.drawings import DrawingsScreen

        trait = self.weedkey.knowledge.traits[self._look.trait]
        self.weedkey.push_screen(DrawingsScreen(trait, self._drawings))

    def on_screen_resume(self) -> None:
        """Drawings may have been turned off, or the lawn changed, on another screen."""
        super().on_screen_resume()
        if self._table is not None:
            self._place_drawing()

    def action_compare(self) -> None:
        """The likeliest plants side by side."""
        naming.show_comparison(self.weedkey, self._standing())

    def action_take(self) -> None:
        """Take the plant over."""
        self.run_worker(self._take())

    async def _take(self) -> None:
        if await naming.take_over(self.weedkey, self._standing()):
            self.dismiss(None)
