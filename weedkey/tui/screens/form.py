"""The form of one entry: go on field by field, or choose any field; look-alikes and problems stand beside it."""

from __future__ import annotations

from collections.abc import Coroutine, Iterable
from typing import Any

from textual.containers import Horizontal, Vertical
from textual.widget import Widget
from textual.widgets import OptionList, Static

from weedkey.errors import KnowledgeError, WeedkeyError
from weedkey.knowledge.drafts import Draft, missing_keys, problems, save_draft_entry
from weedkey.report.namer import Namer
from weedkey.report.style import words_of
from weedkey.tui.actions import UNDO, Action
from weedkey.tui.entry_asking import short_value
from weedkey.tui.entry_form import EntryForm
from weedkey.tui.own_folder import own_folder, reload_entries
from weedkey.tui.screens.base import PartScreen
from weedkey.tui.screens.field import FieldPick, columns_css, keep_in_sight, show_aside
from weedkey.tui.screens.page import PageScreen
from weedkey.tui.widgets.rows import Row, Rows

NEXT = Action("screen.next_field", ("n",), "next field", "ask the next field that is missing")
SAVE = Action("screen.save", ("s",), "save", "save the entry; it takes part at once")
DIFF = Action("screen.diff", ("d",), "what differs", "what you state, against the shipped entry")
_FIELD_KEYS = "56789abceimoprtvwxzABCDEFHIJKLMNOPQRS"
_TITLES = {"new": "a new {kind}", "own": "your {kind}", "change": "facts of a shipped {kind}"}


class FormScreen(PartScreen):
    """One draft; it is on disk after each field."""

    ACTIONS = (NEXT, SAVE, DIFF, UNDO)
    BINDINGS = [action.binding() for action in ACTIONS]
    HELP_TEXT = "Go on with the first row, or choose any field. The form is kept until it is saved or thrown away."
    CSS = PartScreen.CSS + columns_css("FormScreen")

    def __init__(self, draft: Draft) -> None:
        super().__init__()
        self._draft = draft
        self._form: EntryForm | None = None

    @property
    def form(self) -> EntryForm:
        """The work behind the screen."""
        if self._form is None:
            self._form = EntryForm(self.weedkey, self._draft)
        return self._form

    def compose_body(self) -> Iterable[Widget]:
        """What can be done and the fields on the left (above), look-alikes on the right (beneath)."""
        with Horizontal(id="columns"):
            with Vertical():
                yield Static("", id="form_name", classes="title", markup=False)
                yield Static("", id="state", markup=False)
                yield Rows(id="fields")
            with Vertical(id="aside"):
                yield Static("", id="beside", markup=False)

    def on_mount(self) -> None:
        """Show the draft."""
        self._show()
        self.query_one("#fields", Rows).focus()

    def on_resize(self) -> None:
        """Texts follow the width."""
        self._show()

    def _show(self) -> None:
        draft = self._draft
        title = f"{draft.name}: {_TITLES[draft.mode].format(kind=draft.kind)}"
        self.query_one("#form_name", Static).update(title)
        self.query_one("#state", Static).update(self._state())
        rows = self.query_one("#fields", Rows)
        place = rows.highlighted or 0
        rows.show_rows(self._rows())
        rows.highlighted = min(place, len(rows.rows) - 1)
        show_aside(self, self.form.aside)
        self.call_after_refresh(self.query_one("#body").scroll_home, animate=False)

    def _state(self) -> str:
        missing = [words_of(key) for key in missing_keys(self._draft)]
        who = f"said by: {Namer(self.weedkey.knowledge).who(self._draft.sources)}" if self._draft.sources else ""
        sighting = self._draft.sighting
        if sighting:
            who += f" on {sighting['on']}, {sighting['place']}"
        state = f"still missing: {', '.join(missing)}" if missing else "nothing required is missing"
        if self._draft.mode == "change":
            state = "Only what differs from the shipped entry is kept here."
        return "\n".join(line for line in (state, who) if line)

    def _rows(self) -> list[Row]:
        following = self.form.next_field()
        rows = []
        if self._draft.mode == "change":
            rows.append(Row("=other", "change a fact", "1"))
        elif following is not None:
            rows.append(Row("=next", f"go on: {words_of(following.replace('.', ': '))}", "1"))
        rows += [
            Row(
                "=source", "who says so: change it for what comes next" if self._draft.sources else "who says so?", "2"
            ),
            Row("=save", "save: it takes part at once", "3"),
            Row("=diff", "read what you state" if self._draft.mode == "new" else "read what differs", "4"),
        ]
        value, keys = self.form.value(), iter(_FIELD_KEYS)
        shown = [one for one in self.form.fields.values() if self._is_shown(one.key, required=one.required)]
        for one in shown:
            said = short_value(value[one.key]) if one.key != "looks" else _count(len(value["looks"]), "look")
            rows.append(Row(one.key, f"{words_of(one.key)}: {said}", next(keys)))
        if self._draft.mode != "change":
            rows.append(Row("=other", "another field", "0"))
        rows.append(Row("=drop", "throw this form away", "-"))
        return rows

    def _is_shown(self, key: str, *, required: bool) -> bool:
        if self._draft.mode == "change":
            return key in self._draft.value
        return key in self.form.value() and (required or key in self._draft.value)

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """The row under the cursor stays in sight."""
        keep_in_sight(self, event)

    def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """A field, or what the row says."""
        event.stop()
        action = {
            "=next": self.action_next_field,
            "=save": self.action_save,
            "=diff": self.action_diff,
            "=drop": self._drop,
        }.get(event.row_id)
        if action is not None:
            action()
        elif event.row_id == "=source":
            self._work(self.form.say_source())
        elif event.row_id == "=other":
            self._work(self._other())
        else:
            self._work(self.form.ask(event.row_id))

    def _work(self, work: Coroutine[Any, Any, object]) -> None:
        self.run_worker(self._done(work), exclusive=True)

    async def _done(self, work: Coroutine[Any, Any, object]) -> None:
        try:
            await work
        except WeedkeyError as error:
            self.weedkey.say_error(error)
        self._show()

    async def _other(self) -> None:
        value = self.form.value()
        rows = []
        for one in self.form.fields.values():
            said = f": {short_value(value[one.key])}" if one.key in value and one.key != "looks" else ""
            rows.append(Row(one.key, f"{words_of(one.key)}{said} — {one.about}"))
        chosen = await self.weedkey.push_screen_wait(FieldPick("Which field?", rows))
        if chosen in self.form.fields:
            await self.form.ask(str(chosen))

    def action_next_field(self) -> None:
        """Ask field after field."""
        if self._draft.mode == "change":
            self._work(self._other())
        else:
            self._work(self.form.walk_on())

    def action_back(self) -> None:
        """Back to the list; a form in which nothing was entered is not kept."""
        if not self._draft.past:
            self._draft.drop()
        self.dismiss(None)

    def action_undo(self) -> None:
        """Take the last field back."""
        if not self._draft.undo():
            self.notify("There is no field to take back.")
        self._show()

    def action_diff(self) -> None:
        """A page with what the entry states or changes."""
        form = self.form
        self.weedkey.push_screen(PageScreen(lambda style: form.difference_text(style) or "Nothing is stated yet."))

    def action_save(self) -> None:
        """Save after all checks; every problem is named, and the draft stays until it is sound."""
        app = self.weedkey
        folder = own_folder(app)
        try:
            found = problems(self._draft, folder, app.knowledge) if self._draft.id else []
            if found:
                raise KnowledgeError(found)
            save_draft_entry(self._draft, folder, app.knowledge)
            reload_entries(app, folder)
        except WeedkeyError as error:
            app.say_error(error)
            return
        except OSError as error:
            self.notify(f"It could not be saved: {error}", severity="error", timeout=12)
            return
        near = self.form.separation()
        alike = ", ".join(row.name for row in near.unseparated[:3]) if near and self._draft.mode != "change" else ""
        warning = f" Not told apart yet from {alike}: enter more looks." if alike else ""
        app.notify(f"{self._draft.name} is saved and takes part at once.{warning}", timeout=10)
        self.dismiss("saved")

    def _drop(self) -> None:
        self._draft.drop()
        self.notify(f"The form of {self._draft.name} is thrown away.")
        self.dismiss(None)


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"
