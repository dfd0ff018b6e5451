"""A small knowledge for the tests of reading, checking and searching."""

from __future__ import annotations

from pathlib import Path

import pytest
from knowledge_cases import write_knowledge

from weedkey.knowledge.loading import read_folder
from weedkey.model.base import Knowledge


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """A folder with the small knowledge, free to be broken."""
    folder = tmp_path / "knowledge"
    folder.mkdir()
    return write_knowledge(folder)


@pytest.fixture(scope="session")
def small(tmp_path_factory: pytest.TempPathFactory) -> Knowledge:
    """The small knowledge, read once."""
    return read_folder(write_knowledge(tmp_path_factory.mktemp("small")))


@pytest.fixture(autouse=True)
def own_home(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A home of the test, so that what is kept for undo never reaches the user's own folders."""
    home = tmp_path_factory.mktemp("home")
    monkeypatch.setenv("WEEDKEY_HOME", str(home))
    return home
