"""What comes out of a plan: page, calendar, record sheet, outlook; complete, escaped and stable."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from functools import cache
from html.parser import HTMLParser
from xml.etree import ElementTree as ET

import pytest
from icalendar import Calendar

from weedkey.knowledge import load
from weedkey.knowledge.lawn_file import read_lawn
from weedkey.knowledge.locate import shipped_folder
from weedkey.model.base import Knowledge
from weedkey.plan.outlook import Outlook, foresee
from weedkey.plan.planner import make_plan
from weedkey.plan.record import plan_records
from weedkey.plan.results import Plan
from weedkey.plan.starts import compare_starts
from weedkey.report.charts import outlook_svg
from weedkey.report.html import plan_html
from weedkey.report.ics import plan_ics, visit_uids
from weedkey.report.namer import Namer
from weedkey.report.outlook_text import outlook_text, starts_json, starts_text
from weedkey.report.record_text import record_text
from weedkey.report.style import Style
from weedkey.report.wording import has_words

STAMP = datetime(2026, 6, 3, 12, tzinfo=UTC)


@cache
def knowledge() -> Knowledge:
    """The shipped knowledge."""
    return load()


@cache
def plan() -> Plan:
    """The plan of the Tennessee lawn."""
    return make_plan(knowledge(), read_lawn(shipped_folder() / "demo" / "tennessee_zoysiagrass.yaml", knowledge()))


@cache
def outlooks() -> tuple[Outlook, ...]:
    """Nothing done, and the plan."""
    found = (foresee(knowledge(), plan().lawn, None, "nothing"), foresee(knowledge(), plan().lawn, plan(), "plan"))
    return tuple(row for row in found if row is not None)


class Links(HTMLParser):
    """Every address and script that a page would load."""

    def __init__(self) -> None:
        super().__init__()
        self.loads: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Scripts, links, pictures."""
        self.loads += [tag] if tag in ("script", "link", "img", "iframe") else []
        self.loads += [name for name, _ in attrs if name in ("src", "onclick")]


def test_the_page_stands_alone_and_prints() -> None:
    """No script, picture or style sheet from elsewhere; two charts; a print layout."""
    page = plan_html(knowledge(), plan(), list(outlooks()))
    reader = Links()
    reader.feed(page)
    assert reader.loads == []
    assert page.count("<svg") == 2
    assert "@media print" in page


def test_what_the_user_typed_is_escaped() -> None:
    """A lawn's name cannot put markup into the page."""
    wild = replace(plan(), lawn=replace(plan().lawn, name="<script>alert(1)</script>"))
    assert "<script>" not in plan_html(knowledge(), wild, [])


def test_the_page_names_every_visit_weed_and_bar() -> None:
    """Nothing of the plan is lost on the way to the page."""
    page = plan_html(knowledge(), plan(), list(outlooks()))
    namer = Namer(knowledge())
    for visit in plan().visits:
        for action in visit.actions:
            assert namer.control(action.control) in page
    for row in plan().never:
        assert namer.control(row.control) in page


def test_a_chart_is_valid_xml_and_stays_in_its_frame() -> None:
    """The SVG parses; every point of a band lies inside the picture."""
    for outlook in outlooks():
        root = ET.fromstring(outlook_svg(outlook))  # noqa: S314 - our own text
        for shape in root.iter("polygon"):
            for point in shape.attrib["points"].split():
                x, y = (float(part) for part in point.split(","))
                assert 0 <= x <= 640
                assert 0 <= y <= 240


def test_the_calendar_holds_each_visit_as_whole_days() -> None:
    """All-day stretches; the end is the day after the last one (RFC 5545, 3.6.1)."""
    events = list(Calendar.from_ical(plan_ics(knowledge(), plan(), STAMP)).walk("VEVENT"))
    assert len(events) == len(plan().visits)
    for event, visit in zip(events, plan().visits, strict=True):
        assert event.decoded("dtstart") == visit.first
        assert event.decoded("dtend") == visit.last + timedelta(days=1)
        assert isinstance(event.decoded("dtstart"), date)


def test_a_second_export_updates_the_first() -> None:
    """Ids hang on the lawn and what is done, not on the day; a later export carries a higher sequence."""
    assert len(set(visit_uids(plan()))) == len(plan().visits)
    moved = replace(plan(), visits=tuple(replace(v, first=v.first + timedelta(days=3)) for v in plan().visits))
    assert visit_uids(moved) == visit_uids(plan())
    later = Calendar.from_ical(plan_ics(knowledge(), plan(), STAMP + timedelta(days=1)))
    first = Calendar.from_ical(plan_ics(knowledge(), plan(), STAMP))
    assert later.walk("VEVENT")[0]["sequence"] > first.walk("VEVENT")[0]["sequence"]


def test_the_record_sheet_flags_what_is_empty_and_is_no_advice() -> None:
    """Mandatory empty fields carry a mark; the sheet defers to the state's office."""
    text = record_text(knowledge(), plan_records(knowledge(), plan()), Style(width=100))
    assert "! EPA registration number: ________" in text
    assert "No legal advice" in text
    assert "KEEP CHILDREN AND PETS OFF" in text


def test_the_outlook_is_told_with_its_assumptions() -> None:
    """Both scenarios, and every assumption in a sentence of its own."""
    text = outlook_text(knowledge(), list(outlooks()), Style(width=100))
    assert "Nothing is done" in text
    assert "With this plan" in text
    for outlook in outlooks():
        assert all(has_words(step.rule) for step in outlook.assumptions)


@pytest.mark.parametrize("width", [40, 120])
def test_starts_are_told_on_a_narrow_and_a_wide_line(width: int) -> None:
    """One block a start, within the width."""
    rows = compare_starts(knowledge(), plan().lawn, (plan().lawn.on, date(2026, 9, 1)))
    text = starts_text(knowledge(), rows, Style(width=width))
    assert "1 September 2026" in text
    assert max(len(line) for line in text.splitlines()) <= width
    assert [row["start"] for row in starts_json(knowledge(), rows)] == ["2026-06-03", "2026-09-01"]
