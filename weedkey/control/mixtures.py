"""A mixture is a control of its own: tolerance is its own; law, cautions, limits, resistance add up over its parts."""

from __future__ import annotations

from collections.abc import Iterator

from weedkey.model.base import Knowledge
from weedkey.model.control import Control, Limit, Reseeding, Yearly

#: Measures that carry no pesticide label.
TIMINGS_OF_KIND = {"pre_emergence": ("pre_emergence",)}


def with_parts(knowledge: Knowledge, control: Control) -> tuple[Control, ...]:
    """The control itself, then its ingredients that are known as controls."""
    parts = (knowledge.controls.get(part) for part in control.parts)
    return (control, *(part for part in parts if part is not None))


def active_ids(knowledge: Knowledge, control_id: str) -> frozenset[str]:
    """Ids of the active ingredients in a control; the control's own id if it is not a mixture."""
    control = knowledge.controls.get(control_id)
    if control is None or not control.parts:
        return frozenset((control_id,))
    return frozenset(control.parts)


def groups_of(knowledge: Knowledge, control: Control) -> tuple[frozenset[str], ...]:
    """For each ingredient the groups (HRAC) it belongs to; an ingredient without a known group gives an empty set."""
    actives = with_parts(knowledge, control)[1:] or (control,)
    return tuple(
        frozenset((active.control_class.hrac,))
        if active.control_class and active.control_class.hrac
        else frozenset[str]()
        for active in actives
    )


def timings_of(control: Control) -> tuple[str, ...]:
    """When the control can be used: pre_emergence, post_emergence; measures without chemistry act on what stands."""
    if not control.is_chemical:
        return ("post_emergence",)
    found: list[str] = []
    for timing in control.timings or TIMINGS_OF_KIND.get(control.kind, ("post_emergence",)):
        if timing in ("pre_emergence", "any"):
            found.append("pre_emergence")
        if timing != "pre_emergence":
            found.append("post_emergence")
    return tuple(dict.fromkeys(found))


def limits_of(parts: tuple[Control, ...], kind: str, turf: str) -> Iterator[Limit]:
    """The limits of one kind that hold on this turf, over the control and its parts."""
    for part in parts:
        for limit in part.limits:
            if limit.kind == kind and (not limit.turfs or turf in limit.turfs):
                yield limit


def lowest_limit_or_none(parts: tuple[Control, ...], kind: str, turf: str) -> Limit | None:
    """The strictest ceiling."""
    return min(limits_of(parts, kind, turf), key=lambda limit: limit.value, default=None)


def highest_limit_or_none(parts: tuple[Control, ...], kind: str, turf: str) -> Limit | None:
    """The strictest floor or the longest wait."""
    return max(limits_of(parts, kind, turf), key=lambda limit: limit.value, default=None)


def reseeding_of(parts: tuple[Control, ...]) -> Iterator[Reseeding]:
    """Every reseeding interval of the control and its parts."""
    for part in parts:
        yield from part.reseeding


def yearly_of(parts: tuple[Control, ...], turf: str) -> Iterator[tuple[Control, Yearly]]:
    """Every yearly limit that holds on this turf, with the active that it limits."""
    for part in parts:
        for yearly in part.yearly:
            if not yearly.turfs or turf in yearly.turfs:
                yield part, yearly


def caution_sources(parts: tuple[Control, ...], about: tuple[str, ...]) -> tuple[str, ...]:
    """Sources of the cautions about these topics, over the control and its parts; empty if there is none."""
    found = [
        source for part in parts for caution in part.cautions if caution.about in about for source in caution.sources
    ]
    return tuple(dict.fromkeys(found))
