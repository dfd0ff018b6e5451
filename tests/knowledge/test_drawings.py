"""The files of drawings: complete, checked with line and words, the same from the compiled file."""

from __future__ import annotations

import json
from dataclasses import fields
from pathlib import Path

import pytest

from weedkey.knowledge import drawings as shelf
from weedkey.knowledge import load
from weedkey.knowledge.checks import check_all, check_file
from weedkey.knowledge.checks.schema import read_schema
from weedkey.knowledge.locate import shipped_folder
from weedkey.model.drawing import Drawing, TraitDrawings

KNOWLEDGE = load()
FILES = shelf.drawing_files(shipped_folder())
#: Looks that no line drawing can show: colour, gloss, feel, smell, time, place, size beside the turf.
NOT_DRAWN = {
    "base_colour",
    "flower_colour",
    "ground",
    "growth_against_turf",
    "leaf_gloss",
    "leaf_surface",
    "light",
    "moisture",
    "odour",
    "plant_colour",
    "sap",
    "season_noticed",
    "seedhead_colour",
    "seeds_below_mower",
    "stem_colour",
    "stem_texture",
    "texture_against_turf",
    "winter_look",
}
GOOD = """# yaml-language-server: $schema=../schema/drawing.schema.json
trait: vernation
sources: [from_memory]
drawings:
  - state: rolled
    shows: a ring
    strokes: ["M 4 4 L 8 8"]
  - state: folded
    shows: a fold
    fills: ["M 4 4 L 8 8 L 4 8 Z"]
"""


def test_every_look_of_shape_is_drawn() -> None:
    """Only looks that a line cannot show are without drawings."""
    assert {file.stem for file in FILES} == set(KNOWLEDGE.traits) - NOT_DRAWN


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_every_state_is_drawn_once(file: Path) -> None:
    """No state of a drawn look is without a drawing; each says what it shows."""
    drawings = shelf.read_drawings(file)
    assert sorted(one.state for one in drawings.drawings) == sorted(KNOWLEDGE.traits[drawings.trait].state_ids)
    assert check_file(file, KNOWLEDGE) == []


def test_no_two_states_say_that_they_show_the_same() -> None:
    """Those who hear the drawings can tell them apart too."""
    for drawings in map(shelf.read_drawings, FILES):
        said = [one.shows for one in drawings.drawings]
        assert len(set(said)) == len(said), drawings.trait


@pytest.mark.parametrize(
    ("change", "check", "said"),
    [
        (("trait: vernation", "trait: vernatoin"), "drawing-trait", "there is no trait 'vernatoin'"),
        (("state: folded", "state: rolled"), "drawing-state", "the state 'rolled' is drawn twice"),
        (("state: folded", "state: creased"), "drawing-state", "vernation has no state 'creased'"),
        (("state: folded", "state: rolled"), "drawing-state", "the state 'folded' is not drawn"),
        (("M 4 4 L 8 8 L", "M 4 4 L 80 8 L"), "drawing-path", "the path leaves the box at 80.0 8.0"),
        (("M 4 4 L 8 8 L", "M 4 4 l 8 8 L"), "drawing-path", "neither a number"),
        (('"M 4 4 L 8 8"', '"M 4 4"'), "drawing-path", "the path draws nothing"),
        (("from_memory", "some_book"), "source-unknown", "there is no source 'some_book'"),
        (("sources: [from_memory]\n", ""), "fact-without-source", "names no source"),
        (("    shows: a ring\n", ""), "entry-missing-key", "'shows' is missing"),
        (('    strokes: ["M 4 4 L 8 8"]\n', ""), "entry-value", "nothing is drawn"),
        (("strokes:", "stroke:"), "entry-unknown-key", "'stroke' is not a key here"),
    ],
)
def test_what_is_wrong_is_named(tmp_path: Path, change: tuple[str, str], check: str, said: str) -> None:
    """The check has its id, the line of the fault and plain words."""
    file = tmp_path / "drawings" / "vernation.yaml"
    file.parent.mkdir()
    file.write_text(GOOD, encoding="utf-8")
    assert check_file(file, KNOWLEDGE) == []
    file.write_text(GOOD.replace(*change), encoding="utf-8")
    issues = check_file(file, KNOWLEDGE)
    assert any(issue.check == check and said in issue.wrong and issue.where.line for issue in issues), issues


def test_the_check_of_the_whole_folder_reads_drawings(tmp_path: Path) -> None:
    """``weedkey check FOLDER`` names a broken drawing too."""
    for name in ("traits.yaml", "sources.yaml", "conditions.yaml"):
        (tmp_path / name).write_bytes((shipped_folder() / name).read_bytes())
    (tmp_path / "drawings").mkdir()
    (tmp_path / "drawings" / "vernation.yaml").write_text(GOOD.replace("L 8 8 L", "L 8 99 L"), encoding="utf-8")
    assert [issue.check for issue in check_all(tmp_path) if issue.severity == "error"] == ["drawing-path"]


def test_the_schema_has_the_keys_of_the_model() -> None:
    """Keys and required keys of the file are those of the classes."""
    schema = read_schema("drawing")
    assert set(schema["properties"]) == {item.name for item in fields(TraitDrawings)} == set(schema["required"])
    row = schema["$defs"]["Drawing"]
    assert set(row["properties"]) == {item.name for item in fields(Drawing)}
    assert set(row["required"]) == {"state", "shows"}


def test_the_compiled_file_gives_the_same_drawings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What an installed package reads equals the YAML files; without the file there are words only."""
    expected = {file.stem: shelf.read_drawings(file) for file in FILES}
    compiled = tmp_path / "_drawings.json"
    compiled.write_text(shelf.compile_drawings(shipped_folder()), encoding="utf-8")
    assert set(json.loads(compiled.read_text(encoding="utf-8"))) == set(expected)
    monkeypatch.setattr(shelf, "COMPILED", compiled)
    monkeypatch.setattr(shelf.locate, "is_installed", bool)
    try:
        shelf._compiled.cache_clear()
        shelf.drawings_of.cache_clear()
        assert {trait: shelf.drawings_of(trait) for trait in expected} == expected
        assert shelf.drawings_of("sap") is None
        compiled.unlink()
        shelf._compiled.cache_clear()
        shelf.drawings_of.cache_clear()
        assert shelf.drawings_of("ligule") is None
    finally:
        monkeypatch.undo()
        shelf._compiled.cache_clear()
        shelf.drawings_of.cache_clear()
