"""Photos of a zone or a finding: paths only. Looked for, never opened; the zip copies them only if that is asked."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from weedkey.errors import UsageError
from weedkey.model.lawn import Finding, Lawn, Zone
from weedkey.visit import Visit


@dataclass(frozen=True, slots=True)
class Photo:
    """``place``: the finding of the zone, None for the zone itself; ``text``: as it is written; ``path``: where."""

    zone: str
    place: int | None
    text: str
    path: Path

    @property
    def is_there(self) -> bool:
        """True if there is a file at the path."""
        return self.path.is_file()


def photo_path(text: str, folder: Path) -> Path:
    """Where a photo lies that a lawn file in ``folder`` names."""
    return folder / Path(text).expanduser()


def photos_of(lawn: Lawn, folder: Path) -> Iterator[Photo]:
    """Every photo, zone by zone: of the zone itself, then of its findings."""
    for zone in lawn.zones:
        for text in zone.photos:
            yield Photo(zone.name, None, text, photo_path(text, folder))
        for place, finding in enumerate(zone.findings):
            for text in finding.photos:
                yield Photo(zone.name, place, text, photo_path(text, folder))


def add_photo(visit: Visit, zone_name: str, place: int | None, typed: str) -> Photo:
    """Note where a photo lies. A path that is not absolute is taken from the current folder, then from the walk's.

    Raises UsageError if there is no such file, or if it is noted already.
    """
    path = Path(typed.strip().strip("'\"")).expanduser()
    text = str(path) if path.is_absolute() else _resolved(path, visit.folder)
    if not photo_path(text, visit.folder).is_file():
        raise UsageError(f"{typed}: no such file", "the path of a photo")
    zone = visit.zone(zone_name)
    old = zone.photos if place is None else zone.findings[place].photos
    if text in old:
        raise UsageError(f"{typed} is noted already", "another photo")
    _change(visit, zone, place, (*old, text))
    return Photo(zone.name, place, text, photo_path(text, visit.folder))


def drop_photo(visit: Visit, photo: Photo) -> None:
    """Forget where a photo lies; the photo itself is not touched."""
    zone = visit.zone(photo.zone)
    old = zone.photos if photo.place is None else zone.findings[photo.place].photos
    _change(visit, zone, photo.place, tuple(text for text in old if text != photo.text))


def _resolved(path: Path, folder: Path) -> str:
    return str(path.resolve()) if path.is_file() or not (folder / path).is_file() else str(path)


def _change(visit: Visit, zone: Zone, place: int | None, photos: tuple[str, ...]) -> None:
    if place is None:
        changed = replace(zone, photos=photos)
    else:
        rows = list(zone.findings)
        rows[place] = replace(rows[place], photos=photos)
        changed = replace(zone, findings=tuple(rows))
    zones = tuple(changed if row.name == zone.name else row for row in visit.lawn.zones)
    visit.change_lawn(replace(visit.lawn, zones=zones))


def with_photos(lawn: Lawn, change: Callable[[str], str]) -> Lawn:
    """The lawn with every path of a photo changed."""

    def finding(row: Finding) -> Finding:
        return replace(row, photos=tuple(map(change, row.photos)))

    return replace(
        lawn,
        zones=tuple(
            replace(zone, photos=tuple(map(change, zone.photos)), findings=tuple(map(finding, zone.findings)))
            for zone in lawn.zones
        ),
    )


def with_absolute_photos(lawn: Lawn, folder: Path) -> Lawn:
    """The lawn of a file in ``folder`` with paths that hold elsewhere too."""
    base = folder.resolve()
    return with_photos(lawn, lambda text: str(photo_path(text, base)))
