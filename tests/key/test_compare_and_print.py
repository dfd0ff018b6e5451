"""Two or three weeds side by side, and the key on paper."""

from __future__ import annotations

from html.parser import HTMLParser

import pytest
from key_cases import generate_knowledge, generate_regions, make_knowledge, make_region, make_trait, make_weed

from weedkey.key import (
    Context,
    build_table,
    compare,
    judge,
    printed_key,
    walk_printed_key,
)
from weedkey.key.printed import list_shown
from weedkey.report.printed_key_text import write_html, write_markdown

TRAITS = [
    make_trait("dig", ["bulb", "none"], 60.0),
    make_trait("colour", ["pale", "dark"], 1.0),
    make_trait("ligule", ["membrane", "hairs"], 15.0),
    make_trait("same", ["yes", "no"], 1.0),
]
WEEDS = [
    make_weed("one", {"dig": "bulb", "colour": "pale", "ligule": "membrane", "same": "yes"}),
    make_weed("two", {"dig": "none", "colour": "dark", "ligule": "membrane", "same": "yes"}),
    make_weed("three", {"dig": "none", "colour": "dark", "ligule": "hairs", "same": "yes"}),
    make_weed("twin", {"dig": "none", "colour": "dark", "ligule": "hairs", "same": "yes"}),
]
KNOWLEDGE = make_knowledge(WEEDS, TRAITS)


def test_only_separating_looks_cheapest_first():
    """Looks on which all agree are left out; the cheapest separating look comes first; sources come along."""
    found = compare(KNOWLEDGE, ["one", "two"], Context(6))
    assert [row.trait for row in found.rows] == ["colour", "dig"]
    assert found.unseparated == ()
    assert found.rows[0].sources == ("from_memory",)
    assert [states[0].state for states in found.rows[0].seen] == ["pale", "dark"]


def test_three_at_once():
    """A look that separates one pair of three is named with that pair."""
    found = compare(KNOWLEDGE, ["one", "two", "three"], Context(6))
    assert [row.trait for row in found.rows] == ["colour", "ligule", "dig"]
    assert next(row for row in found.rows if row.trait == "ligule").pair in {("one", "three"), ("two", "three")}


def test_twins_are_said_to_be_twins():
    """Two weeds that no stated look separates are listed as such."""
    assert compare(KNOWLEDGE, ["three", "twin"], Context(6)).unseparated == (("three", "twin"),)


BIG = generate_knowledge(60, 30, seed=11)
BIG_REGIONS = generate_regions(BIG)
CONTEXT = Context(6, "southeast")
TABLE = build_table(BIG, CONTEXT)


def answers_of(weed):
    """Every error-free answer of a weed: its only or likeliest state, and any state where nothing is stated."""
    found = {}
    for trait in BIG.traits.values():
        shown = list_shown(BIG, TABLE, weed, trait.id)
        found[trait.id] = min(shown) if shown else trait.state_ids[0]
    return found


@pytest.mark.parametrize("regions", [BIG_REGIONS, None], ids=["decision", "name"])
def test_error_free_walks_reach_the_verdict_of_the_engine(regions):
    """An error-free walk for every weed ends at a stop point that holds it, with the engine's verdict."""
    key = printed_key(BIG, CONTEXT, regions)
    settled = 0
    for weed in BIG.weeds:
        stop, looks = walk_printed_key(key, answers_of(weed))
        assert stop is not None, weed
        assert weed in stop.weeds
        standing = judge(TABLE, looks, regions)
        if stop.settled and regions is not None:
            settled += 1
            assert standing.decision.actions[0] in stop.actions
            assert set(stop.actions) <= regions[weed].actions
        elif stop.settled:
            settled += 1
            assert stop.weeds == (weed,)
    assert settled >= 0.8 * len(BIG.weeds)


def test_numbers_hang_together():
    """Every number that a line points to exists and says where it came from; every couplet has two lines at least."""
    key = printed_key(BIG, CONTEXT, BIG_REGIONS)
    by_number = {couplet.number: couplet for couplet in key.couplets}
    assert [couplet.number for couplet in key.couplets] == list(range(1, len(key.couplets) + 1))
    for couplet in key.couplets:
        assert len(couplet.leads) > 1
        for lead in couplet.leads:
            assert (lead.to is None) != (lead.stop is None)
            if lead.to is not None:
                assert by_number[lead.to].came_from == couplet.number


def test_stops_where_the_treatment_is_the_same():
    """If all weeds share a treatment the key is one line; the decision key is shorter than the name key."""
    same = make_region("A")
    key = printed_key(KNOWLEDGE, Context(6), dict.fromkeys(KNOWLEDGE.weeds, same))
    assert key.couplets == ()
    assert set(key.start.weeds) == set(KNOWLEDGE.weeds)
    by_decision = printed_key(BIG, CONTEXT, BIG_REGIONS)
    by_name = printed_key(BIG, CONTEXT, None)
    assert len(by_decision.couplets) < len(by_name.couplets)


def test_markdown_and_html():
    """Both texts hold every number and every weed; the page is well formed, without scripts or outside files."""
    key = printed_key(KNOWLEDGE, Context(6), None)
    text, page = write_markdown(KNOWLEDGE, key), write_html(KNOWLEDGE, key)
    for couplet in key.couplets:
        assert f"**{couplet.number}.**" in text
        assert f'id="n{couplet.number}"' in page
    for weed in KNOWLEDGE.weeds.values():
        assert weed.name in text
        assert weed.name in page
    assert "not parted any further" in text  # the twins

    class Balanced(HTMLParser):
        """Counts what is open."""

        open_tags: tuple[str, ...] = ()

        def handle_starttag(self, tag, attrs):  # noqa: ARG002 - the parser's own signature
            if tag != "meta":
                self.open_tags += (tag,)

        def handle_endtag(self, tag):
            assert self.open_tags[-1] == tag
            self.open_tags = self.open_tags[:-1]

    parser = Balanced()
    parser.feed(page)
    assert parser.open_tags == ()
    assert "<script" not in page
    assert "http" not in page


def test_the_key_repeats_exactly():
    """The same key twice is the same to the last number."""
    assert printed_key(BIG, CONTEXT, BIG_REGIONS) == printed_key(BIG, CONTEXT, BIG_REGIONS)
