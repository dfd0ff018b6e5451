"""Naming line by line inside a visit: each answer is in the journal before the next question."""

from __future__ import annotations

from weedkey.answers import carried_weeds
from weedkey.cli.asking import read_numbers
from weedkey.cli.line_questions import read_line
from weedkey.kept_regions import regions_of_lawn
from weedkey.key import Context, build_table
from weedkey.key.decide import NextLook
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Look, Zone
from weedkey.report.name_text import belief_lines, decision_line, headline
from weedkey.report.namer import Namer
from weedkey.report.style import Style
from weedkey.report.wording import sentence
from weedkey.visit import Visit
from weedkey.walks.history import with_history


def name_by_lines(knowledge: Knowledge, visit: Visit, zone: Zone) -> tuple[dict[str, float], tuple[Look, ...]]:
    """Ask until the key stops or the user does (s); returns the plant or the set, and its looks; empty if dropped."""
    lawn = visit.lawn
    regions = regions_of_lawn(knowledge, with_history(knowledge, lawn), zone)
    region = knowledge.places[lawn.place].region if lawn.place else None
    context = Context(lawn.on.month, region, zone.turf or lawn.turf)
    walk = visit.naming or visit.start_naming(zone.name, context)
    table = build_table(knowledge, walk.context)
    namer, style = Namer(knowledge), Style()
    standing = walk.judge(table, regions)
    while standing.next_look is not None:
        answer = _ask(standing.next_look, namer)
        if answer == "x":
            return {}, ()
        if answer == "s":
            break
        if isinstance(answer, Look):
            walk.answer(answer)
        else:
            walk.undo()
        standing = walk.judge(table, regions)
    lines = [headline(standing, namer, style), *belief_lines(standing, namer, width=style.width)]
    print("\n" + "\n".join([*lines, decision_line(standing, namer, style)]))
    return carried_weeds(standing), standing.looks


def _ask(look: NextLook, namer: Namer) -> Look | str:
    """Show a look until it is answered; "u", "s" and "x" are handed back as they are."""
    print(f"\n{look.question}")
    for number, state in enumerate(look.states, 1):
        print(f"  {number}  {namer.state(look.trait, state)}")
    print("  0  can't tell    u  take back    w  why    s  stop here    x  drop this plant")
    while True:
        answer = read_line("number (2,3 = one of these; 2+3 = both; 2? = not sure):")
        found = read_numbers(look, answer)
        if found is not None:
            return found
        if answer in ("u", "s", "x"):
            return answer
        if answer == "w":
            print(sentence(look.why, namer))
        else:
            print(f"{answer!r} is not an answer here; type a number from 0 to {len(look.states)}, u, w, s or x")
