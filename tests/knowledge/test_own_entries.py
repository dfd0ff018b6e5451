# ruff: noqa: E501 - rows of YAML are not broken
"""One's own entries: undo is exact, what is sent comes back equal, nothing hostile gets in."""

from __future__ import annotations

import getpass
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from weedkey.errors import KnowledgeError, UsageError
from weedkey.knowledge import history, load
from weedkey.knowledge.comments import edited_text
from weedkey.knowledge.exchange import LARGEST_BYTES, export_text, read_package
from weedkey.knowledge.importing import import_package, preview_import
from weedkey.knowledge.locate import shipped_folder
from weedkey.knowledge.own_entries import OwnEntry, find_own, list_own, remove_own, shipped_and_own
from weedkey.knowledge.sourcing import facts_without_source, read_sighting, with_sources
from weedkey.knowledge.strict_yaml import parse_document
from weedkey.knowledge.writing import edit_local, new_entry_text, save_local

SHIPPED = load()
NEW_WEED = {
    "name": "ditch grass",
    "scientific": "Fossa herba",
    "family": "Poaceae",
    "group": "grassy",
    "growth_season": "warm",
    "life_cycle": [{"kind": "perennial", "sources": ["seen_by_user"]}],
    "looks": {
        "plant_group": [{"state": "grassy", "sources": ["seen_by_user"]}],
        "stem_section": [{"state": "round", "note": 'a "note": with # signs', "sources": ["my_book"]}],
    },
    "seen": [{"on": "2026-06-01", "place": "north lawn"}],
}
OWN_SOURCE = "# my shelf\nsources:\n  # bought used\n  - {id: my_book, institution: a county office, title: Grasses, year: '1998'}\n"


@pytest.fixture
def own(tmp_path: Path) -> Path:
    """A folder with a new weed that cites an own source, and a shipped entry of which one row is changed."""
    folder = tmp_path / "own"
    folder.mkdir()
    (folder / "sources.yaml").write_text(OWN_SOURCE, encoding="utf-8")
    save_local("weed", new_entry_text("weed", "ditch_grass", NEW_WEED, folder), folder)
    change = [{"row": {"state": "flattened"}, "to": {"often": "usually", "sources": ["from_memory"]}}]
    edit_local("weed", "goosegrass", {"change.looks.stem_section": change}, folder)
    file = folder / "weeds/goosegrass.yaml"
    file.write_text(file.read_text(encoding="utf-8") + "# a last word: keep me\n", encoding="utf-8")
    return folder


def _files(folder: Path) -> dict[str, bytes]:
    return {str(file.relative_to(folder)): file.read_bytes() for file in sorted(folder.rglob("*")) if file.is_file()}


def _export(folder: Path, target: Path, *names: str) -> Path:
    entries = list_own(folder, load(folder))
    chosen = [find_own(entries, name) for name in names] if names else entries
    target.write_text(export_text(folder, chosen), encoding="utf-8")
    return target


class TestList:
    """What one has."""

    def test_new_and_changed_entries_are_told_apart(self, own: Path) -> None:
        """Kind, id, new or not; all usable."""
        rows = [(entry.kind, entry.id, entry.is_new, entry.is_usable) for entry in list_own(own, load(own))]
        assert rows == [
            ("source", "my_book", True, True),
            ("weed", "ditch_grass", True, True),
            ("weed", "goosegrass", False, True),
        ]

    def test_a_broken_file_is_listed_with_its_problems(self, own: Path) -> None:
        """The others stay usable, and the program goes on."""
        (own / "weeds/henbit.yaml").write_text("id: [\n", encoding="utf-8")
        entries = {entry.id: entry for entry in list_own(own, load(own))}
        assert not entries["henbit"].is_usable
        assert "henbit.yaml" in str(entries["henbit"].issues[0])
        assert entries["ditch_grass"].is_usable
        assert "ditch_grass" in load(own).weeds

    def test_a_removed_entry_comes_back_as_it_was(self, own: Path) -> None:
        """A file, and a row of a file of several rows."""
        before = _files(own)
        for name in ("goosegrass", "my_book"):
            remove_own(own, find_own(list_own(own, load(own)), name))
            assert _files(own) != before
            history.undo(own)
            assert _files(own) == before


class TestUndo:
    """What was written can be taken back."""

    def test_each_save_goes_back_by_itself(self, tmp_path: Path) -> None:
        """Three saves, three steps back, no file left; then forward again."""
        texts = []
        for nuisance in (1, 2, 3):
            edit_local("weed", "goosegrass", {"nuisance": nuisance}, tmp_path)
            texts.append((tmp_path / "weeds/goosegrass.yaml").read_bytes())
        file = "weeds/goosegrass.yaml"
        for text in reversed(texts):
            assert (tmp_path / file).read_bytes() == text
            assert history.undo(tmp_path, file) is not None
        assert not (tmp_path / file).exists()
        assert history.undo(tmp_path, file) is None
        for text in texts:
            assert history.redo(tmp_path, file) is not None
            assert (tmp_path / file).read_bytes() == text
        assert history.redo(tmp_path, file) is None

    def test_a_change_by_hand_is_not_lost(self, tmp_path: Path) -> None:
        """Undo takes the change by hand back first; redo brings it again."""
        path = edit_local("weed", "goosegrass", {"nuisance": 1}, tmp_path)
        saved = path.read_bytes()
        path.write_bytes(saved + b"# by hand\r\n")
        history.undo(tmp_path)
        assert path.read_bytes() == saved
        history.redo(tmp_path)
        assert path.read_bytes() == saved + b"# by hand\r\n"

    def test_all_or_nothing(self, tmp_path: Path) -> None:
        """If the second file cannot be written, the first is as it was."""
        (tmp_path / "weeds").mkdir()
        (tmp_path / "weeds/a.yaml").write_text("old\n", encoding="utf-8")
        (tmp_path / "places").write_text("a file where a folder belongs", encoding="utf-8")
        before = _files(tmp_path)
        with pytest.raises(OSError, match="places"):
            history.write_files(tmp_path, {"weeds/a.yaml": "new\n", "places/b.yaml": "new\n"}, "two files")
        assert _files(tmp_path) == before
        assert history.read_steps(tmp_path) == []

    def test_a_write_that_was_cut_off_is_rolled_back(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        """A killed process leaves an open step; the next look at the folder undoes its half."""
        history.write_files(tmp_path, {"a.yaml": "old\n"}, "a save")
        put = history._put
        with monkeypatch.context() as patch:
            patch.setattr(history, "_put", lambda path, text: put(path, text) if path.name == "a.yaml" else 1 / 0)
            patch.setattr(history, "_roll_back", lambda *_: None)
            with pytest.raises(ZeroDivisionError):
                history.write_files(tmp_path, {"a.yaml": "new\n", "b.yaml": "new\n"}, "two files")
        assert (tmp_path / "a.yaml").read_text(encoding="utf-8") == "new\n"
        history.recover(tmp_path)
        assert (tmp_path / "a.yaml").read_text(encoding="utf-8") == "old\n"
        assert [step.what for step in history.read_steps(tmp_path)] == ["a save"]

    def test_steps_are_bounded(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        """The oldest go first."""
        monkeypatch.setattr(history, "MOST_KEPT", 3)
        for number in range(6):
            history.write_files(tmp_path, {"weeds/a.yaml": f"{number}\n"}, "a save")
        assert [step.number for step in history.read_steps(tmp_path)] == [4, 5, 6]

    @given(st.lists(st.sampled_from(["save", "undo", "redo", "remove"]), max_size=12))
    def test_undo_and_redo_are_exact(self, acts: list[str]) -> None:
        """Against a plain model of two stacks: after any acts the file is what the model says."""
        from tempfile import TemporaryDirectory

        with TemporaryDirectory() as place:
            folder = Path(place)
            now: str | None = None
            past: list[str | None] = []
            future: list[str | None] = []
            for number, act in enumerate(acts):
                if act in ("save", "remove"):
                    text = f"text {number} é\n" if act == "save" else None
                    history.write_files(folder, {"weeds/a.yaml": text}, act)
                    past.append(now)
                    now, future = text, []
                elif act == "undo":
                    assert (history.undo(folder, "weeds/a.yaml") is not None) == bool(past)
                    if past:
                        future.append(now)
                        now = past.pop()
                elif history.redo(folder, "weeds/a.yaml") is not None:
                    past.append(now)
                    now = future.pop()
                else:
                    assert not future
                file = folder / "weeds/a.yaml"
                assert (file.read_text(encoding="utf-8") if file.exists() else None) == now


class TestExchange:
    """One file with everything, and back."""

    def test_what_is_sent_comes_back_equal(self, own: Path, tmp_path: Path) -> None:
        """Into an empty folder: the same knowledge, the same comments."""
        package = read_package(_export(own, tmp_path / "sent.yaml"))
        other = tmp_path / "other"
        preview = preview_import(package, other)
        assert preview.errors == ()
        assert not other.exists()
        import_package(preview, other)
        first, second = load(own), load(other)
        for kind in ("weeds", "sources", "controls", "places"):
            assert dict(getattr(first, kind)) == dict(getattr(second, kind))
        assert first.digest == second.digest
        text = (other / "weeds/goosegrass.yaml").read_text(encoding="utf-8")
        assert text == (own / "weeds/goosegrass.yaml").read_text(encoding="utf-8")
        assert "# my shelf" in (other / "sources.yaml").read_text(encoding="utf-8")
        assert "# bought used" in (other / "sources.yaml").read_text(encoding="utf-8")
        again = preview_import(package, other)
        assert again.is_empty
        assert {row.what for row in again.arrivals} == {"same"}

    def test_nothing_of_this_computer_is_sent(self, own: Path, tmp_path: Path) -> None:
        """No path, no name of the user, no line for an editor."""
        text = _export(own, tmp_path / "sent.yaml").read_text(encoding="utf-8")
        assert str(tmp_path) not in text
        assert str(shipped_folder()) not in text
        assert "yaml-language-server" not in text
        assert getpass.getuser() not in text.replace("north lawn", "")

    def test_a_broken_file_does_not_keep_the_others_from_being_sent(self, own: Path, tmp_path: Path) -> None:
        """What cannot be read stays behind."""
        (own / "weeds/henbit.yaml").write_text("id: [\n", encoding="utf-8")
        package = read_package(_export(own, tmp_path / "sent.yaml", "ditch grass", "goosegrass"))
        assert {name for _, name in package.names} == {"my_book", "ditch_grass", "goosegrass"}

    def test_any_way_of_writing_yaml_survives(self, tmp_path: Path) -> None:
        """Blocks, texts over several lines, comments at the margin, Windows line ends, a byte order mark, one line."""
        first, second = tmp_path / "a", tmp_path / "b"
        (first / "weeds").mkdir(parents=True)
        odd = (
            "# yaml-language-server: $schema=/srv/me/x.json\n---\n# at margin\nid: goosegrass\nnote: |\n  two lines\n"
            "    with indent\n\n  # not a comment\nalso_called: [a,\n  \"b\n  c\", 'd # e']\n# margin again\ncautions:\n"
            "- about: other\n  text: >-\n    folded\n    text\n  sources: [from_memory]\nnuisance: 1 # end\n# last\n...\n"
        )
        (first / "weeds/goosegrass.yaml").write_bytes(b"\xef\xbb\xbf" + odd.replace("\n", "\r\n").encode())
        (first / "sources.yaml").write_text(
            '# x\n"sources": [{id: my_book, institution: a, title: b}]\n# y\n', encoding="utf-8"
        )
        (first / "weeds/henbit.yaml").write_text("{id: henbit, nuisance: 1}\n", encoding="utf-8")
        (first / "weeds/dandelion.yaml").write_text('"id": dandelion\n? nuisance\n: 1\n', encoding="utf-8")
        assert load(first).left_out == ()
        package = read_package(_export(first, tmp_path / "sent.yaml"))
        import_package(preview_import(package, second), second)
        assert load(first).digest == load(second).digest
        text = (second / "weeds/goosegrass.yaml").read_text(encoding="utf-8")
        assert "/srv/me" not in text
        assert all(remark in text for remark in ("# at margin", "# margin again", "nuisance: 1 # end", "# last"))

    def test_an_entry_takes_its_own_sources_along(self, own: Path, tmp_path: Path) -> None:
        """By name, one weed and the source that it cites; the other weed stays."""
        package = read_package(_export(own, tmp_path / "sent.yaml", "ditch grass"))
        assert set(package.names) == {("source", "my_book"), ("weed", "ditch_grass")}

    def test_a_preview_says_what_would_change(self, own: Path, tmp_path: Path) -> None:
        """A file that differs from one's own is a change; a new weed comes with its look-alikes; undo brings all back."""
        sent = _export(own, tmp_path / "sent.yaml")
        sent.write_text(sent.read_text(encoding="utf-8").replace("often: usually", "often: often"), encoding="utf-8")
        (own / "weeds/ditch_grass.yaml").unlink()
        before = _files(own)
        preview = preview_import(read_package(sent), own)
        rows = {row.id: row for row in preview.arrivals}
        assert (rows["goosegrass"].what, rows["ditch_grass"].what, rows["my_book"].what) == ("changes", "new", "same")
        assert rows["ditch_grass"].separation is not None
        assert any(each.before == "usually" and each.after == "often" for each in rows["goosegrass"].differences)
        assert _files(own) == before
        import_package(preview, own)
        assert "ditch_grass" in load(own).weeds
        history.undo(own)
        assert _files(own) == before

    def test_entries_with_problems_are_not_read_in(self, own: Path, tmp_path: Path) -> None:
        """The problem is named with the path that the file would have; nothing is written."""
        sent = _export(own, tmp_path / "sent.yaml")
        sent.write_text(sent.read_text(encoding="utf-8").replace("state: round", "state: sideways"), encoding="utf-8")
        other = tmp_path / "other"
        preview = preview_import(read_package(sent), other)
        assert any(
            "sideways" in str(issue) and "other/weeds/ditch_grass.yaml" in str(issue) for issue in preview.errors
        )
        with pytest.raises(KnowledgeError):
            import_package(preview, other)
        assert not other.exists()

    @pytest.mark.parametrize(
        ("text", "said"),
        [
            ("format: 2\nweeds: {a: {id: a}}\n", "has the format 2"),
            ("weeds: {a: {id: a}}\n", "no file of own entries"),
            ("format: 1\n", "holds no entry"),
            ("format: 1\nweeds:\n  ../../evil: {id: ../../evil}\n", "not an id"),
            ('format: 1\nweeds:\n  "a/b": {id: "a/b"}\n', "not an id"),
            ('format: 1\nweeds:\n  "a\\n": {id: "a\\n"}\n', "not an id"),
            ("format: 1\nweeds:\n  a: {id: b}\n", "Write id: a"),
            ("format: 1\nweeds:\n  a: &x {id: a}\n  b: *x\n", "alias"),
            ("format: 1\nweeds:\n  a: {id: a}\n  a: {id: a}\n", "stands twice"),
            ("format: 1\nscripts:\n  a: {id: a}\n", "not a kind of entry"),
            ("format: 1\nsources: {a: b}\n", "no list of rows"),
            ("format: 1\nsources:\n  - {id: ../x}\n", "no usable id"),
            ("format: 1\nweeds: [a]\n", "no entries stand here"),
            ("format: 1\nweeds: !!python/object:os.system {a: b}\n", "tag"),
            ("- a\n", "no file of own entries"),
            ("[" * 5000, "nested"),
            ("format: 1\n---\nformat: 1\n", "second document"),
            ("", "holds nothing"),
            ("format: true\nweeds: {a: {id: a}}\n", "has the format True"),
            (f"format: 1\nweeds: {{{'a' * 200}: {{id: {'a' * 200}}}}}\n", "not an id"),
        ],
    )  # fmt: skip
    def test_what_is_hostile_is_refused_with_its_place(self, tmp_path: Path, text: str, said: str) -> None:
        """Where, what, what was expected; nothing is read."""
        file = tmp_path / "sent.yaml"
        file.write_text(text, encoding="utf-8")
        with pytest.raises(KnowledgeError) as caught:
            read_package(file)
        assert said in str(caught.value)
        assert "sent.yaml" in str(caught.value)

    def test_a_file_that_is_too_large_is_not_even_opened(self, tmp_path: Path) -> None:
        """The limit is said; bytes that are no text are refused as well."""
        file = tmp_path / "sent.yaml"
        file.write_bytes(b"#" * (LARGEST_BYTES + 1))
        with pytest.raises(KnowledgeError, match="at most"):
            read_package(file)
        file.write_bytes(b"\xff\xfe\x00")
        with pytest.raises(KnowledgeError, match="UTF-8"):
            read_package(file)

    @settings(max_examples=40)
    @given(
        st.dictionaries(
            st.sampled_from(["note", "name", "family"]),
            st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cs"]), min_size=1, max_size=40),
        ),
        st.sampled_from(["# top", "# a: b", "#", "# \"quote' {"]),
    )
    def test_any_text_and_comment_survives(self, texts: dict[str, str], comment: str) -> None:
        """Sent and read again: the same values and the same lines, whatever was typed."""
        from tempfile import TemporaryDirectory

        with TemporaryDirectory() as place:
            folder = Path(place) / "a"
            (folder / "weeds").mkdir(parents=True)
            (folder / "sources.yaml").write_text(OWN_SOURCE, encoding="utf-8")
            text = new_entry_text("weed", "ditch_grass", {**NEW_WEED, **texts}, folder) + f"{comment}\n"
            file = _write(folder / "weeds/ditch_grass.yaml", text)
            value = parse_document(text, "x").value
            entry = OwnEntry("weed", "ditch_grass", "ditch grass", True, file, value)
            package = read_package(_write(Path(place) / "sent.yaml", export_text(folder, [entry])))
            assert set(package.texts) == {"sources.yaml", "weeds/ditch_grass.yaml"}
            sent = package.texts["weeds/ditch_grass.yaml"]
            assert parse_document(sent, "x").value == value
            assert sent.rstrip("\n").split("\n") == [line.rstrip() for line in text.rstrip("\n").split("\n")[1:]]
            shelf = package.texts["sources.yaml"]
            assert parse_document(shelf, "x").value == parse_document(OWN_SOURCE, "x").value
            assert "# my shelf" in shelf
            assert "# bought used" in shelf


def _write(path: Path, text: str) -> Path:
    path.write_text(text, encoding="utf-8")
    return path


def test_a_comparison_names_each_field(own: Path) -> None:
    """From what to what, row by row."""
    entry = find_own(list_own(own, load(own)), "goosegrass")
    from weedkey.knowledge.entry_diff import compare_entries, unified_text

    before, after = shipped_and_own(entry)
    rows = {row.field: (row.kind, row.after) for row in compare_entries(before, after)}
    where = ("looks", "stem_section", "state flattened")
    assert set(rows) == {(*where, "often"), (*where, "sources")}
    assert rows[*where, "often"][1] == "usually"
    assert rows[*where, "sources"] == ("changed", ["from_memory"])
    text = unified_text(before, after, "goosegrass")
    assert "\n-    - {state: flattened" in text
    assert "\n+    - {state: flattened, often: usually, sources: [from_memory]}" in text
    assert compare_entries(before, before) == ()


def test_a_source_is_filled_in_only_where_none_is_named() -> None:
    """Facts are found by the schema; one that names a source keeps it; what is no fact gets none."""
    values = {
        "name": "x",
        "looks": {"ligule": [{"state": "hairs"}, {"state": "membrane", "sources": ["x"]}]},
        "spread": {"by": ["seed"]},
        "responses": [{"control": "glyphosate", "result": "good", "sequence": {"sprays": 2}}],
        "seen": [{"on": "2026-06-01", "place": "lawn"}],
    }
    lacking = facts_without_source("weed", values)
    assert lacking == (("looks", "ligule", 0), ("spread",), ("responses", 0))
    filled = with_sources("weed", values, ["seen_by_user"])
    assert facts_without_source("weed", filled) == ()
    assert filled["looks"]["ligule"][1]["sources"] == ["x"]
    assert "sources" not in filled["responses"][0]["sequence"]
    assert facts_without_source("place", {"name": "x"}) == ((),)


@pytest.mark.parametrize(("day", "place"), [("2026-13-01", "lawn"), ("2026-06-04", "lawn"), ("2026-06-01", " ")])
def test_a_sighting_needs_a_day_that_was_and_a_place(day: str, place: str) -> None:
    """Tomorrow was not seen yet."""
    from datetime import date

    today = date(2026, 6, 3)
    with pytest.raises(UsageError):
        read_sighting(day, place, today)
    assert read_sighting("2026-06-03", "  the  lawn ", today) == {"on": "2026-06-03", "place": "the lawn"}


def test_comments_stay_on_an_edit(own: Path) -> None:
    """The template's explanations and one's own remarks are all there after a change."""
    file = own / "weeds/ditch_grass.yaml"
    before = file.read_text(encoding="utf-8")
    after = edited_text(before, {"nuisance": 3})
    assert [line for line in before.splitlines() if line.startswith("#") and line not in after.splitlines()] == []
