"""The shipped entries: enough of them, each sound."""

from __future__ import annotations

from weedkey.knowledge import check_all, load
from weedkey.knowledge.locate import shipped_folder
from weedkey.model.vocabulary import CONDITION_IDS


def test_the_shipped_entries_have_no_error() -> None:
    """Strict reading, schema, and every check of the registry."""
    assert [str(issue) for issue in check_all(shipped_folder()) if issue.severity == "error"] == []


def test_there_are_enough_entries() -> None:
    """Weeds, turfs, single ingredients, places and conditions that the program promises."""
    knowledge = load()
    single = [control for control in knowledge.controls.values() if control.is_chemical and not control.parts]
    assert len(knowledge.weeds) >= 90
    assert len(knowledge.turfs) == 13
    assert len(single) >= 57
    assert any(not control.is_chemical for control in knowledge.controls.values())
    assert set(knowledge.conditions) == set(CONDITION_IDS)


def test_nothing_shipped_is_marked_as_local() -> None:
    """Only the user's own entries carry the mark."""
    knowledge = load()
    assert not any(weed.local for weed in knowledge.weeds.values())
    assert knowledge.left_out == ()
