"""Choices that were worked out once for a weed and a setting, kept as long as the gates of that setting are kept."""

from __future__ import annotations

from collections.abc import Mapping
from weakref import WeakKeyDictionary

from weedkey.control import Choice, Setting, list_choices
from weedkey.control.gatebook import GateBook, open_book
from weedkey.model.base import Knowledge

_Key = tuple[tuple[str, float], ...]
_KEPT: WeakKeyDictionary[GateBook, dict[_Key, tuple[Choice, ...]]] = WeakKeyDictionary()


def choices_on(knowledge: Knowledge, weeds: str | Mapping[str, float], setting: Setting) -> tuple[Choice, ...]:
    """As ``list_choices``; zones with the same setting, and the parts of a plan, share what was worked out."""
    kept = _KEPT.setdefault(open_book(knowledge, setting), {})
    key = ((weeds, 1.0),) if isinstance(weeds, str) else tuple(sorted(weeds.items()))
    if key not in kept:
        kept[key] = list_choices(knowledge, weeds, setting)
    return kept[key]
