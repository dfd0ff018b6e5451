"""Whatever people call it: case, plural, hyphen, spelling, former and scientific names."""

from __future__ import annotations

import subprocess
import sys

import pytest

from weedkey.errors import UnknownName
from weedkey.knowledge import find_entry, search
from weedkey.model.base import Knowledge


@pytest.mark.parametrize(
    ("kind", "typed", "found"),
    [
        ("weed", "goosegrass", "goosegrass"),
        ("weed", "Goose Grass", "goosegrass"),
        ("weed", "goose-grasses", "goosegrass"),
        ("weed", "ELEUSINE INDICA", "goosegrass"),
        ("weed", "E. indica", "goosegrass"),
        ("weed", "silver crabgrass", "goosegrass"),
        ("weed", "Yellow Nut-Sedges", "yellow_nutsedge"),
        ("weed", "Trifolium nigrescens repens", "white_clover"),
        ("turf", "Zoysia japonica", "zoysiagrass"),
        ("control", "2,4-D", "2_4_d"),
        ("control", "2,4-d + Dicamba", "2_4_d_plus_dicamba"),
        ("control", "2,4-D and dicamba", "2_4_d_plus_dicamba"),
        ("control", "coring", "core_aeration"),
        ("place", "murfreesboro", "murfreesboro_tn"),
    ],
)
def test_an_entry_is_found_by_what_people_type(small: Knowledge, kind: str, typed: str, found: str) -> None:
    """One name, one entry."""
    assert find_entry(getattr(small, f"{kind}s"), kind, typed).id == found


@pytest.mark.parametrize(
    ("typed", "nearest"),
    [("goosegras", "goosegrass"), ("yelow nutsege", "yellow nutsedge"), ("clover", "white clover")],
)
def test_an_unknown_name_lists_the_nearest(small: Knowledge, typed: str, nearest: str) -> None:
    """The best guess stands first and the message asks for it."""
    with pytest.raises(UnknownName) as caught:
        find_entry(small.weeds, "weed", typed)
    assert caught.value.nearest[0] == nearest
    assert f"Did you mean {nearest}" in str(caught.value)


def test_a_name_of_two_entries_settles_nothing(small: Knowledge) -> None:
    """Nutgrass is both nutsedges: both are named, neither is taken."""
    with pytest.raises(UnknownName) as caught:
        find_entry(small.weeds, "weed", "nutgrass")
    assert sorted(caught.value.nearest) == ["purple nutsedge", "yellow nutsedge"]


@pytest.mark.parametrize("typed", ["", "   ", "???", "x" * 500, "中"])
def test_nonsense_finds_nothing_and_breaks_nothing(small: Knowledge, typed: str) -> None:
    """An empty or senseless name is unknown."""
    with pytest.raises(UnknownName):
        find_entry(small.weeds, "weed", typed)
    assert search(small, typed) == []


def test_a_search_puts_exact_names_first(small: Knowledge) -> None:
    """Exact, then names that begin so, then names that hold the text, then likeness only."""
    assert search(small, "goosegrass")[0].score == 100.0
    assert [match.id for match in search(small, "nutsedge")] == ["purple_nutsedge", "yellow_nutsedge"]
    assert search(small, "gosegrass")[0].id == "goosegrass"
    assert {match.kind for match in search(small, "tall fescue", ("weed", "turf"))} == {"weed", "turf"}
    assert len(search(small, "s", limit=2)) == 2


def test_a_known_name_imports_no_library() -> None:
    """Loading and finding need neither rapidfuzz nor a YAML or schema library."""
    code = (
        "import sys; from weedkey.knowledge import load, find_entry, search; load(); k = load();"
        "find_entry(k.weeds, 'weed', 'Goose-Grass'); search(k, 'crab');"
        "print([m for m in ('rapidfuzz', 'yaml', 'jsonschema', 'ruamel') if m in sys.modules])"
    )
    subprocess.run([sys.executable, "-c", "from weedkey.knowledge import load; load()"], check=True)
    done = subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True)
    assert done.stdout.strip() == "[]"
