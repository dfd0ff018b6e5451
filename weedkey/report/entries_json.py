"""The user's own entries as plain values for JSON."""

from __future__ import annotations

from typing import Any

from weedkey.errors import Issue
from weedkey.knowledge.entry_diff import Difference
from weedkey.knowledge.importing import Preview
from weedkey.knowledge.likeness import Separation
from weedkey.knowledge.own_entries import OwnEntry


def issue_json(issue: Issue) -> dict[str, object]:
    """One problem as plain values."""
    return {
        "check": issue.check,
        "severity": issue.severity,
        "path": issue.where.path,
        "line": issue.where.line,
        "column": issue.where.column,
        "key": issue.where.key,
        "wrong": issue.wrong,
        "expected": issue.expected,
        "write": issue.write,
    }


def own_json(entry: OwnEntry) -> dict[str, Any]:
    """One own entry: kind, id, name, new or override, its problems."""
    return {
        "kind": entry.kind,
        "id": entry.id,
        "name": entry.name,
        "what": "new" if entry.is_new else "override",
        "used": entry.is_usable,
        "path": str(entry.file),
        "issues": [issue_json(issue) for issue in entry.issues],
    }


def difference_json(row: Difference) -> dict[str, Any]:
    """One difference."""
    return {"field": list(row.field), "change": row.kind, "before": row.before, "after": row.after}


def separation_json(found: Separation) -> dict[str, Any]:
    """Look-alikes, nearest first, and the look to enter next."""
    return {
        "look_alikes": [
            {
                "weed": near.weed,
                "name": near.name,
                "likeness": round(near.likeness, 2),
                "differs": list(near.differs),
                "told_apart": near.told_apart,
            }
            for near in found.alike
        ],
        "looks_entered": found.entered,
        "looks_wanted": found.wanted,
        "next_look": found.next_look,
        "against": list(found.against),
    }


def preview_json(preview: Preview) -> dict[str, Any]:
    """What reading a file in would do."""
    return {
        "entries": [
            {
                "kind": row.kind,
                "id": row.id,
                "name": row.name,
                "what": row.what,
                "differences": [difference_json(each) for each in row.differences],
                "separation": separation_json(row.separation) if row.separation else None,
            }
            for row in preview.arrivals
        ],
        "issues": [issue_json(issue) for issue in preview.issues],
    }
