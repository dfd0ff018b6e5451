"""The work behind the form: which field comes next, what a chosen field asks, how a fact of a shipped entry changes."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any

from weedkey.errors import UnknownName
from weedkey.knowledge.drafts import Draft, differences, effective, missing_keys, shipped_of
from weedkey.knowledge.entries import KINDS
from weedkey.knowledge.form_fields import FormField, entry_fields, row_fields
from weedkey.knowledge.likeness import Separation, separate
from weedkey.knowledge.names import find_entry
from weedkey.knowledge.row_changes import row_class_or_none, row_name
from weedkey.knowledge.writing import make_id
from weedkey.report.entries_text import difference_lines
from weedkey.report.likeness_text import separation_text
from weedkey.report.namer import Namer
from weedkey.report.style import Style, words_of
from weedkey.tui.entry_asking import (
    BACK,
    SKIPPED,
    UNDONE,
    Answer,
    ask_look,
    ask_row,
    ask_source,
    ask_value,
    short_value,
)
from weedkey.tui.screens.field import SKIP, TAKE_BACK, FieldPick
from weedkey.tui.widgets.rows import Row

if TYPE_CHECKING:
    from weedkey.tui.app import WeedkeyApp

#: What may be typed where the scientific name or the family is not known.
NOT_KNOWN = "not known"
_LOOKS = "looks"
#: An answer that is in the draft already.
_DONE_ELSEWHERE = "done"


class EntryForm:
    """One draft and what can be done with it."""

    def __init__(self, app: WeedkeyApp, draft: Draft) -> None:
        self.app = app
        self.draft = draft
        self.fields = {one.key: one for one in entry_fields(draft.kind, app.knowledge)}

    def value(self) -> dict[str, Any]:
        """What the entry would say in the end."""
        return effective(self.draft).value

    def separation(self) -> Separation | None:
        """Look-alikes so far; None for what is no weed."""
        return self._found() if self.draft.kind == "weed" else None

    def aside(self, style: Style, *, ask_next: bool = True) -> str:
        """What stands beside a field: what differs from a shipped entry; of one's own weed the look-alikes so far, and
        (unless it is asked) the look to enter next.
        """
        if self.draft.mode == "change":
            return self.difference_text(style)
        found = self.separation()
        return separation_text(found, Namer(self.app.knowledge), style, ask_next=ask_next) if found else ""

    def difference_text(self, style: Style) -> str:
        """What the draft changes of the shipped entry, or states anew; and what does not fit."""
        lines = difference_lines(differences(self.draft), Namer(self.app.knowledge), style)
        lines += [style.bullet(problem.wrong, "x") for problem in effective(self.draft).problems]
        return "\n".join(lines)

    def next_field(self) -> str | None:
        """The field that the guide asks next: the required ones, then the looks until the weed is told apart."""
        for key in missing_keys(self.draft):
            if key in self.fields and key not in (_LOOKS, *self.draft.skipped):
                return key
        look = self.next_look()
        return f"{_LOOKS}.{look}" if look else None

    def next_look(self) -> str | None:
        """The look to enter next, while there are too few or a look-alike is not told apart."""
        if self.draft.kind != "weed" or self.draft.mode == "change":
            return None
        found = self._found()
        return found.next_look if found.entered < found.wanted or found.unseparated else None

    def _found(self) -> Separation:
        skipped = [name.removeprefix(f"{_LOOKS}.") for name in self.draft.skipped]
        return separate({**self.value(), "id": self.draft.id}, self.app.knowledge, skipped=skipped)

    async def walk_on(self) -> None:
        """Ask field after field until the user goes back or nothing is left that should be asked."""
        if not self.draft.sources and not await self.say_source():
            return
        while (key := self.next_field()) is not None:
            if not await self.ask(key):
                return

    async def say_source(self) -> bool:
        """Who says what is entered next."""
        said = await ask_source(self.app)
        if said is None:
            return False
        self.draft.say_source(*said)
        return True

    async def ask(self, key: str) -> bool:
        """Ask one field and write it down; False if the user went back."""
        first, _, trait = key.partition(".")
        if self._needs_source(first) and not self.draft.sources and not await self.say_source():
            return False
        if trait:
            answer = await self._ask_look(trait)
        elif first == _LOOKS:
            return await self._choose_look()
        elif self.draft.mode == "change" and self._is_shipped_list(first):
            return await self._ask_shipped_rows((first,), self.fields[first])
        else:
            answer = await self._ask_field(self.fields[first])
        return self._take(key, answer)

    def _needs_source(self, key: str) -> bool:
        """True for facts; a name or a note of an entry that is there names no source."""
        return self.draft.mode == "new" or self.fields[key].shape in ("row", "rows", "looks")

    def _take(self, key: str, answer: Answer) -> bool:
        if answer == UNDONE:
            self.draft.undo()
            return True
        if answer == SKIPPED:
            self.draft.skip(key)
            return True
        if answer.kind != "value":
            return answer.kind == _DONE_ELSEWHERE
        is_first_look = key == "group" and self.draft.kind == "weed" and self.draft.mode == "new"
        also: dict[tuple[str, ...], Any] = {(_LOOKS, "plant_group"): [{"state": answer.value}]} if is_first_look else {}
        self.draft.put(tuple(key.split(".")), answer.value, also=also)
        return True

    async def _ask_field(self, asked: FormField) -> Answer:
        current = self.value().get(asked.key)
        if asked.key == "name":
            answer = await ask_value(self.app, asked, current, self.aside, self._wrong_name)
            if answer.kind == "value" and self.draft.mode == "new":
                self.draft.id = make_id(answer.value)
            return answer
        if asked.key in ("scientific", "family") and self.draft.kind == "weed":
            return await self._ask_botany(asked, current)
        return await ask_value(self.app, asked, current, self.aside)

    async def _ask_botany(self, asked: FormField, current: Any) -> Answer:
        """The scientific name and the family may be unknown; that is said, and never guessed."""
        from dataclasses import replace

        asked = replace(asked, expected=f"{asked.about.rstrip('.').lower()}, or: {NOT_KNOWN}")
        answer = await ask_value(self.app, asked, current or NOT_KNOWN, self.aside)
        if answer.kind == "value" and answer.value == NOT_KNOWN and asked.key == "scientific":
            return Answer("value", f"{NOT_KNOWN} ({self.draft.name})")  # no two entries share a scientific name
        return answer

    def _wrong_name(self, text: str) -> str:
        """A name that an entry has already leads to that entry, not to a second one."""
        if self.draft.mode != "new":
            return ""
        try:
            entry = find_entry(getattr(self.app.knowledge, KINDS[self.draft.kind].plural), self.draft.kind, text)
        except UnknownName:
            return "" if any(char.isalnum() for char in text.encode("ascii", "ignore").decode()) else "no name"
        return f"{entry.name} is there already. Choose another name, or go back and change a fact of it."

    async def _ask_look(self, name: str) -> Answer:
        trait = self.app.knowledge.traits[name]
        current = self.value().get(_LOOKS, {}).get(name, ())
        if self.draft.mode == "change" and current and name not in self.draft.value.get(_LOOKS, {}):
            done = await self._ask_shipped_rows((_LOOKS, name), self._look_rows())
            return Answer(_DONE_ELSEWHERE) if done else BACK
        return await ask_look(self.app, trait, current, partial(self.aside, ask_next=False))

    async def _choose_look(self) -> bool:
        """Any look that the plant group has, with what is entered."""
        value = self.value()
        entered = value.get(_LOOKS, {})
        namer = Namer(self.app.knowledge)
        rows = []
        for trait in self.app.knowledge.traits.values():
            if value.get("group") in (None, *trait.groups):
                seen = ", ".join(namer.state(trait.id, row["state"]) for row in entered.get(trait.id, ()))
                rows.append(Row(trait.id, trait.question + (f" — {seen}" if seen else "")))
        chosen = await self.app.push_screen_wait(FieldPick("Which look?", rows, self.fields[_LOOKS].about, self.aside))
        if chosen not in self.app.knowledge.traits:
            return False
        return self._take(f"{_LOOKS}.{chosen}", await self._ask_look(str(chosen)))

    def _look_rows(self) -> FormField:
        rule = self.fields[_LOOKS].rule
        about = "The states of this look, each with how often plants show it."
        return FormField(_LOOKS, about, "rows", rule=rule["additionalProperties"])

    def _is_shipped_list(self, key: str) -> bool:
        return isinstance(shipped_of(self.draft).get(key), list) and self.fields[key].shape == "rows"

    async def _ask_shipped_rows(self, path: tuple[str, ...], asked: FormField) -> bool:
        """One row of a shipped list: change it, take it away, or add one; the other rows stay as they are."""
        base: Any = shipped_of(self.draft)
        for part in path:
            base = base[part]
        rows = [Row(str(place), short_value(row)) for place, row in enumerate(base)]
        page = FieldPick(words_of(" ".join(path)), rows, asked.about, self.aside, [Row("=add", "one row more", "+")])
        chosen = await self.app.push_screen_wait(page)
        if chosen == TAKE_BACK:
            return self.draft.undo()
        if chosen == "=add":
            answer = await ask_row(self.app, asked, None, self.aside)
            if answer.kind == "value":
                self.draft.add_row(path, answer.value)
            return answer.kind == "value"
        if chosen is None or not chosen.isdigit():
            return False
        kind = row_class_or_none(KINDS[self.draft.kind].model, path)
        if kind is None:
            return False
        return await self._change_row(path, base[int(chosen)], row_name(base, int(chosen), path[0], kind), asked)

    async def _change_row(
        self, path: tuple[str, ...], row: dict[str, Any], name: dict[str, Any], asked: FormField
    ) -> bool:
        fields = {one.key: one for one in row_fields(asked, self.app.knowledge)}
        rows = [Row(one.key, f"change {words_of(one.key)}{_now(row.get(one.key))}") for one in fields.values()]
        extra = [Row("=remove", "this row does not hold here", "0")]
        chosen = await self.app.push_screen_wait(FieldPick(short_value(row), rows, asked.about, self.aside, extra))
        if chosen == "=remove":
            self.draft.remove_row(path, name)
            return True
        if chosen in (None, SKIP, TAKE_BACK) or chosen not in fields:
            return False
        answer = await ask_value(self.app, fields[str(chosen)], row.get(str(chosen)), self.aside)
        if answer.kind != "value":
            return False
        self.draft.change_row(path, name, {str(chosen): answer.value})
        return True


def _now(value: Any) -> str:
    return f" (now {short_value(value)})" if value is not None else ""
