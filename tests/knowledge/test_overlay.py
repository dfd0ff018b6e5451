"""The user's own entries: they add, they change one fact, and a broken one is left out and named."""

from __future__ import annotations

from pathlib import Path

import pytest
from knowledge_cases import WEEDS

from weedkey.errors import KnowledgeError
from weedkey.knowledge import find_entry, load, search


@pytest.fixture
def local(tmp_path: Path) -> Path:
    """An empty folder of the user's own weeds."""
    (tmp_path / "own/weeds").mkdir(parents=True)
    return tmp_path / "own"


def _write(local: Path, name: str, text: str) -> None:
    (local / f"weeds/{name}.yaml").write_text(text, encoding="utf-8")


def test_a_local_file_adds_an_entry(root: Path, local: Path) -> None:
    """The new weed is found by its name and marked as local; the shipped ones are not."""
    text = WEEDS["white_clover"].replace("white_clover", "red_clover").replace("white clover", "red clover")
    _write(local, "red_clover", text.replace("Trifolium repens", "Trifolium pratense"))
    found = load(local, root)
    assert found.left_out == ()
    assert find_entry(found.weeds, "weed", "Red Clovers").local
    assert not found.weeds["white_clover"].local
    assert [match.id for match in search(found, "red clo")] == ["red_clover"]


def test_a_local_file_changes_one_fact(root: Path, local: Path) -> None:
    """Only the named keys change, one look alone too; the entry is marked as local."""
    _write(
        local,
        "goosegrass",
        "id: goosegrass\nnuisance: 1\nlooks:\n  ligule: [{state: hairs, sources: [from_memory]}]\n",
    )
    shipped, found = load(None, root), load(local, root)
    before, after = shipped.weeds["goosegrass"], found.weeds["goosegrass"]
    assert (before.nuisance, after.nuisance) == (3, 1)
    assert [seen.state for seen in after.looks["ligule"]] == ["hairs"]
    assert after.looks["stem_section"] == before.looks["stem_section"]
    assert after.responses == before.responses
    assert (before.local, after.local) == (False, True)
    assert list(found.weeds) == list(shipped.weeds)


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("goosegrass", "id: goosegrass\nnuisance: 9\n", "outside the range"),
        ("goosegrass", "id: goosegrass\nlooks: {ligule: [{state: nothing, sources: [from_memory]}]}\n", "no state"),
        ("goosegrass", "id: goosegrass\nid: goosegrass\n", "stands twice"),
        ("goosegrass", "id: goosegras\n", "not the name of the file"),
        ("goosegrass", "nuisance: 2\n", "'id' is missing"),
        ("newweed", "id: newweed\nname: new weed\n", "is missing"),
        ("goosegrass", "id: goosegrass\nspread: {by: [seed]}\nnote: ''\n", "the text is empty"),
    ],
)
def test_a_broken_local_file_is_left_out_and_named(root: Path, local: Path, name: str, text: str, said: str) -> None:
    """The shipped entry stays as it was, the problem says where it is, and other local files are used."""
    _write(local, name, text)
    _write(local, "white_clover", "id: white_clover\nnuisance: 1\n")
    found = load(local, root)
    assert any(said in str(issue) and f"{name}.yaml" in issue.where.path for issue in found.left_out)
    assert found.weeds["goosegrass"] == load(None, root).weeds["goosegrass"]
    assert found.weeds["white_clover"].nuisance == 1
    assert "newweed" not in found.weeds


def test_entries_that_lean_on_a_broken_one_are_left_out_too(root: Path, local: Path) -> None:
    """A look-alike that names a local weed which could not be used leads nowhere."""
    _write(local, "first", "id: first\n")
    _write(
        local,
        "white_clover",
        "id: white_clover\nlook_alikes:\n  - {weed: first, tell: all, sources: [from_memory]}\n",
    )
    found = load(local, root)
    assert {Path(issue.where.path).stem for issue in found.left_out} == {"first", "white_clover"}
    assert not found.weeds["white_clover"].local


def test_a_look_keeps_the_states_that_shipped_weeds_use(root: Path, local: Path) -> None:
    """A state may be added or reworded; without one that is in use, the marks of shipped weeds would vanish unseen."""
    states = "[{id: simple, words: one}, {id: three_leaflets, words: three}, {id: many, words: many}]"
    (local / "traits.yaml").write_text(f"traits:\n  - {{id: leaf_type, states: {states}}}\n", encoding="utf-8")
    assert load(local, root).traits["leaf_type"].state_ids == ("simple", "three_leaflets", "many")
    fewer = states.replace("{id: three_leaflets, words: three}, ", "")
    (local / "traits.yaml").write_text(f"traits:\n  - {{id: leaf_type, states: {fewer}}}\n", encoding="utf-8")
    found = load(local, root)
    assert ["three_leaflets" in str(issue) for issue in found.left_out] == [True]
    assert found.traits["leaf_type"].state_ids == ("simple", "three_leaflets")


@pytest.mark.parametrize(
    "content",
    [b"[" * 100_000, b"\xff\xfe", b"", b"- - - " * 3000 + b"x", b"a: &x [1]\nid: e\nlooks: *x\n", b"id: \x07\n"],
)
def test_no_local_file_stops_the_program(root: Path, local: Path, content: bytes) -> None:
    """Nested without end, binary, empty, an alias, a control character; a folder and a link to itself of that name."""
    (local / "weeds/goosegrass.yaml").write_bytes(content)
    (local / "weeds/folder.yaml").mkdir()
    (local / "weeds/loop.yaml").symlink_to("loop.yaml")
    found = load(local, root)
    assert {Path(issue.where.path).stem for issue in found.left_out} == {"goosegrass", "folder", "loop"}
    assert not found.weeds["goosegrass"].local


def test_a_broken_shipped_file_stops_the_program(root: Path) -> None:
    """All problems of all files are named, with exit code 3."""
    (root / "weeds/goosegrass.yaml").write_text("id: goosegrass\n", encoding="utf-8")
    (root / "turfs/tall_fescue.yaml").write_text("id: [\n", encoding="utf-8")
    with pytest.raises(KnowledgeError) as caught:
        load(None, root)
    assert caught.value.exit_code == 3
    assert {Path(issue.where.path).stem for issue in caught.value.issues} == {"goosegrass", "tall_fescue"}
