"""Files <-> model: strict reading, schema, checks, the compiled bundle, local entries, lawn files, writing an entry.

The public names are imported on first use, so that a command pays only for what it needs. ``coverage`` is imported
from its module of the same name.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from weedkey.knowledge.checks.run import check_all, check_file
    from weedkey.knowledge.lawn_file import parse_lawn, read_lawn
    from weedkey.knowledge.lawn_form import lawn_text
    from weedkey.knowledge.loading import load
    from weedkey.knowledge.names import Match, find_entry, search

__all__ = [
    "Match",
    "check_all",
    "check_file",
    "find_entry",
    "lawn_text",
    "load",
    "parse_lawn",
    "read_lawn",
    "search",
]

_HOMES = {
    "Match": "names",
    "check_all": "checks.run",
    "check_file": "checks.run",
    "find_entry": "names",
    "lawn_text": "lawn_form",
    "load": "loading",
    "parse_lawn": "lawn_file",
    "read_lawn": "lawn_file",
    "search": "names",
}


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
