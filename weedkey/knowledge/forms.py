"""The keys of a file that differ from the fields of the model, each with the reason it differs.

A file is written for people (``often: usually``, ``date: "04-10"``, ``monthly:``); the model for the program.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from weedkey.knowledge.strict_yaml import KeyPath
from weedkey.model.vocabulary import OFTEN
from weedkey.model.window import Window

Add = Callable[..., Any]
Flat = dict[str, tuple[KeyPath, Any]]

#: Set by the loader, never written in a file.
HIDDEN = frozenset({"local"})
#: class -> {key in the file: field of the model}
RENAMED: dict[str, dict[str, str]] = {
    "Weed": {"life_cycle": "life_cycles"},
    "Control": {"class": "control_class"},
    "Lawn": {"date": "on"},
    "Zone": {"weeds": "findings"},
    "Finding": {"cover": "cover_percent"},
}
#: class -> {key in the file: fields of the model that it fills}
EXPANDED: dict[str, dict[str, tuple[str, ...]]] = {
    "Seen": {"often": ("share",)},
    "Place": {"monthly": ("high_f", "low_f")},
    "FrostDate": {"date": ("month", "day")},
    "Finding": {"weed": ("weeds",), "candidates": ("weeds",)},
    "Zone": {"area_m2": ("area_sqft",)},
}
#: Keys that are written as well as the field itself (a share may be given in words or as a number).
ALSO_WRITTEN: dict[str, tuple[str, ...]] = {"Seen": ("share",), "Zone": ("area_sqft",)}
#: International feet: 1 sq ft is exactly 0.3048² m² (nist_sp811).
SQFT_M2 = 0.3048**2

_DAY = re.compile(r"^(\d{1,2})-(\d{1,2})$")


def document_keys(kind: str, names: Sequence[str]) -> tuple[str, ...]:
    """The keys that a file may use for this class."""
    keys: list[str] = []
    for name in names:
        if name in HIDDEN:
            continue
        expanded = [key for key, filled in EXPANDED.get(kind, {}).items() if name in filled]
        own = [name] if name in ALSO_WRITTEN.get(kind, ()) else []
        keys += own + (expanded or [document_key(kind, name)])
    return tuple(dict.fromkeys(keys))


def document_key(kind: str, name: str) -> str:
    """The key of a file under which a field of the model stands; the plainest if there are several."""
    if name in ALSO_WRITTEN.get(kind, ()):
        return name
    for key, renamed in RENAMED.get(kind, {}).items():
        if renamed == name:
            return key
    for key, filled in EXPANDED.get(kind, {}).items():
        if name in filled:
            return key
    return name


def is_written(kind: str, name: str, value: Mapping[str, Any]) -> bool:
    """True if the file has some key for this field, whatever its value."""
    keys = {document_key(kind, name)} | {key for key, filled in EXPANDED.get(kind, {}).items() if name in filled}
    return not keys.isdisjoint(value)


def flatten(kind: str, value: Mapping[str, Any], path: KeyPath, add: Add) -> Flat:
    """Keys of the file -> fields of the model, each with the path (below ``path``) at which a problem is shown."""
    renamed = RENAMED.get(kind, {})
    flat: Flat = {}
    for key, item in value.items():
        special = _SPECIAL.get((kind, key))
        if special is not None:
            flat.update(special(item, path, add))
        elif _is_hidden_name(kind, key, renamed):
            flat[f"{key}?"] = ((key,), item)  # the model's own name is not a key of the file
        else:
            flat[renamed.get(key, key)] = ((key,), item)
    return flat


def _is_hidden_name(kind: str, key: str, renamed: Mapping[str, str]) -> bool:
    """True for the model's own name of a field that a file writes otherwise."""
    if key in ALSO_WRITTEN.get(kind, ()):
        return False
    filled = {name for names in EXPANDED.get(kind, {}).values() for name in names}
    return key not in renamed and (key in renamed.values() or key in filled)


def _read_often(item: Any, path: KeyPath, add: Add) -> Flat:
    """``often: usually`` is the share of plants that show the state."""
    if item not in OFTEN:
        add((*path, "often"), "entry-word", f"{item!r} is not a word of this list", "one of " + ", ".join(OFTEN))
        return {}
    return {"share": (("often",), OFTEN[item])}


def _read_monthly(item: Any, path: KeyPath, add: Add) -> Flat:
    """``monthly: {high_f: […], low_f: […]}`` keeps the two rows of twelve together."""
    if not isinstance(item, Mapping):
        add(
            (*path, "monthly"),
            "entry-type",
            "no rows of temperatures stand here",
            "high_f and low_f, twelve numbers each",
        )
        return {}
    return {
        key if key in ("high_f", "low_f") else f"monthly.{key}": (("monthly", key), values)
        for key, values in item.items()
    }


def _read_frost_date(item: Any, path: KeyPath, add: Add) -> Flat:
    """``date: "04-10"`` is a month and a day."""
    pair = _month_and_day_or_none(item)
    if pair is None:
        add((*path, "date"), "entry-date", f"{item!r} is not a day of the year", 'month and day as "MM-DD"')
        return {}
    return {"month": (("date",), pair[0]), "day": (("date",), pair[1])}


def _read_asked_if(item: Any, path: KeyPath, add: Add) -> Flat:
    """``asked_if: {trait: …, states: […]}`` is a pair in the model."""
    spot = (*path, "asked_if")
    if not isinstance(item, Mapping) or set(item) != {"trait", "states"}:
        add(
            spot,
            "entry-type",
            "the condition is not complete",
            "a trait and its states",
            "{trait: leaf_type, states: [three_leaflets]}",
        )
        return {}
    return {"asked_if": (("asked_if",), [item["trait"], item["states"]])}


def _read_weed(item: Any, path: KeyPath, add: Add) -> Flat:
    """``weed: goosegrass`` is a belief of 1 in one weed."""
    if not isinstance(item, str):
        add((*path, "weed"), "entry-type", "no name stands here", "the name of a weed")
        return {}
    return {"weeds": (("weed",), {item: 1.0})}


def _read_candidates(item: Any, path: KeyPath, add: Add) -> Flat:
    """``candidates: {yellow_nutsedge: 0.5, …}``, any positive weights, become beliefs that sum to 1."""
    spot = (*path, "candidates")
    weights = (
        dict.fromkeys(item, 1.0) if isinstance(item, list) and all(isinstance(name, str) for name in item) else item
    )
    if not isinstance(weights, Mapping):
        add(
            spot,
            "entry-type",
            "no weeds stand here",
            "weeds with how likely each is",
            "{yellow_nutsedge: 0.5, purple_nutsedge: 0.5}",
        )
        return {}
    wrong = [
        name
        for name, weight in weights.items()
        if isinstance(weight, bool) or not isinstance(weight, int | float) or weight < 0
    ]
    for name in wrong:
        add(
            (*spot, name),
            "entry-range",
            f"{weights[name]!r} does not say how likely it is",
            "a number above 0, for example 0.5",
        )
    total = 0.0 if wrong else sum(weights.values())
    if not wrong and weights and total <= 0:
        add(spot, "entry-range", "no candidate is likely at all", "at least one number above 0")
    if total <= 0:
        return {} if weights else {"weeds": (("candidates",), {})}
    scale = 1.0 if abs(total - 1.0) < _ROUNDING else 1.0 / total
    return {"weeds": (("candidates",), {name: weight * scale for name, weight in weights.items() if weight > 0})}


def _read_area_m2(item: Any, path: KeyPath, add: Add) -> Flat:
    """``area_m2`` for those who measure in metres; the model counts in square feet."""
    if isinstance(item, bool) or not isinstance(item, int | float):
        add((*path, "area_m2"), "entry-type", "no number stands here", "the area in square metres")
        return {}
    return {"area_sqft": (("area_m2",), item / SQFT_M2)}


_ROUNDING = 1e-9

_SPECIAL: dict[tuple[str, str], Callable[[Any, KeyPath, Add], Flat]] = {
    ("Seen", "often"): _read_often,
    ("Place", "monthly"): _read_monthly,
    ("FrostDate", "date"): _read_frost_date,
    ("Trait", "asked_if"): _read_asked_if,
    ("Finding", "weed"): _read_weed,
    ("Finding", "candidates"): _read_candidates,
    ("Zone", "area_m2"): _read_area_m2,
}


def read_window(value: Any, path: KeyPath, add: Add) -> Any:
    """``[4, 10]`` (whole months) or ``["04-15", "10-01"]`` (days) -> Window."""
    example = '[4, 10] for months or ["04-15", "10-01"] for days'
    if not isinstance(value, Sequence) or isinstance(value, str) or len(value) != 2:
        return add(path, "entry-window", "this is not a window of the year", example)
    first, last = value
    if _is_month(first) and _is_month(last):
        return Window.months(first, last)
    start, end = _month_and_day_or_none(first), _month_and_day_or_none(last)
    if start is None or end is None:
        return add(path, "entry-window", f"[{first}, {last}] is not a window of the year", example)
    return Window(*start, *end)


def window_value(window: Window) -> list[Any]:
    """A window as a file writes it: months where it covers whole months, else days."""
    if window == Window.months(window.start_month, window.end_month):
        return [window.start_month, window.end_month]
    return [f"{window.start_month:02d}-{window.start_day:02d}", f"{window.end_month:02d}-{window.end_day:02d}"]


def _is_month(value: Any) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and 1 <= value <= 12


def _month_and_day_or_none(value: Any) -> tuple[int, int] | None:
    match = _DAY.match(value) if isinstance(value, str) else None
    if match is None:
        return None
    month, day = int(match[1]), int(match[2])
    try:
        Window(month, day, month, day)
    except ValueError:
        return None
    return month, day
