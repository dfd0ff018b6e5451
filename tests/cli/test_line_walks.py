"""Line by line: a saved walk is found and taken up again, what was put on is written down, a change is taken back."""

from __future__ import annotations

import io

import pytest
from command_cases import Run

from weedkey.knowledge import load
from weedkey.knowledge.lawn_file import read_lawn
from weedkey.knowledge.locate import shipped_folder
from weedkey.storage import list_visits
from weedkey.visit import resume_visit, start_visit


def test_the_whole_job_of_a_second_visit_line_by_line(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """Searched with a slip, walked again without its weeds, a zone added and taken back, a treatment written down."""
    knowledge = load()
    for name in ("gulf_centipedegrass", "tennessee_zoysiagrass"):
        start_visit(read_lawn(shipped_folder() / "demo" / f"{name}.yaml", knowledge))
    answers = ["4", "kelp", "zoisia", "1", "2", "8", "shed", "200", "9", "7", "sulfentrazone", "1", "2026-11-20", "q"]
    monkeypatch.setattr("sys.stdin", io.StringIO("\n".join(answers) + "\n"))
    done = run("--plain")
    assert done.code == 0
    assert "no walk holds 'kelp'" in done.out
    assert "The last change is taken back." in done.out
    visit = resume_visit(list_visits()[0], knowledge)
    assert visit.lawn.turf == "zoysiagrass"
    assert sum(len(zone.findings) for zone in visit.lawn.zones) == 0
    assert [row.control for row in visit.lawn.history] == ["sulfentrazone"]
    assert [zone.name for zone in visit.lawn.zones][-1] == "bank"
    assert len(list_visits()) == 3


def test_a_new_lawn_gets_a_name(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """So that its walks over the years are known as one lawn's."""
    answers = ["1", "2", "1", "1", "5000", "2026-06-03", "new lawn", "Mill street", "q"]
    monkeypatch.setattr("sys.stdin", io.StringIO("\n".join(answers) + "\n"))
    done = run("--plain")
    assert "new lawn is not accepted" in done.out
    assert resume_visit(list_visits()[0], load()).lawn.name == "Mill street"
