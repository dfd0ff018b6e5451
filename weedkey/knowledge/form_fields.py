"""What a form asks for an entry: one field a key of the schema, with its explanation and the values it accepts.

Nothing is listed here that the schema or the knowledge does not say; only which ids a key names stands in a table.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from weedkey.errors import UsageError
from weedkey.knowledge.checks.schema import entry_rule, resolve_rule
from weedkey.knowledge.words import ANY_TURF
from weedkey.model.base import Knowledge

#: Keys that the form fills in by itself, or that only the project uses.
LEFT_TO_THE_FORM = ("id", "former_ids", "sources", "hardiness_sources", "seen", "share")
#: Key -> kinds of entries whose ids it names.
_NAMES: dict[str, tuple[str, ...]] = {
    "control": ("controls",),
    "order": ("controls",),
    "mixed_with": ("controls",),
    "parts": ("controls",),
    "turf": ("turfs",),
    "turfs": ("turfs",),
    "in_turf": ("turfs",),
    "not_known": ("turfs",),
    "weed": ("weeds", "turfs"),
    "traits": ("traits",),
    "remedies": ("conditions",),
}
#: Rows in which a turf may be any turf.
_ANY_TURF_ROWS = ("tolerance", "only_non_selective", "reseeding")
_DAY = re.compile(r"^\d{1,2}-\d{1,2}$")


@dataclass(frozen=True, slots=True)
class FormField:
    """One field. ``shape``: text, texts, word, words, number, numbers, flag, window, windows, day, row, rows, looks.

    ``options``: (value, words) that may be chosen; ``many`` figures of ``numbers``; ``expected`` says what is typed.
    """

    key: str
    about: str
    shape: str
    required: bool = False
    options: tuple[tuple[str, str], ...] = ()
    low: float | None = None
    high: float | None = None
    many: int = 0
    whole: bool = False
    expected: str = "some text"
    rule: Mapping[str, Any] = field(default_factory=dict, compare=False)

    @property
    def is_chosen(self) -> bool:
        """True if the value is one of the options, or several of them."""
        return bool(self.options)


def entry_fields(kind: str, knowledge: Knowledge) -> tuple[FormField, ...]:
    """The fields of an entry, the required ones first, each in the order of the schema."""
    return _fields(entry_rule(kind), "", knowledge)


def row_fields(row: FormField, knowledge: Knowledge) -> tuple[FormField, ...]:
    """The fields of one row of a list, or of a single row of keys."""
    rule = resolve_rule(row.rule)
    return _fields(resolve_rule(rule["items"]) if rule.get("type") == "array" else rule, row.key, knowledge)


def _fields(rule: Mapping[str, Any], name: str, knowledge: Knowledge) -> tuple[FormField, ...]:
    required = rule.get("required", ())
    made = [
        _field(key, inner, key in required, name, knowledge)
        for key, inner in rule.get("properties", {}).items()
        if key not in LEFT_TO_THE_FORM
    ]
    return tuple(sorted(made, key=lambda item: not item.required))


def _field(key: str, rule: Mapping[str, Any], required: bool, name: str, knowledge: Knowledge) -> FormField:
    reference = str(rule.get("$ref", ""))
    full = resolve_rule(rule)
    about = str(full.get("description", ""))

    def made(shape: str, expected: str = "", **more: Any) -> FormField:
        return FormField(key, about, shape, required, expected=expected, rule=rule, **more)

    if reference.endswith("/window"):
        return made("window", _WINDOW)
    if reference.endswith("/day"):
        return made("day", "month and day as MM-DD, for example 04-10")
    if full.get("type") == "array":
        return _list_field(key, full, name, knowledge, made)
    if full.get("type") == "object":
        return made("looks" if "properties" not in full else "row")
    if options := _options(key, full, name, knowledge):
        return made("word", options=options)
    return _plain_field(full, made)


_WINDOW = "months such as 4-10, or days such as 04-15 to 10-01"


def _plain_field(rule: Mapping[str, Any], made: Callable[..., FormField]) -> FormField:
    kind = rule.get("type")
    if kind == "boolean":
        return made("flag", options=(("true", "yes"), ("false", "no")))
    if kind in ("number", "integer"):
        low, high = rule.get("minimum"), rule.get("maximum")
        figure = "a whole number" if kind == "integer" else "a number"
        expected = f"{figure} from {low} to {high}" if low is not None and high is not None else figure
        return made("number", expected, low=low, high=high, whole=kind == "integer")
    examples = rule.get("examples", ())
    return made("text", f"some text, for example {examples[0]}" if examples else "some text")


def _list_field(
    key: str, rule: Mapping[str, Any], name: str, knowledge: Knowledge, made: Callable[..., FormField]
) -> FormField:
    item = rule["items"]
    if str(item.get("$ref", "")).endswith("/window"):
        return made("windows", f"{_WINDOW}; several with a comma")
    inner = resolve_rule(item)
    if inner.get("type") == "object":
        return made("rows")
    if inner.get("type") in ("number", "integer"):
        many = int(rule.get("minItems", 0))
        figures = {2: "two numbers, lowest and highest", 12: "twelve numbers, January first"}
        return made(
            "numbers",
            f"{figures.get(many, 'numbers')}, with spaces between",
            many=many,
            low=inner.get("minimum"),
            high=inner.get("maximum"),
            whole=inner.get("type") == "integer",
        )
    if options := _options(key, inner, name, knowledge):
        return made("words", options=options)
    return made("texts", "one or more, with commas between")


def _options(key: str, rule: Mapping[str, Any], name: str, knowledge: Knowledge) -> tuple[tuple[str, str], ...]:
    if "enum" in rule:
        return tuple((str(word), str(word).replace("_", " ")) for word in rule["enum"])
    found: list[tuple[str, str]] = []
    for plural in _NAMES.get(key, ()):
        if name == "resistance" and plural == "turfs":
            continue
        entries = getattr(knowledge, plural)
        found += [(one, _words(entries[one])) for one in entries]
    if key == "turf" and name in _ANY_TURF_ROWS:
        found = [*((word, word.replace("_", " ")) for word in ANY_TURF), *found]
    return tuple(dict(found).items())


def _words(entry: Any) -> str:
    return str(getattr(entry, "name", None) or getattr(entry, "question", None) or entry.id)


def read_typed(asked: FormField, text: str) -> Any:
    """The value that a typed text means for a field. Raises UsageError that says what is expected."""
    found = _READERS[asked.shape](asked, text.strip())
    if found is None:
        raise UsageError(f"{text.strip() or 'nothing'} is not accepted", asked.expected)
    return found


def shown_value(value: Any, shape: str = "") -> str:
    """A value as one would type it into a field of this shape, to be changed."""
    if shape == "window" and value:
        return shown_window(value)
    if isinstance(value, list):
        if len(value) == 2 and all(isinstance(item, str) and _DAY.match(item) for item in value):
            return f"{value[0]} to {value[1]}"
        if value and isinstance(value[0], list):
            return ", ".join(shown_window(item) for item in value)
        return (" " if value and isinstance(value[0], int | float) else ", ").join(map(shown_value, value))
    return f"{value:g}" if isinstance(value, float) else "" if value is None else str(value)


def shown_window(window: list[Any]) -> str:
    """A window as one would type it."""
    joint = "-" if isinstance(window[0], int) else " to "
    return joint.join(str(end) for end in window)


def _number(asked: FormField, text: str) -> int | float | None:
    try:
        number = float(text)
    except ValueError:
        return None
    fits = (asked.low is None or number >= asked.low) and (asked.high is None or number <= asked.high)
    if not fits or not math.isfinite(number) or (asked.whole and not number.is_integer()):
        return None
    return int(number) if number.is_integer() else number


def _numbers(asked: FormField, text: str) -> list[Any] | None:
    found = [_number(asked, part) for part in re.split(r"[\s,;]+", text) if part]
    return found if found and None not in found and asked.many in (0, len(found)) else None


def _window(_: FormField, text: str) -> list[Any] | None:
    """``4-10`` or ``April to October`` by number; ``04-15 to 10-01`` by day."""
    ends = [end.strip() for end in re.split(r"\s+to\s+|\s*\.\.\s*", text)]
    if len(ends) == 2 and all(_DAY.match(end) for end in ends):
        return ends
    months = re.fullmatch(r"(\d{1,2})\s*-\s*(\d{1,2})", text)
    if months and all(1 <= int(month) <= 12 for month in months.groups()):
        return [int(month) for month in months.groups()]
    return None


def _windows(asked: FormField, text: str) -> list[Any] | None:
    found = [_window(asked, part.strip()) for part in text.split(",") if part.strip()]
    return found if found and None not in found else None


def _texts(_: FormField, text: str) -> list[str] | None:
    return [part.strip() for part in text.split(",") if part.strip()] or None


_READERS: dict[str, Callable[[FormField, str], Any]] = {
    "text": lambda _, text: text or None,
    "texts": _texts,
    "number": _number,
    "numbers": _numbers,
    "window": _window,
    "windows": _windows,
    "day": lambda _, text: text if _DAY.match(text) else None,
}
