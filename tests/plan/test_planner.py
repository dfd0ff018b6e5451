"""The planner on the three invented lawns, and on any lawn that can be built: no gate is ever passed."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from weedkey.control import list_choices
from weedkey.control.gatebook import open_book
from weedkey.knowledge import load
from weedkey.knowledge.lawn_file import read_lawn
from weedkey.knowledge.locate import shipped_folder
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Finding, Lawn, PastApplication, Spots, Tree, Zone
from weedkey.model.vocabulary import SITES
from weedkey.plan.planner import make_plan, with_stage
from weedkey.plan.results import Action, Plan, Visit
from weedkey.plan.situation import beliefs_of, setting_for
from weedkey.season.own_record import parse_daily_temperatures


@cache
def knowledge() -> Knowledge:
    """The shipped knowledge."""
    return load()


@cache
def demo_plan(name: str) -> Plan:
    """The plan of a demo lawn."""
    return make_plan(knowledge(), read_lawn(shipped_folder() / "demo" / f"{name}.yaml", knowledge()))


def gates_passed(plan: Plan) -> list[str]:
    """Every action whose gates, asked again in the setting of its visit, do not let it pass."""
    return [
        problem for visit in plan.visits for action in visit.actions for problem in problems_of(plan, visit, action)
    ]


def problems_of(plan: Plan, visit: Visit, action: Action) -> list[str]:
    """What speaks against an action on the first day of its visit."""
    found = []
    zones = {zone.name: zone for zone in plan.lawn.zones}
    for target in action.targets:
        zone = zones[target.zone]
        finding = zone.findings[target.place]
        setting = setting_for(knowledge(), plan.lawn, zone, visit.first)
        if visit.first == plan.start:
            setting = with_stage(setting, finding)
        choices = [
            c for c in list_choices(knowledge(), beliefs_of(finding.weeds), setting) if c.control == action.control
        ]
        allowed = any(choice.offered or (action.use == "spot" and choice.spot) for choice in choices)
        if not allowed:
            found.append(f"{action.control} on {list(finding.weeds)} in {zone.name} at {visit.first}")
    if not action.targets:
        setting = setting_for(knowledge(), plan.lawn, zones[action.zones[0]], visit.first)
        control = knowledge().controls[action.control]
        if not open_book(knowledge(), setting).passes(control, "broadcast", "post_emergence"):
            found.append(f"{action.control} as a remedy at {visit.first}")
    return found


DEMOS = ("tennessee_zoysiagrass", "gulf_centipedegrass", "transition_tall_fescue")


@pytest.mark.parametrize("name", DEMOS)
def test_no_action_of_a_demo_plan_passes_a_shut_gate(name: str) -> None:
    """Each action is offered, or allowed on the spot, on the first day of its visit."""
    assert gates_passed(demo_plan(name)) == []


@pytest.mark.parametrize("name", DEMOS)
def test_every_weed_gets_a_verdict_and_the_owner_is_told(name: str) -> None:
    """A verdict for each finding; the owner's sheet names each of them and promises nothing."""
    plan = demo_plan(name)
    assert len(plan.findings) == sum(len(zone.findings) for zone in plan.lawn.zones)
    rules = [step.rule for step in plan.owner]
    assert rules[0] == "plan.owner_lawn"
    assert rules[-1] == "plan.owner_no_promise"


def test_the_arsenical_is_never_for_a_home_lawn() -> None:
    """Residential turf: not labelled since 2010. Source: University of Georgia, MSMA use changes, 2009 (uga_msma09)."""
    for name in DEMOS:
        plan = demo_plan(name)
        assert any(row.control == "msma" and row.gate == "site" for row in plan.never)
        assert all(action.control != "msma" for visit in plan.visits for action in visit.actions)


def test_the_unsettled_sedge_gets_one_look() -> None:
    """The downspout sedge stays a set; one look is named, and whether the treatment hangs on it."""
    (row,) = demo_plan("tennessee_zoysiagrass").unsettled
    assert row.target.zone == "downspout"
    assert row.look is not None


def test_ground_causes_take_their_place_among_the_visits() -> None:
    """The compacted drive edge gets aerated in a visit in which zoysiagrass grows."""
    plan = demo_plan("tennessee_zoysiagrass")
    rows = [(visit, a) for visit in plan.visits for a in visit.actions if a.control == "core_aeration"]
    assert rows
    assert "drive edge" in rows[0][1].zones
    assert 5 <= rows[0][0].first.month <= 8


def test_half_weeds_means_starting_again_with_the_rules_side_by_side() -> None:
    """Over half weeds: Clemson (1999) and Maryland fire, Rutgers' 30 % rule does not; all of them are shown.

    Sources: Clemson HGIC 1204, 1999 (clem_reno); Rutgers FS108 (rut_fs108).
    """
    verdict = demo_plan("transition_tall_fescue").lawn_verdict
    outcomes = {step.rule: step.outcome for step in verdict.thresholds}
    assert verdict.kind == "renovate"
    assert outcomes["threshold.desirable_under_50_clemson"] == "fires"
    assert outcomes["threshold.desirable_under_30_rutgers"] == "no"
    assert demo_plan("transition_tall_fescue").renovation


def test_what_is_barred_in_one_zone_only_says_so() -> None:
    """Metsulfuron is kept from the maples' roots but used in the back lawn: the bar names its zone."""
    for name in DEMOS:
        plan = demo_plan(name)
        used = {action.control: action.zones for visit in plan.visits for action in visit.actions}
        for row in plan.never:
            if row.control in used:
                assert row.zones
                assert not set(row.zones) & set(used[row.control])


def lawns() -> st.SearchStrategy[Lawn]:
    """Any lawn of one or two zones with known weeds, on any turf, place, day and site."""
    base = knowledge()
    weeds = st.sampled_from(sorted(base.weeds))
    settled = st.builds(
        lambda weed, cover, stage, spots: Finding({weed: 1.0}, cover, stage, spots=spots),
        weeds,
        st.floats(0, 60),
        st.sampled_from(["any", "seedling", "mature", "flowering"]),
        st.none() | st.builds(Spots, st.integers(1, 40), st.floats(1, 40)),
    )
    unsettled = st.builds(
        lambda pair, cover: Finding({pair[0]: 0.6, pair[1]: 0.4}, cover),
        st.tuples(weeds, weeds).filter(lambda pair: pair[0] != pair[1]),
        st.floats(0, 60),
    )
    zones = st.lists(st.lists(settled | unsettled, min_size=1, max_size=3), min_size=1, max_size=2).map(
        lambda rows: tuple(Zone(f"zone {n}", 1000.0, tuple(found)) for n, found in enumerate(rows))
    )
    history = st.lists(
        st.builds(
            PastApplication, st.dates(date(2025, 1, 1), date(2026, 12, 31)), st.sampled_from(sorted(base.controls))
        ),
        max_size=2,
    ).map(tuple)
    return st.builds(
        lambda turf, place, on, site, parts, past, tree, growth: Lawn(
            "any lawn", on, turf, site, parts, place, history=past, trees=tree, growth=growth
        ),
        st.sampled_from(sorted(base.turfs)),
        st.none() | st.sampled_from(sorted(base.places)),
        st.dates(date(2024, 1, 1), date(2028, 12, 31)),
        st.sampled_from(SITES),
        zones,
        history,
        st.none() | st.just((Tree("oak", 0.0, 50.0),)) | st.just(()),
        st.none() | st.sampled_from(["dormant", "growing", "green_up", "drought_stress"]),
    )


@settings(max_examples=40)
@given(st.deferred(lawns))
def test_no_lawn_yields_a_plan_that_passes_a_shut_gate(lawn: Lawn) -> None:
    """Whatever is typed, each action's own gates let it pass on the first day of its visit."""
    assert gates_passed(make_plan(knowledge(), lawn)) == []


def test_leap_day_and_the_past_are_days_like_any_other() -> None:
    """A plan may start on 29 February and in a year gone by."""
    lawn = read_lawn(shipped_folder() / "demo" / "gulf_centipedegrass.yaml", knowledge())
    plan = make_plan(knowledge(), replace(lawn, on=date(2024, 2, 29)))
    assert plan.start == date(2024, 2, 29)
    assert gates_passed(plan) == []


def test_the_users_own_cold_spring_stands_above_the_normals() -> None:
    """Three months near freezing keep zoysiagrass from growing, in either scale; the normals would have it grow."""
    lawn = read_lawn(shipped_folder() / "demo" / "tennessee_zoysiagrass.yaml", knowledge())
    days = [lawn.on - timedelta(days=back) for back in range(90)]
    cold_f = parse_daily_temperatures("date,min,max (F)\n" + "".join(f"{day},32,41\n" for day in days))
    cold_c = parse_daily_temperatures("date,min,max (C)\n" + "".join(f"{day},0,5\n" for day in days))
    zone = lawn.zones[0]
    assert setting_for(knowledge(), lawn, zone).growth == "growing"
    for own in (cold_f, cold_c):
        setting = setting_for(knowledge(), lawn, zone, own=own)
        assert setting.growth != "growing"
        assert setting.air_high_f == pytest.approx(41)
    assert make_plan(knowledge(), lawn, own=cold_f) == make_plan(knowledge(), lawn, own=cold_c)


def test_a_southern_lawn_is_planned_by_its_own_seasons() -> None:
    """The Tennessee place moved south of the equator: the same plan half a year later, and no gate passed."""
    base = knowledge()
    north = base.places["murfreesboro_tn"]
    turned = replace(
        north,
        id="south",
        latitude=-north.latitude,
        high_f=north.high_f[6:] + north.high_f[:6],
        low_f=north.low_f[6:] + north.low_f[:6],
        frost=(),
    )
    south = replace(base, places={**base.places, "south": turned}, digest=base.digest + "south")
    lawn = read_lawn(shipped_folder() / "demo" / "tennessee_zoysiagrass.yaml", base)
    summer = setting_for(south, replace(lawn, place="south", on=date(2026, 12, 3)), lawn.zones[0])
    assert summer.growth == "growing"
    winter = setting_for(south, replace(lawn, place="south"), lawn.zones[0])
    assert winter.growth != "growing"
    plan = make_plan(south, replace(lawn, place="south", on=date(2026, 12, 3)))
    assert plan.visits
    assert plan.visits[0].first == date(2026, 12, 3)
