"""The whole job as numbered questions, line by line: for screen readers, dumb terminals and slow lines.

Questions and answers stand on standard output, because here the talk is the product.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

from weedkey.answers import (
    AREA_EXPECTED,
    DAY_EXPECTED,
    NAME_EXPECTED,
    PERCENT_EXPECTED,
    is_area,
    is_day,
    is_lawn_name,
    is_percent,
)
from weedkey.cli.exit_codes import ExitCode
from weedkey.cli.line_questions import Ended, read_line
from weedkey.control import judge_weed
from weedkey.errors import UnknownName, WeedkeyError
from weedkey.knowledge import load
from weedkey.knowledge.lawn_file import read_lawn
from weedkey.knowledge.locate import shipped_folder
from weedkey.knowledge.names import find_entry
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Finding, Lawn, Zone
from weedkey.model.vocabulary import SITES
from weedkey.plan.situation import beliefs_of, setting_for, settings_ahead
from weedkey.report.lawn_line import lawn_line
from weedkey.report.namer import Namer
from weedkey.report.style import Style, words_of
from weedkey.report.visit_text import finding_words, zone_line
from weedkey.visit import Visit, list_visits, resume_visit, start_visit
from weedkey.walks.history import with_history
from weedkey.walks.photos import with_absolute_photos


def run_line_mode(local: Path | None, lawn: Path | None = None) -> int:
    """The job from the first question to the plan; returns the exit code."""
    knowledge = load(local)
    for issue in knowledge.left_out:
        print(f"left out: {issue}")
    try:
        visit = start_visit(_lawn_of(lawn, knowledge)) if lawn else _open_visit(knowledge)
        while True:
            _one_part(knowledge, visit)
    except Ended:
        print("Everything is saved.")
        return ExitCode.OK


def _lawn_of(file: Path, knowledge: Knowledge) -> Lawn:
    return with_absolute_photos(read_lawn(file, knowledge), file.parent)


def ask(question: str, accepts: Callable[[str], bool], expected: str) -> str:
    """One value; asked again until it is accepted. Raises Ended at the end of the input or on q."""
    while True:
        text = read_line(question)
        if accepts(text):
            return text
        print(f"{text or 'nothing'} is not accepted; expected: {expected} (q leaves)")


def pick(question: str, rows: Sequence[tuple[str, str]]) -> str:
    """One of numbered rows; returns its id."""
    print(f"\n{question}")
    for number, (_, words) in enumerate(rows, 1):
        print(f"  {number}  {words}")
    answer = ask("number:", lambda t: t.isdigit() and 1 <= int(t) <= len(rows), f"a number from 1 to {len(rows)}")
    return rows[int(answer) - 1][0]


def _open_visit(knowledge: Knowledge) -> Visit:
    print("Walk the lawn, name what grows, and leave with a plan that the grass survives. q leaves at any time.")
    walks = list_visits()
    rows = [("new", "start a new lawn"), ("demo", "open a demo lawn")]
    if walks:
        rows.insert(0, ("continue", f"continue the walk {walks[0].name.replace('-', ' ')}"))
        rows.append(("walks", f"all walks ({len(walks)}): search, open, walk again"))
    chosen = pick("What now?", rows)
    if chosen == "walks":
        from weedkey.cli.line_walks import find_saved_walk

        return find_saved_walk(knowledge, pick)
    if chosen == "continue":
        return resume_visit(walks[0], knowledge)
    if chosen == "demo":
        files = sorted((shipped_folder() / "demo").glob("*.yaml"))
        name = pick("Which demo lawn?", [(file.stem, words_of(file.stem)) for file in files])
        return start_visit(read_lawn(next(file for file in files if file.stem == name), knowledge))
    return start_visit(_new_lawn(knowledge))


def _new_lawn(knowledge: Knowledge) -> Lawn:
    turf = pick("Which grass is to win here?", [(t.id, t.name) for t in knowledge.turfs.values()])
    places = [(p.id, p.name) for p in knowledge.places.values()]
    place = pick("Which place has your climate?", [*places, ("", "none of these is near")])
    site = pick("What kind of site is it?", [(site, words_of(site)) for site in SITES])
    area = ask("How large is the lawn, in square feet?", is_area, AREA_EXPECTED)
    day = ask("Which day is it? (YYYY-MM-DD)", is_day, DAY_EXPECTED)
    name = ask("What is this lawn called?", is_lawn_name, NAME_EXPECTED)
    zone = Zone("whole lawn", float(area))
    return Lawn(name, date.fromisoformat(day), turf, site, (zone,), place or None)


def _one_part(knowledge: Knowledge, visit: Visit) -> None:
    namer = Namer(knowledge)
    print(f"\n{lawn_line(knowledge, visit.lawn)}")
    for zone in visit.lawn.zones:
        print("  " + zone_line(zone, namer))
    parts: dict[str, tuple[str, Callable[[Knowledge, Visit], None]]] = {
        "name": ("name a weed that you do not know", _name),
        "add": ("add a weed that you know", _add),
        "remove": ("remove a weed", _remove),
        "choices": ("choices: what may be done about a weed", _choices),
        "ground": ("ground: what the weeds say of it", _ground),
        "season": ("season: the plan of the year", _season),
        "put_on": ("write down what was put on", _put_on),
        "zone": ("add a part of the lawn (a zone)", _add_zone),
        "undo": ("take the last change back", _undo),
    }
    chosen = pick("Which part?", [(key, words) for key, (words, _) in parts.items()])
    try:
        parts[chosen][1](knowledge, visit)
    except UnknownName as error:
        print(str(error))
    except WeedkeyError as error:
        print(f"weedkey: {error}")


def _zone(visit: Visit) -> Zone:
    zones = visit.lawn.zones
    if len(zones) == 1:
        return zones[0]
    name = pick("In which part of the lawn?", [(zone.name, zone.name) for zone in zones])
    return visit.zone(name)


def _cover() -> float:
    return float(ask("How much of this part does it cover, in percent?", is_percent, PERCENT_EXPECTED))


def _name(knowledge: Knowledge, visit: Visit) -> None:
    from weedkey.cli.naming_lines import name_by_lines

    zone = _zone(visit) if visit.naming is None else visit.zone(visit.naming_zone)
    weeds, looks = name_by_lines(knowledge, visit, zone)
    if not weeds:
        visit.drop_naming()
        return
    visit.naming_zone = zone.name
    visit.finish_naming(weeds, _cover(), looks)


def _add(knowledge: Knowledge, visit: Visit) -> None:
    zone = _zone(visit)
    weed = find_entry(knowledge.weeds, "weed", ask("Which weed?", bool, "a name"))
    visit.add_finding(zone.name, Finding({weed.id: 1.0}, _cover()))


def _remove(knowledge: Knowledge, visit: Visit) -> None:
    found = _finding(knowledge, visit)
    if found:
        visit.replace_finding(found[0].name, found[1], None)


def _finding(knowledge: Knowledge, visit: Visit) -> tuple[Zone, int] | None:
    namer = Namer(knowledge)
    rows = [(zone, place) for zone in visit.lawn.zones for place in range(len(zone.findings))]
    if not rows:
        print("Nothing is entered yet: name a weed, or add one that you know.")
        return None
    words = [
        (str(number), f"{finding_words(zone.findings[place], namer)} ({zone.name})")
        for number, (zone, place) in enumerate(rows)
    ]
    return rows[int(pick("Which weed?", words))]


def _choices(knowledge: Knowledge, visit: Visit) -> None:
    from weedkey.report.choices_text import choices_text

    found = _finding(knowledge, visit)
    if found is None:
        return
    zone, place = found
    finding = zone.findings[place]
    lawn = with_history(knowledge, visit.lawn)
    setting = setting_for(knowledge, lawn, zone)
    ahead = settings_ahead(knowledge, lawn, zone, lawn.on)
    weeds = beliefs_of(finding.weeds)
    verdict = judge_weed(knowledge, weeds, replace(setting, weed_stage=_stage(finding)), ahead, finding.cover_percent)
    print(choices_text(knowledge, weeds, verdict, Style(), gates=False))


def _stage(finding: Finding) -> str | None:
    return None if finding.stage == "any" else finding.stage


def _ground(knowledge: Knowledge, visit: Visit) -> None:
    from weedkey.ground import read_ground
    from weedkey.report.ground_text import ground_text

    print(ground_text(knowledge, read_ground(knowledge, visit.lawn), Style()))


def _season(knowledge: Knowledge, visit: Visit) -> None:
    from weedkey.plan.planner import make_plan
    from weedkey.report.plan_text import operator_text, owner_text

    plan = make_plan(knowledge, with_history(knowledge, visit.lawn))
    print(operator_text(knowledge, plan, Style()))
    print("\n" + owner_text(knowledge, plan, Style()))


def _put_on(knowledge: Knowledge, visit: Visit) -> None:
    from weedkey.cli.line_walks import put_on

    put_on(knowledge, visit, ask, pick)


def _add_zone(knowledge: Knowledge, visit: Visit) -> None:  # noqa: ARG001 - all parts have one form
    names = {zone.name for zone in visit.lawn.zones}
    name = ask("What is this part called?", lambda text: bool(text) and text not in names, "a name not used yet")
    area = ask(f"How large is {name}, in square feet?", is_area, AREA_EXPECTED)
    visit.change_lawn(replace(visit.lawn, zones=(*visit.lawn.zones, Zone(name, float(area)))))


def _undo(knowledge: Knowledge, visit: Visit) -> None:  # noqa: ARG001 - all parts have one form
    from weedkey.cli.line_walks import undo

    undo(visit)
