"""Who says it: the source of facts that a user enters. What was seen needs a day and a place; nothing is assumed.

The schema says where a fact must name its sources; the same walk finds the facts that name none and fills them in.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from typing import TYPE_CHECKING, Any

from weedkey.errors import UsageError
from weedkey.knowledge.build import Problem, field_types
from weedkey.knowledge.strict_yaml import KeyPath
from weedkey.model.source import SEEN_BY_USER

if TYPE_CHECKING:
    from weedkey.knowledge.entries import RawEntry

SIGHT_CHECK_ID = "seen-rule"
SOURCE_KEYS = ("sources", "hardiness_sources")
#: Longer than this is a story, not a place.
_LONGEST_PLACE = 120


def read_sighting(day: str, place: str, today: date, note: str = "") -> dict[str, str]:
    """A row of ``seen`` from what was typed. Raises UsageError for a day that is not there yet and for no place."""
    try:
        on = date.fromisoformat(day.strip())
    except ValueError:
        raise UsageError(f"{day!r} is not a day", "a day that exists, as YYYY-MM-DD", today.isoformat()) from None
    if on > today:
        raise UsageError(f"{on.isoformat()} is still to come", f"a day up to {today.isoformat()}")
    where = " ".join(place.split())
    if not where or len(where) > _LONGEST_PLACE:
        wrong = "the place is missing" if not where else "the place is too long"
        raise UsageError(wrong, f"where it was seen, up to {_LONGEST_PLACE} letters", '"north lawn, by the drive"')
    return {"on": on.isoformat(), "place": where, **({"note": note} if note else {})}


def with_sighting(values: Mapping[str, Any], sighting: Mapping[str, str], before: object = ()) -> dict[str, Any]:
    """The values with one more row in ``seen``; ``before``: the rows that the entry has already."""
    rows = values.get("seen", before)
    rows = list(rows) if isinstance(rows, list | tuple) else []
    return {**values, "seen": [*rows, *([] if dict(sighting) in rows else [dict(sighting)])]}


def find_sight_problems(raw: RawEntry) -> Iterator[Problem]:
    """Facts from sight in an entry that does not say when and where it was seen."""
    if raw.value.get("seen"):
        return
    may_say = "seen" in field_types(raw.kind.model)
    for path in _seen_facts(raw.value, ()):
        if may_say:
            wrong, expected = "the entry does not say when and where it was seen", "the key seen"
            yield Problem(path, SIGHT_CHECK_ID, wrong, expected, 'seen: [{on: "2025-06-01", place: …}]')
        else:
            wrong = f"a {raw.kind.name} cannot rest on sight"
            yield Problem(path, SIGHT_CHECK_ID, wrong, "a published source, from_memory or common_practice")


def _seen_facts(value: Any, path: KeyPath) -> Iterator[KeyPath]:
    if isinstance(value, Mapping):
        for key, item in value.items():
            if key in SOURCE_KEYS and isinstance(item, list):
                yield from ((*path, key, place) for place, name in enumerate(item) if name == SEEN_BY_USER)
            else:
                yield from _seen_facts(item, (*path, key))
    elif isinstance(value, list):
        for place, item in enumerate(value):
            yield from _seen_facts(item, (*path, place))


def facts_without_source(kind: str, values: Mapping[str, Any], *, change: bool = False) -> tuple[KeyPath, ...]:
    """The facts among the values that name no source. ``change``: the values change a shipped entry."""
    found: list[KeyPath] = []
    _walk(values, _rule(kind, change=change), (), None, found)
    return tuple(found)


def with_sources(kind: str, values: Mapping[str, Any], sources: list[str], *, change: bool = False) -> dict[str, Any]:
    """The values, each fact that names no source with ``sources``; facts that name one keep it."""
    filled: dict[str, Any] = _walk(values, _rule(kind, change=change), (), sources, [])
    return filled


def _rule(kind: str, *, change: bool) -> Mapping[str, Any]:
    from weedkey.knowledge.checks.schema import entry_rule

    return entry_rule(f"change_{kind}" if change else kind)


def _walk(value: Any, rule: Mapping[str, Any], path: KeyPath, sources: list[str] | None, found: list[KeyPath]) -> Any:
    """A copy of the value with the missing sources filled in; their places are noted in ``found``."""
    from weedkey.knowledge.checks.schema import resolve_rule

    rule = resolve_rule(rule)
    if isinstance(value, list | tuple):
        items = rule.get("items", {})
        return [_walk(item, items, (*path, place), sources, found) for place, item in enumerate(value)]
    if not isinstance(value, Mapping):
        return value
    known, other = rule.get("properties", {}), rule.get("additionalProperties")
    other = other if isinstance(other, Mapping) else {}
    made = {key: _walk(item, known.get(key, other), (*path, key), sources, found) for key, item in value.items()}
    if "sources" in rule.get("required", ()) and "sources" not in made:
        found.append(path)
        if sources is not None:
            made["sources"] = list(sources)
    return made
