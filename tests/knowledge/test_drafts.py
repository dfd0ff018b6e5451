"""A form in hand: on disk after each field, undone exactly, saved when it is sound."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from weedkey.errors import UsageError
from weedkey.knowledge import load
from weedkey.knowledge.build import Report, build_entry
from weedkey.knowledge.checks.schema import read_schema
from weedkey.knowledge.comments import edited_text
from weedkey.knowledge.drafts import (
    Draft,
    differences,
    edits_of,
    list_drafts,
    missing_keys,
    problems,
    save_draft_entry,
    start_draft,
)
from weedkey.knowledge.form_fields import LEFT_TO_THE_FORM, FormField, entry_fields, read_typed, row_fields, shown_value
from weedkey.knowledge.strict_yaml import parse_document
from weedkey.model.weed import Sighting

KNOWLEDGE = load()
SEEN = {"on": "2026-06-01", "place": "north lawn"}


def _fill(draft: Draft) -> None:
    draft.say_source(["seen_by_user"], SEEN)
    draft.id = "shed_grass"
    for key, value in (
        ("name", "shed grass"),
        ("scientific", "not known (shed grass)"),
        ("family", "not known"),
        ("group", "grassy"),
        ("growth_season", "warm"),
        ("life_cycle", [{"kind": "perennial"}]),
    ):
        draft.put((key,), value)
    draft.put(("looks", "ligule"), [{"state": "hairs"}])


class TestFields:
    """What the form asks."""

    @pytest.mark.parametrize("kind", ["weed", "control", "place", "turf"])
    def test_every_key_of_the_schema_is_asked_with_its_words(self, kind: str) -> None:
        """No more and no less than the schema has, but for what the form fills in itself."""
        schema = read_schema(kind)
        fields = {one.key: one for one in entry_fields(kind, KNOWLEDGE)}
        assert set(fields) == set(schema["properties"]) - set(LEFT_TO_THE_FORM)
        for key, one in fields.items():
            assert one.about == schema["properties"][key]["description"]
            assert one.required == (key in schema["required"])
            for inner in row_fields(one, KNOWLEDGE) if one.shape in ("row", "rows") else ():
                assert inner.about

    def test_ids_are_offered_by_their_names(self) -> None:
        """Every control of the knowledge can be chosen for a response."""
        responses = next(one for one in entry_fields("weed", KNOWLEDGE) if one.key == "responses")
        control = next(one for one in row_fields(responses, KNOWLEDGE) if one.key == "control")
        assert {value for value, _ in control.options} == set(KNOWLEDGE.controls)

    @pytest.mark.parametrize(
        ("shape", "text", "value"),
        [
            ("number", "2.5", 2.5),
            ("number", "2", 2),
            ("numbers", "1, 2.5  3", [1, 2.5, 3]),
            ("window", "4-10", [4, 10]),
            ("window", "04-15 to 10-01", ["04-15", "10-01"]),
            ("windows", "4-5, 9-10", [[4, 5], [9, 10]]),
            ("day", "04-10", "04-10"),
            ("texts", "a, b c ,", ["a", "b c"]),
        ],
    )
    def test_typed_texts_are_read_and_shown_alike(self, shape: str, text: str, value: Any) -> None:
        """What is shown to be changed reads back as the same value."""
        asked = FormField("x", "", shape)
        assert read_typed(asked, text) == value
        assert read_typed(asked, shown_value(value, shape)) == value

    @pytest.mark.parametrize(
        ("shape", "text"),
        [("number", "x"), ("number", "nan"), ("number", "101"), ("numbers", "1"), ("window", "4"), ("window", "0-13"),
         ("day", "spring"), ("text", " "), ("texts", ","), ("windows", "4-5, x"), ("number", "inf")],
    )  # fmt: skip
    def test_what_is_not_accepted_says_what_is(self, shape: str, text: str) -> None:
        """The expectation is in the message."""
        asked = FormField(
            "x", "", shape, low=0, high=100, many=2 if shape == "numbers" else 0, expected="this and that"
        )
        with pytest.raises(UsageError, match="Expected this and that"):
            read_typed(asked, text)


class TestDraft:
    """The form of one entry."""

    def test_each_field_is_on_disk_at_once(self, tmp_path: Path) -> None:
        """What a second process finds is what was entered, with the source of each fact."""
        draft = start_draft("weed", "", tmp_path, KNOWLEDGE)
        _fill(draft)
        (found,) = list_drafts()
        assert found.value == draft.value
        assert found.value["looks"]["ligule"] == [{"state": "hairs", "sources": ["seen_by_user"]}]
        assert found.value["seen"] == [SEEN]
        assert missing_keys(found) == ()

    def test_undo_is_exact_to_the_first_field(self, tmp_path: Path) -> None:
        """Every state comes back, also after the draft was read from disk."""
        draft = start_draft("weed", "", tmp_path, KNOWLEDGE)
        states = [dict(draft.value)]
        draft.say_source(["from_memory"], None)
        for key, value in (("name", "a b"), ("group", "sedge"), ("nuisance", 2), ("group", "rush"), ("nuisance", None)):
            states.append(dict(draft.value))
            draft.put((key,), value)
        (draft,) = list_drafts()
        for state in reversed(states):
            assert draft.undo()
            assert draft.value == state
        assert not draft.undo()

    def test_saving_needs_what_is_required_and_ends_the_draft(self, tmp_path: Path) -> None:
        """Missing keys are named; the saved weed is loaded with its sighting; the draft is gone."""
        draft = start_draft("weed", "", tmp_path, KNOWLEDGE)
        draft.put(("name",), "shed grass")
        with pytest.raises(UsageError, match="still missing: scientific"):
            save_draft_entry(draft, tmp_path, KNOWLEDGE)
        _fill(draft)
        assert problems(draft, tmp_path, KNOWLEDGE) == []
        save_draft_entry(draft, tmp_path, KNOWLEDGE)
        weed = load(tmp_path).weeds["shed_grass"]
        assert weed.looks["ligule"][0].sources == ("seen_by_user",)
        assert weed.seen == (build_entry(Sighting, SEEN, Report()),)
        assert list_drafts() == []

    def test_a_wrong_value_is_named_before_it_is_saved(self, tmp_path: Path) -> None:
        """The checks of a file hold for the form."""
        draft = start_draft("weed", "", tmp_path, KNOWLEDGE)
        _fill(draft)
        draft.put(("looks", "ligule"), [{"state": "sideways"}])
        assert any("sideways" in str(issue) for issue in problems(draft, tmp_path, KNOWLEDGE))

    def test_a_row_of_a_shipped_entry_is_changed_removed_and_added(self, tmp_path: Path) -> None:
        """Only the differences are in the file; comments stay when it is changed again."""
        draft = start_draft("weed", "goosegrass", tmp_path, KNOWLEDGE)
        assert draft.mode == "change"
        draft.say_source(["from_memory"], None)
        draft.change_row(("signs",), {"condition": "compacted"}, {"strength": "weak"})
        draft.change_row(("signs",), {"condition": "compacted"}, {"note": "here only"})
        draft.remove_row(("signs",), {"condition": "thin_turf"})
        draft.add_row(("signs",), {"condition": "shade"})
        path = save_draft_entry(draft, tmp_path, KNOWLEDGE)
        signs = {sign.condition: sign for sign in load(tmp_path).weeds["goosegrass"].signs}
        assert (signs["compacted"].strength, signs["compacted"].note) == ("weak", "here only")
        assert signs["compacted"].sources == ("from_memory",)
        assert "thin_turf" not in signs
        assert "shade" in signs
        path.write_text(path.read_text(encoding="utf-8") + "# keep me\n", encoding="utf-8")
        again = start_draft("weed", "goosegrass", tmp_path, load(tmp_path))
        again.put(("nuisance",), 1)
        save_draft_entry(again, tmp_path, load(tmp_path))
        assert "# keep me" in path.read_text(encoding="utf-8")
        assert load(tmp_path).weeds["goosegrass"].nuisance == 1

    def test_differences_are_those_to_the_shipped_entry(self, tmp_path: Path) -> None:
        """A changed figure, from what to what."""
        draft = start_draft("weed", "goosegrass", tmp_path, KNOWLEDGE)
        draft.put(("nuisance",), 1)
        (row,) = differences(draft)
        assert (row.field, row.kind, row.after) == (("nuisance",), "added" if row.before is None else "changed", 1)

    def test_one_entry_has_one_draft(self, tmp_path: Path) -> None:
        """Opening the form again goes on where it was left."""
        first = start_draft("weed", "goosegrass", tmp_path, KNOWLEDGE)
        first.put(("nuisance",), 1)
        assert start_draft("weed", "goosegrass", tmp_path, KNOWLEDGE).value == first.value
        assert len(list_drafts()) == 1

    def test_a_damaged_draft_is_skipped(self, tmp_path: Path, own_home: Path) -> None:
        """The others are there."""
        start_draft("weed", "goosegrass", tmp_path, KNOWLEDGE)
        (own_home / "state/drafts/000009.json").write_text("{", encoding="utf-8")
        assert len(list_drafts()) == 1


_LEAF = st.one_of(st.integers(0, 9), st.sampled_from(["a", "b c"]), st.lists(st.integers(0, 3), min_size=1, max_size=3))
_VALUES = st.recursive(
    st.dictionaries(st.sampled_from("abcd"), _LEAF, min_size=1, max_size=3),
    lambda inner: st.dictionaries(st.sampled_from("abcd"), st.one_of(_LEAF, inner), min_size=1, max_size=3),
    max_leaves=6,
)


@settings(max_examples=40)
@given(_VALUES, _VALUES)
def test_edits_turn_one_text_into_the_other(old: dict[str, Any], new: dict[str, Any]) -> None:
    """Applied to the text of the old value they give the new one."""
    from weedkey.knowledge.entry_diff import entry_text

    text = edited_text(entry_text(old), edits_of(old, new))
    assert _without_empty(parse_document(text, "x").value) == new


def _without_empty(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: inner for key, item in value.items() if (inner := _without_empty(item)) != {}}
    return value
