"""Safety sweep: whatever the weed, turf, month, site and state of growth, nothing is offered that any fact forbids."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from datetime import date
from itertools import product
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from safety_oracle import WARM, objections
from shipped_cases import shipped

from weedkey.control import Setting, judge_weed, list_choices
from weedkey.control.gatebook import GateBook
from weedkey.model.vocabulary import GROWTH_STATES, SITES, STAND_STAGES

#: Set to 1 to sweep every combination (some minutes) instead of a fixed sample of the settings.
FULL = os.environ.get("WEEDKEY_FULL_SWEEP") == "1"
#: By default every 31st setting: no common factor with the length of any list, so that every value of each occurs.
STRIDE = 1 if FULL else 31
CHOICE_STRIDE = 1009 if FULL else 31 * 11
HIGHS = (48.0, 55.0, 62.0, 70.0, 77.0, 83.0, 86.0, 89.0, 91.0, 84.0, 72.0, 60.0)


def settings() -> Iterator[tuple[Setting, dict[str, object]]]:
    """Every turf, month, site and state of growth, with a day, a temperature and a licence that vary with them."""
    turfs = tuple(shipped().turfs)
    for number, (turf, month, site, growth) in enumerate(product(turfs, range(1, 13), SITES, GROWTH_STATES)):
        day = 1 + number * 7 % 28
        high = HIGHS[(month + number % 3 - 1) % 12]
        licensed = number % 2 == 0
        here = Setting(
            turf=turf,
            on=date(2025, month, day),
            site=site,
            region=("southeast", "transition", None)[number % 3],
            state="TN",
            growth=growth,
            stand_age_days=4000,
            air_high_f=high,
            air_low_f=high - 18,
            paid=False,
            licensed=licensed,
        )
        context: dict[str, object] = {
            "turf": turf,
            "month": month,
            "day": day,
            "site": site,
            "growth": growth,
            "high": high,
            "stand": "established",
            "region": here.region,
            "cultivar": None,
            "age": 4000,
            "mowings": 50,
            "state": "TN",
            "licensed": licensed,
        }
        yield here, context


def test_nothing_is_offered_that_a_fact_forbids(capsys: pytest.CaptureFixture[str]) -> None:
    """Every weed against every control in each swept setting: an offer must stand before the oracle."""
    base = shipped()
    asked = offered = swept = 0
    wrong: list[str] = []
    for number, (here, context) in enumerate(settings()):
        if number % STRIDE:
            continue
        swept += 1
        book = GateBook(base, here)
        verdicts: dict[tuple[str, str], list[str]] = {}
        for weed in base.weeds.values():
            for control in book.controls_about(weed):
                for timing in book.timings(control):
                    asked += 1
                    if control.kind in ("non_selective", "heat_or_cover"):
                        tolerance = book.tolerance(control, timing).result
                        is_offered = tolerance in ("safe", "caution") and book.is_offered(
                            control, "broadcast", timing, weed
                        )
                    else:
                        is_offered = book.is_offered(control, "broadcast", timing, weed)
                    if not is_offered:
                        continue
                    offered += 1
                    key = (control.id, timing)
                    if key not in verdicts:
                        verdicts[key] = list(objections(control.id, context, timing))
                        wrong += [f"{control.id} {timing} {context}: {reason}" for reason in verdicts[key]]
    with capsys.disabled():
        sys.stdout.write(
            f"\nsafety sweep: {swept} settings x {len(base.weeds)} weeds = {swept * len(base.weeds)} combinations,"
            f" {asked} questions, {offered} offers\n"
        )
    assert offered > 1000
    assert not wrong, "\n".join(wrong[:20])


def test_the_lists_that_are_shown_pass_the_same_oracle() -> None:
    """Choices and verdicts as other parts receive them, for every weed in a sample of the settings."""
    base = shipped()
    for number, (here, context) in enumerate(settings()):
        if number % CHOICE_STRIDE:
            continue
        for weed in list(base.weeds)[number % 5 :: 5]:
            shown = {}
            for choice in list_choices(base, weed, here):
                shown[choice.control] = choice
                if choice.offered:
                    assert not list(objections(choice.control, context, choice.timing)), (weed, choice.control, context)
                    assert choice.result in ("excellent", "good", "fair", "listed")
                    assert choice.tolerance in ("safe", "caution")
            verdict = judge_weed(base, weed, here)
            if verdict.kind == "treat_now":
                assert all(shown[control].offered for control in verdict.controls), (weed, context)
            if verdict.kind == "spot_treatment_only":
                assert all(shown[c].spot or shown[c].offered for c in verdict.controls if c in shown), (weed, context)


@given(data=st.data())
def test_whatever_is_known_or_not_nothing_forbidden_is_offered(data: st.DataObject) -> None:
    """Any mixture of answers given and not given: an offer must stand before the oracle, on any stand and cultivar."""
    base = shipped()
    told: dict[str, Any] = {
        "growth": data.draw(st.sampled_from((None, *GROWTH_STATES))),
        "site": data.draw(st.sampled_from((None, *SITES))),
        "stand": data.draw(st.sampled_from((None, *STAND_STAGES))),
        "state": data.draw(st.sampled_from(("", "TN", "FL", "CT"))),
        "region": data.draw(st.sampled_from((None, "southeast"))),
        "licensed": data.draw(st.sampled_from((None, True, False))),
    }
    turf = data.draw(st.sampled_from(sorted(base.turfs)))
    names = sorted(entry.id for entry in base.turfs[turf].cultivars)
    cultivar = data.draw(st.sampled_from((None, *names)))
    high = data.draw(st.sampled_from((None, 50.0, 75.0, 88.0, 95.0)))
    age = data.draw(st.sampled_from((None, 100, 4000)))
    mowings = data.draw(st.sampled_from((None, 0, 5)))
    on = data.draw(st.dates(date(2025, 1, 1), date(2025, 12, 31)))
    here = Setting(
        turf=turf,
        on=on,
        cultivar=cultivar,
        air_high_f=high,
        stand_age_days=age,
        mowings_since_seeding=mowings,
        spot=data.draw(st.booleans()),
        **told,
    )
    context = told | {"turf": turf, "cultivar": cultivar, "high": high, "age": age, "mowings": mowings}
    context |= {"month": on.month, "day": on.day}
    for weed in data.draw(st.lists(st.sampled_from(sorted(base.weeds)), min_size=1, max_size=4, unique=True)):
        for choice in list_choices(base, weed, here):
            if choice.offered and not here.spot:
                assert not list(objections(choice.control, context, choice.timing)), choice.control
            if choice.offered and here.spot:
                found = [one for one in objections(choice.control, context, choice.timing) if "spots" not in one]
                assert not [one for one in found if one not in ("non-selective", "heat")], choice.control


@pytest.mark.parametrize("site", SITES)
def test_msma_is_never_offered_on_home_lawns(site: str) -> None:
    """Source: UGA (2009), Michigan State: not on residential, athletic or commercial turf; alone or in a mixture."""
    base = shipped()
    for turf, growth in product(base.turfs, GROWTH_STATES):
        here = Setting(turf=turf, on=date(2025, 6, 15), site=site, state="TN", growth=growth, licensed=True, spot=True)
        book = GateBook(base, here)
        held = [c for c in base.controls.values() if "msma" in (c.id, *c.parts)]
        assert held
        for control in held:
            if site in ("home_lawn", "commercial_grounds", "sports_field", "school_ground"):
                assert not book.passes(control, "spot", "post_emergence"), control.id


def test_clopyralid_is_not_for_residential_turf() -> None:
    """Source: EPA interim decision of 2020: barred from residential turf, alone or in a mixture."""
    base = shipped()
    for turf in base.turfs:
        here = Setting(turf=turf, on=date(2025, 5, 15), site="home_lawn", state="TN", growth="growing", licensed=True)
        book = GateBook(base, here)
        for control in base.controls.values():
            if "clopyralid" in (control.id, *control.parts):
                assert not book.passes(control, "broadcast", "post_emergence"), control.id


def test_sethoxydim_is_for_centipedegrass_and_where_rows_say_so() -> None:
    """Source: UGA B1393, Augusta (2007): centipedegrass only; fine fescue and carpetgrass have rows of their own."""
    base = shipped()
    open_on = set()
    for turf in base.turfs:
        here = Setting(
            turf=turf,
            on=date(2025, 6, 15),
            site="home_lawn",
            state="TN",
            growth="growing",
            air_high_f=75.0,
            stand_age_days=4000,
            days_since_green_up=60,
        )
        if GateBook(base, here).passes(base.controls["sethoxydim"], "broadcast", "post_emergence"):
            open_on.add(turf)
    assert "centipedegrass" in open_on
    assert open_on <= {"centipedegrass", "fine_fescue", "carpetgrass"}


def test_the_oracle_knows_the_same_warm_season_grasses() -> None:
    """The oracle's own list agrees with the turf entries."""
    assert {turf.id for turf in shipped().turfs.values() if turf.season == "warm"} == WARM


def test_the_oracle_can_object() -> None:
    """An oracle that never objects would prove nothing."""
    context = next(settings())[1] | {
        "turf": "st_augustinegrass",
        "growth": "growing",
        "high": 80.0,
        "site": "home_lawn",
    }
    assert list(objections("msma", context, "post_emergence"))
    assert list(objections("glyphosate", context, "post_emergence"))
    assert list(objections("quinclorac", context, "post_emergence"))
    assert not list(objections("atrazine", context, "post_emergence"))
