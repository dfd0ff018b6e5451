"""The compiled bundle: used only while it is fresh, never in the way."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest
from knowledge_cases import edit

from weedkey.knowledge import bundle, locate
from weedkey.knowledge.loading import load, read_folder


def _compile(root: Path, file: Path) -> None:
    knowledge = read_folder(root)
    file.write_text(bundle.compile_text(knowledge, root, bundle.stamp_files(root)), encoding="utf-8")


@pytest.fixture
def file(root: Path, tmp_path: Path) -> Path:
    """A fresh bundle of the small knowledge."""
    path = tmp_path / "bundle.json"
    _compile(root, path)
    return path


def test_the_bundle_gives_the_same_knowledge_as_the_files(root: Path, file: Path) -> None:
    """Every entry of every kind is equal, in the same order, and the file as a whole is JSON."""
    found = bundle.read_fresh_or_none(root, file)
    read = read_folder(root)
    assert found is not None
    for plural in ("weeds", "turfs", "controls", "places", "traits", "conditions", "sources"):
        assert list(getattr(found, plural).items()) == list(getattr(read, plural).items())
    assert found.digest == read.digest
    assert set(json.loads(file.read_text(encoding="utf-8"))) >= {"head", "weeds", "names"}


def test_a_changed_file_makes_the_bundle_stale(root: Path, file: Path) -> None:
    """A changed fact, a new file and a deleted file are each noticed."""
    edit(root / "weeds/goosegrass.yaml", "nuisance: 3", "nuisance: 2")
    assert bundle.read_fresh_or_none(root, file) is None
    _compile(root, file)
    found = bundle.read_fresh_or_none(root, file)
    assert found is not None
    assert found.weeds["goosegrass"].nuisance == 2
    (root / "weeds/white_clover.yaml").unlink()
    assert bundle.read_fresh_or_none(root, file) is None


def test_a_touched_file_with_the_same_content_keeps_the_bundle(root: Path, file: Path) -> None:
    """A fresh checkout changes times only: contents are compared, then the times are noted."""
    os.utime(root / "weeds/goosegrass.yaml", (1, 1))
    assert bundle.read_fresh_or_none(root, file) is not None
    assert json.loads(file.read_text(encoding="utf-8"))["head"]["stamp"] == bundle.stamp_files(root)


@pytest.mark.parametrize("damage", ["version", "format", "cut", "empty", "binary"])
def test_a_damaged_or_foreign_bundle_is_not_used(root: Path, file: Path, damage: str) -> None:
    """Another version, another format, a cut-off file, an empty one, and one that is no text."""
    text = file.read_text(encoding="utf-8")
    if damage in ("version", "format"):
        key = f'"{damage}": '
        start = text.index(key) + len(key)
        file.write_text(text[:start] + '"0.0.none"' + text[text.index(",", start) :], encoding="utf-8")
    elif damage == "binary":
        file.write_bytes(b"\xff\xfe\x00")
    else:
        file.write_text("" if damage == "empty" else text[: len(text) // 2], encoding="utf-8")
    assert bundle.read_fresh_or_none(root, file) is None


def test_a_folder_that_cannot_be_written_costs_only_time(
    root: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Without a place for the bundle the files are read, and the answer is the same."""
    nowhere = tmp_path / "missing" / "bundle.json"
    knowledge = read_folder(root)
    assert bundle.write_if_possible(knowledge, root, bundle.stamp_files(root), nowhere) is False
    assert not nowhere.parent.exists()


def test_load_uses_the_bundle_beside_the_package(root: Path, file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A stale bundle leads back to the files; the next start finds a fresh one."""
    monkeypatch.setattr(locate, "CHECKOUT", root)
    monkeypatch.setattr(locate, "INSTALLED", root / "none")
    written: list[Path] = []
    read_fresh, write = bundle.read_fresh_or_none, bundle.write_if_possible
    monkeypatch.setattr(bundle, "read_fresh_or_none", lambda folder: read_fresh(folder, file))
    monkeypatch.setattr(
        bundle,
        "write_if_possible",
        lambda made, folder, stamp: written.append(file) or write(made, folder, stamp, file),
    )
    assert load().weeds["goosegrass"].nuisance == 3
    assert written == []
    edit(root / "weeds/goosegrass.yaml", "nuisance: 3", "nuisance: 1")
    assert load().weeds["goosegrass"].nuisance == 1
    assert written == [file]
    assert load().weeds["goosegrass"].nuisance == 1
    assert written == [file]
