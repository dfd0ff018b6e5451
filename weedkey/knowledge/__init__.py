"""Files <-> model: strict reading, schema, checks, the compiled bundle, local entries, lawn files, writing an entry.

The public names are imported on first use, so that a command pays only for what it needs.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from weedkey.knowledge.loading import load
    from weedkey.knowledge.names import Match, find_entry, search

__all__ = ["Match", "find_entry", "load", "search"]

_HOMES = {
    "Match": "names",
    "find_entry": "names",
    "load": "loading",
    "search": "names",
}


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
