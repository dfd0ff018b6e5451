"""What is written down beside the weeds: what was put on, and where photos lie. Each asks what it needs."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from weedkey.answers import DAY_EXPECTED, is_day
from weedkey.errors import WeedkeyError
from weedkey.model.lawn import PastApplication
from weedkey.report.application_text import application_record
from weedkey.report.namer import Namer
from weedkey.report.visit_text import finding_words
from weedkey.tui.screens.ask import AskText
from weedkey.tui.screens.page import PageScreen
from weedkey.tui.screens.pick import PickScreen
from weedkey.tui.widgets.rows import Row
from weedkey.visit import Visit
from weedkey.walks.history import note_application
from weedkey.walks.photos import Photo, add_photo, drop_photo, photo_path, photos_of

if TYPE_CHECKING:
    from weedkey.tui.app import WeedkeyApp

_WHOLE = "\twhole"
_AMOUNT_EXPECTED = "a number and its unit, such as 0.5 fl oz; or nothing"


async def ask_application(app: WeedkeyApp, visit: Visit) -> None:
    """What, where, when, how much: then it is in the lawn file, and its record is shown."""
    controls = [row for row in app.knowledge.controls.values() if row.is_chemical]
    rows = [Row(row.id, row.name) for row in sorted(controls, key=lambda row: row.name.lower())]
    control = await app.push_screen_wait(PickScreen("What was put on?", rows))
    if not control:
        return
    zones = [Row(_WHOLE, "the whole lawn"), *(Row(zone.name, zone.name) for zone in visit.lawn.zones)]
    zone: str | None = zones[0].id
    if len(visit.lawn.zones) > 1:
        zone = await app.push_screen_wait(PickScreen("On which part?", zones))
    if not zone:
        return
    day = await app.push_screen_wait(AskText("On which day?", app.today.isoformat(), DAY_EXPECTED, is_day))
    if not day:
        return
    question = "How much, as the label counts it? It counts against the yearly maximum."
    amount = await app.push_screen_wait(AskText(question, "", _AMOUNT_EXPECTED, _is_amount))
    if amount is None:
        return
    number, _, unit = amount.partition(" ")
    row = PastApplication(
        date.fromisoformat(day),
        control,
        () if zone == _WHOLE else (zone,),
        float(number) if number else None,
        unit.strip(),
    )
    record = application_record(app.knowledge, visit.lawn, row)
    try:
        path = note_application(visit, row, record)
    except WeedkeyError as error:
        app.say_error(error)
        return
    app.notify(f"Written down. The record is kept in {path}", timeout=10)
    app.push_screen(PageScreen(lambda style: application_record(app.knowledge, visit.lawn, row, width=style.width)))


def _is_amount(text: str) -> bool:
    number, _, unit = text.partition(" ")
    if not text:
        return True
    try:
        return float(number) > 0 and bool(unit.strip())
    except ValueError:
        return False


async def ask_photos(app: WeedkeyApp, visit: Visit) -> None:
    """Of which part or weed? Then its photos, to add one or to forget one."""
    namer = Namer(app.knowledge)
    while True:
        photos = list(photos_of(visit.lawn, visit.folder))
        rows = []
        for zone in visit.lawn.zones:
            rows.append(Row(f"\t{zone.name}", _counted(zone.name, photos, zone.name, None)))
            for place, finding in enumerate(zone.findings):
                words = f"{zone.name}: {finding_words(finding, namer)}"
                rows.append(Row(f"{place}\t{zone.name}", _counted(words, photos, zone.name, place)))
        chosen = await app.push_screen_wait(PickScreen("Photos of what?", rows))
        if not chosen:
            return
        number, _, zone_name = chosen.partition("\t")
        await _change_photos(app, visit, zone_name, int(number) if number else None)


def _counted(words: str, photos: list[Photo], zone: str, place: int | None) -> str:
    count = sum(1 for photo in photos if (photo.zone, photo.place) == (zone, place))
    return f"{words} ({count} photo{'' if count == 1 else 's'})" if count else words


async def _change_photos(app: WeedkeyApp, visit: Visit, zone: str, place: int | None) -> None:
    own = [row for row in photos_of(visit.lawn, visit.folder) if (row.zone, row.place) == (zone, place)]
    rows = [Row("=add", "note where a photo lies")]
    rows += [
        Row(str(number), f"forget {row.text}" + ("" if row.is_there else "  x not there"))
        for number, row in enumerate(own)
    ]
    question = "Photos are named in the sheets; they are never opened or copied."
    chosen = await app.push_screen_wait(PickScreen(question, rows, filtered=False))
    if not chosen:
        return
    try:
        if chosen == "=add":
            typed = await app.push_screen_wait(
                AskText(
                    "Where does the photo lie?", "", "the path of a file", lambda text: _is_file(text, visit.folder)
                )
            )
            if typed:
                add_photo(visit, zone, place, typed)
        else:
            drop_photo(visit, own[int(chosen)])
    except WeedkeyError as error:
        app.say_error(error)


def _is_file(text: str, folder: Path) -> bool:
    return bool(text) and (Path(text).expanduser().is_file() or photo_path(text, folder).is_file())
