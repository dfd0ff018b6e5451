"""Verdicts: the six kinds, what stands behind them, what would change them."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from control_cases import (
    MEMORY,
    annual,
    chemical,
    home_bar,
    knowledge,
    response,
    row,
    setting,
    weed,
)

from weedkey.control import Setting, Verdict, decision_regions, judge_cover, judge_weed
from weedkey.control.regions import controls_of
from weedkey.control.verdicts import VERDICT_RULES
from weedkey.model.control import Control, WorksOn
from weedkey.model.weed import OnlyNonSelective, Sequence, Weed
from weedkey.model.window import Window

SAFE = row("bermudagrass", "safe")
X = chemical("x", SAFE)
BARRIER = chemical("barrier", SAFE, kind="pre_emergence")
GLYPHOSATE = chemical("glyphosate", row("any", "injures"), kind="non_selective", works_on=(WorksOn("good", MEMORY),))
DIG = Control("dig", "digging", "hand", MEMORY, works_on=(WorksOn("fair", MEMORY),))
SOD = Control("sod", "new sod", "replant", MEMORY)
CONTROLS = [X, BARRIER, GLYPHOSATE, DIG, SOD, chemical("y", SAFE)]


def year_ahead(first: Setting) -> tuple[Setting, ...]:
    """The same lawn every half month for a year; hot in high summer, dormant in winter."""
    found = []
    for step in range(1, 25):
        on = first.on + timedelta(days=15 * step)
        growth = "dormant" if on.month in (12, 1, 2) else "green_up" if on.month == 3 else "growing"
        high = 93.0 if on.month in (7, 8) else 76.0
        found.append(replace(first, on=on, growth=growth, air_high_f=high, air_low_f=high - 20))
    return tuple(found)


def judge(
    plant: Weed,
    *,
    controls: list[Control] | None = None,
    cover: float | None = None,
    ahead: bool = True,
    **more: object,
) -> Verdict:
    """The verdict for one weed."""
    first = setting(**more)
    return judge_weed(
        knowledge([plant], CONTROLS if controls is None else controls),
        plant.id,
        first,
        year_ahead(first) if ahead else (),
        cover,
    )


def test_treat_now() -> None:
    """A selective control that is open today."""
    verdict = judge(weed("a", responses=(response("x", "good"),)))
    assert (verdict.kind, verdict.controls, verdict.trace.rule) == ("treat_now", ("x",), "verdict.selective_now")
    assert verdict.second_best is not None


def test_wait_for_the_months_of_the_rating() -> None:
    """Source: HortScience 51(6), 2016: dallisgrass in September, then October; seen in May it waits."""
    plant = weed(
        "a",
        responses=(
            response(
                "x",
                "excellent",
                months=(Window.months(9, 9),),
                judged_weeks=37,
                sequence=Sequence(sprays=2, interval_days=(28, 35)),
            ),
        ),
    )
    verdict = judge(plant)
    assert (verdict.kind, verdict.controls) == ("wait_for", ("x",))
    assert verdict.window is not None
    assert (verdict.window.first, verdict.window.last) == (date(2025, 9, 12), date(2025, 10, 11))
    assert verdict.second_best is not None
    assert verdict.second_best.kind == "treat_now"
    assert verdict.judge_weeks == (37, 37)
    assert verdict.sequence is not None
    assert verdict.sequence.sprays == 2


def test_a_mature_plant_does_not_grow_young_again() -> None:
    """What only takes seedlings is no way out for a mature perennial, now or later."""
    plant = weed("a", group="grassy", responses=(response("x", "good", stages=("seedling",)), response("y", "fair")))
    verdict = judge(plant, controls=[X, chemical("y", row("bermudagrass", "injures")), GLYPHOSATE], weed_stage="mature")
    assert verdict.kind == "spot_treatment_only"


def test_when_the_owner_may_judge() -> None:
    """The rating's date and sequence come with the verdict."""
    sprays = Sequence(sprays=2, interval_days=(28, 35))
    plant = weed("a", responses=(response("x", "excellent", judged_weeks=37, sequence=sprays),))
    verdict = judge(plant)
    assert (verdict.judge_weeks, verdict.sequence) == ((37, 37), sprays)


def test_a_fair_result_gives_way_to_a_good_one_that_opens_soon() -> None:
    """What holds a perennial back today is not worth a spray if its month is near."""
    plant = weed("a", responses=(response("x", "fair"), response("y", "good", months=(Window.months(7, 12),))))
    soon = judge(plant, on=date(2025, 6, 20))
    assert (soon.kind, soon.trace.rule, soon.controls) == ("wait_for", "verdict.better_later", ("y",))
    late = judge(plant, on=date(2025, 4, 10))
    assert (late.kind, late.controls) == ("treat_now", ("x",))


@pytest.mark.parametrize(
    ("plant", "on", "turf"),
    [
        (annual("henbit", "winter_annual", responses=(response("x", "good"),)), date(2025, 4, 5), "bermudagrass"),
        (annual("doveweed", responses=(response("x", "good"),)), date(2025, 10, 5), "bermudagrass"),
        (annual("large_crabgrass", responses=(response("x", "good"),)), date(2025, 8, 16), "tall_fescue"),
    ],
)
def test_an_annual_near_its_end_is_left(plant: Weed, on: date, turf: str) -> None:
    """Source: UGA agent (winter annuals in spring), UF (2008, doveweed in October), K-State (2021, crabgrass)."""
    verdict = judge(plant, controls=[chemical("x", row("any", "safe"))], on=on, turf=turf)
    assert (verdict.kind, verdict.trace.rule, bool(verdict.trace.sources)) == (
        "leave_it",
        "verdict.annual_ending",
        True,
    )


def test_a_large_stand_of_crabgrass_in_august_is_not_ignored() -> None:
    """Source: K-State (2021): a small stand is best ignored."""
    plant = annual("large_crabgrass", responses=(response("x", "good"),))
    controls = [chemical("x", row("any", "safe"))]
    verdict = judge(plant, controls=controls, on=date(2025, 8, 16), turf="tall_fescue", cover=30)
    assert verdict.kind == "treat_now"


def test_an_annual_without_a_way_now_is_prevented() -> None:
    """The window lies before its germination."""
    plant = annual("a", responses=(response("barrier", "good", timing="pre_emergence"),))
    verdict = judge(plant, on=date(2025, 6, 15))
    assert (verdict.kind, verdict.controls) == ("prevent", ("barrier",))
    assert verdict.window is not None
    assert (verdict.window.first, verdict.window.last) == (date(2026, 2, 15), date(2026, 4, 15))
    assert judge(plant, on=date(2025, 6, 15), ahead=False).kind == "prevent"


def test_a_winter_annual_in_july_is_prevented_rather_than_awaited() -> None:
    """Not there to be sprayed, easily met before it comes up."""
    rows = (response("barrier", "good", timing="pre_emergence"), response("x", "good"))
    verdict = judge(annual("a", "winter_annual", responses=rows), on=date(2025, 7, 15))
    assert verdict.kind == "prevent"
    assert verdict.second_best is not None
    assert verdict.second_best.kind == "wait_for"


def test_a_barrier_that_the_turf_does_not_stand_prevents_nothing() -> None:
    """No prevention with a control that injures."""
    plant = annual("a", responses=(response("barrier", "good", timing="pre_emergence"),))
    bad = chemical("barrier", row("bermudagrass", "injures"), kind="pre_emergence")
    assert judge(plant, controls=[bad, DIG]).kind != "prevent"
    barred = chemical("barrier", SAFE, kind="pre_emergence", sites=(home_bar(),))
    assert judge(plant, controls=[barred, DIG], site=None, ahead=False).kind != "prevent"


def test_only_the_spot() -> None:
    """A perennial without any selective control: the spot, by chemistry or by hand; the turf in it dies."""
    verdict = judge(weed("a", group="grassy"))
    assert (verdict.kind, verdict.trace.rule) == ("spot_treatment_only", "verdict.no_selective_known")
    assert set(verdict.controls) == {"glyphosate", "dig"}


def test_a_standing_statement_beats_a_fair_selective_control() -> None:
    """Source: LSU (2018): torpedograss in centipedegrass; sethoxydim only holds it for a time."""
    says = OnlyNonSelective("bermudagrass", "no good option", ("trial_b",), year="2018")
    plant = weed("a", responses=(response("x", "fair"),), only_non_selective=(says,))
    verdict = judge(plant)
    assert (verdict.kind, verdict.trace.rule) == ("spot_treatment_only", "verdict.statement_stands")
    assert [(step.outcome, step.facts["year"]) for step in verdict.dated] == [("holds", "2018")]
    assert verdict.second_best is not None
    assert verdict.second_best.controls == ("x",)


@pytest.mark.parametrize(
    ("statement", "reply", "kind"),
    [
        ({"sources": ("trial_a",)}, {"sources": ("trial_b",)}, "treat_now"),  # 2010, overturned by 2020
        ({"sources": ("trial_b",)}, {"sources": ("trial_a",)}, "spot_treatment_only"),  # 2020 stands against 2010
        ({"sources": ("undated",)}, {"sources": ("trial_b",)}, "spot_treatment_only"),  # nothing shows what came first
        ({"sources": MEMORY}, {"sources": ("trial_a",)}, "treat_now"),  # memory yields to publication
        ({"sources": ("trial_a",)}, {"sources": MEMORY}, "spot_treatment_only"),  # publication does not yield to memory
        ({"sources": ("trial_b",), "holds": False}, {"sources": ("trial_a",)}, "treat_now"),  # marked as overturned
        ({"sources": ("trial_b",), "sites": ("golf",)}, {"sources": ("trial_a",)}, "treat_now"),  # another site
        ({"sources": ("trial_b",), "turf": "zoysiagrass"}, {"sources": ("trial_a",)}, "treat_now"),  # another turf
    ],
)
def test_what_overturns_a_statement(statement: dict[str, object], reply: dict[str, object], kind: str) -> None:
    """A later published option with published tolerance overturns an older statement; nothing else does."""
    says = OnlyNonSelective(**({"turf": "bermudagrass", "why": "none known"} | statement))
    plant = weed("a", responses=(response("x", "good", **reply),), only_non_selective=(says,))
    assert judge(plant).kind == kind


def test_the_statement_that_fell_is_shown_with_what_overturned_it() -> None:
    """The year of the guidance stays in sight, and the option that came later."""
    says = OnlyNonSelective("bermudagrass", "none known", ("trial_a",), year="not stated")
    plant = weed("a", responses=(response("x", "good", sources=("trial_b",)),), only_non_selective=(says,))
    step = judge(plant).dated[0]
    assert (step.outcome, step.facts["year"], step.facts["overturned_by"]) == ("overturned", "2010", ["x"])


def test_a_barrier_rated_for_later_months_still_prevents() -> None:
    """Ratings for August to October count although the window opens in July."""
    row_later = response("barrier", "good", timing="pre_emergence", months=(Window.months(8, 10),))
    verdict = judge(annual("a", "winter_annual", responses=(row_later,)), on=date(2025, 6, 1), ahead=False)
    assert verdict.window is not None
    assert (verdict.kind, verdict.controls, verdict.window.first.month) == ("prevent", ("barrier",), 8)


def test_renovation_past_the_published_thresholds() -> None:
    """Sixty percent of a grass that only a non-selective control takes."""
    verdict = judge(weed("a", group="grassy"), cover=60)
    assert (verdict.kind, "sod" in verdict.controls, "glyphosate" in verdict.controls) == ("renovate", True, True)
    assert judge(weed("a", group="grassy"), cover=30).kind == "spot_treatment_only"
    assert judge(weed("a", responses=(response("x", "good"),)), cover=60).kind == "treat_now"


def test_measures_without_chemistry_stand_in_the_same_list() -> None:
    """Moss: the cause is changed, nothing is sprayed."""
    shade = Control("light", "more light", "shade", MEMORY, works_on=(WorksOn("good", MEMORY),))
    verdict = judge(weed("moss", group="moss_or_algae"), controls=[shade])
    assert (verdict.kind, verdict.controls) == ("treat_now", ("light",))


def test_nothing_known_nothing_done() -> None:
    """No fact, no recommendation."""
    verdict = judge(weed("a"), controls=[X])
    assert (verdict.kind, verdict.controls, verdict.trace.rule) == ("leave_it", (), "verdict.nothing_known")


def test_what_would_change_the_verdict() -> None:
    """The gates that shut the better control are shown, non-selective controls are not called better."""
    msma = chemical("msma", SAFE, sites=(home_bar(),))
    plant = weed("a", responses=(response("x", "fair"), response("msma", "excellent")))
    verdict = judge(plant, controls=[X, msma, GLYPHOSATE])
    assert [(step.facts["control"], step.facts["gates"]) for step in verdict.would_change] == [("msma", ["site"])]


def pair() -> tuple[Weed, Weed]:
    """Two weeds with one control in common."""
    one = weed("a", responses=(response("x", "good"), response("y", "excellent")))
    return one, weed("b", responses=(response("x", "fair"),))


def test_a_set_is_treated_with_what_serves_all() -> None:
    """The name need not be settled if one control takes both."""
    verdict = judge_weed(knowledge(list(pair()), CONTROLS), {"a": 0.6, "b": 0.4}, setting())
    assert (verdict.kind, verdict.controls) == ("treat_now", ("x",))
    assert verdict.each == (("a", 0.6, "treat_now"), ("b", 0.4, "treat_now"))


def test_a_set_without_a_common_way_is_looked_at_first() -> None:
    """A spot kill is not the way out while a candidate could be treated without killing turf."""
    one, _ = pair()
    verdict = judge_weed(knowledge([one, weed("b")], CONTROLS), {"a": 0.6, "b": 0.4}, setting())
    assert (verdict.kind, verdict.controls, verdict.trace.rule) == ("wait_for", (), "verdict.look_first")
    assert verdict.would_change[0].rule == "verdict.look_first"


def test_every_rule_of_a_verdict_is_declared() -> None:
    """The wording of the report rests on this list."""
    plants = [weed("a"), weed("b", responses=(response("x", "good"),)), annual("c")]
    for plant in plants:
        for on in (date(2025, 1, 5), date(2025, 5, 5), date(2025, 10, 5)):
            assert judge(plant, on=on).trace.rule in VERDICT_RULES


# --- thresholds -----------------------------------------------------------------------------------------------------


def outcomes(season: str, **covers: float) -> dict[str, str]:
    """Rule -> what it says."""
    return {step.rule.removeprefix("threshold."): step.outcome for step in judge_cover(season, **covers)}


def test_the_published_thresholds_disagree_and_stand_side_by_side() -> None:
    """Source: Clemson and Kentucky 50 % desirable; Maryland weeds over 50 %; Rutgers 30 %; Minnesota 40 to 50 %."""
    assert outcomes("cool", desirable_percent=45, weeds_percent=45, bare_percent=10) == {
        "desirable_under_50_clemson": "fires",
        "desirable_under_50_kentucky": "fires",
        "weeds_over_50_maryland": "no",
        "desirable_under_30_rutgers": "no",
        "weeds_over_40_to_50_minnesota": "near",
        "dead_over_40_to_50_minnesota": "no",
        "bare_or_weedy_20_minnesota": "fires",
    }


def test_cool_season_rules_do_not_speak_of_warm_season_turf() -> None:
    """Maryland and Rutgers write of cool-season lawns."""
    found = outcomes("warm", desirable_percent=20, weeds_percent=80)
    assert "weeds_over_50_maryland" not in found
    assert found["dead_over_40_to_50_minnesota"] == "not_known"


def test_exactly_half_desirable_turf_is_repaired() -> None:
    """Source: Clemson HGIC: 50 % or more desirable, renovation should succeed; less, re-establish."""
    assert outcomes("warm", desirable_percent=50)["desirable_under_50_clemson"] == "no"
    assert outcomes("warm", desirable_percent=49.9)["desirable_under_50_clemson"] == "fires"


def test_thatch_is_a_further_trigger() -> None:
    """Source: University of Minnesota: thatch over 0.75 inch."""
    assert outcomes("cool", desirable_percent=80, thatch_in=1.0)["thatch_minnesota"] == "fires"


# --- regions --------------------------------------------------------------------------------------------------------


def test_weeds_with_the_same_treatment_share_a_region() -> None:
    """Plants that get the same controls need not be told apart; killing turf is irreversible."""
    plants = [
        weed("a", responses=(response("x", "good"),)),
        weed("b", responses=(response("x", "fair"),)),
        weed("grass", group="grassy"),
        annual("gone", "winter_annual"),
    ]
    regions = decision_regions(knowledge(plants, CONTROLS), setting(on=date(2025, 5, 20)))
    assert regions["a"] == regions["b"]
    assert (regions["a"].kind, regions["a"].actions, regions["a"].irreversible) == ("treat_now", {"x"}, False)
    assert (regions["grass"].kind, regions["grass"].harm, regions["grass"].irreversible) == (
        "spot_treatment_only",
        1.0,
        True,
    )
    assert regions["gone"].actions == {"leave_it"}
    assert controls_of(regions["grass"]) == ("dig", "glyphosate")


def test_waiting_and_doing_are_different_actions() -> None:
    """The same control now and in September: treating now is not acceptable for the second."""
    plants = [
        weed("a", responses=(response("x", "good"),)),
        weed("b", responses=(response("x", "good", months=(Window.months(9, 9),)),)),
    ]
    here = setting()
    regions = decision_regions(knowledge(plants, CONTROLS), here, year_ahead(here))
    assert not regions["a"].actions & regions["b"].actions
    assert controls_of(regions["b"]) == ("x",)


def test_regions_say_what_the_verdict_says() -> None:
    """The fast way and the full way come to the same kind and controls."""
    plants = [
        weed("a", responses=(response("x", "good"), response("y", "fair"))),
        weed("b", group="grassy"),
        annual("c", responses=(response("barrier", "good", timing="pre_emergence"),)),
        annual("d", "winter_annual", responses=(response("x", "good"),)),
    ]
    base = knowledge(plants, CONTROLS)
    for month in range(1, 13):
        here = setting(on=date(2025, month, 10))
        for weed_id, region in decision_regions(base, here, year_ahead(here)).items():
            verdict = judge_weed(base, weed_id, here, year_ahead(here))
            assert (region.kind, controls_of(region)) == (verdict.kind, tuple(sorted(verdict.controls)))


def test_what_the_day_shuts_waits_even_without_the_year_ahead() -> None:
    """Heat or a dormant weed is no reason to kill the turf: without settings ahead the verdict is to wait."""
    plant = weed("a", group="grassy", responses=(response("x", "good"),))
    hot = judge(plant, air_high_f=95.0, ahead=False)
    assert (hot.kind, hot.controls, hot.window, hot.trace.rule) == ("wait_for", ("x",), None, "verdict.shut_today")
    winter = judge(plant, on=date(2025, 1, 10), ahead=False)
    assert winter.window is not None
    assert (winter.kind, winter.window.first) == ("wait_for", date(2025, 4, 1))


def test_what_the_turf_or_the_law_shuts_does_not_wait() -> None:
    """A bar and an injury stay: then only the spot is left."""
    barred = chemical("x", SAFE, sites=(home_bar(),))
    plant = weed("a", group="grassy", responses=(response("x", "good"),))
    verdict = judge(plant, controls=[barred, GLYPHOSATE], air_high_f=95.0, ahead=False)
    assert verdict.kind == "spot_treatment_only"


def test_a_weak_measure_is_no_treatment_of_a_perennial() -> None:
    """A clean mower keeps it from spreading; it does not take it out."""
    mower = Control("clean_mower", "clean mower", "mowing", MEMORY, works_on=(WorksOn("fair", MEMORY),))
    verdict = judge(weed("a", group="grassy"), controls=[mower, GLYPHOSATE])
    assert (verdict.kind, verdict.controls) == ("spot_treatment_only", ("glyphosate",))
