"""The questions of a new lawn, one a screen; and the lists of demo lawns and of walks."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from weedkey.answers import AREA_EXPECTED, DAY_EXPECTED, is_area, is_day
from weedkey.knowledge.locate import shipped_folder
from weedkey.model.lawn import Lawn, Zone
from weedkey.model.vocabulary import SITES
from weedkey.report.style import words_of
from weedkey.tui.opening import open_lawn, open_lawn_file, open_visit
from weedkey.tui.screens.ask import AskText
from weedkey.tui.screens.pick import PickScreen
from weedkey.tui.widgets.rows import Row
from weedkey.visit import list_visits

if TYPE_CHECKING:
    from weedkey.tui.app import WeedkeyApp

_NOT_LISTED = "not_listed"
_FIRST_ZONE = "whole lawn"


async def ask_demo(app: WeedkeyApp) -> None:
    """Which demo lawn?"""
    files = sorted((shipped_folder() / "demo").glob("*.yaml"))
    rows = [Row(file.stem, words_of(file.stem)) for file in files]
    chosen = await app.push_screen_wait(PickScreen("Which demo lawn?", rows))
    if chosen:
        open_lawn_file(app, next(file for file in files if file.stem == chosen))


async def ask_walk(app: WeedkeyApp) -> None:
    """Which walk?"""
    folders = list_visits()
    rows = [Row(folder.name, folder.name.replace("-", " ")) for folder in folders]
    chosen = await app.push_screen_wait(PickScreen("Which walk?", rows))
    if chosen:
        open_visit(app, next(folder for folder in folders if folder.name == chosen))


async def ask_new_lawn(app: WeedkeyApp) -> None:
    """Turf, place, site, date, area: five questions, each with what it is for."""
    knowledge = app.knowledge
    turfs = [Row(turf.id, turf.name) for turf in knowledge.turfs.values()]
    turf = await app.push_screen_wait(PickScreen("Which grass is to win here?", turfs))
    if not turf:
        return
    places = [Row(place.id, f"{place.name} ({words_of(place.region)})") for place in knowledge.places.values()]
    rows = [*places, Row(_NOT_LISTED, "none of these is near")]
    place = await app.push_screen_wait(PickScreen("Which place has your climate? It sets growth and windows.", rows))
    if not place:
        return
    sites = [Row(site, words_of(site)) for site in SITES]
    site = await app.push_screen_wait(PickScreen("What kind of site is it? It opens and shuts whole classes.", sites))
    if not site:
        return
    area = await app.push_screen_wait(AskText("How large is the lawn, in square feet?", "", AREA_EXPECTED, is_area))
    if not area:
        return
    day = await app.push_screen_wait(AskText("Which day is it?", app.today.isoformat(), DAY_EXPECTED, is_day))
    if not day:
        return
    lawn = Lawn(
        name="new lawn",
        on=date.fromisoformat(day),
        turf=turf,
        site=site,
        zones=(Zone(_FIRST_ZONE, float(area)),),
        place=None if place == _NOT_LISTED else place,
    )
    open_lawn(app, lawn)
