"""Every check with an example that it must find and the sound knowledge in which it must stay silent."""

from __future__ import annotations

from pathlib import Path

import pytest
from knowledge_cases import edit

from weedkey.knowledge import check_all, load
from weedkey.knowledge.checks.registry import CHECKS
from weedkey.model.region import Region

#: check -> (file, text that stands there, text that the check must find)
INVALID = {
    "id-stem": ("weeds/goosegrass.yaml", "id: goosegrass\n", "id: goose\n"),
    "name-clash": ("weeds/white_clover.yaml", "scientific: Trifolium repens", "scientific: Eleusine indica"),
    "file-head": (
        "weeds/goosegrass.yaml",
        "# yaml-language-server: $schema=../schema/weed",
        "# $schema=../schema/weed",
    ),
    "source-unknown": ("weeds/white_clover.yaml", "state: egg, sources: [uni_weeds]", "state: egg, sources: [unknown]"),
    "source-unused": (
        "sources.yaml",
        "  - {id: uni_turf",
        "  - {id: idle, institution: A, title: B}\n  - {id: uni_turf",
    ),
    "source-twice": (
        "sources.yaml",
        "  - {id: uni_turf",
        "  - {id: one, institution: A, title: Lawn weeds, url: 'https://www.example.org/a/'}\n"
        "  - {id: two, institution: A, title: Weeds of lawns, url: 'http://example.org/a'}\n  - {id: uni_turf",
    ),
    "seen-rule": ("weeds/white_clover.yaml", "state: egg, sources: [uni_weeds]", "state: egg, sources: [seen_by_user]"),
    "reference": ("weeds/white_clover.yaml", "state: egg", "state: round"),
    "look-group": ("weeds/white_clover.yaml", "looks:\n", "looks:\n  ligule: [{state: hairs, sources: [uni_weeds]}]\n"),
    "look-asked-if": ("weeds/white_clover.yaml", "state: three_leaflets", "state: simple"),
    "share-sum": ("weeds/goosegrass.yaml", "share: 0.9", "share: 0.2"),
    "thin-marks": ("weeds/white_clover.yaml", "  leaflet_shape: [{state: egg, sources: [uni_weeds]}]\n", ""),
    "calendar": ("weeds/goosegrass.yaml", "flowers: [[6, 9]]", "flowers: [[12, 1]]"),
    "calendar-life-cycle": ("weeds/goosegrass.yaml", "germinates: [[4, 7]]", "germinates: [[10, 10]]"),
    "climate": ("places/murfreesboro_tn.yaml", "high_f: [48", "high_f: [20"),
    "figure-order": ("weeds/goosegrass.yaml", "percent: [0, 5]", "percent: [5, 0]"),
    "look-alike-tell": ("weeds/yellow_nutsedge.yaml", "traits: [tubers]", "traits: [stem_section]"),
    "look-alike-unscored": ("weeds/purple_nutsedge.yaml", "  tubers: [{state: chained, sources: [uni_weeds]}]\n", ""),
    "pair-unseparated": ("weeds/yellow_nutsedge.yaml", "state: single", "state: chained"),
    "mixture-parts": ("controls/2_4_d_plus_dicamba.yaml", "name: 2,4-D + dicamba", "name: dicamba + 2,4-D"),
    "class-missing": ("controls/dicamba.yaml", "class: {", "note: x\n# class: {"),
    "known-and-not-known": ("controls/2_4_d.yaml", "timings:", "not_known: [zoysiagrass]\ntimings:"),
    "only-undated": (
        "weeds/white_clover.yaml",
        "looks:\n",
        "only_non_selective:\n  - {turf: any, why: none, sources: [uni_weeds]}\nlooks:\n",
    ),
    "product-rate": ("weeds/goosegrass.yaml", "nuisance: 3", "nuisance: 3\nnote: 0.5 lb ai/acre did it"),
    "trade-spelling": ("weeds/goosegrass.yaml", "nuisance: 3", "nuisance: 3\nnote: spray after green up"),
    "unit": ("turfs/zoysiagrass.yaml", "unit: in,", "unit: cm,"),
}
#: A small knowledge has some weaknesses by its size; they are its own, not those of an example.
SMALL = {"thin-marks", "pair-unseparated"}


def _found(root: Path, check: str) -> set[str]:
    return {str(issue) for issue in check_all(root) if issue.check == check}


@pytest.mark.parametrize("check", [check.id for check in CHECKS if check.id != "brand-name"])
def test_a_check_finds_its_mistake_and_nothing_in_sound_entries(root: Path, check: str) -> None:
    """The example adds a problem of exactly this check, with line and column in the file that holds it."""
    file, old, new = INVALID[check]
    before = _found(root, check)
    if check not in SMALL:
        assert before == set()
    edit(root / file, old, new)
    added = [issue for issue in check_all(root) if issue.check == check and str(issue) not in before]
    assert added
    if check not in ("look-alike-unscored", "pair-unseparated"):  # these are said in the other entry of the pair
        assert all(issue.where.path.endswith(file) for issue in added)
    assert all(issue.where.line and issue.where.column for issue in added)


def test_a_trade_name_is_found_by_its_digest(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The list holds digests only; an invented name stands for a real one here."""
    from weedkey.knowledge.checks import wording

    monkeypatch.setattr(wording, "NAMES", frozenset({wording.digest("Zorblax")}))
    assert _found(root, "brand-name") == set()
    edit(root / "weeds/goosegrass.yaml", "nuisance: 3", "nuisance: 3\nnote: sold as Zorblax there")
    assert [text for text in _found(root, "brand-name") if "'Zorblax' is a trade name" in text]


def test_sound_entries_have_no_error(root: Path) -> None:
    """The small knowledge is what the examples are measured against."""
    assert [str(issue) for issue in check_all(root) if issue.severity == "error"] == []


def test_ids_of_checks_are_distinct_and_each_says_what_it_is_about() -> None:
    """Output and documentation name a check by its id."""
    assert len({check.id for check in CHECKS}) == len(CHECKS)
    assert all(check.about.endswith(".") and check.severity in ("error", "warning", "note") for check in CHECKS)


def test_pairs_with_different_treatments_must_be_told_apart(root: Path) -> None:
    """With the treatments of a lawn, only pairs that need different ones are asked for."""
    same = {name: Region("a", (), {}, ()) for name in ("yellow_nutsedge", "purple_nutsedge")}
    other = {**same, "purple_nutsedge": Region("b", (), {}, ())}
    assert not [issue for issue in check_all(root, regions=same) if issue.check == "pair-unseparated"]
    found = [issue for issue in check_all(root, regions=other) if issue.check == "pair-unseparated"]
    assert len(found) == 1
    assert "tubers" in found[0].wrong


def test_local_entries_are_checked_over_the_shipped_ones(root: Path, tmp_path: Path) -> None:
    """A file with only the changed keys is complete; facts from sight need day and place."""
    weeds = tmp_path / "own/weeds"
    weeds.mkdir(parents=True)
    own = weeds / "goosegrass.yaml"
    own.write_text("id: goosegrass\nnuisance: 1\n", encoding="utf-8")
    assert [str(issue) for issue in check_all(root, tmp_path / "own") if "own" in issue.where.path] == []
    sight = "id: goosegrass\nsigns:\n  - {condition: compacted, sources: [seen_by_user]}\n"
    own.write_text(sight, encoding="utf-8")
    assert [i.check for i in check_all(root, tmp_path / "own") if "own" in i.where.path] == ["seen-rule"]
    own.write_text(sight + 'seen:\n  - {on: "2026-06-01", place: the north lawn}\n', encoding="utf-8")
    assert [str(issue) for issue in check_all(root, tmp_path / "own") if "own" in issue.where.path] == []
    assert load(tmp_path / "own", root).weeds["goosegrass"].signs[0].sources == ("seen_by_user",)


def test_the_address_of_a_source_may_hold_any_word(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An institution's address is quoted as it is; the same word beside it is still found."""
    from weedkey.knowledge.checks import wording

    monkeypatch.setattr(wording, "NAMES", frozenset({wording.digest("Zorblax")}))
    edit(root / "weeds/goosegrass.yaml", "nuisance: 3", 'nuisance: 3\nnote: "https://example.org/zorblax/a"')
    assert _found(root, "brand-name") == set()
    edit(root / "weeds/goosegrass.yaml", "zorblax/a", "zorblax/a Zorblax")
    assert len(_found(root, "brand-name")) == 1
