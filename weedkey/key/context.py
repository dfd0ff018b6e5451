"""What is known before the first look: month, region, turf and ground make some weeds likelier than others.

prior(weed) ∝ abundance(region) x visible(month) x occurs(turf) x ground, each on the ordinal scale 1, 0.3, 0.1,
0.02, never below ``PRIOR_FLOOR``: nothing is excluded by place. The scale is a judgement (from memory), not a
measurement; ``Context(flat=True)`` switches it off.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from weedkey.errors import UsageError
from weedkey.model.trace import Step
from weedkey.model.vocabulary import REGIONS
from weedkey.model.weed import CalendarRow, Weed
from weedkey.model.window import Window

#: Abundance words on the ordinal scale.
ABUNDANCE_WEIGHT: Mapping[str, float] = {"common": 1.0, "occasional": 0.3, "rare": 0.1, "absent": 0.02}
#: The middle of the scale stands for "not stated".
NOT_STATED = 0.3
#: A region that the entry leaves out although it names others.
OTHER_REGION = 0.1
#: A month beside the active window; outside it for a perennial; outside it for a plant that is dead by then.
BESIDE_SEASON = 0.3
RESTING = 0.1
DEAD = 0.02
#: The same species as the turf is hardly ever called a weed in it.
SAME_AS_TURF = 0.02
#: A weed that a stated ground condition points to, one that it speaks against, and any other.
GROUND_FITS, GROUND_AGAINST, GROUND_SILENT = 1.0, 0.1, 0.3
PRIOR_FLOOR = 0.01
#: Belief kept for a plant that is not in the knowledge.
NOT_IN_LIST = "not_in_list"
NOT_IN_LIST_PRIOR = 0.02


@dataclass(frozen=True, slots=True)
class Context:
    """Where and when the plant stands. ``month`` 1 to 12, or None when unknown; ``flat`` ignores every prior.

    ``mown``: the lawn is mown every week or two. ``conditions``: ground conditions seen on the spot (ids of
    CONDITION_IDS). Raises UsageError for a month or a region that does not exist.
    """

    month: int | None = None
    region: str | None = None
    turf: str | None = None
    mown: bool = True
    flat: bool = False
    conditions: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if self.month is not None and not 1 <= self.month <= 12:
            raise UsageError(f"month {self.month} does not exist", "a month from 1 to 12", "--month 9")
        if self.region is not None and self.region not in REGIONS:
            raise UsageError(f"region {self.region!r} is not known", "one of " + ", ".join(REGIONS))


def find_windows(weed: Weed, region: str | None, what: str) -> tuple[Window, ...]:
    """The windows of one kind (``active``, ``flowers`` …) that hold best for the region.

    Rows for the region come first, then rows for everywhere, then rows for other regions.
    """
    tiers: tuple[Iterable[CalendarRow], ...] = (
        [row for row in weed.calendar if region in row.regions],
        [row for row in weed.calendar if not row.regions],
        weed.calendar,
    )
    for tier in tiers if region is not None else tiers[2:]:
        found = tuple(window for row in tier for window in getattr(row, what))
        if found:
            return found
    return ()


def weigh_region(weed: Weed, region: str | None) -> float:
    """Abundance in the region, or the mean over all regions when it is not known."""
    if not weed.regions:
        return NOT_STATED
    stated = {row.region: ABUNDANCE_WEIGHT[row.how] for row in weed.regions}
    if region is not None:
        return stated.get(region, OTHER_REGION)
    return sum(stated.get(name, OTHER_REGION) for name in REGIONS) / len(REGIONS)


def weigh_month(weed: Weed, month: int | None, region: str | None) -> float:
    """How likely the plant is to be seen in the month, from its active windows."""
    if month is None:
        return 1.0
    windows = find_windows(weed, region, "active")
    if not windows:
        return NOT_STATED
    if any(window.holds_month(month) for window in windows):
        return 1.0
    beside = (month % 12 + 1, (month - 2) % 12 + 1)
    if any(window.holds_month(near) for window in windows for near in beside):
        return BESIDE_SEASON
    return DEAD if weed.is_annual else RESTING


def weigh_turf(weed: Weed, turf: str | None) -> float:
    """1, or next to nothing for the species that is the turf itself."""
    return SAME_AS_TURF if turf is not None and weed.turf == turf else 1.0


def weigh_ground(weed: Weed, conditions: tuple[str, ...]) -> float:
    """How well the weed's signs fit the ground conditions that were seen; 1 if none were given."""
    weight = 1.0
    for condition in conditions:
        spoken = [sign.against for sign in weed.signs if sign.condition == condition]
        if not spoken:
            weight *= GROUND_SILENT
        else:
            weight *= GROUND_AGAINST if all(spoken) else GROUND_FITS
    return weight


def weigh_weed(weed: Weed, context: Context) -> float:
    """The prior weight of one weed before normalising, never below ``PRIOR_FLOOR``."""
    if context.flat:
        return 1.0
    weight = (
        weigh_region(weed, context.region)
        * weigh_month(weed, context.month, context.region)
        * weigh_turf(weed, context.turf)
        * weigh_ground(weed, context.conditions)
    )
    return max(weight, PRIOR_FLOOR)


def explain_prior(weed: Weed, context: Context, prior: float) -> Step:
    """The prior of one weed as a step: every factor, and the sources of the rows that it came from."""
    if context.flat:
        return Step("key.prior", "flat", {"weed": weed.id, "prior": prior})
    sources: list[str] = []
    for row in weed.regions:
        if row.region == context.region:
            sources.extend(row.sources)
    for calendar in weed.calendar:
        if calendar.active:
            sources.extend(calendar.sources)
    facts = {
        "weed": weed.id,
        "prior": prior,
        "region": weigh_region(weed, context.region),
        "month": weigh_month(weed, context.month, context.region),
        "turf": weigh_turf(weed, context.turf),
        "ground": weigh_ground(weed, context.conditions),
    }
    return Step("key.prior", "weighed", facts, tuple(dict.fromkeys(sources)))
