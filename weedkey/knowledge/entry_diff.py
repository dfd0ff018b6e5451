"""One entry against another, field by field: what was added, what changed from what to what, what was removed.

Works on the values as a file writes them. Rows of a list are paired by their own keys (see ``row_changes``), so that a
row that moved is no change.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from weedkey.knowledge.comments import is_rows
from weedkey.knowledge.lawn_form import flow_text
from weedkey.knowledge.row_changes import ROW_KEYS, row_words
from weedkey.knowledge.writing import value_lines


@dataclass(frozen=True, slots=True)
class Difference:
    """``field``: the key path, with the row's own keys in words; ``kind``: added, changed or removed."""

    field: tuple[str, ...]
    kind: str
    before: Any = None
    after: Any = None


def compare_entries(before: Mapping[str, Any], after: Mapping[str, Any]) -> tuple[Difference, ...]:
    """Every difference, in the order of the first entry, then of the second."""
    return tuple(_rows_of_keys(before, after, ()))


def _rows_of_keys(before: Mapping[str, Any], after: Mapping[str, Any], path: tuple[str, ...]) -> Iterator[Difference]:
    for key in dict.fromkeys((*before, *after)):
        spot = (*path, str(key))
        if key not in after:
            yield Difference(spot, "removed", before[key])
        elif key not in before and _is_by_name(after[key]):
            yield from _rows_of_keys({}, after[key], spot)  # one look a line
        elif key not in before:
            yield Difference(spot, "added", None, after[key])
        else:
            yield from _values(before[key], after[key], spot)


def _is_by_name(value: Any) -> bool:
    return isinstance(value, Mapping) and bool(value) and all(is_rows(item) for item in value.values())


def _values(before: Any, after: Any, path: tuple[str, ...]) -> Iterator[Difference]:
    if before == after:
        return
    if isinstance(before, Mapping) and isinstance(after, Mapping):
        yield from _rows_of_keys(before, after, path)
    elif is_rows(before) and is_rows(after):
        yield from _lists(before, after, path)
    else:
        yield Difference(path, "changed", before, after)


def _lists(before: Sequence[Any], after: Sequence[Any], path: tuple[str, ...]) -> Iterator[Difference]:
    left = [row for row in before if row not in after]
    right = [row for row in after if row not in before]
    for row in left:
        twin = next((other for other in right if _own_keys(other, path[0]) == _own_keys(row, path[0])), None)
        spot = (*path, row_words(row, path[0]))
        if twin is None:
            yield Difference(spot, "removed", row)
        else:
            right.remove(twin)
            yield from _rows_of_keys(row, twin, spot)
    for row in right:
        yield Difference((*path, row_words(row, path[0])), "added", None, row)


def _own_keys(row: Mapping[str, Any], name: str) -> list[Any]:
    return [row.get(key) for key in ROW_KEYS.get(name, tuple(row))]


def entry_text(value: Mapping[str, Any]) -> str:
    """An entry in the house style without comments: a form in which two entries can be compared line by line."""
    return "\n".join(line for key, item in value.items() for line in value_lines(key, item)) + "\n"


def unified_text(before: Mapping[str, Any], after: Mapping[str, Any], name: str) -> str:
    """The two entries as a unified text; empty if they are equal."""
    old, new = entry_text(before).splitlines(), entry_text({k: after[k] for k in _order(before, after)}).splitlines()
    return "\n".join(difflib.unified_diff(old, new, f"{name} as shipped", f"{name} as yours", lineterm="", n=1))


def _order(before: Mapping[str, Any], after: Mapping[str, Any]) -> list[str]:
    return [key for key in dict.fromkeys((*before, *after)) if key in after]


def plain(value: Any) -> str:
    """A value in one line, as a file would write it."""
    return flow_text(value)
