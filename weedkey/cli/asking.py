"""One look after another on this line: questions on standard error, so that standard output stays data."""

from __future__ import annotations

import sys
from collections.abc import Mapping

from weedkey.errors import UsageError
from weedkey.key import judge
from weedkey.key.decide import NextLook, Standing
from weedkey.key.table import Table
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Look
from weedkey.model.region import Region
from weedkey.report.name_text import look_words
from weedkey.report.namer import Namer
from weedkey.report.wording import sentence


def say(text: str = "") -> None:
    """Talk goes to standard error."""
    print(text, file=sys.stderr, flush=True)


def read_answer(prompt: str) -> str | None:
    """One line of standard input without spaces around it; None at its end."""
    print(prompt, end="", file=sys.stderr, flush=True)
    line = sys.stdin.readline()
    return line.strip() if line else None


def ask_looks(
    knowledge: Knowledge, table: Table, standing: Standing, regions: Mapping[str, Region], goal: str
) -> Standing:
    """Ask until the key stops, the user stops (q) or the input ends; ``u`` takes the last answer back."""
    namer = Namer(knowledge)
    looks = list(standing.looks)
    while standing.next_look is not None:
        answer = _ask_one(standing.next_look, namer)
        if answer is None:
            break
        if isinstance(answer, str):
            if looks:
                say("taken back: " + look_words(looks.pop(), namer))
        else:
            looks.append(answer)
        standing = judge(table, looks, regions or None, goal=goal)
    return standing


def _ask_one(look: NextLook, namer: Namer) -> Look | str | None:
    say(f"\n{look.question}")
    for number, state in enumerate(look.states, 1):
        say(f"  {number}  {namer.state(look.trait, state)}")
    say("  0  can't tell        u  take the last answer back        w  why        q  stop")
    while True:
        answer = read_answer("number (2,3 = one of these; 2+3 = both; 2? = not sure): ")
        if answer is None or answer == "q":
            return None
        if answer == "u":
            return "undo"
        if answer == "w":
            say(sentence(look.why, namer))
            continue
        found = read_numbers(look, answer)
        if found is not None:
            return found
        say(f"{answer!r} is not an answer here; type a number from 0 to {len(look.states)}, u, w or q")


def read_numbers(look: NextLook, answer: str) -> Look | None:
    """An answer such as 2; 2,3 (one of these); 2+3 (both); 2? (not sure); 0 (can't tell); None if it is none."""
    if answer == "0":
        return Look(look.trait, ())
    unsure = answer.endswith("?")
    text = answer.rstrip("?")
    both = "+" in text
    parts = text.replace("+", ",").split(",")
    if not all(part.strip().isdigit() and 1 <= int(part) <= len(look.states) for part in parts):
        return None
    return Look(look.trait, tuple(look.states[int(part) - 1] for part in parts), both=both, unsure=unsure)


def confirm_words(knowledge: Knowledge, text: str, *, interactive: bool) -> tuple[Look, ...]:
    """Looks proposed from plain words. Each is shown with the matched phrase and confirmed by hand if
    interactive.

    Without --ask nothing is taken: the proposals are printed as the --look that would take them.
    Raises UsageError if no word matches.
    """
    from weedkey.key import propose_looks

    namer = Namer(knowledge)
    proposals = propose_looks(knowledge, text)
    if not proposals:
        raise UsageError(
            f"no look matches {text!r}", "words such as: square stem, milky sap", "weedkey traits, for all"
        )
    taken = []
    for proposal in proposals:
        words = look_words(proposal.look, namer)
        states = ",".join(proposal.look.states)
        if not interactive:
            say(f"proposed from {proposal.phrase!r}: {words}   (to take it: --look {proposal.look.trait}={states})")
            continue
        answer = read_answer(f"{proposal.phrase!r} — {words}? (y/n): ")
        if answer is not None and answer.lower().startswith("y"):
            taken.append(proposal.look)
    return tuple(taken)
