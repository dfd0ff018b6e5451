"""The saved walks in words: a line each, and as JSON; what is in a zip of walks."""

from __future__ import annotations

from typing import Any

from weedkey.model.base import Knowledge
from weedkey.report.dates import day_words
from weedkey.report.namer import Namer
from weedkey.walks.listing import SavedWalk
from weedkey.walks.zipping import Arriving, Preview


def walk_line(knowledge: Knowledge, walk: SavedWalk) -> str:
    """For example: 3 June 2026 · valley rental · zoysiagrass · Murfreesboro, Tennessee · 7 weeds, 2 photos."""
    lawn = walk.lawn
    if lawn is None:
        return f"{walk.name} · cannot be read: {walk.problem}"
    place = knowledge.places.get(lawn.place or "")
    parts = [day_words(lawn.on), lawn.name, Namer(knowledge).turf(lawn.turf)]
    parts += [place.name] if place else []
    count = f"{walk.findings} weed{'' if walk.findings == 1 else 's'}"
    if walk.photos:
        count += f", {walk.photos} photo{'' if walk.photos == 1 else 's'}"
    parts.append(count)
    if walk.archived:
        parts.append("archived")
    return " · ".join(parts)


def walk_json(walk: SavedWalk) -> dict[str, Any]:
    """One walk: name, path, date, lawn, turf, place, findings, weeds, photos, archived, problem."""
    lawn = walk.lawn
    weeds = dict.fromkeys(weed for zone in lawn.zones for row in zone.findings for weed in row.weeds) if lawn else {}
    return {
        "name": walk.name,
        "path": str(walk.folder),
        "date": lawn.on.isoformat() if lawn else None,
        "lawn": lawn.name if lawn else None,
        "turf": lawn.turf if lawn else None,
        "place": lawn.place if lawn else None,
        "findings": walk.findings,
        "weeds": list(weeds),
        "photos": walk.photos,
        "archived": walk.archived,
        "problem": walk.problem or None,
    }


def preview_lines(preview: Preview) -> list[str]:
    """What bringing a zip in would do, a line a walk; then what is refused and why."""
    lines = [_arriving_line(walk) for walk in preview.walks] or ["there is no walk in it"]
    return lines + [f"refused: {name} ({reason})" for name, reason in preview.refused]


def _arriving_line(walk: Arriving) -> str:
    if walk.problem:
        return f"refused: {walk.name} ({walk.problem})"
    if not walk.becomes:
        return f"here already: {walk.name}"
    files = f"{len(walk.files)} file{'' if len(walk.files) == 1 else 's'}"
    renamed = "" if walk.becomes == walk.name else f" as {walk.becomes} (another walk has its name)"
    return f"new: {walk.name}{renamed}, {files}"


def preview_json(preview: Preview) -> dict[str, Any]:
    """The same as values: walks (name, becomes, files, problem) and refused (path, reason)."""
    return {
        "walks": [
            {"name": w.name, "becomes": w.becomes or None, "files": list(w.files), "problem": w.problem or None}
            for w in preview.walks
        ],
        "refused": [{"path": name, "reason": reason} for name, reason in preview.refused],
    }
