"""The decision regions of a lawn for the key, kept between two runs: the same plant is asked about again and again.

A kept file is used only if the knowledge, the user's own entries, the lawn, the zone and the program's own code are
what they were; else the regions are worked out anew. Losing or damaging the folder costs half a second, no more.
"""

from __future__ import annotations

import contextlib
import json
from collections.abc import Iterator, Mapping
from dataclasses import replace
from hashlib import sha256
from pathlib import Path
from typing import Any

import weedkey
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Lawn, Zone
from weedkey.model.region import Region
from weedkey.storage import cache_folder, write_atomic

#: So many lawns, days and zones are kept; the oldest goes first.
MOST_KEPT = 40
_FOLDER = "regions"
#: Every second half month of the year ahead: a look a month ahead tells treatments apart, and halves the wait.
_STEP = 2
#: Code that decides what a region holds, relative to the package.
_CODE = ("control", "season", "model", "plan/situation.py", "kept_regions.py")


def regions_of_lawn(
    knowledge: Knowledge, lawn: Lawn, zone: Zone | None = None, region: str | None = None
) -> Mapping[str, Region]:
    """The treatment region of every weed on a lawn, today and over the year ahead.

    ``region``: where the lawn lies, if no place is named. Raises UnknownName for a turf that is not known.
    """
    file = cache_folder() / _FOLDER / f"{_key(knowledge, lawn, zone, region)}.json"
    kept = _read_or_none(file, knowledge)
    if kept is not None:
        return kept
    found = _work_out(knowledge, lawn, zone, region)
    # a folder that cannot be written only means that nothing is kept
    with contextlib.suppress(OSError):
        _write(file, found)
    return found


def _work_out(knowledge: Knowledge, lawn: Lawn, zone: Zone | None, region: str | None) -> Mapping[str, Region]:
    from weedkey.control import decision_regions
    from weedkey.plan.situation import setting_for, settings_ahead

    first = setting_for(knowledge, lawn, zone, barriers=False)
    later = settings_ahead(knowledge, lawn, zone, lawn.on, barriers=False)[::_STEP]
    if region and lawn.place is None:
        first, later = replace(first, region=region), tuple(replace(setting, region=region) for setting in later)
    return decision_regions(knowledge, first, later)


def _key(knowledge: Knowledge, lawn: Lawn, zone: Zone | None, region: str | None) -> str:
    """Everything that the regions hang on; findings do not: they are what the key is asked about."""
    bare = replace(lawn, name="", zones=())
    place = replace(zone, findings=()) if zone is not None else None
    parts = (weedkey.__version__, tuple(_code_stamp()), knowledge.digest, bare, place, region)
    return sha256(repr(parts).encode()).hexdigest()[:32]


def _code_stamp() -> Iterator[tuple[str, int, int]]:
    root = Path(__file__).parent
    for part in _CODE:
        path = root / part
        for file in sorted(path.rglob("*.py")) if path.is_dir() else (path,):
            status = file.stat()
            yield file.name, status.st_size, status.st_mtime_ns


def _read_or_none(file: Path, knowledge: Knowledge) -> Mapping[str, Region] | None:
    """The kept regions; None if there are none, they are damaged, or they are not about these weeds."""
    try:
        data = json.loads(file.read_text(encoding="utf-8"))
        regions = [_region(row) for row in data["regions"]]
        found = {weed: regions[place] for weed, place in data["weeds"].items()}
    except (OSError, ValueError, KeyError, IndexError, TypeError, AttributeError):
        return None
    return found if list(found) == list(knowledge.weeds) else None


def _region(row: Mapping[str, Any]) -> Region:
    return Region(
        str(row["id"]), str(row["kind"]), frozenset(row["actions"]), float(row["harm"]), bool(row["irreversible"])
    )


def _write(file: Path, found: Mapping[str, Region]) -> None:
    regions = list(dict.fromkeys(found.values()))
    place = {region: number for number, region in enumerate(regions)}
    rows = [
        {
            "id": region.id,
            "kind": region.kind,
            "actions": sorted(region.actions),
            "harm": region.harm,
            "irreversible": region.irreversible,
        }
        for region in regions
    ]
    data = {"regions": rows, "weeds": {weed: place[region] for weed, region in found.items()}}
    write_atomic(file, json.dumps(data))
    _drop_oldest(file.parent)


def _drop_oldest(folder: Path) -> None:
    files = sorted(folder.glob("*.json"), key=lambda path: path.stat().st_mtime_ns, reverse=True)
    for old in files[MOST_KEPT:]:
        with contextlib.suppress(OSError):
            old.unlink()
