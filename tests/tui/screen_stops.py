"""Every screen of the program, grouped by feature, each as the keys that lead to it from the one before.

The same stops serve the snapshots, the widths, the key line and the characters: a new screen is one line here.
"""

from __future__ import annotations

from dataclasses import dataclass
from dataclasses import replace as changed
from datetime import date
from pathlib import Path
from zipfile import ZipFile

from textual.pilot import Pilot

from weedkey.knowledge import load
from weedkey.knowledge.lawn_file import read_lawn
from weedkey.knowledge.locate import shipped_folder
from weedkey.model.lawn import PastApplication
from weedkey.report.application_text import application_record
from weedkey.tui.app import WeedkeyApp
from weedkey.visit import start_visit
from weedkey.walks.changing import archive_walk
from weedkey.walks.history import note_application

from screen_cases import DEMO, TODAY, new_app, screen_text  # isort: skip

#: A stop that is not reached within this many looks at the screen is not reached.
_MOST_LOOKS = 3000


@dataclass(frozen=True, slots=True)
class Stop:
    """``keys`` pressed one after another; ``until``: what the screen then says; ``name`` empty: only on the way."""

    name: str
    keys: tuple[str, ...]
    until: str


def typed(text: str) -> tuple[str, ...]:
    """A word as keys, with enter behind it."""
    names = {" ": "space", ".": "full_stop", "-": "minus", "/": "slash", "_": "underscore"}
    return (*(names.get(letter, letter) for letter in text), "enter")


def cleared(count: int) -> tuple[str, ...]:
    """A field emptied."""
    return ("backspace",) * count


OPENED = Stop("", (), "name a weed that you do not know")
HOME = (
    Stop("first", (), "start a new lawn"),
    Stop("help", ("question_mark",), "all actions"),
    Stop("", ("escape",), "start a new lawn"),
    Stop("demo_lawns", ("3",), "Which demo lawn?"),
    Stop("", ("escape",), "start a new lawn"),
    Stop("new_turf", ("2",), "Which grass"),
    Stop("new_place", typed("zoy"), "has your climate"),
    Stop("new_site", typed("murf"), "What kind of site"),
    Stop("new_area", ("1",), "How large"),
    Stop("new_area_refused", typed("-5"), "is not accepted"),
    Stop("new_day", (*cleared(2), *typed("5000")), "Which day"),
    Stop("new_name", ("enter",), "called?"),
    Stop("", ("escape",), "Which day"),
    Stop("", ("escape",), "How large"),
    Stop("", ("escape",), "What kind of site"),
    Stop("", ("escape",), "has your climate"),
    Stop("", ("escape",), "Which grass"),
    Stop("", ("escape",), "start a new lawn"),
    Stop("new_begun", ("2",), "was begun"),
)
WALKS = (
    Stop("with_walks", (), "continue the walk of"),
    Stop("list", ("4",), "archived walks"),
    Stop("search", ("slash", *"zoisia"), "Valley rental"),
    Stop("nothing_found", (*cleared(6), *"kelp"), "no walk holds this"),
    Stop("", (*cleared(4), "enter"), "Gulf coast"),
    Stop("one", ("3",), "archive it"),
    Stop("put_on_so_far", ("4",), "Put on Gulf coast"),
    Stop("", ("escape",), "archived walks"),
    Stop("archived", ("a",), "Archived walks"),
    Stop("", ("a",), "export what is shown"),
    Stop("export", ("e",), "as a zip to which file"),
    Stop("", ("escape",), "archived walks"),
    Stop("import", ("i",), "Which zip"),
    Stop("import_preview", typed("walks.zip"), "bring in"),
)
LAWN = (
    Stop("parts", (), "name a weed that you do not know"),
    Stop("add_weed", ("2",), "Which weed?"),
    Stop("add_zone", typed("henbit"), "In which part"),
    Stop("add_cover", ("1",), "How much of this part"),
    Stop("", typed("4"), "name a weed that you do not know"),
    Stop("weeds_here", ("3",), "Weeds here"),
    Stop("one_weed", ("1",), "remove it"),
    Stop("weed_entry", ("1",), "Schedonorus"),
    Stop("", ("escape", "escape"), "name a weed that you do not know"),
    Stop("new_zone", ("9",), "What is this part called"),
    Stop("", ("escape",), "name a weed that you do not know"),
    Stop("photos", ("8",), "Photos of what"),
    Stop("photos_of_one", ("1",), "note where a photo lies"),
    Stop("photo_path", ("1",), "Where does the photo lie"),
    Stop("", ("escape", "escape"), "name a weed that you do not know"),
    Stop("put_on", ("7",), "What was put on?"),
    Stop("put_on_where", typed("sulfentrazone"), "On which part?"),
    Stop("put_on_day", ("4",), "On which day?"),
    Stop("put_on_amount", ("enter",), "How much, as the label counts it"),
    Stop("put_on_record", typed("0.5 oz"), "Record: sulfentrazone"),
    Stop("", ("escape",), "name a weed that you do not know"),
    Stop("title", ("0",), "What is this lawn called"),
)
NAME = (
    OPENED,
    Stop("zone", ("1",), "In which part"),
    Stop("first_look", ("2",), "Look 1"),
    Stop("second_look", ("2",), "Look 2"),
    Stop("several", ("m",), "it is one of these"),
    Stop("", ("m",), "can't tell"),
    Stop("why", ("w",), "Why this look"),
    Stop("", ("escape",), "can't tell"),
    Stop("compare", ("c",), "in 100"),
    Stop("", ("escape",), "can't tell"),
    Stop("other_look", ("o",), "Look at what?"),
    Stop("", ("escape",), "can't tell"),
    Stop("drawings", ("d",), "drawn:"),
    Stop("", ("escape",), "can't tell"),
    Stop("words", ("t",), "in plain words"),
    Stop("words_confirm", typed("hairy leaf"), "yes, I see that"),
    Stop("", ("escape",), "Look"),
    Stop("cover", ("s",), "How much of this part"),
)
CHOICES = (
    OPENED,
    Stop("which_weed", ("4",), "What may be done about which weed"),
    Stop("verdict", ("4",), "goosegrass:"),
    Stop("one_choice", ("enter",), "label"),
)
GROUND = (
    OPENED,
    Stop("zones", ("5",), "What the ground says"),
    Stop("one_zone", ("2",), "drive edge"),
)
SEASON = (
    OPENED,
    Stop("sheets", ("6",), "in the year ahead"),
    Stop("operator", ("1",), "Plan for"),
    Stop("", ("escape",), "in the year ahead"),
    Stop("owner", ("2",), "Your lawn"),
    Stop("", ("escape",), "in the year ahead"),
    Stop("outlook", ("3",), "percent of the lawn"),
    Stop("", ("escape",), "in the year ahead"),
    Stop("starts", ("4",), "start"),
    Stop("", ("escape",), "in the year ahead"),
    Stop("record", ("5",), "Record:"),
    Stop("", ("escape",), "in the year ahead"),
    Stop("put_on_so_far", ("6",), "written down"),
)
ENTRIES = (
    Stop("", (), "start a new lawn"),
    Stop("list", ("5",), "Local entries"),
    Stop("fact_of_what", ("4",), "A fact of what?"),
    Stop("fact_of_which", ("1",), "Which weed?"),
    Stop("form_of_a_fact", typed("henbit"), "facts of a shipped weed"),
    Stop("", ("escape",), "Local entries"),
    Stop("new_who_says_so", ("1",), "Who says so?"),
    Stop("new_name", ("2",), "expected:"),
    Stop("new_next", typed("marsh sedge"), "scientific"),
    Stop("new_form", ("escape",), "a new weed"),
)
#: feature -> (does it begin on a demo lawn, stops)
FEATURES: dict[str, tuple[bool, tuple[Stop, ...]]] = {
    "home": (False, HOME),
    "walks": (False, WALKS),
    "lawn": (True, LAWN),
    "name": (True, NAME),
    "choices": (True, CHOICES),
    "ground": (True, GROUND),
    "season": (True, SEASON),
    "entries": (False, ENTRIES),
}


def prepare(feature: str) -> None:
    """What must lie on disk before a feature begins."""
    if feature != "walks":
        return
    knowledge = load()
    lawns = [read_lawn(file, knowledge) for file in sorted((shipped_folder() / "demo").glob("*.yaml"))]
    old = start_visit(changed(lawns[0], on=date(2025, 5, 20)))
    row = PastApplication(date(2025, 5, 21), "atrazine")
    note_application(old, row, application_record(knowledge, old.lawn, row))
    archive_walk(old.folder, TODAY)
    for lawn in lawns:
        start_visit(lawn)
    with ZipFile("walks.zip", "w") as archive:
        archive.writestr("2024-06-01-elsewhere/lawn.yaml", (old.folder / "lawn.yaml").read_text(encoding="utf-8"))
        archive.writestr("../elsewhere/lawn.yaml", "x")


def app_for(feature: str) -> WeedkeyApp:
    """The application on the day of the tests, with a demo lawn if the feature begins on one."""
    return new_app(DEMO if FEATURES[feature][0] else None)


async def go_to(pilot: Pilot[None], app: WeedkeyApp, stop: Stop) -> str:
    """Press the keys of a stop, wait until it is reached and the screen stands still; return its text."""
    for key in stop.keys:
        await pilot.press(key)
        await pilot.pause()
    before = ""
    still = 0
    for _ in range(_MOST_LOOKS):
        await pilot.pause(0.02)
        app.clear_notifications()
        text = screen_text(app)
        whole = " ".join(widget_text(app).split())
        still = still + 1 if text == before else 0
        before = text
        if still >= 3 and stop.until in whole and "is being made" not in whole and "are being compared" not in whole:
            return text
    raise AssertionError(f"{stop.name or stop.keys}: {stop.until!r} was not reached; the screen says:\n{before}")


def widget_text(app: WeedkeyApp) -> str:
    """What the screen says, whether it is in sight or further down."""
    from weedkey.tui.copying import screen_result

    return screen_result(app.screen)


def path_of(feature: str, stop: Stop, width: int) -> Path:
    """Where the snapshot of a stop lies below the folder of snapshots."""
    return Path(feature) / f"{stop.name}_{width}"
