"""A local file over the shipped entry: whole keys, and single rows of a list of facts.

``change:`` names one row by keys of its own (``row``) and states what differs (``to``, with its own sources, because
the shipped source does not say it); ``add_to:`` adds rows; ``remove_from:`` takes rows away. A row must be met exactly
once: after the shipped entry has changed, the file is named and left out rather than laid over another row.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import MISSING, dataclass, field, fields, is_dataclass
from typing import Any, get_args

from weedkey.knowledge import forms
from weedkey.knowledge.build import Problem, describe, field_types, nearest_or_none
from weedkey.knowledge.strict_yaml import KeyPath, key_text

CHANGE, ADD_TO, REMOVE_FROM = "change", "add_to", "remove_from"
#: The words of a local file that are no keys of an entry, in the order in which they are done: what is named by keys
#: is a row of the shipped entry, never one that the same file adds.
WORDS = (CHANGE, REMOVE_FROM, ADD_TO)
CHECK_ID = "row-change"
#: List -> the keys by which people tell its rows apart; every other key may be named as well.
ROW_KEYS: dict[str, tuple[str, ...]] = {
    "life_cycle": ("kind",),
    "looks": ("state",),
    "codes": ("kind",),
    "regions": ("region",),
    "calendar": ("regions",),
    "wetland": ("region",),
    "signs": ("condition",),
    "not_a_sign": ("about", "text"),
    "responses": ("control", "timing"),
    "only_non_selective": ("turf",),
    "look_alikes": ("weed",),
    "cautions": ("about", "text"),
    "tolerance": ("turf", "when"),
    "sites": ("site",),
    "limits": ("kind",),
    "gates": ("rule",),
    "reseeding": ("turf", "method"),
    "yearly": ("turfs",),
    "adjuvants": ("need", "what"),
    "resistance": ("weed",),
    "interactions": ("with_control", "effect"),
    "works_on": ("groups", "life_cycles"),
    "frost": ("event", "basis"),
    "cultivars": ("id",),
    "seen": ("on", "place"),
}
_SHOWN_ROWS = 6


@dataclass(slots=True)
class Laid:
    """What came of it: the value, where its changed rows stand in the local file, what is wrong with the changes."""

    value: dict[str, Any]
    moved: dict[KeyPath, KeyPath] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)

    def report(self, path: KeyPath, wrong: str, expected: str = "", write: str = "", check: str = CHECK_ID) -> None:
        """Note a problem at a key of the local file."""
        self.problems.append(Problem(path, check, wrong, expected, write))


def deep_merge(base: Mapping[str, Any], over: Mapping[str, Any]) -> dict[str, Any]:
    """``over`` laid over ``base``: rows of keys are merged, anything else replaces."""
    merged = dict(base)
    for key, value in over.items():
        old = merged.get(key)
        merged[key] = deep_merge(old, value) if isinstance(old, Mapping) and isinstance(value, Mapping) else value
    return merged


def lay_over(model: type[Any], base: Mapping[str, Any], over: Mapping[str, Any]) -> Laid:
    """The shipped values with a local file over them; ``model`` is the class of the entry."""
    facts = {key: value for key, value in over.items() if key not in WORDS}
    laid = Laid(deep_merge(base, facts))
    for key, value in facts.items():
        old = base.get(key)
        if isinstance(old, Mapping) and isinstance(value, Mapping) and "sources" in old and "sources" not in value:
            _report_no_source((key,), laid)
    asked = [(word, path, rows) for word in WORDS for path, rows in _lists(over, word, laid)]
    for path in dict.fromkeys(path for _, path, _ in asked):
        kind = row_class_or_none(model, path)
        if _get(facts, path) is not None:
            laid.report(path, "the list stands whole and its rows are changed as well", "one of the two")
        elif kind is None:
            known = [name for name in field_types(model) if row_class_or_none(model, (name,)) is not None]
            word = next(word for word, other, _ in asked if other == path)
            laid.report(
                (word, *path), f"{key_text(path)} is no list of rows", "a list", nearest_or_none(path[0], known) or ""
            )
        else:
            _lay_rows(kind, base, path, [(word, rows) for word, other, rows in asked if other == path], laid)
    return laid


def _lists(over: Mapping[str, Any], word: str, laid: Laid) -> Iterator[tuple[tuple[str, ...], list[Any]]]:
    """The lists below one word: ``responses`` by itself, ``looks`` by trait."""
    value = over.get(word)
    if value is None and word not in over:
        return
    if not isinstance(value, Mapping) or not value:
        laid.report((word,), f"{describe(value)} stands here", "the name of a list, and rows below it")
        return
    for name, inner in value.items():
        below = inner.items() if isinstance(inner, Mapping) else (("", inner),)
        for part, rows in below:
            path = (name, part) if part else (name,)
            if isinstance(rows, list) and rows:
                yield path, rows
            else:
                laid.report((word, *path), f"{describe(rows)} stands here", "a list of rows")


def _lay_rows(
    kind: type[Any], base: Mapping[str, Any], path: tuple[str, ...], asked: list[tuple[str, list[Any]]], laid: Laid
) -> None:
    old = _get(base, path)
    rows: list[tuple[Any, KeyPath]] = [(row, ()) for row in old] if isinstance(old, list) else []
    for word, changes in asked:
        for place, change in enumerate(changes):
            spot: KeyPath = (word, *path, place)
            if word == ADD_TO:
                rows.append((change, spot))
            elif word == REMOVE_FROM:
                found = _find_or_none(kind, rows, change, spot, laid)
                rows = [row for index, row in enumerate(rows) if index != found]
            else:
                _change_row(kind, rows, change, spot, laid)
    _set(laid.value, path, [row for row, _ in rows])
    laid.moved.update({(*path, index): spot for index, (_, spot) in enumerate(rows) if spot})
    if not rows:
        laid.moved[path] = (REMOVE_FROM, *path)


def _change_row(kind: type[Any], rows: list[tuple[Any, KeyPath]], change: Any, spot: KeyPath, laid: Laid) -> None:
    if not isinstance(change, Mapping) or set(change) != {"row", "to"} or not isinstance(change["to"], Mapping):
        laid.report(spot, "this does not say which row, and what it becomes", "row and to", "{row: {…}, to: {…}}")
        return
    if not is_dataclass(kind):
        laid.report(spot, "a text cannot be changed in part", f"{REMOVE_FROM} and {ADD_TO}")
        return
    if "sources" in field_types(kind) and "sources" not in change["to"]:
        _report_no_source((*spot, "to"), laid)
    found = _find_or_none(kind, rows, change["row"], (*spot, "row"), laid)
    if found is not None:
        # What is new stands behind what stays, in the order of the change: sources stay last.
        kept = {key: value for key, value in rows[found][0].items() if key not in change["to"]}
        rows[found] = ({**kept, **change["to"]}, (*spot, "to"))


def _report_no_source(path: KeyPath, laid: Laid) -> None:
    wrong = "the change names no source of its own, and the shipped source does not say this"
    expected = "a source id, from_memory, common_practice or seen_by_user"
    laid.report(path, wrong, expected, "sources: [from_memory]", "fact-without-source")


def _find_or_none(
    kind: type[Any], rows: list[tuple[Any, KeyPath]], wanted: Any, spot: KeyPath, laid: Laid
) -> int | None:
    """The place of the one row that is meant; a problem if there is none or more than one."""
    if is_dataclass(kind) and (not isinstance(wanted, Mapping) or not wanted):
        laid.report(spot, f"{describe(wanted)} stands here", "keys of the row that is meant")
        return None
    found = [index for index, (row, _) in enumerate(rows) if _fits(kind, row, wanted)]
    if len(found) == 1:
        return found[0]
    if not found:
        there = "; ".join(row_words(row, spot[1]) for row, _ in rows[:_SHOWN_ROWS]) or "none: there is no row"
        more = f" and {len(rows) - _SHOWN_ROWS} more" if len(rows) > _SHOWN_ROWS else ""
        laid.report(spot, f"no row has {_pairs(wanted)}", f"keys of one row of: {there}{more}")
        return None
    differing = [key for key in field_keys(kind) if len({repr(rows[index][0].get(key)) for index in found}) > 1]
    wrong = f"{len(found)} rows have {_pairs(wanted)}"
    laid.report(spot, wrong, "keys that only one row has", "also " + " or ".join(differing or ["nothing: equal rows"]))
    return None


def _fits(kind: type[Any], row: Any, wanted: Any) -> bool:
    if not isinstance(wanted, Mapping):
        return bool(row == wanted)
    if not isinstance(row, Mapping):
        return False
    defaults = _defaults(kind)
    return all(row.get(key, defaults.get(key)) == value for key, value in wanted.items())


def _defaults(kind: type[Any]) -> dict[str, Any]:
    """What a row says if a key is left out."""
    stated = {item.name: item.default for item in fields(kind) if item.default is not MISSING}
    return {name: list(value) if isinstance(value, tuple) else value for name, value in stated.items()}


def field_keys(kind: type[Any]) -> tuple[str, ...]:
    """The keys that a row of this class may have in a file."""
    return forms.document_keys(kind.__name__, tuple(field_types(kind))) if is_dataclass(kind) else ()


def row_class_or_none(model: type[Any], path: Sequence[Any]) -> type[Any] | None:
    """The class of the rows of a list (``str`` for a list of texts); None if no list of rows stands there."""
    hint: Any = field_types(model).get(forms.RENAMED.get(model.__name__, {}).get(str(path[0]), str(path[0])))
    args = get_args(hint)
    if len(path) == 2:
        args = get_args(args[1]) if len(args) == 2 and args[0] is str else ()
    if len(args) == 2 and args[1] is Ellipsis and isinstance(args[0], type) and len(path) <= 2:
        return args[0]
    return None


def row_name(rows: Sequence[Mapping[str, Any]], place: int, name: str, kind: type[Any]) -> dict[str, Any]:
    """The fewest keys that only this row of the list has: its own keys first, then the others in their order."""
    row = rows[place]
    own = [key for key in ROW_KEYS.get(name, ()) if key in row]
    others = [key for key in row if key not in own and key != "sources"]
    named: dict[str, Any] = {}
    for key in (*own, *others, "sources"):
        if key not in row:
            continue
        named[key] = row[key]
        if key not in own[:-1] and sum(_fits(kind, other, named) for other in rows) == 1:
            break
    return named


def row_words(row: Any, name: object) -> str:
    """A row by its own keys, short: ``control 2_4_d, timing post_emergence``."""
    if not isinstance(row, Mapping):
        return repr(row)
    keys = [key for key in ROW_KEYS.get(str(name), ()) if key in row] or list(row)[:1]
    return _pairs({key: row[key] for key in keys})


def _pairs(wanted: Any) -> str:
    if not isinstance(wanted, Mapping):
        return f"the value {wanted!r}"
    return ", ".join(f"{key} {_short(value)}" for key, value in wanted.items())


def _short(value: Any) -> str:
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{key}: {_short(item)}" for key, item in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(_short(item) for item in value) + "]"
    return str(value)[:60]


def _get(value: Mapping[str, Any], path: Sequence[str]) -> Any:
    found: Any = value
    for part in path:
        found = found.get(part) if isinstance(found, Mapping) else None
    return found


def _set(value: dict[str, Any], path: Sequence[str], rows: list[Any]) -> None:
    """Put the rows there; a list that has become empty goes away with its key."""
    *parents, last = path
    for part in parents:
        value[part] = dict(value.get(part) or {})
        value = value[part]
    if rows:
        value[last] = rows
    else:
        value.pop(last, None)
