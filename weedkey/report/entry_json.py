"""Entries of the knowledge as plain JSON values: a weed, the traits, a list of sources."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from datetime import date
from typing import Any

from weedkey.model.base import Knowledge
from weedkey.model.source import is_published
from weedkey.model.trait import Trait
from weedkey.model.weed import Weed
from weedkey.model.window import Window


def plain_value(value: object) -> Any:
    """A frozen dataclass as dicts and lists; windows as "MM-DD" pairs, days as text; empty fields left out."""
    if isinstance(value, Window):
        return [
            f"{value.start_month:02d}-{value.start_day:02d}",
            f"{value.end_month:02d}-{value.end_day:02d}",
        ]
    if is_dataclass(value) and not isinstance(value, type):
        pairs = ((f.name, getattr(value, f.name)) for f in fields(value))
        return {name: plain_value(item) for name, item in pairs if item not in (None, "", (), {}, False)}
    if isinstance(value, dict):
        return {str(key): plain_value(item) for key, item in value.items()}
    if isinstance(value, (tuple, list, frozenset)):
        return [plain_value(item) for item in value]
    return value.isoformat() if isinstance(value, date) else value


def weed_json(knowledge: Knowledge, weed: Weed, *, codes: bool = False) -> dict[str, Any]:
    """One weed with the sources it cites; codes from memory only if asked for."""
    from weedkey.report.weed_text import published_share

    entry: dict[str, Any] = plain_value(weed)
    shown = [code for code in weed.codes if codes or is_published(code.sources)]
    entry["codes"] = plain_value(tuple(shown))
    entry["local"] = weed.local
    published, total = published_share(weed)
    entry["facts"] = {"total": total, "published": published}
    entry["sources"] = cited_sources(knowledge, entry)
    return entry


def cited_sources(knowledge: Knowledge, value: object) -> dict[str, Any]:
    """Every source cited anywhere inside a plain JSON value, by id."""
    found: dict[str, Any] = {}
    _collect(knowledge, value, found)
    return dict(sorted(found.items()))


def _collect(knowledge: Knowledge, value: object, found: dict[str, Any]) -> None:
    if isinstance(value, dict):
        for key, item in value.items():
            if key == "sources" and isinstance(item, list):
                for source in item:
                    if source in knowledge.sources:
                        found[source] = plain_value(knowledge.sources[source])
            else:
                _collect(knowledge, item, found)
    elif isinstance(value, list):
        for item in value:
            _collect(knowledge, item, found)


def trait_json(trait: Trait) -> dict[str, Any]:
    """One look: question, states with their words, cost in seconds, what it needs."""
    return {
        "trait": trait.id,
        "question": trait.question,
        "part": trait.part,
        "groups": list(trait.groups),
        "needs": trait.needs,
        "cost_seconds": trait.cost_seconds,
        "mown": trait.mown,
        "destructive": trait.destructive,
        "states": [{"state": state.id, "words": state.words} for state in trait.states],
        "sources": list(trait.sources),
    }
