"""One field of a form on a page: its name, what it means, the values it takes, and beside or beneath what is known."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.geometry import Region
from textual.widget import Widget
from textual.widgets import Input, OptionList, Static

from weedkey.report.style import Style
from weedkey.tui.actions import UNDO
from weedkey.tui.screens.base import PartScreen
from weedkey.tui.screens.page import PageScreen
from weedkey.tui.screens.pick import PickScreen
from weedkey.tui.widgets.rows import Row, Rows

#: What a page hands back besides a value.
SKIP, TAKE_BACK, SEVERAL, DONE = "=skip", "=undo", "=several", "=done"
Aside = Callable[[Style], str]


def columns_css(screen: str) -> str:
    """Two columns where there is room, one below the other where there is not; for the screen class of this name."""
    return f"""
#columns {{ height: auto; }}
#columns > Vertical {{ height: auto; width: 1fr; }}
#columns Rows {{ max-height: 9999; overflow-y: hidden; }}
{screen}.-phone #columns {{ layout: vertical; }}
{screen}.-middle #columns {{ layout: vertical; }}
{screen}.-wide #aside {{ padding-left: 2; }}
"""


def no_aside(_: Style) -> str:
    """Nothing stands beside the field."""
    return ""


class FieldPick(PickScreen):
    """A field whose values are rows. Returns the id of a row, SKIP, TAKE_BACK, SEVERAL, or None (back)."""

    ACTIONS = (UNDO,)
    HELP_TEXT = "Choose a row by number, tap, or arrows and enter. u takes the last field back; esc shows all fields."
    CSS = PartScreen.CSS + columns_css("FieldPick")

    def __init__(
        self, question: str, rows: Sequence[Row], about: str = "", aside: Aside = no_aside, extra: Sequence[Row] = ()
    ) -> None:
        super().__init__(question, rows)
        self._about = about
        self._aside = aside
        self._extra = tuple(extra)

    def compose_body(self) -> Iterable[Widget]:
        """Question, explanation and rows on the left (above), the aside on the right (beneath)."""
        title, *rest = super().compose_body()
        with Horizontal(id="columns"):
            with Vertical():
                yield title
                if self._about:
                    yield Static(self._about, id="about", markup=False)
                yield from rest
            with Vertical(id="aside"):
                yield Static("", id="beside", markup=False)

    def on_mount(self) -> None:
        """Rows first, then what stands beside them; the question stays in sight."""
        super().on_mount()
        show_aside(self, self._aside)
        self.call_after_refresh(self.query_one("#body").scroll_home, animate=False)

    def on_resize(self) -> None:
        """Texts follow the width."""
        super().on_resize()
        show_aside(self, self._aside)

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """The row under the cursor stays in sight."""
        keep_in_sight(self, event)

    def extra_rows(self) -> Sequence[Row]:
        """Rows beneath the values."""
        return self._extra

    def action_undo(self) -> None:
        """Take the last field back."""
        self.dismiss(TAKE_BACK)


def show_aside(screen: PartScreen, aside: Aside) -> None:
    """Write the aside for the width it has: half the screen where there is room for two columns."""
    wide = screen.size.width >= 100
    style = Style(width=(screen.size.width - 8) // 2 if wide else screen.text_width)
    screen.query_one("#beside", Static).update("\n" + aside(style))


def keep_in_sight(screen: PartScreen, event: OptionList.OptionHighlighted) -> None:
    """Scroll the page, not the list, so that the row under the cursor is seen."""
    rows, body = event.option_list, screen.query_one("#body", VerticalScroll)
    heights = [str(option.prompt).count("\n") + 1 for option in rows.options]
    if event.option_index == 0 or event.option_index >= len(heights):
        return
    top = rows.region.y - body.region.y + round(body.scroll_offset.y) + sum(heights[: event.option_index])
    body.scroll_to_region(Region(0, top, 1, heights[event.option_index]), animate=False)


class FieldMany(FieldPick):
    """A field that takes several values: rows are marked, then "done"; ``marked`` holds them in order."""

    CSS = PartScreen.CSS + columns_css("FieldMany")
    HELP_TEXT = "Mark rows by number, tap, or arrows and enter; then choose done."

    def __init__(
        self, question: str, rows: Sequence[Row], about: str = "", aside: Aside = no_aside, marked: Sequence[str] = ()
    ) -> None:
        self.marked = [row.id for row in rows if row.id in marked]
        self._plain = tuple(rows)
        super().__init__(question, self._with_marks(), about, aside, [Row(DONE, "done", "0")])

    def _with_marks(self) -> tuple[Row, ...]:
        return tuple(Row(row.id, f"[{'x' if row.id in self.marked else ' '}] {row.words}") for row in self._plain)

    def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """Mark or unmark; done hands the marks back."""
        if event.row_id == DONE:
            self.dismiss(DONE if self.marked else None)
        elif any(row.id == event.row_id for row in self._plain):
            event.stop()
            self.toggle(event.row_id)
        else:
            super().on_rows_chosen(event)

    def toggle(self, name: str) -> None:
        """Mark a row, or take its mark away."""
        left = [one for one in self.marked if one != name] if name in self.marked else [*self.marked, name]
        self.marked = [row.id for row in self._plain if row.id in left]
        self._all = self._with_marks()
        rows = self.query_one("#pick", Rows)
        place = rows.highlighted
        self._show()
        rows.highlighted = place


class FieldText(PartScreen):
    """A field in which one types. ``check`` says what is wrong with a text, or returns nothing."""

    HELP_TEXT = "Type the value and press enter; escape shows all fields."
    CSS = PartScreen.CSS + columns_css("FieldText")

    def __init__(
        self,
        question: str,
        value: str,
        expected: str,
        about: str,
        check: Callable[[str], str],
        *,
        aside: Aside = no_aside,
    ) -> None:
        super().__init__()
        self._question = question
        self._value = value
        self._expected = expected
        self._about = about
        self._check = check
        self._aside = aside

    def compose_body(self) -> Iterable[Widget]:
        """Question, explanation, field, what is accepted; the aside on the right (beneath)."""
        with Horizontal(id="columns"):
            with Vertical():
                yield Static(self._question, classes="title", markup=False)
                yield Static(self._about, id="about", markup=False)
                yield Input(value=self._value, placeholder=self._expected, id="value")
                yield Static(f"expected: {self._expected}", id="expected", markup=False)
                yield Rows([Row("take", "take it"), Row("back", "back to all fields")], id="go")
            with Vertical(id="aside"):
                yield Static("", id="beside", markup=False)

    def on_mount(self) -> None:
        """Ready to type."""
        self.query_one("#value", Input).focus()
        show_aside(self, self._aside)

    def on_resize(self) -> None:
        """Texts follow the width."""
        show_aside(self, self._aside)

    def on_input_submitted(self) -> None:
        """Enter takes the value."""
        self._take()

    def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """A tap takes the value, or goes back."""
        if event.row_id == "take":
            self._take()
        else:
            self.dismiss(None)

    def _take(self) -> None:
        text = self.query_one("#value", Input).value.strip()
        wrong = self._check(text)
        if wrong:
            self.query_one("#expected", Static).update(wrong)
        else:
            self.dismiss(text)


class DecidePage(PageScreen):
    """A page of text with rows above it to choose what to do. Returns the id of a row, or None."""

    HELP_TEXT = "Read the page (space shows more), then choose a row."

    def __init__(self, make: Callable[[Style], str], rows: Sequence[Row]) -> None:
        super().__init__(make)
        self._rows = tuple(rows)

    def compose_body(self) -> Iterable[Widget]:
        """The rows, then the text."""
        yield Rows(self._rows, id="decide")
        yield from super().compose_body()

    def on_mount(self) -> None:
        """The rows can be chosen at once."""
        super().on_mount()
        self.query_one("#decide", Rows).focus()

    def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """Hand back what was chosen."""
        self.dismiss(event.row_id)
