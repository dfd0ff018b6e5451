"""Which weed: answer model, belief, next look, stop rule, fit. Receives decision regions; never imports control.

The parts that a first answer does not need are imported when they are first asked for.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from weedkey.key.answers import DOES_NOT_APPLY
from weedkey.key.context import NOT_IN_LIST, Context
from weedkey.key.decide import STOP_RULE, Decision, NextLook, Standing, StopRule, judge
from weedkey.key.table import Table, build_table, build_table_from_rows

if TYPE_CHECKING:
    from weedkey.key.explain import (
        ask_again,
        explain_look,
        explain_weed,
        find_rivals,
        list_what_would_change,
    )
    from weedkey.key.printed import PrintedKey, printed_key, walk_printed_key
    from weedkey.key.side_by_side import Comparison, compare
    from weedkey.key.words import Proposal, propose_looks, read_words

_LATER = {
    "Comparison": "side_by_side",
    "compare": "side_by_side",
    "ask_again": "explain",
    "explain_look": "explain",
    "explain_weed": "explain",
    "find_rivals": "explain",
    "list_what_would_change": "explain",
    "PrintedKey": "printed",
    "printed_key": "printed",
    "walk_printed_key": "printed",
    "Proposal": "words",
    "propose_looks": "words",
    "read_words": "words",
}

__all__ = [
    "DOES_NOT_APPLY",
    "NOT_IN_LIST",
    "STOP_RULE",
    "Comparison",
    "Context",
    "Decision",
    "NextLook",
    "PrintedKey",
    "Proposal",
    "Standing",
    "StopRule",
    "Table",
    "ask_again",
    "build_table",
    "build_table_from_rows",
    "compare",
    "explain_look",
    "explain_weed",
    "find_rivals",
    "judge",
    "list_what_would_change",
    "printed_key",
    "propose_looks",
    "read_words",
    "walk_printed_key",
]


def __getattr__(name: str) -> Any:
    """Import a part at its first use."""
    if name not in _LATER:
        raise AttributeError(name)
    from importlib import import_module

    return getattr(import_module(f"weedkey.key.{_LATER[name]}"), name)
