# ruff: noqa: E501 - rows of YAML are not broken
"""One's own entries on the command line: add with a source, list, compare, undo, send and read in."""

from __future__ import annotations

from pathlib import Path

import pytest
from command_cases import Run

from weedkey.knowledge import load
from weedkey.knowledge.strict_yaml import parse_document

SEEN = ("--seen", "2026-06-01", "north lawn")


@pytest.fixture
def own(tmp_path: Path) -> str:
    """A folder of own entries that is not there yet."""
    return str(tmp_path / "own")


def _new_weed(run: Run, own: str) -> None:
    """A grass with two marks that no shipped grass has together, named by somebody who does not know its name."""
    words = ["add", "weed", "shed grass", "--local", own, *SEEN]
    for pair in (
        "scientific=not known (shed grass)", "family=not known", "group=grassy", "growth_season=warm",
        "life_cycle=perennial", "looks.plant_group=grassy", "looks.stem_section=square", "looks.ligule=absent",
        "looks.plant_colour=red_purple", "looks.odour=mint", "signs=[{condition: compacted, strength: strong}]",
    ):  # fmt: skip
        words += ["--set", pair]
    done = run(*words)
    assert done.code == 0, done.err


class TestSources:
    """Who says so is said, never assumed."""

    def test_a_fact_without_a_source_is_refused_and_says_how_to_name_one(self, run: Run, own: str) -> None:
        """Nothing is written; the facts are named."""
        done = run("add", "weed", "x weed", "--set", "looks.ligule=hairs", "--local", own)
        assert done.code == 2
        assert "looks.ligule[0]" in done.err
        assert "--seen" in done.err
        assert not Path(own).exists()

    def test_seen_by_me_puts_day_and_place_into_the_entry(self, run: Run, own: str) -> None:
        """All facts that name no source get it; the sighting stands once."""
        _new_weed(run, own)
        weed = load(Path(own)).weeds["shed_grass"]
        assert {row.sources for seen in weed.looks.values() for row in seen} == {("seen_by_user",)}
        assert weed.signs[0].sources == ("seen_by_user",)
        assert [(str(row.on), row.place) for row in weed.seen] == [("2026-06-01", "north lawn")]

    @pytest.mark.parametrize("day", ["2999-01-01", "2026-02-30", "june"])
    def test_a_day_that_was_not_is_refused(self, run: Run, own: str, day: str) -> None:
        """The day must be there and past."""
        done = run("add", "weed", "x", "--set", "looks.ligule=hairs", "--seen", day, "lawn", "--local", own)
        assert done.code == 2

    def test_a_control_and_a_place_may_be_seen_too(self, run: Run, own: str) -> None:
        """Their entry says when and where."""
        done = run("add", "control", "hot brush", "--set", "kind=heat_or_cover", *SEEN, "--local", own)
        assert done.code == 0, done.err
        assert load(Path(own)).controls["hot_brush"].sources == ("seen_by_user",)


class TestRows:
    """One row of a list of facts."""

    def test_a_row_is_changed_added_and_removed(self, run: Run, own: str) -> None:
        """Three flags, one file; a second change of a row takes the place of the first."""
        words = ("add", "weed", "goosegrass", "--local", own, *SEEN)
        assert run(*words, "--change", "signs", "condition: compacted", "strength: weak").code == 0
        assert run(*words, "--change", "signs", "condition: compacted", "strength: strong").code == 0
        assert run(*words, "--add-to", "signs", "{condition: shade}").code == 0
        assert run(*words, "--remove-from", "signs", "condition: thin_turf").code == 0
        signs = {sign.condition: sign for sign in load(Path(own)).weeds["goosegrass"].signs}
        assert signs["compacted"].strength == "strong"
        assert signs["compacted"].sources == ("seen_by_user",)
        assert "shade" in signs
        assert "thin_turf" not in signs
        value = parse_document((Path(own) / "weeds/goosegrass.yaml").read_text(encoding="utf-8"), "x").value
        assert len(value["change"]["signs"]) == 1
        assert len(value["seen"]) == 1

    def test_a_row_that_is_not_there_is_named(self, run: Run, own: str) -> None:
        """The message lists rows that are; nothing is written."""
        done = run("add", "weed", "goosegrass", "--local", own, "--from-memory",
                   "--change", "signs", "condition: salinity", "strength: weak")  # fmt: skip
        assert done.code == 1
        assert "no row has condition salinity" in done.err
        assert "condition compacted" in done.err
        assert not (Path(own) / "weeds/goosegrass.yaml").exists()

    def test_a_new_entry_has_no_rows_to_change(self, run: Run, own: str) -> None:
        """Only shipped entries are changed row by row."""
        done = run("add", "weed", "x weed", "--local", own, "--add-to", "signs", "condition: shade", "--from-memory")
        assert done.code == 2


class TestEntries:
    """List, compare, undo, remove."""

    def test_the_list_says_kind_name_and_problems(self, run: Run, own: str) -> None:
        """Exit 1 if something is left out; the program goes on."""
        _new_weed(run, own)
        assert run("entries", "--local", own).code == 0
        (Path(own) / "weeds/henbit.yaml").write_text("id: henbit\nnuisance: 9\n", encoding="utf-8")
        done = run("entries", "--local", own, "--json")
        assert done.code == 1
        rows = {row["id"]: row for row in done.json["entries"]}
        assert (rows["shed_grass"]["what"], rows["shed_grass"]["used"]) == ("new", True)
        assert (rows["henbit"]["what"], rows["henbit"]["used"]) == ("override", False)
        assert "henbit.yaml:2:1" in run("entries", "--local", own).out.replace("\n", "").replace(" ", "")

    def test_compare_in_words_and_as_text(self, run: Run, own: str) -> None:
        """From what to what."""
        run("add", "weed", "goosegrass", "--set", "name=silly grass", "--local", own)
        done = run("entries", "diff", "goosegrass", "--local", own)
        assert "name: changed from goosegrass to silly grass" in done.out
        assert (
            "-name: goosegrass\n+name: silly grass"
            in run("entries", "diff", "goosegrass", "--text", "--local", own).out
        )
        found = run("entries", "diff", "goosegrass", "--json", "--local", own).json
        assert found["differences"] == [
            {"field": ["name"], "change": "changed", "before": "goosegrass", "after": "silly grass"}
        ]

    def test_undo_and_redo_by_name_and_as_a_whole(self, run: Run, own: str) -> None:
        """Back to the byte; one entry alone, or the last write."""
        _new_weed(run, own)
        path = Path(own) / "weeds/shed_grass.yaml"
        first = path.read_bytes()
        run("add", "weed", "shed grass", "--set", "nuisance=3", "--local", own)
        second = path.read_bytes()
        run("add", "weed", "goosegrass", "--set", "nuisance=1", "--local", own)
        assert run("entries", "undo", "weed", "shed grass", "--local", own).code == 0
        assert path.read_bytes() == first
        assert run("entries", "redo", "weed", "shed_grass", "--local", own).code == 0
        assert path.read_bytes() == second
        assert run("entries", "remove", "shed grass", "--local", own).code == 0
        assert not path.exists()
        assert run("entries", "undo", "--local", own).code == 0
        assert path.read_bytes() == second
        for _ in range(3):
            run("entries", "undo", "--local", own)
        assert run("entries", "undo", "--local", own).code == 1
        assert run("entries", "--local", own, "--json").json["entries"] == []

    @pytest.mark.parametrize(
        "words",
        [("diff",), ("diff", "no_such"), ("undo", "wede", "x"), ("remove",), ("export",), ("import",), ("list", "x"),
         ("import", "no-such-file.yaml")],
    )  # fmt: skip
    def test_wrong_words_say_what_is_expected(self, run: Run, own: str, words: tuple[str, ...]) -> None:
        """Exit 2."""
        assert run("entries", *words, "--local", own).code == 2


class TestExchange:
    """One file to send, and back."""

    def test_export_and_import_with_preview(self, run: Run, own: str, tmp_path: Path) -> None:
        """Nothing is written before --yes; then both folders hold the same."""
        _new_weed(run, own)
        sent, other = str(tmp_path / "sent.yaml"), str(tmp_path / "other")
        assert run("entries", "export", sent, "--local", own).code == 0
        assert run("entries", "export", sent, "--local", own).code == 2
        preview = run("entries", "import", sent, "--local", other)
        assert preview.code == 0
        assert "weed shed grass: new" in preview.out
        assert "with --yes" in preview.out
        assert not Path(other).exists()
        found = run("entries", "import", sent, "--yes", "--json", "--local", other).json
        assert found["written"] == ["weeds/shed_grass.yaml"]
        assert found["entries"][0]["separation"]["looks_entered"] == 5
        assert load(Path(own)).digest == load(Path(other)).digest
        assert "there already" in run("entries", "import", sent, "--local", other).out

    def test_what_has_problems_is_not_written(self, run: Run, own: str, tmp_path: Path) -> None:
        """Exit 1, the problem with its place."""
        sent = tmp_path / "sent.yaml"
        sent.write_text("format: 1\nweeds:\n  x:\n    id: x\n    name: x\n", encoding="utf-8")
        done = run("entries", "import", str(sent), "--yes", "--local", own)
        assert done.code == 1
        assert "'scientific' is missing" in " ".join(done.out.split())
        assert not Path(own).exists()
        sent.write_text("format: 3\n", encoding="utf-8")
        done = run("entries", "import", str(sent), "--local", own)
        assert done.code == 1
        assert "sent.yaml:1:1" in done.err
        assert "Expected format 1" in done.err


class TestTakesPart:
    """A new weed is in everything at once."""

    def test_in_naming(self, run: Run, own: str) -> None:
        """Its marks name it, and it counts as local."""
        _new_weed(run, own)
        done = run("name", "--turf", "zoysiagrass", "--month", "6", "--local", own, "--json",
                   *(word for look in ("plant_group=grassy", "stem_section=square", "ligule=absent") for word in ("--look", look)))  # fmt: skip
        assert done.json["candidates"][0]["weed"] == "shed_grass"
        assert done.json["candidates"][0]["name"] == "shed grass"
        plain = run(
            "name",
            "--turf",
            "zoysiagrass",
            "--month",
            "6",
            "--local",
            own,
            "--look",
            "odour=mint",
            "--look",
            "plant_group=grassy",
        )
        assert "shed grass (yours)" in plain.out
        assert run("weed", "shed grass", "--local", own, "--json").json["local"] is True

    def test_in_choices_and_ground(self, run: Run, own: str, tmp_path: Path) -> None:
        """It has a verdict, and its sign stands beside those of the shipped weeds."""
        _new_weed(run, own)
        done = run("choices", "shed grass", "--turf", "zoysiagrass", "--month", "6", "--local", own, "--json")
        assert done.json["verdict"]["kind"]
        assert any(row["offered"] for row in done.json["choices"])
        lawn = tmp_path / "lawn.yaml"
        lawn.write_text(
            'name: a lawn\ndate: "2026-06-03"\nsite: home_lawn\nturf: zoysiagrass\nzones:\n'
            "  - name: all\n    area_sqft: 900\n    weeds:\n      - {weed: shed_grass, cover: 20}\n",
            encoding="utf-8",
        )
        zones = run("ground", str(lawn), "--local", own, "--json").json["zones"]
        compacted = next(row for row in zones[0]["conditions"] if row["condition"] == "compacted")
        assert compacted["evidence"] == "hint"
        assert run("plan", str(lawn), "--local", own, "--json").json["verdicts"][0]["weed"] == "shed_grass"

    def test_without_the_folder_it_is_not_known(self, run: Run, own: str) -> None:
        """So it was the entry."""
        _new_weed(run, own)
        assert run("weed", "shed grass").code == 2
