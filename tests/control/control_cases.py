"""Small knowledge for the tests of choices: invented where it must be, real in its rules."""

from __future__ import annotations

from datetime import date
from typing import Any

from weedkey.control import Setting
from weedkey.model.base import Knowledge
from weedkey.model.control import Control, ControlClass, Resistance, SiteRule, Tolerance, When
from weedkey.model.source import Source
from weedkey.model.turf import Turf
from weedkey.model.weed import CalendarRow, LifeCycle, Response, Spread, Weed
from weedkey.model.window import Window

MEMORY = ("from_memory",)
PUBLISHED = ("trial_a",)


def turf(name: str, season: str = "warm") -> Turf:
    """A turf that matters only by its id and season."""
    return Turf(name, name, name, season, ("stolons",), MEMORY)


def weed(name: str, **more: Any) -> Weed:
    """A perennial broadleaf weed, active from April to October, unless told otherwise."""
    values: dict[str, Any] = {
        "scientific": name,
        "family": "x",
        "group": "broadleaf",
        "growth_season": "warm",
        "life_cycles": (LifeCycle("perennial", MEMORY),),
        "looks": {},
        "calendar": (CalendarRow(MEMORY, active=(Window.months(4, 10),)),),
        "spread": Spread(("seed",), MEMORY),
    }
    return Weed(id=name, name=name, **(values | more))


def annual(name: str, kind: str = "summer_annual", **more: Any) -> Weed:
    """An annual; a summer annual germinates in April and May and is active to October."""
    summer = kind != "winter_annual"
    row = CalendarRow(
        MEMORY,
        active=(Window.months(4, 10) if summer else Window.months(10, 5),),
        germinates=(Window.months(4, 5) if summer else Window.months(9, 11),),
        flowers=(Window.months(7, 10) if summer else Window.months(3, 5),),
    )
    return weed(name, **({"life_cycles": (LifeCycle(kind, MEMORY),), "calendar": (row,)} | more))


def chemical(name: str, *tolerance: Tolerance, group: str = "4", kind: str = "selective", **more: Any) -> Control:
    """A herbicide used after emergence unless its kind or timings say otherwise."""
    return Control(
        id=name,
        name=name,
        kind=kind,
        sources=MEMORY,
        control_class=ControlClass(group, group, "mode", MEMORY),
        tolerance=tolerance,
        **more,
    )


def row(turf_id: str, result: str, sources: tuple[str, ...] = PUBLISHED, **when: Any) -> Tolerance:
    """A tolerance row with its conditions."""
    return Tolerance(turf_id, result, sources, when=When(**when))


def response(control: str, result: str, sources: tuple[str, ...] = PUBLISHED, **more: Any) -> Response:
    """A response row."""
    return Response(control, result, sources, **more)


def home_bar() -> SiteRule:
    """A federal bar from home lawns."""
    return SiteRule("home_lawn", "barred", PUBLISHED)


def resisted(weed_id: str) -> Resistance:
    """Published resistance."""
    return Resistance(weed_id, PUBLISHED, places=("TN",))


def knowledge(weeds: list[Weed], controls: list[Control], turfs: list[Turf] | None = None) -> Knowledge:
    """A knowledge of these entries; sources trial_a (2010) and trial_b (2020)."""
    grown = turfs or [
        turf("bermudagrass"),
        turf("zoysiagrass"),
        turf("centipedegrass"),
        turf("st_augustinegrass"),
        turf("tall_fescue", "cool"),
    ]
    sources = [Source("trial_a", "A", "Trial", "2010"), Source("trial_b", "B", "Trial", "2020")]
    return Knowledge(
        weeds={entry.id: entry for entry in weeds},
        traits={},
        turfs={entry.id: entry for entry in grown},
        controls={entry.id: entry for entry in controls},
        conditions={},
        places={},
        sources={entry.id: entry for entry in sources},
    )


def setting(**more: Any) -> Setting:
    """A growing, established bermudagrass home lawn on a mild day in May."""
    values: dict[str, Any] = {
        "turf": "bermudagrass",
        "on": date(2025, 5, 15),
        "site": "home_lawn",
        "region": "southeast",
        "growth": "growing",
        "air_high_f": 78.0,
        "air_low_f": 58.0,
        "stand_age_days": 2000,
        "licensed": True,
        "paid": True,
    }
    return Setting(**(values | more))
