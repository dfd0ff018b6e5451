"""Places, turfs and weeds for the tests of the season. Shipped places are read on their own."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from pathlib import Path

from weedkey.model.place import FrostDate, Place
from weedkey.model.turf import SpreadRate, Turf
from weedkey.model.weed import CalendarRow, LifeCycle, Spread, Weed
from weedkey.model.window import Window

MEMORY = ("from_memory",)
# Source: DSSAT climate file of the Georgia weather network, Griffin, 25 years from 1996.
GRIFFIN = Place(
    "griffin_ga", "Griffin", "southeast", 33.26, -84.28,
    (54.7, 58.8, 66.2, 73.6, 80.8, 86.7, 89.2, 88.5, 83.1, 74.1, 64.6, 56.8),
    (34.2, 37.4, 43.7, 50.2, 58.8, 66.4, 69.4, 68.7, 63.1, 52.2, 41.9, 36.7),
    ("dssat_cli_ga",),
)  # fmt: skip
#: Griffin turned half a year, at the same latitude south: an invented place.
SOUTHERN = Place(
    "southern", "Southern", "southeast", -33.26, 150.0,
    GRIFFIN.high_f[6:] + GRIFFIN.high_f[:6], GRIFFIN.low_f[6:] + GRIFFIN.low_f[:6], MEMORY,
)  # fmt: skip
#: An invented place without winter.
TROPICAL = Place("tropical", "Tropical", "gulf_coast", 25.0, -80.0, (86.0,) * 12, (74.0,) * 12, MEMORY)


def make_turf(turf_id: str, season: str = "warm", rates: Iterable[SpreadRate] = (), **fields: object) -> Turf:
    """A turf with what the season asks."""
    return Turf(turf_id, turf_id, turf_id, season, ("stolons",), MEMORY, spread_rates=tuple(rates), **fields)  # type: ignore[arg-type]


BERMUDAGRASS = make_turf("bermudagrass")
TALL_FESCUE = make_turf("tall_fescue", "cool")


def make_weed(
    weed_id: str,
    *,
    season: str = "warm",
    cycle: str = "summer_annual",
    germinates: Iterable[Window] = (),
    soil_f: tuple[float, float] | None = None,
    by: tuple[str, ...] = ("seed",),
) -> Weed:
    """A weed with one calendar row."""
    row = CalendarRow(MEMORY, germinates=tuple(germinates), germinates_soil_f=soil_f)
    return Weed(
        weed_id, weed_id, f"{weed_id} x", "Poaceae", "grassy", season, (LifeCycle(cycle, MEMORY),), {},
        calendar=(row,), spread=Spread(by, MEMORY),
    )  # fmt: skip


# Source: Purdue 2012 citing Crop Science 36 (57-64 °F begins), Delaware 2009 (73-75 °F main flush), 1 inch.
CRABGRASS = make_weed("crabgrass", germinates=[Window.months(2, 8)], soil_f=(57, 73))
# Source: University of Georgia (annual bluegrass from 70 °F falling); low end from memory.
ANNUAL_BLUEGRASS = make_weed(
    "annual_bluegrass", season="cool", cycle="winter_annual", germinates=[Window.months(9, 11)], soil_f=(50, 70)
)


@cache
def shipped_places() -> dict[str, Place]:
    """The shipped places, read on their own so that other entries cannot get in the way."""
    from weedkey.knowledge.loading import build_folder

    made, issues = build_folder(Path(__file__).resolve().parents[2] / "knowledge")
    assert not [issue for issue in issues if "/places/" in str(issue.where)]
    return made["place"]


def frost(event: str, month: int, day: int, basis: str) -> FrostDate:
    """A frost date of a test place."""
    return FrostDate(event, month, day, MEMORY, basis)
