"""The visits as a calendar: all-day stretches whose ids stay the same, so that a second import updates the first."""

from __future__ import annotations

from datetime import datetime, timedelta
from hashlib import sha256
from typing import Any

from weedkey.model.base import Knowledge
from weedkey.plan.results import Plan, Visit
from weedkey.report.namer import Namer
from weedkey.report.style import join_words
from weedkey.report.wording import sentence


def plan_ics(knowledge: Knowledge, plan: Plan, stamp: datetime) -> bytes:
    """One event a visit. ``stamp``: when it was written (with a time zone), which tells calendars which is newer."""
    from icalendar import Calendar, Event

    namer = Namer(knowledge)
    calendar = Calendar()
    calendar.add("prodid", "-//weedkey//plan//EN")
    calendar.add("version", "2.0")
    calendar.add("x-wr-calname", f"Plan for {plan.lawn.name}")
    for uid, visit in zip(visit_uids(plan), plan.visits, strict=True):
        event = Event()
        event.add("uid", uid)
        event.add("dtstamp", stamp)
        event.add("last-modified", stamp)
        event.add("sequence", int(stamp.timestamp()) // 60)
        event.add("dtstart", visit.first)
        event.add("dtend", visit.last + timedelta(days=1))
        event.add("summary", f"{plan.lawn.name}: {_what(visit, namer)}")
        event.add("description", _description(visit, namer))
        event.add("transp", "TRANSPARENT")
        calendar.add_component(event)
    text: Any = calendar.to_ical()
    return bytes(text)


def visit_uids(plan: Plan) -> tuple[str, ...]:
    """An id for each visit from the lawn's name and what is done where; not from its dates, which may move."""
    found: list[str] = []
    for visit in plan.visits:
        key = "|".join(sorted(f"{a.control}@{'+'.join(a.zones)}" for a in visit.actions))
        base = sha256(f"{plan.lawn.name}|{key}".encode()).hexdigest()[:20]
        again = sum(1 for uid in found if uid.startswith(base))
        found.append(f"{base}-{again + 1}@weedkey")
    return tuple(found)


def _what(visit: Visit, namer: Namer) -> str:
    return join_words(list(dict.fromkeys(namer.control(action.control) for action in visit.actions)))


def _description(visit: Visit, namer: Namer) -> str:
    lines = ["Any day of this stretch that passes the label's limits for heat, wind and rain."]
    for action in visit.actions:
        lines.append(f"- {namer.control(action.control)}: {sentence(action.why, namer)}")
    lines.append("The label in hand is the law and overrides this.")
    return "\n".join(lines)
