"""Opens the parts of the job, asking first what a part needs: which zone, which weed, how much of it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from weedkey.answers import (
    AREA_EXPECTED,
    AREA_OFFERS,
    NAME_EXPECTED,
    PERCENT_EXPECTED,
    PERCENT_OFFERS,
    ZONE_OFFERS,
    is_area,
    is_lawn_name,
    is_percent,
)
from weedkey.key import Context
from weedkey.model.lawn import Finding, Zone
from weedkey.report.namer import Namer
from weedkey.report.visit_text import finding_words
from weedkey.tui.screens.ask import AskText
from weedkey.tui.screens.pick import PickScreen
from weedkey.tui.widgets.rows import Row
from weedkey.visit import UNNAMED_LAWN, Visit

if TYPE_CHECKING:
    from weedkey.tui.app import WeedkeyApp


async def open_part(app: WeedkeyApp, part: str) -> None:
    """Open one part of the hub."""
    if app.visit is None:
        return
    await _OPENERS[part](app, app.visit)


async def _name(app: WeedkeyApp, visit: Visit) -> None:
    from weedkey.tui.screens.name import NameScreen

    if visit.naming is None:
        zone = await ask_zone(app, visit)
        if zone is None:
            return
        visit.start_naming(zone, naming_context(app, visit))
    app.push_screen(NameScreen())


def naming_context(app: WeedkeyApp, visit: Visit) -> Context:
    """Month, region and turf of the lawn for the key."""
    place = app.knowledge.places.get(visit.lawn.place) if visit.lawn.place else None
    return Context(visit.lawn.on.month, place.region if place else None, visit.lawn.turf)


async def ask_zone(app: WeedkeyApp, visit: Visit) -> str | None:
    """Which zone? Not asked if there is one only."""
    zones = visit.lawn.zones
    if len(zones) == 1:
        return zones[0].name
    return await app.push_screen_wait(PickScreen("In which part of the lawn?", [Row(z.name, z.name) for z in zones]))


async def ask_cover(app: WeedkeyApp, value: str = "") -> float | None:
    """How much of the zone does it cover?"""
    question = "How much of this part does it cover, in percent of the ground?"
    text = await app.push_screen_wait(AskText(question, value, PERCENT_EXPECTED, is_percent, offers=PERCENT_OFFERS))
    return float(text) if text else None


async def _add(app: WeedkeyApp, visit: Visit) -> None:
    rows = [Row(weed.id, _weed_words(weed.name, weed.also_called)) for weed in app.knowledge.weeds.values()]
    weed = await app.push_screen_wait(PickScreen("Which weed?", sorted(rows, key=lambda row: row.words.lower())))
    if not weed:
        return
    zone = await ask_zone(app, visit)
    if zone is None:
        return
    cover = await ask_cover(app)
    if cover is not None:
        visit.add_finding(zone, Finding({weed: 1.0}, cover))


def _weed_words(name: str, also: tuple[str, ...]) -> str:
    return f"{name} ({', '.join(also[:3])})" if also else name


async def _weeds(app: WeedkeyApp, visit: Visit) -> None:
    from weedkey.tui.screens.weeds_here import WeedsHereScreen

    if not any(zone.findings for zone in visit.lawn.zones):
        app.notify("Nothing is entered yet: name a weed, or add one that you know.")
        return
    app.push_screen(WeedsHereScreen())


async def _choices(app: WeedkeyApp, visit: Visit) -> None:
    from weedkey.tui.screens.choices import ChoicesScreen

    found = await ask_finding(app, visit, "What may be done about which weed?")
    if found is not None:
        app.push_screen(ChoicesScreen(*found))


async def ask_finding(app: WeedkeyApp, visit: Visit, question: str) -> tuple[str, int] | None:
    """Which finding? Returns its zone and its place in the zone."""
    namer = Namer(app.knowledge)
    rows = [
        Row(f"{place}\t{zone.name}", f"{finding_words(finding, namer)} ({zone.name}, {finding.cover_percent:g} %)")
        for zone in visit.lawn.zones
        for place, finding in enumerate(zone.findings)
    ]
    if not rows:
        app.notify("Nothing is entered yet: name a weed, or add one that you know.")
        return None
    chosen = await app.push_screen_wait(PickScreen(question, rows))
    if not chosen:
        return None
    place, _, zone_name = chosen.partition("\t")
    return zone_name, int(place)


async def _ground(app: WeedkeyApp, visit: Visit) -> None:
    from weedkey.tui.screens.ground import GroundScreen

    app.push_screen(GroundScreen(visit.lawn))


async def _season(app: WeedkeyApp, visit: Visit) -> None:  # noqa: ARG001 - all parts have one form
    from weedkey.tui.screens.season import SeasonScreen

    app.push_screen(SeasonScreen(app.lawn_with_history()))


async def _entries(app: WeedkeyApp, visit: Visit) -> None:  # noqa: ARG001 - all parts have one form
    from weedkey.tui.screens.entries import EntriesScreen

    app.push_screen(EntriesScreen())


async def _zone(app: WeedkeyApp, visit: Visit) -> None:
    names = {zone.name for zone in visit.lawn.zones}
    name = await app.push_screen_wait(
        AskText(
            "What is this part called?",
            "",
            "a name not used yet, e.g. drive edge",
            lambda t: bool(t) and t not in names,
            offers=[name for name in ZONE_OFFERS if name not in names],
        )
    )
    if not name:
        return
    area = await app.push_screen_wait(
        AskText(f"How large is {name}, in square feet?", "", AREA_EXPECTED, is_area, offers=AREA_OFFERS)
    )
    if area:
        visit.change_lawn(replace(visit.lawn, zones=(*visit.lawn.zones, Zone(name, float(area)))))


async def _photos(app: WeedkeyApp, visit: Visit) -> None:
    from weedkey.tui.recording import ask_photos

    await ask_photos(app, visit)


async def _put_on(app: WeedkeyApp, visit: Visit) -> None:
    from weedkey.tui.recording import ask_application

    await ask_application(app, visit)


async def _title(app: WeedkeyApp, visit: Visit) -> None:
    old = "" if visit.lawn.name == UNNAMED_LAWN else visit.lawn.name
    name = await app.push_screen_wait(AskText("What is this lawn called?", old, NAME_EXPECTED, is_lawn_name))
    if name:
        visit.change_lawn(replace(visit.lawn, name=name))


_OPENERS = {
    "name": _name,
    "add": _add,
    "weeds": _weeds,
    "choices": _choices,
    "ground": _ground,
    "season": _season,
    "entries": _entries,
    "zone": _zone,
    "photos": _photos,
    "put_on": _put_on,
    "title": _title,
}
