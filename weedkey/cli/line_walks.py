"""Line by line: an older walk found and taken up again, what was put on, the last change taken back."""

from __future__ import annotations

from datetime import date

from weedkey.answers import DAY_EXPECTED, is_day
from weedkey.cli.line_questions import Ask, Pick, read_line
from weedkey.knowledge.names import find_entry
from weedkey.model.base import Knowledge
from weedkey.model.lawn import PastApplication
from weedkey.visit import Visit, resume_visit
from weedkey.walks.listing import SavedWalk, read_walks, search_walks

#: So many walks are listed at once; a word narrows them.
_MOST_LISTED = 20


def find_saved_walk(knowledge: Knowledge, pick: Pick) -> Visit:
    """One of the saved walks, opened as it is or begun again today."""
    from weedkey.report.walks_text import walk_line
    from weedkey.walks.changing import duplicate_walk

    walks = [walk for walk in read_walks(knowledge) if walk.lawn]
    found = _narrowed(knowledge, walks)
    number = pick("Which walk?", [(str(place), walk_line(knowledge, walk)) for place, walk in enumerate(found)])
    walk = found[int(number)]
    rows = [
        ("open", "open it"),
        ("again", "walk this lawn again today, without its weeds"),
        ("again_weeds", "walk it again today, with the weeds entered"),
    ]
    chosen = pick("What about it?", rows)
    if chosen == "open":
        return resume_visit(walk.folder, knowledge)
    today = date.today()  # noqa: DTZ011 - the lawn's own calendar day
    return duplicate_walk(walk.folder, knowledge, today, keep_weeds=chosen == "again_weeds")


def _narrowed(knowledge: Knowledge, walks: list[SavedWalk]) -> list[SavedWalk]:
    while True:
        text = read_line("Search for lawn, place, turf, weed or day (nothing lists all):")
        found = search_walks(knowledge, walks, text)
        if found:
            return found[:_MOST_LISTED]
        print(f"no walk holds {text!r}")


def put_on(knowledge: Knowledge, visit: Visit, ask: Ask, pick: Pick) -> None:
    """Write down what was put on. Raises UnknownName, UsageError."""
    from weedkey.report.application_text import application_record
    from weedkey.walks.history import note_application

    control = find_entry(knowledge.controls, "control", ask("What was put on?", bool, "the name of a control"))
    zones = [("", "the whole lawn"), *((zone.name, zone.name) for zone in visit.lawn.zones)]
    zone = pick("On which part?", zones)
    day = ask("On which day? (YYYY-MM-DD)", is_day, DAY_EXPECTED)
    row = PastApplication(date.fromisoformat(day), control.id, (zone,) if zone else ())
    path = note_application(visit, row, application_record(knowledge, visit.lawn, row))
    print(f"Written down. The record is kept in {path}")


def undo(visit: Visit) -> None:
    """Take the last change of the lawn back."""
    was = visit.undo_change()
    print("There is no change to take back." if was is None else "The last change is taken back.")
