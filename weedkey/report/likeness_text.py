"""Look-alikes of a weed that is being entered, in words."""

from __future__ import annotations

from weedkey.knowledge.likeness import Alike, Separation
from weedkey.report.namer import Namer
from weedkey.report.style import Style, join_words, words_of

_MOST_LOOKS = 3


def alike_sentence(near: Alike) -> str:
    """What tells the two apart: ``this differs from goosegrass only in the ligule``."""
    looks = [f"the {words_of(name)}" for name in near.differs]
    if not looks:
        return f"nothing entered so far tells this from {near.name} ({near.shared} looks are the same or nearly)"
    if len(looks) == 1:
        return f"this differs from {near.name} only in {looks[0]}"
    shown = looks[:_MOST_LOOKS] + ([f"{len(looks) - _MOST_LOOKS} more"] if len(looks) > _MOST_LOOKS else [])
    weak = "" if near.told_apart else "; one look that can be seen on mown turf is still needed"
    return f"this differs from {near.name} in {join_words(shown)}{weak}"


def next_look_sentence(found: Separation, namer: Namer) -> str:
    """Which look to enter next, and against which weeds; empty if no further look would help."""
    if found.next_look is None:
        return ""
    question = namer.question(found.next_look)
    if not found.against:
        return f"Enter next: {question} ({words_of(found.next_look)})"
    names = join_words([namer.weed(name) for name in found.against[:_MOST_LOOKS]], "or")
    return f"Enter next, to tell it from {names}: {question} ({words_of(found.next_look)})"


def separation_text(found: Separation, namer: Namer, style: Style, *, ask_next: bool = True) -> str:
    """How many looks there are, look-alikes nearest first, then the look to enter next."""
    if not found.entered:
        return ""
    lines = [
        style.wrap(
            f"{found.entered} look{'' if found.entered == 1 else 's'} entered, {found.wanted} or more are wanted"
        )
    ]
    if found.alike:
        lines += [style.bullet(alike_sentence(near), "ok" if near.told_apart else "! ") for near in found.alike]
    elif found.entered >= 3:
        lines.append(style.wrap("No weed that is known here looks much like it."))
    else:
        lines.append(style.wrap("Look-alikes show from the third look on."))
    ask = next_look_sentence(found, namer) if ask_next else ""
    return "\n".join([*lines, *([style.wrap(ask)] if ask else [])])
