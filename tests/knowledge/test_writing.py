"""Templates that explain themselves, saving only what passes, editing that keeps comments."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from weedkey.cli.main import main
from weedkey.errors import KnowledgeError, UsageError
from weedkey.knowledge import load
from weedkey.knowledge.checks.schema import read_schema
from weedkey.knowledge.comments import edited_text
from weedkey.knowledge.strict_yaml import parse_document
from weedkey.knowledge.writing import edit_local, make_id, new_entry_text, save_local

VALUES = {
    "name": "test weed",
    "scientific": "Testus herba",
    "family": "Poaceae",
    "group": "grassy",
    "growth_season": "warm",
    "life_cycle": [{"kind": "perennial", "sources": ["from_memory"]}],
    "looks": {"plant_group": [{"state": "grassy", "sources": ["from_memory"]}]},
    "calendar": [{"germinates": [[4, 7], ["09-15", "10-01"]], "sources": ["from_memory"]}],
    "note": 'colon: and "quotes", no',
}


@pytest.mark.parametrize("kind", ["weed", "control", "place", "turf"])
def test_a_template_explains_every_key_of_the_schema(kind: str) -> None:
    """Each key stands in the template, with the schema's own words above it; required ones stand open."""
    text = new_entry_text(kind, "some_id", {})
    flat = " ".join(line.lstrip("# ").strip() for line in text.splitlines())
    schema = read_schema(kind)
    for key, rule in schema["properties"].items():
        assert rule["description"] in flat
        assert f"\n{key}:" in text if key in schema["required"] else f"\n# {key}:" in text
    value = parse_document(text, "template").value
    assert value == {"id": "some_id", **{key: None for key in schema["required"] if key != "id"}}


def test_values_stand_in_the_template_as_given() -> None:
    """Lists of rows, looks and windows read back as they were given, also texts that YAML would misread."""
    value = parse_document(new_entry_text("weed", "test_weed", VALUES), "template").value
    assert value == {"id": "test_weed", **VALUES}


def test_keys_and_kinds_that_do_not_exist_are_refused() -> None:
    """A misspelled key lists the right ones."""
    with pytest.raises(UsageError, match="not a key of a weed"):
        new_entry_text("weed", "a", {"famly": "x"})
    with pytest.raises(UsageError, match="cannot be added"):
        new_entry_text("trait", "a", {})
    assert make_id("St. Augustine's  Grass") == "st_augustine_s_grass"
    with pytest.raises(UsageError):
        make_id("???")


def test_saving_checks_first_and_never_overwrites(tmp_path: Path) -> None:
    """A sound text is saved and loaded; a second time only with replace; a broken one writes nothing."""
    text = new_entry_text("weed", "test_weed", VALUES)
    path = save_local("weed", text, tmp_path)
    assert path == tmp_path / "weeds/test_weed.yaml"
    assert load(tmp_path).weeds["test_weed"].local
    with pytest.raises(UsageError, match="there already"):
        save_local("weed", text, tmp_path)
    broken = text.replace("group: grassy", "group: grasy")
    with pytest.raises(KnowledgeError, match=r"test_weed.yaml:\d+:1 group"):
        save_local("weed", broken, tmp_path, replace=True)
    assert path.read_text(encoding="utf-8") == text
    save_local("weed", text.replace("test weed", "better weed"), tmp_path, replace=True)
    assert load(tmp_path).weeds["test_weed"].name == "better weed"
    assert sorted(file.name for file in tmp_path.rglob("*")) == ["test_weed.yaml", "weeds"]


@pytest.mark.parametrize("text", ["", "a: [", "id: ../evil\n", "id: 7\n", "name: x\n", "- id\n"])
def test_a_text_without_a_usable_id_is_refused(tmp_path: Path, text: str) -> None:
    """No id, no file; an id is never a path."""
    with pytest.raises(KnowledgeError):
        save_local("weed", text, tmp_path)
    assert list(tmp_path.rglob("*")) == []


def test_editing_keeps_comments_quotes_and_order() -> None:
    """Only the changed lines differ."""
    old = (
        "# mine\nid: a # stays\nname: 'quoted'\nlooks:\n  # seen in June\n  ligule:\n"
        "    - {state: hairs, sources: [x]}\nnuisance: 2\n"
    )
    new = edited_text(
        old,
        {"nuisance": 3, "looks.stem_section": [{"state": "round", "sources": ["from_memory"]}], "note": "a: b"},
    )
    kept = [line for line in old.splitlines() if line not in new.splitlines()]
    assert kept == ["nuisance: 2"]
    added = [line for line in new.splitlines() if line not in old.splitlines()]
    assert added == [
        "  stem_section:",
        "    - {state: round, sources: [from_memory]}",
        "nuisance: 3",
        'note: "a: b"',
    ]
    assert "nuisance" not in edited_text(new, {"nuisance": None})


def test_editing_a_shipped_entry_makes_a_file_with_the_change_only(tmp_path: Path) -> None:
    """The override names the id and the fact; a wrong fact writes nothing."""
    path = edit_local("weed", "goosegrass", {"nuisance": 1}, tmp_path)
    assert parse_document(path.read_text(encoding="utf-8"), "x").value == {"id": "goosegrass", "nuisance": 1}
    assert load(tmp_path).weeds["goosegrass"].nuisance == 1
    with pytest.raises(KnowledgeError, match="outside the range"):
        edit_local("weed", "goosegrass", {"nuisance": 4}, tmp_path)
    assert load(tmp_path).weeds["goosegrass"].nuisance == 1


def test_the_command_writes_a_template_and_says_what_is_empty(tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    """Template, then a change of it, then the name is taken; --show writes nothing."""
    own = str(tmp_path / "own")
    assert main(["add", "place", "My Town", "--show", "--local", own]) == 0
    assert not (tmp_path / "own").exists()
    assert "id: my_town" in capsys.readouterr().out
    assert main(["add", "place", "My Town", "--local", own, "--set", "region=southeast"]) == 0
    said = capsys.readouterr().out
    assert "still empty: latitude, longitude, monthly, sources" in said
    assert main(["add", "place", "My Town", "--local", own]) == 2
    assert main(["check", f"{own}/places/my_town.yaml"]) == 1
    assert "latitude: the key has no value" in capsys.readouterr().out


def test_the_command_refuses_a_wrong_value_and_writes_nothing(tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    """Exit 1 for a problem of the entry, 2 for one of the command line."""
    own = str(tmp_path)
    assert main(["add", "weed", "x weed", "--set", "group=grasy", "--local", own]) == 1
    assert "Write grassy" in capsys.readouterr().err
    assert main(["add", "weed", "goosegrass", "--local", own]) == 2
    assert main(["add", "weed", "x weed", "--set", "group", "--local", own]) == 2
    assert main(["add", "weed", "x weed", "--set", "grp=grassy", "--local", own]) == 2
    assert main(["add", "weed", "--from", str(tmp_path / "none.yaml"), "--local", own]) == 2
    assert main(["add", "weed", "--local", own]) == 2
    assert list(tmp_path.iterdir()) == []


def test_the_command_proposes_look_alikes(tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    """A copy of goosegrass with another ligule is like goosegrass and differs only in that look."""
    goosegrass = load().weeds["goosegrass"]
    words = ["add", "weed", "goose twin", "--local", str(tmp_path), "--json", "--from-memory"]
    words += ["--set", "group=grassy"]
    for trait, seen in goosegrass.looks.items():
        state = max(seen, key=lambda row: 1.0 if row.share is None else row.share).state
        words += ["--set", f"looks.{trait}={'absent' if trait == 'ligule' else state!r}"]
    assert main(words) == 0
    first = json.loads(capsys.readouterr().out)["look_alikes"][0]
    assert first["weed"] == "goosegrass"
    assert first["differs"] == ["ligule"]


def test_the_command_saves_a_file_after_its_checks(tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    """A whole file is checked, saved once, and replaced only when told so."""
    file, own = tmp_path / "any.yaml", tmp_path / "own"
    file.write_text(new_entry_text("weed", "test_weed", VALUES), encoding="utf-8")
    words = ["add", "weed", "--from", str(file), "--local", str(own)]
    assert main(words) == 0
    assert (own / "weeds/test_weed.yaml").read_bytes() == file.read_bytes()
    assert main(words) == 2
    assert main([*words, "--replace"]) == 0
    assert main(["add", "weed", "other name", "--from", str(file), "--local", str(own)]) == 2
    file.write_text("id: test_weed\nname: x\n", encoding="utf-8")
    assert main([*words, "--replace"]) == 1
    assert "Nothing was written" in capsys.readouterr().err
