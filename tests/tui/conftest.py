"""Walks of the tests are kept in a folder of the test; the surroundings are always the same."""

from __future__ import annotations

from pathlib import Path

import pytest


@pytest.fixture(autouse=True)
def own_home(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """A home without walks; no slow line, colour wanted."""
    monkeypatch.setenv("WEEDKEY_HOME", str(tmp_path / "home"))
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.delenv("SSH_CONNECTION", raising=False)
    return tmp_path / "home"
