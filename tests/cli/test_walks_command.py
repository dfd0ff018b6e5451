"""``weedkey walks``: the saved walks from the command line, and saved walks as lawns of every other command."""

from __future__ import annotations

from pathlib import Path

import pytest
from command_cases import Run

from weedkey.knowledge import load
from weedkey.knowledge.lawn_file import read_lawn
from weedkey.knowledge.locate import shipped_folder
from weedkey.visit import start_visit

NAME = "2026-06-03-valley-rental-zoysiagrass"


@pytest.fixture
def saved(run: Run) -> Run:
    """Two walks are saved."""
    for name in ("gulf_centipedegrass", "tennessee_zoysiagrass"):
        start_visit(read_lawn(shipped_folder() / "demo" / f"{name}.yaml", load()))
    return run


def test_the_list_and_the_search(saved: Run) -> None:
    """Every walk in two lines; a search that finds nothing leaves with 1 and says so."""
    text = " ".join(saved("walks").out.split())
    assert NAME in text
    assert "Murfreesboro, Tennessee · 7 weeds" in text
    assert [row["turf"] for row in saved("walks", "--search", "zoysia nutsege", "--json").json["walks"]] == [
        "zoysiagrass"
    ]
    nothing = saved("walks", "--search", "kelp")
    assert nothing.code == 1
    assert "no walk holds 'kelp'" in nothing.out


def test_no_walk_at_all_is_said(run: Run) -> None:
    """An empty list is a sentence, not a blank."""
    assert run("walks").out == "no walk is saved\n"
    assert run("walks", "--archived").out == "no walk is archived\n"


def test_duplicate_archive_and_bring_back(saved: Run) -> None:
    """A new walk without weeds, with weeds; out of the list and in again."""
    made = saved("walks", NAME, "--duplicate", "--date", "2027-06-01", "--json").json["made"]
    assert made == "2027-06-01-valley-rental-zoysiagrass"
    kept = saved("walks", NAME, "--duplicate", "--keep-weeds", "--date", "2027-06-01", "--json").json["made"]
    counts = {row["name"]: row["findings"] for row in saved("walks", "--json").json["walks"]}
    assert (counts[made], counts[kept], counts[NAME]) == (0, 7, 7)
    assert saved("walks", NAME, "--archive").code == 0
    assert NAME not in saved("walks").out
    assert NAME in saved("walks", "--archived").out
    assert saved("walks", NAME, "--bring-back").code == 0
    assert NAME in saved("walks").out


def test_what_was_put_on_shuts_a_gate_of_the_next_walk(saved: Run) -> None:
    """Written down in one walk, it is in the list of the lawn and in the plan of the next walk."""
    assert saved("walks", NAME, "--applied", "sulfentrazon").code == 2
    words = ("--zone", "Downspout", "--date", "2026-06-10", "--amount", "0.5", "--unit", "fl oz")
    assert saved("walks", NAME, "--applied", "sulfentrazone", *words).code == 0
    assert saved("walks", NAME, "--applied", "sulfentrazone", *words).code == 2
    made = saved("walks", NAME, "--duplicate", "--date", "2026-07-01", "--json").json["made"]
    rows = saved("walks", made, "--treatments", "--json").json["applications"]
    assert rows == [
        {"date": "2026-06-10", "control": "sulfentrazone", "zones": ["downspout"], "amount": 0.5, "unit": "fl oz"}
    ]
    assert saved("plan", f"walk:{made}", "--json").code == 0
    assert saved("ground", f"walk:{made}").code == 0


def test_photos_are_noted_listed_and_missed(saved: Run, tmp_path: Path) -> None:
    """A path of a weed; once it is gone the list says so and leaves with 1."""
    photo = tmp_path / "a.jpg"
    photo.touch()
    words = ("--zone", "drive edge", "--weed", "goosegrass")
    assert saved("walks", NAME, "--photo", str(photo), *words).code == 0
    assert saved("walks", NAME, "--photos", "--json").json["photos"] == [
        {"photo": str(photo), "zone": "drive edge", "weed": "goosegrass", "there": True}
    ]
    photo.unlink()
    done = saved("walks", NAME, "--photos")
    assert done.code == 1
    assert "x  not there" in done.out


def test_export_and_import_with_preview(saved: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The preview writes nothing; --yes does, once."""
    target = tmp_path / "walks.zip"
    assert saved("walks", "--export", str(target)).code == 0
    assert saved("walks", "--export", str(target)).code == 2
    monkeypatch.setenv("WEEDKEY_HOME", str(tmp_path / "other"))
    preview = saved("walks", "--import", str(target))
    assert f"new: {NAME}" in preview.out
    assert "--yes" in preview.out
    assert saved("walks").out == "no walk is saved\n"
    assert len(saved("walks", "--import", str(target), "--yes", "--json").json["written"]) == 2
    assert f"here already: {NAME}" in saved("walks", "--import", str(target), "--yes").out
    assert len(saved("walks", "--json").json["walks"]) == 2


@pytest.mark.parametrize(
    "words",
    [
        ("atlantis",),
        (NAME, "--archive", "--photos"),
        ("--duplicate",),
        (NAME, "--applied", "sulfentrazone", "--zone", "moon"),
        (NAME, "--applied", "sulfentrazone", "--amount", "-1", "--unit", "oz"),
        (NAME, "--applied", "sulfentrazone", "--date", "2026-02-30"),
        (NAME, "--photo", "none.jpg"),
        ("--import", "none.zip"),
    ],
    ids=" ".join,
)
def test_what_cannot_be_is_refused_and_changes_nothing(saved: Run, tmp_path: Path, words: tuple[str, ...]) -> None:
    """Exit code 2, what is accepted on standard error, every file as before."""
    before = {file: file.read_bytes() for file in (tmp_path / "home" / "state").rglob("*") if file.is_file()}
    done = saved("walks", *words)
    assert done.code == 2
    assert done.err
    assert done.out == ""
    assert {file: file.read_bytes() for file in (tmp_path / "home" / "state").rglob("*") if file.is_file()} == before


def test_an_unknown_walk_is_met_with_the_nearest(saved: Run) -> None:
    """As for every name."""
    assert NAME in saved("plan", "walk:valley").err
