"""The user's own files: written whole, kept in order, never half."""

from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest

from weedkey import storage


def test_a_written_file_holds_the_text_and_nothing_else_stays(tmp_path: Path) -> None:
    """Folders are made, the text is UTF-8 with plain line breaks, and no temporary file is left."""
    path = tmp_path / "a/b/lawn.yaml"
    storage.write_atomic(path, "name: Käfer\n")
    storage.write_atomic(path, "name: other\r\n")
    assert path.read_bytes() == b"name: other\r\n"
    assert [item.name for item in path.parent.iterdir()] == ["lawn.yaml"]


def test_a_failed_write_keeps_the_old_text(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A full disk at the last moment loses the new text only."""
    path = tmp_path / "lawn.yaml"
    storage.write_atomic(path, "old\n")

    def refuse(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", refuse)
    with pytest.raises(OSError, match="No space"):
        storage.write_atomic(path, "new\n")
    assert path.read_text(encoding="utf-8") == "old\n"
    assert [item.name for item in tmp_path.iterdir()] == ["lawn.yaml"]


@pytest.mark.skipif(os.name == "nt", reason="permissions of another kind")
def test_a_rewritten_file_keeps_its_permissions(tmp_path: Path) -> None:
    """A private file stays private; a new one is as any new file."""
    path = tmp_path / "lawn.yaml"
    storage.write_atomic(path, "a\n")
    plain = tmp_path / "plain"
    plain.touch()
    assert stat.S_IMODE(path.stat().st_mode) == stat.S_IMODE(plain.stat().st_mode)
    path.chmod(0o600)
    storage.write_atomic(path, "b\n")
    assert stat.S_IMODE(path.stat().st_mode) == 0o600


def test_a_journal_gives_back_its_lines_in_order(tmp_path: Path) -> None:
    """Every line is there as soon as the call returns."""
    path = tmp_path / "walks/one.jsonl"
    for line in ("first", "zweite ü", "line\u2028separator\x0b", "last"):
        storage.append_line(path, line)
        assert storage.read_lines(path)[-1] == line
    assert storage.read_lines(path) == ["first", "zweite ü", "line\u2028separator\x0b", "last"]


def test_a_line_cut_off_by_a_crash_is_left_out_and_spoils_nothing(tmp_path: Path) -> None:
    """The torn line is not read, and the next one does not melt into it."""
    path = tmp_path / "one.jsonl"
    storage.append_line(path, "whole")
    with path.open("ab") as file:
        file.write(b'{"half')
    assert storage.read_lines(path) == ["whole"]
    storage.append_line(path, "next")
    assert storage.read_lines(path) == ["whole", '{"half', "next"]


@pytest.mark.parametrize("line", ["a\nb", "a\rb"])
def test_a_journal_line_is_one_line(tmp_path: Path, line: str) -> None:
    """A line break would make two lines of one answer."""
    with pytest.raises(ValueError, match="no line break"):
        storage.append_line(tmp_path / "one.jsonl", line)


def test_one_variable_moves_all_user_folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A copy on a stick keeps its files beside it."""
    monkeypatch.setenv(storage.HOME_VARIABLE, str(tmp_path))
    for folder in (storage.data_folder(), storage.state_folder(), storage.local_entries_folder()):
        assert folder.is_relative_to(tmp_path)
    monkeypatch.delenv(storage.HOME_VARIABLE)
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    for name in ("XDG_DATA_HOME", "XDG_STATE_HOME"):
        monkeypatch.delenv(name, raising=False)
    assert "weedkey" in storage.data_folder().parts
    assert storage.walks_folder().is_relative_to(storage.state_folder())
