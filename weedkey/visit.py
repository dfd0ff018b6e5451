"""A visit in progress: the lawn as far as it is known, its findings, and the plant that is being named.

Each change is on disk before the next question shows: the lawn as a readable file, each naming as a journal.
A visit is a folder: ``lawn.yaml`` and ``naming-1.jsonl``, ``naming-2.jsonl`` … (see ``weedkey.walk``).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from weedkey.errors import LawnError, WalkError
from weedkey.key import Context
from weedkey.knowledge.lawn_file import read_lawn
from weedkey.knowledge.lawn_form import lawn_text
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Finding, Lawn, Look, Zone
from weedkey.storage import LAWN_FILE, list_visits, walks_folder, write_atomic
from weedkey.walk import Walk, resume_walk, start_walk

__all__ = ["LAWN_FILE", "Visit", "list_visits", "resume_visit", "start_visit"]

ZONE_FILE = "zone.txt"
#: What a lawn is called until it has a name.
UNNAMED_LAWN = "new lawn"


@dataclass(slots=True)
class Visit:
    """The lawn, where it is kept, and the naming in hand (with the zone it is for)."""

    folder: Path
    lawn: Lawn
    naming: Walk | None = None
    naming_zone: str = ""
    before: list[Lawn] = field(default_factory=list)

    def change_lawn(self, lawn: Lawn) -> None:
        """Write the lawn down, then take it over. Raises WalkError if it cannot be written."""
        old = self.lawn
        self._write_lawn(lawn)
        if old != lawn:
            self.before.append(old)

    def undo_change(self) -> Lawn | None:
        """Take the last change of the lawn in this sitting back; returns what the lawn was until now, or None."""
        if not self.before:
            return None
        was = self.lawn
        self._write_lawn(self.before[-1])
        self.before.pop()
        return was

    def _write_lawn(self, lawn: Lawn) -> None:
        try:
            write_atomic(self.folder / LAWN_FILE, lawn_text(lawn))
        except OSError as error:
            raise WalkError(f"{self.folder}: the lawn could not be written ({error.strerror or error}).") from error
        self.lawn = lawn

    def add_finding(self, zone_name: str, finding: Finding) -> None:
        """Add a weed (or a set) to a zone."""
        zone = self.zone(zone_name)
        self._change_zone(replace(zone, findings=(*zone.findings, finding)))

    def replace_finding(self, zone_name: str, place: int, finding: Finding | None) -> None:
        """Change the finding at a place of a zone, or remove it (None)."""
        zone = self.zone(zone_name)
        rows = list(zone.findings)
        if finding is None:
            del rows[place]
        else:
            rows[place] = finding
        self._change_zone(replace(zone, findings=tuple(rows)))

    def zone(self, name: str) -> Zone:
        """The zone of this name; the first one if there is none of it."""
        return next((zone for zone in self.lawn.zones if zone.name == name), self.lawn.zones[0])

    def start_naming(self, zone_name: str, context: Context) -> Walk:
        """Begin to name a plant of a zone; its journal is on disk at once."""
        number = 1 + len(list(self.folder.glob("naming-*.jsonl")))
        self.naming = start_walk(context, self.folder / f"naming-{number}.jsonl")
        self.naming_zone = zone_name
        write_atomic(self.folder / ZONE_FILE, zone_name)
        return self.naming

    def finish_naming(self, weeds: Mapping[str, float], cover_percent: float, looks: tuple[Look, ...]) -> None:
        """Take the plant over into its zone, as a weed or as a set with its beliefs, and close the naming."""
        self.add_finding(self.naming_zone, Finding(dict(weeds), cover_percent, looks=looks))
        self.drop_naming()

    def drop_naming(self) -> None:
        """Close the naming without a result; its journal stays in the folder."""
        if self.naming is not None:
            self.naming.note("closed")
        self.naming = None

    def _change_zone(self, changed: Zone) -> None:
        zones = tuple(changed if zone.name == changed.name else zone for zone in self.lawn.zones)
        self.change_lawn(replace(self.lawn, zones=zones))


def start_visit(lawn: Lawn, folder: Path | None = None) -> Visit:
    """A new visit in a folder of its own below the folder of walks. Raises WalkError if it cannot be written."""
    home = folder or _free_folder(lawn)
    visit = Visit(home, lawn)
    visit.change_lawn(lawn)
    return visit


def resume_visit(folder: Path, knowledge: Knowledge) -> Visit:
    """Open a visit again, with the naming that was not closed. Raises WalkError if its lawn cannot be read."""
    try:
        lawn = read_lawn(folder / LAWN_FILE, knowledge)
    except (OSError, LawnError) as error:
        raise WalkError(f"{folder / LAWN_FILE}: the lawn of this walk cannot be read: {error}") from error
    visit = Visit(folder, lawn)
    journals = sorted(folder.glob("naming-*.jsonl"), key=lambda path: int(path.stem.removeprefix("naming-")))
    if journals:
        walk = resume_walk(journals[-1])
        if "closed" not in walk.notes:
            visit.naming = walk
            zone_file = folder / ZONE_FILE
            visit.naming_zone = zone_file.read_text(encoding="utf-8") if zone_file.is_file() else lawn.zones[0].name
    return visit


def _free_folder(lawn: Lawn) -> Path:
    words = "".join(letter if letter.isalnum() else " " for letter in lawn.name.lower()).split()
    letters = "-".join(words)[:60].strip("-")
    stem = f"{lawn.on.isoformat()}-{letters or 'lawn'}"
    place = walks_folder() / stem
    number = 2
    while place.exists():
        place = walks_folder() / f"{stem}-{number}"
        number += 1
    return place
