"""What the screens and the line mode accept as a typed answer, and what they take over from a naming."""

from __future__ import annotations

from datetime import date

from weedkey.key import Standing
from weedkey.visit import UNNAMED_LAWN

#: Candidates below this share are not carried from a naming into the lawn.
CARRIED_ABOVE = 0.02
#: Usual answers, to be tapped where nothing can be typed.
PERCENT_OFFERS = ("1", "2", "5", "10", "20", "35", "50", "75")
AREA_OFFERS = ("500", "1000", "2500", "5000", "10000", "20000")
ZONE_OFFERS = ("front", "back", "side", "drive edge", "bank", "under trees")
_LARGEST_SQFT = 1e8
_LONGEST_NAME = 120
AREA_EXPECTED = "number above 0"
DAY_EXPECTED = "a day that exists, as YYYY-MM-DD"
PERCENT_EXPECTED = "number from 0 to 100"
NAME_EXPECTED = "a name, so that its walks over the years are known as one lawn's"


def is_area(text: str) -> bool:
    """True for a number above 0 that a lawn can have, in square feet."""
    number = _number_or_none(text)
    return number is not None and 0 < number < _LARGEST_SQFT


def is_percent(text: str) -> bool:
    """True for a number from 0 to 100."""
    number = _number_or_none(text)
    return number is not None and 0 <= number <= 100


def is_lawn_name(text: str) -> bool:
    """True for a name that says more than that there is none yet."""
    return bool(text.strip()) and text.strip().lower() != UNNAMED_LAWN and len(text) <= _LONGEST_NAME


def is_day(text: str) -> bool:
    """True for a day that exists, as YYYY-MM-DD."""
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return True


def carried_weeds(standing: Standing) -> dict[str, float]:
    """The plant, or the set of plants still possible with beliefs that sum to 1; nothing if nothing fits."""
    if not standing.fit:
        return {}
    if standing.name_settled:
        return {standing.candidates[0][0]: 1.0}
    kept = {weed: belief for weed, belief in standing.candidates if belief >= CARRIED_ABOVE}
    total = sum(kept.values())
    return {weed: round(belief / total, 4) for weed, belief in kept.items()}


def _number_or_none(text: str) -> float | None:
    try:
        return float(text)
    except ValueError:
        return None
