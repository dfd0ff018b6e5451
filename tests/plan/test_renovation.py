"""Starting again: dates reckoned back from the day of setting, and what of the past still stands in the way."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from functools import cache

from weedkey.knowledge import load
from weedkey.knowledge.lawn_file import read_lawn
from weedkey.knowledge.locate import shipped_folder
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Lawn, PastApplication, Seeding
from weedkey.model.trace import Step
from weedkey.plan.renovation import plan_renovation
from weedkey.report.namer import Namer
from weedkey.report.wording import has_words, sentence


@cache
def knowledge() -> Knowledge:
    """The shipped knowledge."""
    return load()


def fescue(**more: object) -> Lawn:
    """The tall fescue lawn of late August, with bermudagrass in it."""
    lawn = read_lawn(shipped_folder() / "demo" / "transition_tall_fescue.yaml", knowledge())
    return replace(lawn, **more)


def steps_of(lawn: Lawn, rule: str) -> list[Step]:
    """The steps of one rule."""
    return [step for step in plan_renovation(knowledge(), lawn, lawn.on) if step.rule == rule]


def test_the_kills_are_reckoned_back_from_the_window() -> None:
    """Two weeks between kills; two to three weeks before seed where bermudagrass is killed first.

    Sources: Kansas State, 2021 and 2020 (ksu_berm21, ksu_lawn20); Missouri Botanical Garden (mbg_1710).
    """
    for step in steps_of(fescue(), "plan.renovation"):
        first, second, kill = (step.facts[name] for name in ("first", "second_kill", "kill"))
        assert isinstance(first, date)
        assert isinstance(second, date)
        assert isinstance(kill, date)
        assert first - second == timedelta(days=21)
        assert second - kill >= timedelta(days=14)
        assert kill >= date(2026, 8, 24)


def test_an_easy_lawn_waits_a_week() -> None:
    """Without a perennial grass the usual week before seed holds. Source: Kansas State, 2020 (ksu_lawn20)."""
    lawn = fescue()
    zones = tuple(replace(z, findings=tuple(f for f in z.findings if "dandelion" in f.weeds)) for z in lawn.zones)
    (step, *_) = steps_of(replace(lawn, zones=zones), "plan.renovation")
    assert step.facts["wait_days"] == 7


def test_a_barrier_of_this_summer_still_blocks_the_seed() -> None:
    """A barrier put down in August keeps September seed from growing; one of five years ago does not."""
    recent = fescue(history=(PastApplication(date(2026, 8, 1), "prodiamine"),))
    old = fescue(history=(PastApplication(date(2021, 8, 1), "prodiamine"),))
    assert steps_of(old, "plan.blocks_seed") == []
    free = min(step.facts["first"] for step in steps_of(recent, "plan.renovation"))
    open_day = min(step.facts["first"] for step in steps_of(fescue(), "plan.renovation"))
    assert free > open_day


def test_a_day_that_the_user_planned_too_soon_is_told() -> None:
    """Seed in a week leaves no time for two kills."""
    lawn = fescue(seedings=(Seeding(date(2026, 8, 31), "tall_fescue"),))
    (step,) = steps_of(lawn, "plan.seeding_too_soon")
    assert step.facts["earliest"] == date(2026, 8, 24) + timedelta(days=35)


def test_every_step_has_words() -> None:
    """No rule id is shown to a reader."""
    lawn = fescue(
        history=(PastApplication(date(2026, 8, 1), "prodiamine"),),
        seedings=(Seeding(date(2026, 8, 31), "tall_fescue"),),
    )
    for step in plan_renovation(knowledge(), lawn, lawn.on):
        assert has_words(step.rule)
        assert "not known" not in sentence(step, Namer(knowledge()))


def test_without_a_place_nothing_is_dated() -> None:
    """No window, no date."""
    (step,) = plan_renovation(knowledge(), fescue(place=None), date(2026, 8, 24))
    assert step.rule == "plan.renovation_not_known"
