"""The questions of a new lawn, one a screen, each answer on disk before the next one; and the list of demo lawns."""

from __future__ import annotations

import json
from collections.abc import Awaitable, Callable
from datetime import date
from typing import TYPE_CHECKING

from weedkey.answers import (
    AREA_EXPECTED,
    AREA_OFFERS,
    DAY_EXPECTED,
    NAME_EXPECTED,
    is_area,
    is_day,
    is_lawn_name,
)
from weedkey.errors import UnknownName
from weedkey.knowledge.locate import shipped_folder
from weedkey.knowledge.names import find_entry
from weedkey.model.lawn import Lawn, Zone
from weedkey.model.vocabulary import SITES
from weedkey.report.style import words_of
from weedkey.storage import list_visits, state_folder, write_atomic
from weedkey.tui.opening import open_lawn, open_lawn_file
from weedkey.tui.screens.ask import AskText
from weedkey.tui.screens.pick import PickScreen
from weedkey.tui.widgets.rows import Row

if TYPE_CHECKING:
    from weedkey.tui.app import WeedkeyApp

_NOT_LISTED = "not_listed"
_FIRST_ZONE = "whole lawn"
_DRAFT = "new-lawn.json"
Draft = dict[str, str]


async def ask_demo(app: WeedkeyApp) -> None:
    """Which demo lawn?"""
    files = sorted((shipped_folder() / "demo").glob("*.yaml"))
    rows = [Row(file.stem, words_of(file.stem)) for file in files]
    chosen = await app.push_screen_wait(PickScreen("Which demo lawn?", rows))
    if chosen:
        open_lawn_file(app, next(file for file in files if file.stem == chosen))


async def ask_new_lawn(app: WeedkeyApp) -> None:
    """Turf, place, site, area, day, name. Escape goes back a question; what was answered is kept."""
    draft = read_draft()
    if draft:
        rows = [Row("on", f"go on: {', '.join(_told(app, draft))}"), Row("new", "begin anew")]
        chosen = await app.push_screen_wait(PickScreen("A new lawn was begun.", rows))
        if not chosen:
            return
        draft = draft if chosen == "on" else {}
    keys = list(_QUESTIONS)
    place = next((number for number, key in enumerate(keys) if key not in draft), len(keys))
    while place < len(keys):
        answer = await _QUESTIONS[keys[place]](app, draft)
        if answer:
            draft[keys[place]] = answer
            _keep(app, draft)
            place += 1
        elif place == 0:
            return
        else:
            place -= 1
    (state_folder() / _DRAFT).unlink(missing_ok=True)
    open_lawn(app, _lawn(app, draft))


def _lawn(app: WeedkeyApp, draft: Draft) -> Lawn:
    licensed = {"yes": True, "no": False}.get(app.config.text("licensed"))
    return Lawn(
        name=draft["name"].strip(),
        on=date.fromisoformat(draft["day"]),
        turf=draft["turf"],
        site=draft["site"],
        zones=(Zone(_FIRST_ZONE, float(draft["area"])),),
        place=None if draft["place"] == _NOT_LISTED else draft["place"],
        licensed=licensed,
    )


def read_draft() -> Draft:
    """The answers of a new lawn that was begun; nothing if none was, or if they cannot be read."""
    try:
        value = json.loads((state_folder() / _DRAFT).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    if not isinstance(value, dict):
        return {}
    return {key: value[key] for key in _QUESTIONS if isinstance(value.get(key), str)}


def _keep(app: WeedkeyApp, draft: Draft) -> None:
    try:
        write_atomic(state_folder() / _DRAFT, json.dumps(draft, ensure_ascii=False))
    except OSError as error:
        app.notify(f"The answer could not be written down: {error}", severity="warning")


def _told(app: WeedkeyApp, draft: Draft) -> list[str]:
    """The answers in words."""
    names = {row.id: row.name for row in app.knowledge.turfs.values()}
    names |= {row.id: row.name for row in app.knowledge.places.values()}
    return [names.get(text, words_of(text)) for text in draft.values()]


async def _turf(app: WeedkeyApp, draft: Draft) -> str | None:  # noqa: ARG001 - all questions have one form
    turfs = [Row(turf.id, turf.name) for turf in app.knowledge.turfs.values()]
    return await app.push_screen_wait(PickScreen("Which grass is to win here?", turfs))


async def _place(app: WeedkeyApp, draft: Draft) -> str | None:  # noqa: ARG001 - all questions have one form
    """The place of the settings stands first."""
    rows = [Row(place.id, f"{place.name} ({words_of(place.region)})") for place in app.knowledge.places.values()]
    usual = _usual_place(app)
    rows.sort(key=lambda row: row.id != usual)
    rows.append(Row(_NOT_LISTED, "none of these is near"))
    towns = {place.id: place.also_called for place in app.knowledge.places.values()}
    question = "Which place has your climate? It sets growth and windows."
    return await app.push_screen_wait(PickScreen(question, rows, other_names=towns))


def _usual_place(app: WeedkeyApp) -> str | None:
    name = app.config.text("place")
    if not name:
        return None
    try:
        return find_entry(app.knowledge.places, "place", name).id
    except UnknownName as error:
        app.notify(f"{app.config.values['place'].origin}: {error}", severity="warning")
        return None


async def _site(app: WeedkeyApp, draft: Draft) -> str | None:  # noqa: ARG001 - all questions have one form
    sites = [Row(site, words_of(site)) for site in SITES]
    return await app.push_screen_wait(PickScreen("What kind of site is it? It opens and shuts whole classes.", sites))


async def _area(app: WeedkeyApp, draft: Draft) -> str | None:
    question = "How large is the lawn, in square feet?"
    return await app.push_screen_wait(
        AskText(question, draft.get("area", ""), AREA_EXPECTED, is_area, offers=AREA_OFFERS)
    )


async def _day(app: WeedkeyApp, draft: Draft) -> str | None:
    value = draft.get("day", app.today.isoformat())
    return await app.push_screen_wait(AskText("Which day is it?", value, DAY_EXPECTED, is_day))


async def _name(app: WeedkeyApp, draft: Draft) -> str | None:
    value = draft.get("name", f"lawn {1 + len(list_visits(archived=None))}")
    return await app.push_screen_wait(AskText("What is this lawn called?", value, NAME_EXPECTED, is_lawn_name))


_QUESTIONS: dict[str, Callable[[WeedkeyApp, Draft], Awaitable[str | None]]] = {
    "turf": _turf,
    "place": _place,
    "site": _site,
    "area": _area,
    "day": _day,
    "name": _name,
}
