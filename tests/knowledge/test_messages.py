"""One mistake a file: the message must name the place and hold the words that help."""

from __future__ import annotations

from pathlib import Path

import pytest
from knowledge_cases import write_knowledge

from weedkey.knowledge import check_file
from weedkey.model.base import Knowledge

BROKEN = sorted((Path(__file__).parents[1] / "broken").glob("*.yaml"))


@pytest.mark.parametrize("file", BROKEN, ids=lambda file: file.stem)
def test_a_mistake_is_named_with_its_place_and_what_to_write(file: Path, small: Knowledge, tmp_path: Path) -> None:
    """The words of the file's own comment stand in the messages, each message has a line, and nothing else is wrong."""
    text = file.read_text(encoding="utf-8")
    wanted = text.partition("# words: ")[2].partition("\n")[0].split(" | ")
    assert wanted != [""], "the file says what its message must hold"
    root = write_knowledge(tmp_path)
    path = root / ("lawn.yaml" if file.stem.startswith("lawn") else "weeds/test_weed.yaml")
    path.write_text(text, encoding="utf-8")
    errors = [issue for issue in check_file(path, small) if issue.severity == "error"]
    said = "\n".join(map(str, errors))
    assert [words for words in wanted if words not in said] == [], said
    assert all(issue.where.line for issue in errors)
    assert len({issue.where.line for issue in errors}) == 1, said


@pytest.mark.parametrize("kind", ["weed", "lawn"])
def test_the_same_file_without_its_mistake_has_no_error(kind: str, small: Knowledge, tmp_path: Path) -> None:
    """A broken file put right passes, so that each message above comes from its one mistake."""
    text = next(file for file in BROKEN if file.stem == f"{kind}_unknown_key").read_text(encoding="utf-8")
    root = write_knowledge(tmp_path)
    path = root / ("lawn.yaml" if kind == "lawn" else "weeds/test_weed.yaml")
    right = {"lawn": ("\ngrwth:", "\ngrowth:"), "weed": ("\nalso_caled:", "\nalso_called:")}[kind]
    assert right[0] in text
    path.write_text(text.replace(*right), encoding="utf-8")
    assert [issue for issue in check_file(path, small) if issue.severity == "error"] == []
