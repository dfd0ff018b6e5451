"""Runs the command line inside the test process, with walks and own entries in a folder of the test."""

from __future__ import annotations

from pathlib import Path

import pytest
from command_cases import Done, Run

from weedkey.cli.main import main


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Run:
    """``run("weed", "goosegrass")`` returns code, output and talk."""
    monkeypatch.setenv("WEEDKEY_HOME", str(tmp_path / "home"))
    monkeypatch.setenv("COLUMNS", "80")

    def call(*words: str) -> Done:
        try:
            code = main(list(words))
        except SystemExit as leaving:
            code = int(leaving.code or 0)
        captured = capsys.readouterr()
        return Done(code, captured.out, captured.err)

    return call
