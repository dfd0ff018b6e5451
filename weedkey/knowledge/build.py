"""Plain values of a file -> model. The fields of the dataclasses drive it; ``forms`` holds the few special keys.

Every problem is collected with its key path; nothing is guessed. The words and bounds of ``words`` are checked here
too, so that a local entry is safe to use without any schema library.
"""

from __future__ import annotations

import types
from collections.abc import Callable, Mapping, Sequence
from dataclasses import MISSING, dataclass, field, fields, is_dataclass
from datetime import date
from typing import Any, TypeVar, Union, cast, get_args, get_origin, get_type_hints

from weedkey.errors import SourceMissing
from weedkey.knowledge import forms
from weedkey.knowledge.strict_yaml import KeyPath
from weedkey.knowledge.words import ACCEPTED, BOUNDS
from weedkey.model.window import Window

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong at a key path; becomes an Issue once the file is known."""

    path: KeyPath
    check: str
    wrong: str
    expected: str = ""
    write: str = ""


class _Failed:
    """What a reader returns after it has reported a problem."""


FAILED = _Failed()
_SOURCE_ADVICE = ("a source id, from_memory or common_practice", "sources: [from_memory]")


@dataclass(slots=True)
class Report:
    """Collects the problems of one entry."""

    problems: list[Problem] = field(default_factory=list)

    def add(self, path: KeyPath, check: str, wrong: str, expected: str = "", write: str = "") -> _Failed:
        """Note a problem and return the marker of a failed value."""
        self.problems.append(Problem(path, check, wrong, expected, write))
        return FAILED


def build_entry(kind: type[T], value: Any, report: Report, path: KeyPath = ()) -> T | None:
    """Build one dataclass of the model; None (and problems in ``report``) if anything in it is wrong."""
    made = _read_row(kind, value, path, report)
    return None if made is FAILED else cast("T", made)


def _read_row(kind: type[Any], value: Any, path: KeyPath, report: Report) -> Any:
    """One mapping -> one dataclass."""
    if not isinstance(value, Mapping):
        return report.add(path, "entry-type", f"{describe(value)} stands here", f"a row with {_some_keys(kind)}")
    before = len(report.problems)
    hints = field_types(kind)
    given: dict[str, Any] = {}
    for name, (suffix, item) in forms.flatten(kind.__name__, value, path, report.add).items():
        spot = (*path, *suffix)
        if name not in hints or name in forms.HIDDEN:
            _report_unknown_key(kind, suffix, path, report)
        elif item is None:
            report.add(spot, "entry-empty", "the key has no value", "", "a value, or leave the key out")
        else:
            given[name] = _checked(kind, name, _read(hints[name], item, spot, report), spot, report)
    _report_missing(kind, given, value, path, report)
    if len(report.problems) > before:
        return FAILED
    try:
        return kind(**given)
    except SourceMissing:
        return report.add((*path, "sources"), "fact-without-source", "the fact names no source", *_SOURCE_ADVICE)
    except (ValueError, TypeError) as error:
        return report.add(path, "entry-value", str(error))


def _read(hint: Any, value: Any, path: KeyPath, report: Report) -> Any:
    """One value by the type of its field."""
    origin = get_origin(hint)
    if origin in (Union, types.UnionType):
        return _read_union(hint, value, path, report)
    if origin is tuple:
        return _read_tuple(get_args(hint), value, path, report)
    if origin is not None and issubclass(origin, Mapping):
        return _read_mapping(get_args(hint)[1], value, path, report)
    if hint is Window:
        return forms.read_window(value, path, report.add)
    if is_dataclass(hint):
        return _read_row(cast("type", hint), value, path, report)
    return _SCALARS[hint](value, path, report)


def _read_union(hint: Any, value: Any, path: KeyPath, report: Report) -> Any:
    """Optional values, and the one field that takes a number or a word."""
    options = [option for option in get_args(hint) if option is not type(None)]
    if float in options and str in options:
        return value if isinstance(value, str) else _read_number(value, path, report)
    return _read(options[0], value, path, report)


def _read_tuple(args: tuple[Any, ...], value: Any, path: KeyPath, report: Report) -> Any:
    """A list of any length, or a list of fixed length such as [low, high]."""
    if not isinstance(value, Sequence) or isinstance(value, str):
        shape = "a list" if args[-1] is Ellipsis else f"a list of {len(args)}"
        return report.add(
            path,
            "entry-type",
            f"{describe(value)} stands where a list belongs",
            shape,
            f"[{value}]" if isinstance(value, str) else "",
        )
    if args[-1] is Ellipsis:
        items = [_read(args[0], item, (*path, index), report) for index, item in enumerate(value)]
    elif len(value) != len(args):
        return report.add(
            path, "entry-type", f"the list has {len(value)} values", f"{len(args)} values, for example [low, high]"
        )
    else:
        items = [
            _read(arg, item, (*path, index), report) for index, (arg, item) in enumerate(zip(args, value, strict=True))
        ]
    return FAILED if any(item is FAILED for item in items) else tuple(items)


def _read_mapping(hint: Any, value: Any, path: KeyPath, report: Report) -> Any:
    """Keys that are ids (looks by trait)."""
    if not isinstance(value, Mapping):
        return report.add(path, "entry-type", f"{describe(value)} stands here", "keys with their values below")
    made = {key: _read(hint, item, (*path, key), report) for key, item in value.items()}
    return FAILED if any(item is FAILED for item in made.values()) else made


def _read_text(value: Any, path: KeyPath, report: Report) -> Any:
    if isinstance(value, str):
        if value.strip():
            return value
        return report.add(path, "entry-empty", "the text is empty", "", "some text, or leave the key out")
    if isinstance(value, int | float):
        shown = str(value).lower() if isinstance(value, bool) else str(value)
        return report.add(
            path, "entry-type", f"{describe(value)} stands where text belongs", "text", f'"{shown}" in quotes'
        )
    return report.add(path, "entry-type", f"{describe(value)} stands where text belongs", "text")


def _read_number(value: Any, path: KeyPath, report: Report) -> Any:
    if isinstance(value, int | float) and not isinstance(value, bool):
        return float(value)
    return report.add(path, "entry-type", f"{describe(value)} stands where a number belongs", "a decimal number")


def _read_whole(value: Any, path: KeyPath, report: Report) -> Any:
    if isinstance(value, int) and not isinstance(value, bool):
        return value
    return report.add(path, "entry-type", f"{describe(value)} stands where a whole number belongs", "a whole number")


def _read_flag(value: Any, path: KeyPath, report: Report) -> Any:
    if isinstance(value, bool):
        return value
    return report.add(path, "entry-type", f"{describe(value)} stands where a flag belongs", "true or false")


def _read_date(value: Any, path: KeyPath, report: Report) -> Any:
    try:
        return date.fromisoformat(value)
    except (TypeError, ValueError):
        return report.add(path, "entry-date", f"{describe(value)} is not a day of the calendar", "a date as YYYY-MM-DD")


_SCALARS: dict[Any, Callable[[Any, KeyPath, Report], Any]] = {
    str: _read_text,
    float: _read_number,
    int: _read_whole,
    bool: _read_flag,
    date: _read_date,
    object: lambda value, path, report: value,  # noqa: ARG005 - whatever the user keeps under "extra"
}


def _checked(kind: type[Any], name: str, value: Any, path: KeyPath, report: Report) -> Any:
    """The value if its words and numbers are accepted for this field."""
    key = (kind.__name__, name)
    if value is FAILED:
        return value
    listed = isinstance(value, tuple)
    for index, item in enumerate(value if listed else (value,)):
        spot = (*path, index) if listed else path
        accepted = ACCEPTED.get(key)
        if accepted is not None and item not in accepted:
            report.add(
                spot,
                "entry-word",
                f"{item!r} is not a word of this list",
                "one of " + ", ".join(accepted),
                nearest_or_none(str(item), accepted) or "",
            )
        low, high = BOUNDS.get(key, (None, None))
        if low is not None and high is not None and not low <= item <= high:
            report.add(
                spot, "entry-range", f"{_figure(item)} is outside the range", f"{_figure(low)} to {_figure(high)}"
            )
    return value


def _figure(value: float) -> str:
    return f"{value:,.10g}"


def _report_unknown_key(kind: type[Any], suffix: KeyPath, path: KeyPath, report: Report) -> None:
    known = forms.document_keys(kind.__name__, tuple(field_types(kind)))
    key = str(suffix[-1])
    begun = [name for name in known if name.startswith(f"{key}_")]
    write = begun[0] if len(begun) == 1 else nearest_or_none(key, known)
    report.add(
        (*path, *suffix),
        "entry-unknown-key",
        f"{key!r} is not a key here",
        "" if write else "one of " + ", ".join(known),
        write or "",
    )


def _report_missing(
    kind: type[Any], given: Mapping[str, Any], value: Mapping[str, Any], path: KeyPath, report: Report
) -> None:
    """Report required keys that the file does not have at all; a key with a wrong value has its own problem already."""
    name_of = kind.__name__
    lacking = [
        name for name in required_fields(kind) if name not in given and not forms.is_written(name_of, name, value)
    ]
    for key in dict.fromkeys(forms.document_key(name_of, name) for name in lacking):
        if key == "sources":
            report.add(path, "fact-without-source", "the fact names no source", *_SOURCE_ADVICE)
        else:
            report.add((*path, key), "entry-missing-key", f"the key {key!r} is missing", "", f"{key}: …")


def nearest_or_none(word: str, known: Sequence[str], cutoff: float = 0.6) -> str | None:
    """The known word that was probably meant."""
    import difflib

    close = difflib.get_close_matches(word.lower(), known, n=1, cutoff=cutoff)
    return close[0] if close else None


def describe(value: Any) -> str:
    """A value as it would be named to somebody who does not program."""
    if value is None:
        return "nothing"
    if isinstance(value, bool):
        return f"the flag {str(value).lower()}"
    if isinstance(value, str):
        return f"the text {value[:40]!r}"
    if isinstance(value, int | float):
        return f"the number {value}"
    return "a row of keys" if isinstance(value, Mapping) else "a list"


def _some_keys(kind: type[Any]) -> str:
    keys = [forms.document_key(kind.__name__, name) for name in required_fields(kind)]
    return "the keys " + ", ".join(keys) if keys else "keys"


_TYPES: dict[type[Any], dict[str, Any]] = {}


def field_types(kind: type[Any]) -> dict[str, Any]:
    """Field name -> type, in the order of the class."""
    found = _TYPES.get(kind)
    if found is None:
        hints = get_type_hints(kind)
        found = _TYPES[kind] = {item.name: hints[item.name] for item in fields(kind)}
    return found


def required_fields(kind: type[Any]) -> tuple[str, ...]:
    """Fields without a default."""
    return tuple(item.name for item in fields(kind) if item.default is MISSING and item.default_factory is MISSING)
