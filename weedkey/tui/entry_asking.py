"""Asks for one value of an entry, page by page: a word, several words, a figure, a text, a row of facts, a look."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from weedkey.errors import UsageError
from weedkey.knowledge.form_fields import FormField, read_typed, row_fields, shown_value
from weedkey.model.source import COMMON_PRACTICE, FROM_MEMORY, SEEN_BY_USER
from weedkey.model.trait import Trait
from weedkey.model.vocabulary import OFTEN
from weedkey.report.style import words_of
from weedkey.tui.screens.field import DONE, SEVERAL, SKIP, TAKE_BACK, Aside, FieldMany, FieldPick, FieldText, no_aside
from weedkey.tui.widgets.rows import Row

if TYPE_CHECKING:
    from weedkey.tui.app import WeedkeyApp

_LISTED = "=listed"
_OPEN = "=open"


@dataclass(frozen=True, slots=True)
class Answer:
    """``kind``: value, skip, back or undo."""

    kind: str
    value: Any = None


BACK, SKIPPED, UNDONE = Answer("back"), Answer("skip"), Answer("undo")


def _special(chosen: str | None) -> Answer | None:
    return {None: BACK, "": BACK, SKIP: SKIPPED, TAKE_BACK: UNDONE}.get(chosen)


async def ask_value(
    app: WeedkeyApp,
    asked: FormField,
    current: Any = None,
    aside: Aside = no_aside,
    check: Callable[[str], str] | None = None,
    *,
    within: str = "",
) -> Answer:
    """One value of a field, whatever its shape. ``check``: a further rule for a typed text; ``within``: its row."""
    title = f"{within}{words_of(asked.key)}" + (" (required)" if asked.required else "")
    if asked.shape in ("word", "flag"):
        return await _ask_word(app, title, asked, current, aside)
    if asked.shape == "words":
        return await _ask_words(app, title, asked, current, aside)
    if asked.shape == "row":
        return await ask_row(app, asked, current if isinstance(current, dict) else None, aside)
    if asked.shape == "rows":
        return await _ask_rows(app, asked, current if isinstance(current, list) else [], aside)
    return await _ask_typed(app, title, asked, current, aside=aside, check=check)


async def _ask_word(app: WeedkeyApp, title: str, asked: FormField, current: Any, aside: Aside) -> Answer:
    now = {True: "true", False: "false"}.get(current, current) if not isinstance(current, list) else None
    rows = [Row(value, words + (" (now)" if value == now else "")) for value, words in asked.options]
    extra = () if asked.required else (Row(SKIP, "leave it out", "0"),)
    chosen = await app.push_screen_wait(FieldPick(title, rows, asked.about, aside, extra))
    special = _special(chosen)
    if special is not None:
        return special
    return Answer("value", chosen == "true" if asked.shape == "flag" else chosen)


async def _ask_words(app: WeedkeyApp, title: str, asked: FormField, current: Any, aside: Aside) -> Answer:
    rows = [Row(value, words) for value, words in asked.options]
    page = FieldMany(title, rows, asked.about, aside, current if isinstance(current, list) else ())
    chosen = await app.push_screen_wait(page)
    return Answer("value", list(page.marked)) if chosen == DONE else _special(chosen) or BACK


async def _ask_typed(
    app: WeedkeyApp, title: str, asked: FormField, current: Any, *, aside: Aside, check: Callable[[str], str] | None
) -> Answer:
    def wrong(text: str) -> str:
        try:
            read_typed(asked, text)
        except UsageError as error:
            return str(error)
        return check(text) if check is not None else ""

    page = FieldText(title, shown_value(current, asked.shape), asked.expected, asked.about, wrong, aside=aside)
    text = await app.push_screen_wait(page)
    return Answer("value", read_typed(asked, text)) if text else BACK


async def ask_row(
    app: WeedkeyApp, asked: FormField, start: Mapping[str, Any] | None, aside: Aside, *, quick: bool = False
) -> Answer:
    """A row of keys: the required ones one after another, then (unless ``quick``) whatever else is known."""
    fields = row_fields(asked, app.knowledge)
    within = f"{words_of(asked.key)}: "
    row = dict(start or {})
    for one in fields:
        if one.required and one.key not in row:
            answer = await ask_value(app, one, None, aside, within=within)
            if answer.kind != "value":
                return answer
            row[one.key] = answer.value
    if quick and row:
        return Answer("value", row)
    by_key = {one.key: one for one in fields}
    while True:
        rows = [Row(one.key, f"{words_of(one.key)}{_now(row.get(one.key))}") for one in fields]
        done = [Row(DONE, "done", "0")] if {key for key in row if key != "sources"} else []
        page = FieldPick(f"{words_of(asked.key)}: anything more?", rows, asked.about, aside, done)
        chosen = await app.push_screen_wait(page)
        if chosen == DONE:
            return Answer("value", row)
        if chosen not in by_key:
            return _special(chosen) or BACK
        answer = await ask_value(app, by_key[chosen], row.get(chosen), aside, within=within)
        if answer.kind == "value":
            row[chosen] = answer.value
        elif answer.kind == "skip":
            row.pop(chosen, None)


def _now(value: Any) -> str:
    return f": {short_value(value)}" if value is not None else ""


def short_value(value: Any) -> str:
    """A value in a few words for a row of a list."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list) and value and isinstance(value[0], dict):
        return f"{len(value)} row{'' if len(value) == 1 else 's'}"
    if isinstance(value, dict):
        return ", ".join(f"{words_of(key)} {short_value(item)}" for key, item in value.items() if key != "sources")
    text = shown_value(value).replace("_", " ")
    return text if len(text) <= 60 else text[:57] + "…"


async def _ask_rows(app: WeedkeyApp, asked: FormField, current: list[Any], aside: Aside) -> Answer:
    """The rows of a list of one's own: the first one at once; later one more, or one less."""
    if not current:
        answer = await ask_row(app, asked, None, aside, quick=asked.required)
        return Answer("value", [answer.value]) if answer.kind == "value" else answer
    rows = list(current)
    while True:
        shown = [Row(str(place), f"take away: {short_value(row)}") for place, row in enumerate(rows)]
        extra = [Row("=add", "one row more", "+"), *([Row(DONE, "done", "0")] if rows else [])]
        page = FieldPick(f"{words_of(asked.key)}: {short_value(rows)}", shown, asked.about, aside, extra)
        chosen = await app.push_screen_wait(page)
        if chosen == DONE:
            return Answer("value", rows)
        if chosen == "=add":
            answer = await ask_row(app, asked, None, aside)
            rows += [answer.value] if answer.kind == "value" else []
        elif chosen is not None and chosen.isdigit():
            del rows[int(chosen)]
        else:
            return _special(chosen) or BACK


async def ask_look(app: WeedkeyApp, trait: Trait, current: Sequence[Mapping[str, Any]], aside: Aside) -> Answer:
    """The states of one look, by its own question."""
    chosen_now = [str(row.get("state")) for row in current]
    rows = [Row(one.id, one.words + (" (now)" if one.id in chosen_now else "")) for one in trait.states]
    extra = [Row(SEVERAL, "several of these", "+"), Row(SKIP, "can't tell: leave it out", "0")]
    about = f"{trait.how} (about {trait.cost_seconds:g} s)".strip()
    chosen = await app.push_screen_wait(FieldPick(trait.question, rows, about, aside, extra))
    if chosen != SEVERAL:
        return _special(chosen) or Answer("value", [{"state": chosen}])
    page = FieldMany(trait.question, [Row(one.id, one.words) for one in trait.states], about, aside, chosen_now)
    done = await app.push_screen_wait(page)
    if done != DONE:
        return _special(done) or BACK
    words = {one.id: one.words for one in trait.states}
    seen: list[dict[str, Any]] = []
    for state in page.marked:
        often = [Row(word, word) for word in OFTEN]
        extra = [Row(_OPEN, "I do not know how often", "0")]
        answer = await app.push_screen_wait(FieldPick(f"How often: {words[state]}?", often, "", aside, extra))
        special = _special(answer)
        if special is not None:
            return special
        seen.append({"state": state} if answer == _OPEN else {"state": state, "often": answer})
    return Answer("value", seen)


async def ask_source(app: WeedkeyApp) -> tuple[list[str], dict[str, str] | None] | None:
    """Who says the facts that are entered next; None if the user went back."""
    rows = [
        Row(SEEN_BY_USER, "I saw it myself (day and place are asked)"),
        Row(FROM_MEMORY, "I know it from memory; nobody looked it up"),
        Row(COMMON_PRACTICE, "it is common practice"),
        Row(_LISTED, "a source of the list"),
    ]
    about = "Every fact names who says so. This holds for what you enter next; you may change it at any time."
    chosen = await app.push_screen_wait(FieldPick("Who says so?", rows, about))
    if chosen == SEEN_BY_USER:
        sighting = await _ask_sighting(app)
        return ([SEEN_BY_USER], sighting) if sighting else None
    if chosen == _LISTED:
        found = [
            Row(one.id, f"{one.institution} {one.year}: {one.title}".replace("  ", " "))
            for one in app.knowledge.sources.values()
        ]
        chosen = await app.push_screen_wait(FieldPick("Which source?", found))
        return ([str(chosen)], None) if chosen in app.knowledge.sources else None
    return ([str(chosen)], None) if chosen in (FROM_MEMORY, COMMON_PRACTICE) else None


async def _ask_sighting(app: WeedkeyApp) -> dict[str, str] | None:
    from weedkey.knowledge.sourcing import read_sighting

    def wrong_day(text: str) -> str:
        return _wrong(lambda: read_sighting(text, "x", app.today))

    def wrong_place(text: str) -> str:
        return _wrong(lambda: read_sighting(app.today.isoformat(), text, app.today))

    today = app.today.isoformat()
    about = "What one saw is a fact only with its day and its place. Who saw it is not asked."
    day = await app.push_screen_wait(FieldText("On which day did you see it?", today, "YYYY-MM-DD", about, wrong_day))
    if not day:
        return None
    about = "In your own words, such as: north lawn, by the drive. No private address: the entry may be sent on."
    place = await app.push_screen_wait(FieldText("Where did you see it?", "", "a place", about, wrong_place))
    return read_sighting(day, place, app.today) if place else None


def _wrong(read: Callable[[], object]) -> str:
    try:
        read()
    except UsageError as error:
        return str(error)
    return ""
