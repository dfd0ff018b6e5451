"""``weedkey plan``: sheets, files, amounts, starts, and many lawns that survive a bad record and a broken run."""

from __future__ import annotations

import json
from pathlib import Path

from command_cases import Run

LAWN = "demo:tennessee_zoysiagrass"
GOOD = {
    "name": "small",
    "date": "2026-06-03",
    "turf": "zoysiagrass",
    "site": "home_lawn",
    "place": "Murfreesboro",
    "zones": [{"name": "all", "area_sqft": 1000, "weeds": [{"weed": "goosegrass", "cover": 10}]}],
}


def test_page_and_calendar_are_written(run: Run, tmp_path: Path) -> None:
    """--html and --ics write their files beside the sheet."""
    done = run("plan", LAWN, "--owner", "--html", str(tmp_path / "p.html"), "--ics", str(tmp_path / "p.ics"))
    assert done.code == 0
    assert (tmp_path / "p.html").read_text(encoding="utf-8").startswith("<!doctype html>")
    assert (tmp_path / "p.ics").read_bytes().startswith(b"BEGIN:VCALENDAR\r\n")


def test_json_holds_what_is_asked_beside_the_plan(run: Run) -> None:
    """The keys of the plan stay; records, outlook, amounts and starts come beside them."""
    words = ("--json", "--record", "--amounts", "--outlook", "--compare", "2026-06-03")
    value = json.loads(run("plan", LAWN, *words).out)
    assert {"verdicts", "lawn_verdict", "visits", "never", "owner", "unsettled"} <= set(value)
    assert [row["scenario"] for row in value["outlook"]] == ["nothing", "plan", "wait"]
    assert value["records"]
    assert value["starts"][0]["start"] == "2026-06-03"
    assert value["amounts"] == []


def test_amounts_come_from_the_typed_rate_only(run: Run, tmp_path: Path) -> None:
    """Without a typed rate none; with one, product for the zone and the tanks."""
    plan = json.loads(run("plan", LAWN, "--json").out)
    control = next(a["control"] for v in plan["visits"] for a in v["actions"] if a["use"] == "lawn")
    path = tmp_path / "lawn.yaml"
    demo = run("demo", "tennessee_zoysiagrass").out
    path.write_text(demo + f"label_rates:\n  - {{control: {control}, amount: 0.5, unit: fl oz, per: 1000 sq ft}}\n")
    value = json.loads(run("plan", str(path), "--json", "--amounts", "--carrier", "1", "--tank", "2").out)
    assert {row["control"] for row in value["amounts"]} == {control}
    assert value["amounts"][0]["tanks"]["water_gal"] == value["amounts"][0]["area_sqft"] / 1000


def test_no_lawn_and_odd_numbers_are_refused(run: Run) -> None:
    """Usage errors say what is accepted."""
    assert run("plan").code == 2
    assert run("plan", LAWN, "--months", "99").code == 2
    assert run("plan", LAWN, "--amounts", "--start", "2026-02-30").code == 2


def write_lines(path: Path, rows: list[object]) -> None:
    """One record a line."""
    path.write_text(
        "".join((row if isinstance(row, str) else json.dumps(row)) + "\n" for row in rows), encoding="utf-8"
    )


def test_a_bad_record_is_named_by_its_line_and_the_rest_goes_on(run: Run, tmp_path: Path) -> None:
    """Line 2 is no lawn: the others are planned, the exit code is 1."""
    write_lines(tmp_path / "in.jsonl", [GOOD, {"name": "no turf"}, GOOD])
    done = run("plan", "--batch", str(tmp_path / "in.jsonl"))
    rows = [json.loads(line) for line in done.out.splitlines()]
    assert [(row["line"], "plan" in row) for row in rows] == [(1, True), (2, False), (3, True)]
    assert ":2:" in done.err
    assert done.code == 1


def test_a_broken_run_goes_on_where_it_stopped(run: Run, tmp_path: Path) -> None:
    """Lines already written are kept, a torn last line is done again."""
    write_lines(tmp_path / "in.jsonl", [GOOD, GOOD, GOOD])
    out = tmp_path / "out.jsonl"
    out.write_text('{"line": 1, "plan": "kept"}\n{"line": 2, "pl', encoding="utf-8")
    assert run("plan", "--batch", str(tmp_path / "in.jsonl"), "--out", str(out)).code == 0
    rows = [json.loads(line) for line in out.read_text(encoding="utf-8").splitlines()]
    assert [row["line"] for row in rows] == [1, 2, 3]
    assert rows[0]["plan"] == "kept"


def test_two_processes_give_the_same_as_one(run: Run, tmp_path: Path) -> None:
    """Order and content do not hang on --jobs."""
    write_lines(tmp_path / "in.jsonl", [GOOD, GOOD])
    one = run("plan", "--batch", str(tmp_path / "in.jsonl"), "--out", str(tmp_path / "1.jsonl"))
    two = run("plan", "--batch", str(tmp_path / "in.jsonl"), "--jobs", "2", "--out", str(tmp_path / "2.jsonl"))
    assert (one.code, two.code) == (0, 0)
    assert (tmp_path / "1.jsonl").read_text() == (tmp_path / "2.jsonl").read_text()
