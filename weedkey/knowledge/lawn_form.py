"""Lawn -> the text of a lawn file, in the house style; reading it again gives the same lawn."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from weedkey.model.lawn import Finding, Lawn, Zone

_HEAD = "# A lawn file of weedkey: one visit. Dates are YYYY-MM-DD, covers are percent of the zone."
_PLAIN = re.compile(r"^[A-Za-z][A-Za-z0-9_./()-]*(?: [A-Za-z0-9_./()-]+)*$")
_NOT_PLAIN = frozenset({"true", "false", "null", "yes", "no", "on", "off"})
_RENAMED = {("Lawn", "on"): "date", ("Zone", "findings"): "weeds", ("Finding", "cover_percent"): "cover"}


def lawn_text(lawn: Lawn) -> str:
    """The YAML text of a lawn file; ``parse_lawn`` of it gives an equal lawn."""
    lines = [_HEAD]
    rows = dict(_rows(lawn))
    for key in sorted(rows, key=_place_in_file):
        value = rows[key]
        if key == "zones":
            lines.append("zones:" if value else "zones: []")
            for zone in lawn.zones:
                lines += _zone_lines(zone)
        elif isinstance(value, tuple) and value:
            lines.append(f"{key}:")
            lines += [f"  - {flow_text(row)}" for row in value]
        else:
            lines.append(f"{key}: {flow_text(value)}")
    return "\n".join(lines) + "\n"


#: What identifies the visit stands first, the zones after everything short; the rest keeps the order of the model.
_FIRST = ("name", "date", "place", "state", "site", "turf", "cultivar")
_LAST = ("zones", "notes", "extra")


def _place_in_file(key: str) -> int:
    if key in _FIRST:
        return _FIRST.index(key) - len(_FIRST)
    return _LAST.index(key) + 1 if key in _LAST else 0


def _zone_lines(zone: Zone) -> Iterator[str]:
    lead = "  - "
    for key, value in _rows(zone):
        if isinstance(value, tuple):
            yield f"{lead}{key}:"
            yield from (f"      - {flow_text(row)}" for row in value)
        else:
            yield f"{lead}{key}: {flow_text(value)}"
        lead = "    "


def _rows(entry: Any) -> Iterator[tuple[str, Any]]:
    """(key of the file, value) of what differs from the default; required values always, in the order of the class."""
    name = type(entry).__name__
    for item in fields(entry):
        value = getattr(entry, item.name)
        if item.name == "extra":
            if value:
                yield item.name, dict(value)
        elif value != item.default or type(value) is not type(item.default):
            yield _RENAMED.get((name, item.name), item.name), value


def flow_text(value: Any) -> str:
    """A value in one line."""
    if isinstance(value, Finding):
        return flow_text(_finding(value))
    if is_dataclass(value) and not isinstance(value, type):
        return flow_text(dict(_rows(value)))
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{_text(str(key))}: {flow_text(item)}" for key, item in value.items()) + "}"
    if isinstance(value, tuple | list):
        return "[" + ", ".join(flow_text(item) for item in value) + "]"
    return _scalar(value)


def _scalar(value: Any) -> str:
    if value is None:
        return "null"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, date):
        return f'"{value.isoformat()}"'
    if isinstance(value, int | float):
        return _number(value)
    return _text(str(value))


def _number(value: float) -> str:
    """Decimal digits, never an exponent; the shortest text that reads back as the same number."""
    if isinstance(value, int):
        return str(value)
    if value.is_integer() and abs(value) < 1e15:
        return str(int(value))
    return f"{Decimal(repr(value)):f}"


def _text(text: str) -> str:
    """Plain where YAML cannot misread it, else in double quotes with escapes."""
    if _PLAIN.match(text) and text.lower() not in _NOT_PLAIN:
        return text
    return '"' + "".join(_escaped(char) for char in text) + '"'


def _escaped(char: str) -> str:
    if char in '"\\':
        return "\\" + char
    if char.isprintable():
        return char
    code = ord(char)
    return {"\n": "\\n", "\t": "\\t", "\r": "\\r"}.get(char) or (
        f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"
    )


def _finding(finding: Finding) -> dict[str, Any]:
    """The row of a finding: a settled weed by its id, else its candidates; looks alone where nothing is known yet."""
    row: dict[str, Any] = {}
    weights = dict(finding.weeds)
    if len(weights) == 1:
        row["weed"] = next(iter(weights))
    elif weights:
        row["candidates"] = weights
    row.update((key, value) for key, value in _rows(finding) if key != "weeds")
    return row
