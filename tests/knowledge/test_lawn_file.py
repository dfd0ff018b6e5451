"""Lawn files: names in any spelling, every problem at once, and the way back to text."""

from __future__ import annotations

import copy
import math
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from weedkey.errors import LawnError
from weedkey.knowledge import check_file, lawn_text, load, parse_lawn, read_lawn
from weedkey.knowledge.lawn_file import lawn_issues
from weedkey.knowledge.lawn_form import flow_text
from weedkey.knowledge.strict_yaml import parse_document
from weedkey.model import vocabulary as words
from weedkey.model.base import Knowledge
from weedkey.model.lawn import (
    Finding,
    LabelRate,
    Lawn,
    Look,
    Measured,
    PastApplication,
    Seeding,
    Spots,
    Tree,
    Zone,
)

DEMO = Path(__file__).parents[2] / "knowledge/demo"

LAWN = """\
name: Test lawn
date: "2026-06-03"
turf: Zoysia japonica
site: Home-Lawn
place: Murfreesboro
state: tn
cultivar: Meyer
zones:
  - name: front
    area_m2: 92.90304
    turf_cover_percent: 60
    weeds:
      - {weed: Goose-Grass, cover: 12.5, stage: Mature}
      - {candidates: {yellow nutsedge: 1, purple nutsedge: 3}, cover: 4}
      - {weed: wiregrass, spots: {count: 4, diameter_in: 24}}
      - {cover: 1, looks: [{trait: stem section, states: [Three-Sided], unsure: true}]}
history:
  - {on: "2026-04-01", control: "2,4-D", zones: [front]}
"""


def test_names_become_ids_and_units_become_feet(small: Knowledge) -> None:
    """Scientific, common and other names in any spelling; 92.90304 square metres are 1,000 sq ft (feet of 0.3048 m)."""
    lawn = parse_lawn(LAWN, "a.yaml", small)
    assert (lawn.turf, lawn.site, lawn.place, lawn.state) == ("zoysiagrass", "home_lawn", "murfreesboro_tn", "TN")
    assert (lawn.on, lawn.cultivar) == (date(2026, 6, 3), "meyer")
    zone = lawn.zones[0]
    assert math.isclose(zone.area_sqft, 1000)
    goosegrass, nutsedge, bermuda, unnamed = zone.findings
    assert goosegrass == Finding({"goosegrass": 1.0}, 12.5, "mature")
    assert nutsedge.weeds == {"yellow_nutsedge": 0.25, "purple_nutsedge": 0.75}
    # 4 circles of 24 inches are 4 x pi sq ft, of 1,000
    assert (bermuda.weeds, bermuda.cover_percent) == ({"bermudagrass_weed": 1.0}, round(100 * 4 * math.pi / 1000, 3))
    assert unnamed.looks == (Look("stem_section", ("three_sided",), unsure=True),)
    assert lawn.history[0].control == "2_4_d"


def test_a_turf_grass_among_the_weeds_is_its_weed_entry(small: Knowledge) -> None:
    """Whoever writes tall fescue in a zoysiagrass lawn means the clump."""
    lawn = parse_lawn(LAWN.replace("Goose-Grass", "Tall Fescue"), "a.yaml", small)
    assert lawn.zones[0].findings[0].weeds == {"tall_fescue_clump": 1.0}


def test_every_problem_is_listed_in_the_order_of_the_file(small: Knowledge) -> None:
    """Eight mistakes in one file: eight places, each with line and column; nothing stops at the first."""
    text = (
        'name: bad\ndate: "2026-13-01"\nturf: zoysiagras\nsite: moon\nstae: TN\n'
        "measured:\n  - {what: soil_ph, value: 15}\n"
        "zones:\n  - name: a\n    area_sqft: -5\n    weeds:\n      - {weed: goosegras, cover: 140}\n"
        "trees:\n  - {kind: oak, zones: [b]}\n"
    )
    with pytest.raises(LawnError) as caught:
        parse_lawn(text, "bad.yaml", small)
    places = [(issue.where.line, issue.where.column) for issue in caught.value.issues]
    assert places == sorted(places)
    assert {line for line, _ in places} == {2, 3, 4, 5, 7, 10, 12, 14}
    assert [column for line, column in places if line == 12] == [10, 27]
    assert caught.value.exit_code == 2
    assert str(caught.value).endswith("9 problems.")


def test_an_unsettled_weed_is_told_how_to_write_it(small: Knowledge) -> None:
    """A name such as "some nutsedge" asks for candidates with numbers."""
    with pytest.raises(LawnError, match=r"candidates: \{purple_nutsedge: 0.5, yellow_nutsedge: 0.5\}"):
        parse_lawn(LAWN.replace("Goose-Grass", "some nutsedge"), "a.yaml", small)


def test_a_little_overlap_is_a_warning(small: Knowledge) -> None:
    """Canopies overlap: 110 percent is noticed, 130 is refused."""
    text = LAWN.replace("turf_cover_percent: 60", "turf_cover_percent: 92")
    assert [issue.severity for issue in lawn_issues(text, "a.yaml", small)] == ["warning"]
    parse_lawn(text, "a.yaml", small)


@pytest.mark.parametrize(
    "content", [b"", b"\xff\xfe", b"zones: [\n", b"- 1\n", b"7\n", b"zones:\n", b"zones: {a: 1}\n"]
)
def test_what_is_no_lawn_is_refused_in_words(small: Knowledge, tmp_path: Path, content: bytes) -> None:
    """Empty, binary, cut off, a list, a number, and empty zones: problems, never a crash."""
    path = tmp_path / "lawn.yaml"
    path.write_bytes(content)
    with pytest.raises(LawnError):
        read_lawn(path, small)


def test_check_knows_a_lawn_by_its_zones(small: Knowledge, tmp_path: Path) -> None:
    """``weedkey check`` of a lawn file, wherever it lies; a file of neither kind is named as such."""
    lawn, other = tmp_path / "any.yaml", tmp_path / "other.yaml"
    lawn.write_text(LAWN.replace("12.5", "200"), encoding="utf-8")
    other.write_text("a: 1\n", encoding="utf-8")
    assert [(issue.check, issue.where.line) for issue in check_file(lawn, small)] == [("entry-range", 13)]
    assert [issue.check for issue in check_file(other, small)] == ["file-place"]


@pytest.mark.parametrize("file", sorted(DEMO.glob("*.yaml")), ids=lambda file: file.stem)
def test_the_demo_lawns_are_right_and_come_back(file: Path) -> None:
    """Each shipped demo lawn has no error, and its text written anew reads as the same lawn."""
    knowledge = load()
    assert [issue for issue in check_file(file, knowledge) if issue.severity == "error"] == []
    lawn = read_lawn(file, knowledge)
    assert parse_lawn(lawn_text(lawn), "again", knowledge) == lawn


_WEEDS = ("goosegrass", "bermudagrass_weed", "yellow_nutsedge", "purple_nutsedge", "white_clover")
_TEXT = st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs")), min_size=1, max_size=12).filter(
    str.strip
)
_DAYS = st.dates(date(2000, 1, 1), date(2050, 1, 1))


def _share(highest: float) -> st.SearchStrategy[float]:
    return st.integers(0, int(highest * 8)).map(lambda eighths: eighths / 8)


_CANDIDATES = st.sampled_from(
    [{}, {"goosegrass": 1.0}, {"white_clover": 1.0}, {"yellow_nutsedge": 0.25, "purple_nutsedge": 0.75}]
)
_FINDINGS = st.builds(
    Finding,
    _CANDIDATES,
    _share(30),
    st.sampled_from(words.WEED_STAGES),
    st.lists(
        st.builds(
            Look, st.just("stem_section"), st.sampled_from([(), ("round",), ("round", "flattened")]), st.booleans()
        ),
        max_size=2,
    ).map(tuple),
    st.none() | st.builds(Spots, st.integers(1, 99), _share(40).map(lambda inches: inches + 1)),
    st.just("") | _TEXT,
    st.just("") | _TEXT,
).filter(lambda finding: bool(finding.weeds or finding.looks))
_MEASURED = st.lists(
    st.builds(Measured, st.just("soil_ph"), _share(5).map(lambda ph: ph + 4), st.just("") | _TEXT, st.none() | _DAYS)
    | st.builds(Measured, st.just("probe_test"), st.sampled_from(["fails", "passes"])),
    max_size=2,
).map(tuple)
_ZONES = st.builds(
    Zone,
    _TEXT,
    _share(9000).map(lambda area: area + 1),
    st.lists(_FINDINGS, max_size=2).map(tuple),
    st.none() | st.just("tall_fescue"),
    st.none() | _share(30),
    _share(20),
    _MEASURED,
    st.booleans(),
    st.just("") | _TEXT,
)


@st.composite
def _lawns(draw: st.DrawFn) -> Lawn:
    zones = draw(st.lists(_ZONES, min_size=1, max_size=3, unique_by=lambda zone: zone.name))
    names = st.lists(st.sampled_from([zone.name for zone in zones]), unique=True).map(tuple)
    maybe = st.none() | st.booleans()
    return Lawn(
        name=draw(_TEXT),
        on=draw(_DAYS),
        turf="zoysiagrass",
        site=draw(st.sampled_from(words.SITES)),
        zones=tuple(zones),
        place=draw(st.none() | st.just("murfreesboro_tn")),
        state=draw(st.sampled_from(["", "TN", "ND"])),
        stand=draw(st.sampled_from(words.STAND_STAGES)),
        growth=draw(st.none() | st.sampled_from(words.GROWTH_STATES)),
        air_high_f=draw(st.none() | _share(100)),
        paid=draw(maybe),
        well=draw(maybe),
        trees=draw(st.none() | st.lists(st.builds(Tree, _TEXT, st.none() | _share(90), zones=names)).map(tuple)),
        measured=draw(_MEASURED),
        seedings=draw(
            st.lists(st.builds(Seeding, _DAYS, st.just("zoysiagrass"), st.just("sprigs")), max_size=2).map(tuple)
        ),
        history=draw(st.lists(st.builds(PastApplication, _DAYS, st.just("dicamba"), names), max_size=2).map(tuple)),
        label_rates=draw(
            st.lists(
                st.builds(LabelRate, st.just("dicamba"), _share(9).map(lambda x: x + 0.1), _TEXT, _TEXT), max_size=1
            ).map(tuple)
        ),
        target=draw(st.none() | _DAYS),
        notes=draw(st.just("") | _TEXT),
        extra=draw(st.just({}) | st.dictionaries(_TEXT, st.integers() | st.booleans() | _TEXT, min_size=1, max_size=2)),
    )


@given(lawn=_lawns())
def test_a_lawn_written_and_read_is_the_same_lawn(small: Knowledge, lawn: Lawn) -> None:
    """Whatever a lawn holds (odd letters, words that YAML takes for flags, unsettled weeds) survives the file."""
    again = parse_lawn(lawn_text(lawn), "a.yaml", small)
    assert again == lawn
    assert lawn_text(again) == lawn_text(lawn)


_ANYTHING = st.recursive(
    st.none() | st.booleans() | st.integers(-9, 10**9) | st.floats(-1e9, 1e9) | _TEXT,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(_TEXT, inner, max_size=3),
    max_leaves=4,
)


def _paths(value: object, path: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    rows = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [found for key, item in rows for found in [(*path, key), *_paths(item, (*path, key))]]


@given(data=st.data())
def test_a_lawn_file_with_any_value_anywhere_is_read_or_refused_in_words(small: Knowledge, data: st.DataObject) -> None:
    """Two values of a sound lawn are replaced by anything: a lawn, or issues with their lines."""
    value = copy.deepcopy(parse_document(LAWN, "a.yaml").value)
    for _ in range(2):
        path = data.draw(st.sampled_from(_paths(value)))
        row = value
        for key in path[:-1]:
            row = row[key]
        row[path[-1]] = data.draw(_ANYTHING)
        if not value or not _paths(value):
            break
    text = "\n".join(f"{flow_text(key)}: {flow_text(item)}" for key, item in value.items()) + "\n"
    issues = lawn_issues(text, "a.yaml", small)
    assert all(issue.where.line for issue in issues)
    if any(issue.severity == "error" for issue in issues):
        with pytest.raises(LawnError):
            parse_lawn(text, "a.yaml", small)
    else:
        parse_lawn(text, "a.yaml", small)


def test_a_key_that_was_cut_short_is_completed(small: Knowledge) -> None:
    """`bare: 10` means bare_percent; spelling alone would not find it."""
    with pytest.raises(LawnError, match="Write bare_percent"):
        parse_lawn(LAWN.replace("turf_cover_percent: 60", "bare: 10"), "a.yaml", small)
