"""Coverage counts what is there; its text is short and says the same each time."""

from __future__ import annotations

from dataclasses import replace

from weedkey.knowledge import load
from weedkey.knowledge.coverage import coverage
from weedkey.model.base import Knowledge
from weedkey.report.coverage_text import coverage_text
from weedkey.report.style import Style


def test_facts_are_counted_by_kind_and_entry(small: Knowledge) -> None:
    """Counted by hand in goosegrass: 4 states of looks, one of them from memory; 8 other facts, two from memory."""
    found = coverage(small)
    goosegrass = next(share for share in found.by_entry if (share.kind, share.what) == ("weeds", "goosegrass"))
    # life cycle, 4 looks, code (memory), region, calendar, spread, sign, response, look-alike (memory)
    assert (goosegrass.published, goosegrass.total) == (9, 12)
    looks = next(share for share in found.by_kind if (share.kind, share.what) == ("weeds", "looks"))
    assert (looks.published, looks.total) == (16, 17)
    assert (found.published, found.total) == (
        sum(share.published for share in found.by_kind),
        sum(share.total for share in found.by_kind),
    )
    shares = [share.published / share.total for share in found.by_entry]
    assert shares == sorted(shares)


def test_gaps_are_named(small: Knowledge) -> None:
    """A turf without a row, weeds with few looks, pairs that differ in one look only, the years of sources."""
    found = coverage(small)
    gaps = {row.turf: row.controls for row in found.not_known}
    assert gaps["tall_fescue"] == ("2_4_d", "2_4_d_plus_dicamba", "dicamba")
    assert gaps["zoysiagrass"] == ("2_4_d_plus_dicamba", "dicamba")
    # three looks of this knowledge apply to a grass, four to a broadleaf plant
    thin = [(row.weed, row.scored, row.applies) for row in found.thin]
    assert thin == [("tall_fescue_clump", 1, 3), ("white_clover", 3, 4)]
    pairs = {(pair.first, pair.second): pair.traits for pair in found.close}
    assert pairs["purple_nutsedge", "yellow_nutsedge"] == ("tubers",)
    assert [(old.source, old.year) for old in found.oldest] == [("uni_weeds", 2015), ("uni_turf", 2019)]


def test_a_row_above_the_label_makes_no_turf_known(small: Knowledge) -> None:
    """Such a row never speaks for a use by the label, so the pair stays not known."""
    control = small.controls["2_4_d"]
    rows = tuple(replace(row, when=replace(row.when, rate="above_label")) for row in control.tolerance)
    changed = replace(small, controls={**small.controls, "2_4_d": replace(control, tolerance=rows)})
    gaps = {row.turf: row.controls for row in coverage(changed).not_known}
    assert "2_4_d" in gaps["zoysiagrass"]


def test_the_text_is_short_and_steady() -> None:
    """The shipped knowledge: at most 120 lines of at most 100 columns, twice the same."""
    knowledge = load()
    text = coverage_text(knowledge, coverage(knowledge), Style(width=100))
    assert text == coverage_text(load(), coverage(load()), Style(width=100))
    lines = text.splitlines()
    assert len(lines) <= 120
    assert max(map(len, lines)) <= 100
    assert "not known" in text
