"""The answer model: how likely a user in front of a weed is to give each answer to a look.

For a weed that has the trait, P(state) = sum over true states of share x confusion; the rows never hold a 0 or a 1,
so that one wrong answer cannot eliminate. "Does not apply" and "can't tell" are answers of their own.
The constants are judgements (from memory); the error rates stand in the knowledge, trait by trait.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache

from weedkey.key.context import Context, find_windows
from weedkey.model.source import COMMON_PRACTICE
from weedkey.model.trait import Trait
from weedkey.model.vocabulary import GROUPS
from weedkey.model.weed import Seen, Weed

#: The answer "this plant has no such part".
DOES_NOT_APPLY = "does_not_apply"
#: States that a user may well name for a part that the plant cannot have.
ABSENT_WORDS = frozenset({"absent", "none", "no"})
#: Bounds of the share of wrong answers, whatever the knowledge says.
MISREAD_MIN, MISREAD_MAX = 0.01, 0.5
#: P("does not apply") for a plant that has the part, and the share of other answers for one that has not.
WRONGLY_NOT_APPLYING = 0.02
WRONGLY_APPLYING = 0.05
ABSENT_INSTEAD = 0.08
#: Share of users who can tell at all, by what the look needs.
CAN_TELL: Mapping[str, float] = {
    "eyes": 0.95,
    "shoot": 0.95,
    "lens": 0.85,
    "flower": 0.95,
    "trowel": 0.9,
    "date": 0.95,
}
#: Share of those who find the part on mown turf.
SEEN_WHEN_MOWN: Mapping[str, float] = {"always": 1.0, "often": 0.8, "sometimes": 0.5, "rarely": 0.15}
#: Seen although it is not the season.
OUT_OF_SEASON = 0.05
#: Parts that are there only while the weed flowers or seeds.
FLOWER_PARTS = frozenset({"flower", "seedhead", "fruit and seed"})
#: How many plants of a patch are looked at when "I see both" is said.
PLANTS_SEEN = 3

Row = tuple[float, ...]


def share_states(state_ids: Sequence[str], seen: Iterable[tuple[str, float | None]]) -> Row:
    """Shares of the states (summing to 1) from what the knowledge states.

    Stated shares count; rows without a share split what is left equally; what is then left over goes evenly to
    states that are not listed (nobody said what the other plants show). Sums above 1 are scaled down.
    """
    stated: dict[str, float] = {}
    unstated: list[str] = []
    for state, share in seen:
        if share is None:
            unstated.append(state)
        else:
            stated[state] = stated.get(state, 0.0) + share
    left = max(0.0, 1.0 - sum(stated.values()))
    if unstated:
        # At least a small part each, also when the stated shares already fill the whole.
        part = max(left / len(unstated), 0.05)
        for state in unstated:
            stated[state] = stated.get(state, 0.0) + part
        left = 0.0
    others = [state for state in state_ids if state not in stated]
    if left > 0 and others:
        for state in others:
            stated[state] = left / len(others)
    total = sum(stated.get(state, 0.0) for state in state_ids)
    if total <= 0:
        return (1.0 / len(state_ids),) * len(state_ids)
    return tuple(stated.get(state, 0.0) / total for state in state_ids)


def confuse_states(shares: Row, misread: float, *, ordered: bool) -> Row:
    """P(state named) for true ``shares``: 1 - e stays, e goes to neighbours (ordered) or to all others.

    No entry is below e / (k - 1), so the row sums to 1 only after scaling.
    """
    count = len(shares)
    if count == 1:
        return (1.0,)
    error = min(max(misread, MISREAD_MIN), MISREAD_MAX)
    floor = error / (count - 1)
    if not ordered:
        return tuple(share * (1.0 - error) + (1.0 - share) * floor for share in shares)
    named = [share * (1.0 - error) for share in shares]
    for place, share in enumerate(shares):
        near = [other for other in (place - 1, place + 1) if 0 <= other < count]
        for other in near:
            named[other] += share * error / len(near)
    floored = [max(value, floor) for value in named]
    total = sum(floored)
    return tuple(value / total for value in floored)


@lru_cache(maxsize=4096)
def answer_row(
    state_ids: tuple[str, ...],
    seen: tuple[tuple[str, float | None], ...],
    misread: float,
    ordered: bool,
) -> Row:
    """P(state named | the weed shows ``seen``), one number a state, summing to 1."""
    count = len(state_ids)
    if len(seen) == 1 and not ordered and count > 1 and seen[0][0] in state_ids and seen[0][1] != 0:
        return _answer_one(state_ids, *seen[0], min(max(misread, MISREAD_MIN), MISREAD_MAX))
    return confuse_states(share_states(state_ids, seen), misread, ordered=ordered)


def _answer_one(state_ids: tuple[str, ...], state: str, share: float | None, error: float) -> Row:
    """The same as confuse_states(share_states(…)) for the usual case of one state, in a fraction of the time."""
    count = len(state_ids)
    main = 1.0 if share is None else min(share, 1.0)
    other = (1.0 - main) / (count - 1)
    floor = error / (count - 1)
    row = [other * (1.0 - error) + (1.0 - other) * floor] * count
    row[state_ids.index(state)] = main * (1.0 - error) + (1.0 - main) * floor
    return tuple(row)


def not_applying_row(state_ids: tuple[str, ...]) -> Row:
    """Answers for a plant that cannot have the part: the states, then "does not apply" with nearly all belief."""
    absent = [state for state in state_ids if state in ABSENT_WORDS]
    wrong = WRONGLY_APPLYING + (ABSENT_INSTEAD if absent else 0.0)
    even = WRONGLY_APPLYING / len(state_ids)
    row = [even + (ABSENT_INSTEAD / len(absent) if state in absent else 0.0) for state in state_ids]
    return (*row, 1.0 - wrong)


def find_seen(weed: Weed, trait: Trait) -> tuple[Seen, ...]:
    """What the knowledge says of one trait of one weed. The plant group comes from the entry's own group."""
    seen = weed.looks.get(trait.id, ())
    if not seen and weed.group in trait.state_ids and set(trait.state_ids) <= set(GROUPS):
        return (Seen(weed.group, (COMMON_PRACTICE,)),)
    return seen


def needs_flower(trait: Trait) -> bool:
    """True if the part is there only while the weed flowers or seeds."""
    return trait.needs == "flower" or (trait.part in FLOWER_PARTS and trait.needs == "lens")


def tell_anyway(trait: Trait, context: Context) -> float:
    """Share of users who can tell, as far as it does not depend on the weed: need, mowing, month of the trait."""
    share = CAN_TELL.get(trait.needs, 0.95)
    if context.mown:
        share *= SEEN_WHEN_MOWN.get(trait.mown, 1.0)
    months = trait.months
    if months is not None and context.month is not None and not months.holds_month(context.month):
        share *= OUT_OF_SEASON
    return share


def tell_flower(weed: Weed, context: Context) -> float | None:
    """Share of plants that show flower or seed in the month; None if the entry has no such window."""
    windows = find_windows(weed, context.region, "flowers") + find_windows(weed, context.region, "seeds")
    if not windows:
        return None
    if context.month is None:
        months = sum(any(window.holds_month(month) for window in windows) for month in range(1, 13))
        return max(months / 12.0, OUT_OF_SEASON)
    return 1.0 if any(window.holds_month(context.month) for window in windows) else OUT_OF_SEASON
