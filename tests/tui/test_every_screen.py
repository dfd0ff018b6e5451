"""Every screen at three widths as text, and at seven widths against the checklist."""

from __future__ import annotations

import unicodedata
from pathlib import Path

import pytest
from rich.cells import cell_len
from screen_cases import SNAPSHOTS, compare_snapshot, has_sideways_scroll, key_line
from screen_stops import FEATURES, app_for, go_to, path_of, prepare

from weedkey.tui.actions import screen_actions

SIZES = ((40, 24), (80, 24), (120, 40))
WIDTHS = (37, 40, 60, 80, 100, 120, 160)


@pytest.fixture(autouse=True)
def short_paths(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Paths on the screen are the same on every machine."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("WEEDKEY_HOME", "home")


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("feature", FEATURES)
async def test_each_screen_looks_as_stored(feature: str, size: tuple[int, int]) -> None:
    """Text by text; a change shows as a difference of lines."""
    prepare(feature)
    app = app_for(feature)
    async with app.run_test(size=size) as pilot:
        for stop in FEATURES[feature][1]:
            text = await go_to(pilot, app, stop)
            if stop.name:
                compare_snapshot(str(path_of(feature, stop, size[0])), text)


@pytest.mark.parametrize("feature", FEATURES)
async def test_each_screen_fits_every_width(feature: str) -> None:
    """No sideways scrolling, nothing cut, Back, Help and Quit on the key line, its keys in the list of actions."""
    prepare(feature)
    app = app_for(feature)
    async with app.run_test(size=(80, 24)) as pilot:
        for stop in FEATURES[feature][1]:
            await go_to(pilot, app, stop)
            names = [action.name for action in screen_actions(app.screen)]
            assert len(names) == len(set(names)), stop.name
            for width in WIDTHS:
                await pilot.resize_terminal(width, 24)
                await pilot.pause()
                assert not has_sideways_scroll(app), (stop.name, width)
                hint = app.screen.query_one("#hint")
                assert not hint.display or hint.virtual_size.height <= hint.size.height, (stop.name, width)
                line = key_line(app)
                assert line.endswith("q quit"), (stop.name, width, line)
                assert "? help" in line, (stop.name, width, line)
                assert cell_len(line) <= width, (stop.name, width, line)
            await pilot.resize_terminal(80, 24)
            await pilot.pause()


def snapshot_files() -> list[Path]:
    """Every stored text."""
    return sorted(SNAPSHOTS.rglob("*.txt"))


def test_no_snapshot_is_left_over() -> None:
    """Each stored text belongs to a stop."""
    known = {
        SNAPSHOTS / f"{path_of(feature, stop, size[0])}.txt"
        for feature, (_, stops) in FEATURES.items()
        for stop in stops
        for size in SIZES
        if stop.name
    }
    assert set(snapshot_files()) == known


def test_every_character_is_one_cell_wide_and_no_picture_sign() -> None:
    """Box drawing, blocks and letters only: nothing that shifts columns."""
    for file in snapshot_files():
        for letter in set(file.read_text(encoding="utf-8")) - {"\n"}:
            assert cell_len(letter) == 1, (file.name, letter)
            assert unicodedata.east_asian_width(letter) not in "WF", (file.name, letter)
            assert ord(letter) < 0x2600 or 0x2800 <= ord(letter) < 0x2900, (file.name, letter)


def test_no_line_is_wider_than_its_screen() -> None:
    """The number in the name is the width."""
    for file in snapshot_files():
        width = int(file.stem.rpartition("_")[2])
        assert max(cell_len(line) for line in file.read_text(encoding="utf-8").splitlines()) <= width, file.name
