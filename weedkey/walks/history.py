"""What was put on a lawn, over all its walks: it counts against yearly maxima and for the rotation of classes."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from pathlib import Path

from weedkey.errors import LawnError, UsageError, WalkError
from weedkey.knowledge.lawn_file import read_lawn
from weedkey.knowledge.names import normalise
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Lawn, PastApplication
from weedkey.storage import LAWN_FILE, list_visits, write_atomic
from weedkey.visit import UNNAMED_LAWN, Visit

#: The folder of the written records inside the folder of a walk.
RECORDS = "records"


def is_same_lawn(one: Lawn, other: Lawn) -> bool:
    """True for the same name and the same place. A lawn that was never named is the same as no other."""
    name = normalise(one.name)
    return name == normalise(other.name) and name != normalise(UNNAMED_LAWN) and one.place == other.place


def earlier_applications(knowledge: Knowledge, lawn: Lawn, folder: Path | None = None) -> tuple[PastApplication, ...]:
    """What the other walks of this lawn record, archived ones too, each application once, in order of time.

    A walk that cannot be read is passed over; the list of walks says what is wrong with it.
    """
    found = [row for other in _walks_of(knowledge, lawn, folder) for row in other.history]
    known = set(map(_key, lawn.history))
    rows = {_key(row): row for row in found if _key(row) not in known}
    return tuple(sorted(rows.values(), key=lambda row: (row.on, row.control)))


def with_history(knowledge: Knowledge, lawn: Lawn, folder: Path | None = None) -> Lawn:
    """The lawn with what its other walks record beside its own record. For planning; not for writing into its file."""
    earlier = earlier_applications(knowledge, lawn, folder)
    if not earlier:
        return lawn
    return replace(lawn, history=tuple(sorted((*lawn.history, *earlier), key=lambda row: (row.on, row.control))))


def _walks_of(knowledge: Knowledge, lawn: Lawn, folder: Path | None) -> Iterable[Lawn]:
    wanted = normalise(lawn.name)
    for walk in list_visits(folder, archived=None):
        file = walk / LAWN_FILE
        try:
            # the name is looked for first: reading every lawn of many years would take long
            if wanted not in normalise(file.read_text(encoding="utf-8")):
                continue
            other = read_lawn(file, knowledge)
        except (OSError, UnicodeDecodeError, LawnError):
            continue
        if is_same_lawn(lawn, other):
            yield other


def _key(row: PastApplication) -> tuple[object, ...]:
    return (row.on, row.control, row.zones, row.amount, row.unit)


def note_application(visit: Visit, row: PastApplication, record: str) -> Path:
    """Write down what was put on: into the lawn file, and as a record to read and keep. Returns the record's path.

    Raises UsageError for a zone that the lawn does not have, WalkError if it cannot be written.
    """
    names = {zone.name for zone in visit.lawn.zones}
    unknown = [name for name in row.zones if name not in names]
    if unknown:
        raise UsageError(f"there is no zone {unknown[0]!r}", "one of " + ", ".join(sorted(names)))
    if row in visit.lawn.history:
        raise UsageError(f"{row.control} on {row.on.isoformat()} is written down already", "another day or zone")
    path = _record_path(visit.folder, row.on, row.control)
    visit.change_lawn(replace(visit.lawn, history=(*visit.lawn.history, row)))
    try:
        write_atomic(path, record)
    except OSError as error:
        raise WalkError(f"{path}: the record could not be written ({error.strerror or error}).") from error
    return path


def _record_path(folder: Path, on: date, control: str) -> Path:
    stem = f"{on.isoformat()}-{re.sub(r'[^a-z0-9]+', '-', control.lower()).strip('-')}"
    path, number = folder / RECORDS / f"{stem}.txt", 2
    while path.exists():
        path = folder / RECORDS / f"{stem}-{number}.txt"
        number += 1
    return path
