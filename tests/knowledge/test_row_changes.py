# ruff: noqa: E501 - rows of YAML are not broken
"""Single rows of a list of facts in a local file: changed, added, removed, and never the wrong one."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from weedkey.knowledge import load
from weedkey.knowledge.checks import check_all
from weedkey.knowledge.checks.change_schema import CHANGEABLE, change_schema
from weedkey.knowledge.checks.run import check_local
from weedkey.knowledge.checks.schema import schema_folder
from weedkey.knowledge.entries import KINDS
from weedkey.knowledge.locate import shipped_folder
from weedkey.knowledge.row_changes import ROW_KEYS, field_keys, row_class_or_none

HEAD = "id: goosegrass\n"
SEEN = 'seen: [{on: "2026-06-01", place: the north lawn}]\n'


@pytest.fixture
def own(tmp_path: Path) -> Path:
    """An empty folder of the user's own entries."""
    (tmp_path / "own/weeds").mkdir(parents=True)
    (tmp_path / "own/controls").mkdir()
    return tmp_path / "own"


def _issues(root: Path, own: Path) -> list[str]:
    return [str(issue) for issue in check_all(root, own) if "own" in issue.where.path and issue.severity == "error"]


def test_one_row_is_changed_and_the_others_stay(root: Path, own: Path) -> None:
    """One state of a look, and one response; both with their own source."""
    text = (
        "change:\n  looks:\n    stem_section:\n"
        "      - {row: {state: round}, to: {often: often, sources: [seen_by_user]}}\n"
        "  responses:\n    - {row: {control: 2_4_d, timing: post_emergence}, to: {result: poor, sources: [from_memory]}}\n"
    )
    (own / "weeds/goosegrass.yaml").write_text(HEAD + SEEN + text, encoding="utf-8")
    shipped, found = load(None, root).weeds["goosegrass"], load(own, root).weeds["goosegrass"]
    assert found.local
    assert found.looks["stem_section"][0] == shipped.looks["stem_section"][0]
    assert (found.looks["stem_section"][1].share, found.looks["stem_section"][1].sources) == (0.6, ("seen_by_user",))
    assert (found.responses[0].result, found.responses[0].percent) == ("poor", (0.0, 5.0))
    assert found.looks["ligule"] == shipped.looks["ligule"]
    assert _issues(root, own) == []


def test_rows_are_added_and_removed(root: Path, own: Path) -> None:
    """A row more, a row less, a name more; a look that loses its last row is gone."""
    text = (
        "add_to:\n  signs:\n    - {condition: compacted, against: true, sources: [from_memory]}\n  also_called: [crow foot]\n"
        "remove_from:\n  signs:\n    - {condition: compacted}\n  looks:\n    ligule: [{state: membrane}]\n"
        "  look_alikes: [{weed: bermudagrass_weed}]\n"
    )
    (own / "weeds/goosegrass.yaml").write_text(HEAD + text, encoding="utf-8")
    assert load(own, root).left_out == ()
    found = load(own, root).weeds["goosegrass"]
    assert [(sign.condition, sign.against) for sign in found.signs] == [("compacted", True)]
    assert found.also_called == ("silver crabgrass", "crow foot")
    assert "ligule" not in found.looks
    assert found.look_alikes == ()


def test_a_tolerance_row_is_met_by_turf_and_circumstance(root: Path, own: Path) -> None:
    """Of two rows for one turf the one with the same circumstances is meant."""
    change = "{row: {turf: zoysiagrass, when: {growth: [growing], stand: [established]}}, to: {result: caution, sources: [from_memory]}}"
    (own / "controls/2_4_d.yaml").write_text(f"id: 2_4_d\nchange:\n  tolerance:\n    - {change}\n", encoding="utf-8")
    rows = load(own, root).controls["2_4_d"].tolerance
    assert [row.result for row in rows] == ["caution", "injures"]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("change:\n  signs:\n    - {row: {condition: shade}, to: {strength: weak, sources: [from_memory]}}\n", "no row has condition shade"),
        ("change:\n  signs:\n    - {row: {condition: compacted}, to: {strength: weak}}\n", "names no source of its own"),
        ("change:\n  signs:\n    - {condition: compacted, strength: weak}\n", "which row, and what it becomes"),
        ("change:\n  nuisance: 2\n", "a list of rows"),
        ("change: [a]\n", "the name of a list"),
        ("change:\n  sings:\n    - {row: {a: b}, to: {sources: [x]}}\n", "Write signs"),
        ("add_to:\n  signs:\n    - {condition: compakted, sources: [from_memory]}\n", "add_to.signs[0].condition"),
        ("change:\n  signs:\n    - {row: {condition: compacted}, to: {strength: wek, sources: [from_memory]}}\n", "change.signs[0].to.strength"),
        ("signs:\n  - {condition: shade, sources: [from_memory]}\nadd_to:\n  signs:\n    - {condition: shade, sources: [from_memory]}\n", "stands whole"),
        ("remove_from:\n  life_cycle:\n    - {kind: summer_annual}\n", "'life_cycle' is missing"),
        ("spread: {by: [rhizomes]}\n", "names no source of its own"),
        ("add_to:\n  signs:\n    - {condition: shade, sources: [seen_by_user]}\n", "when and where"),
    ],
)  # fmt: skip
def test_a_change_that_does_not_fit_is_named_and_left_out(root: Path, own: Path, text: str, said: str) -> None:
    """The message says where in the local file; the shipped entry stays as it was."""
    (own / "weeds/goosegrass.yaml").write_text(HEAD + text, encoding="utf-8")
    found = load(own, root)
    assert any(said in str(issue) and "goosegrass.yaml:" in str(issue) for issue in found.left_out), found.left_out
    assert found.weeds["goosegrass"] == load(None, root).weeds["goosegrass"]
    assert any(said in issue for issue in _issues(root, own))


def test_two_rows_with_the_same_keys_are_never_guessed(root: Path, own: Path) -> None:
    """The message says which further key tells the rows apart."""
    file = root / "weeds/goosegrass.yaml"
    row = '  - {control: 2_4_d, result: poor, year: "2019", sources: [uni_turf]}\n'
    file.write_text(file.read_text(encoding="utf-8").replace("responses:\n", f"responses:\n{row}"), encoding="utf-8")
    change = "change:\n  responses:\n    - {row: {control: 2_4_d}, to: {result: good, sources: [from_memory]}}\n"
    (own / "weeds/goosegrass.yaml").write_text(HEAD + change, encoding="utf-8")
    (issue,) = load(own, root).left_out
    assert "2 rows have control 2_4_d" in str(issue)
    assert "year" in issue.write
    (own / "weeds/goosegrass.yaml").write_text(
        HEAD + change.replace("control: 2_4_d}", 'control: 2_4_d, year: "2019"}'), encoding="utf-8"
    )
    assert [row.result for row in load(own, root).weeds["goosegrass"].responses] == ["good", "none"]


def test_rows_of_an_entry_of_ones_own_are_written_whole(root: Path, own: Path) -> None:
    """Nothing is shipped under this id, so there is no row to change."""
    (own / "weeds/newweed.yaml").write_text("id: newweed\nadd_to:\n  signs: [{condition: shade}]\n", encoding="utf-8")
    (issue,) = load(own, root).left_out
    assert "no shipped weed is called 'newweed'" in str(issue)


def test_the_example_of_the_guide_holds(tmp_path: Path) -> None:
    """The file that the guide shows changes the shipped goosegrass without any problem."""
    guide = (Path(__file__).parents[2] / "docs/knowledge-guide.md").read_text(encoding="utf-8")
    text = guide[guide.index("# weeds/goosegrass.yaml in your own folder") :].partition("```")[0]
    (tmp_path / "weeds").mkdir()
    (tmp_path / "weeds/goosegrass.yaml").write_text(text, encoding="utf-8")
    found = load(tmp_path)
    assert found.left_out == ()
    assert found.weeds["goosegrass"].local
    assert [issue for issue in check_local(tmp_path, load(), shipped_folder()) if issue.severity == "error"] == []


def test_the_schemas_of_changes_are_fresh() -> None:
    """Files made from the entry's own schema equal what it says now."""
    for kind in CHANGEABLE:
        file = schema_folder() / f"change_{kind}.schema.json"
        assert json.loads(file.read_text(encoding="utf-8")) == change_schema(kind), (
            f"run the module change_schema: {kind}"
        )


def test_the_own_keys_of_rows_exist() -> None:
    """A key that no row has would tell nothing apart."""
    for name, keys in ROW_KEYS.items():
        path = (name, "x") if name == "looks" else (name,)
        classes = [row_class_or_none(kind.model, path) for kind in KINDS.values() if not kind.one_file]
        found = [kind for kind in classes if kind is not None]
        assert found, name
        assert all(set(keys) <= set(field_keys(kind)) for kind in found if kind is not str), name
