"""The lawn file: one YAML file a visit -> Lawn, and back. Every problem is named with line and column.

Keys equal the fields of the model, except ``date`` (``on``), ``weeds`` of a zone (``findings``), ``cover``
(``cover_percent``), ``weed`` or ``candidates`` (``weeds``), and ``area_m2`` beside ``area_sqft``.

Covers are percent of the zone. Turf, weeds and bare ground may together pass 100, because canopies overlap: up to
``OVERLAP_PERCENT`` it is only a warning, above that a mistake.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, TypeGuard

from weedkey.errors import Issue, KnowledgeError, LawnError
from weedkey.knowledge.build import Report, build_entry
from weedkey.knowledge.entries import shown_path
from weedkey.knowledge.lawn_form import lawn_text
from weedkey.knowledge.lawn_names import resolve_names
from weedkey.knowledge.strict_yaml import Document, KeyPath, parse_document, read_document
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Lawn, Measured, Zone

__all__ = ["lawn_file_issues", "lawn_issues", "lawn_text", "parse_lawn", "read_lawn"]

#: Canopies of turf and weeds overlap; a sum beyond this is a slip. Common practice, no published bound.
OVERLAP_PERCENT = 120.0
_FULL_PERCENT = 100.0
_ROUNDING = 0.5
#: Measurement -> lowest and highest value that can be meant.
MEASURED_BOUNDS: dict[str, tuple[float, float]] = {
    "soil_ph": (3.0, 10.0),
    "buffer_ph": (3.0, 10.0),
    "sun_hours": (0.0, 24.0),
    "mowing_height_in": (0.1, 12.0),
    "irrigation_days_a_week": (0.0, 7.0),
    "thatch_in": (0.0, 6.0),
    "probe_depth_in": (0.0, 48.0),
    "organic_matter_percent": (0.0, 100.0),
}


def read_lawn(path: Path, knowledge: Knowledge) -> Lawn:
    """Read a lawn file; LawnError lists every problem with line and column."""
    try:
        document = read_document(path, shown_path(path))
    except KnowledgeError as error:
        raise LawnError(error.issues) from error
    return _lawn(document, knowledge)


def parse_lawn(text: str, where: str, knowledge: Knowledge) -> Lawn:
    """Read the text of a lawn file; ``where`` is the name that messages show. LawnError lists every problem."""
    try:
        document = parse_document(text, where)
    except KnowledgeError as error:
        raise LawnError(error.issues) from error
    return _lawn(document, knowledge)


def lawn_issues(text: str, where: str, knowledge: Knowledge) -> list[Issue]:
    """Every problem of a lawn file, warnings too; empty if there is nothing to say."""
    try:
        document = parse_document(text, where)
    except KnowledgeError as error:
        return list(error.issues)
    return _document_issues(document, knowledge)


def lawn_file_issues(path: Path, knowledge: Knowledge) -> list[Issue]:
    """``lawn_issues`` of a file."""
    try:
        document = read_document(path, shown_path(path))
    except KnowledgeError as error:
        return list(error.issues)
    return [*_document_issues(document, knowledge), *_photo_warnings(document, path.parent)]


def _photo_warnings(document: Document, folder: Path) -> Iterator[Issue]:
    """Photos that are not where the file says."""
    zones = _rows(document.value, "zones") if isinstance(document.value, Mapping) else []
    for number, zone in enumerate(zones):
        found: list[tuple[KeyPath, Mapping[str, Any]]] = [(("zones", number), zone)]
        found += [(("zones", number, "weeds", place), row) for place, row in enumerate(_rows(zone, "weeds"))]
        for path, row in found:
            photos = row.get("photos")
            for place, photo in enumerate(photos if isinstance(photos, list) else []):
                if isinstance(photo, str) and not (folder / Path(photo).expanduser()).is_file():
                    where = document.where((*path, "photos", place))
                    wrong = f"there is no file {photo!r}"
                    yield Issue("lawn-photo", "warning", where, wrong, "a path, absolute or from this file's folder")


def _document_issues(document: Document, knowledge: Knowledge) -> list[Issue]:
    lawn, issues = _read(document, knowledge)
    return issues if lawn is None else issues + list(_warnings(document, lawn, knowledge))


def _lawn(document: Document, knowledge: Knowledge) -> Lawn:
    lawn, issues = _read(document, knowledge)
    if lawn is None:
        raise LawnError(issues)
    return lawn


def _read(document: Document, knowledge: Knowledge) -> tuple[Lawn | None, list[Issue]]:
    """The lawn and no issue, or no lawn and every issue in the order of the file."""
    report = Report()
    value = resolve_names(document.value, knowledge, report)
    lawn = build_entry(Lawn, value, report)
    _check_whole(value, report)
    issues = [Issue(p.check, "error", document.where(p.path), p.wrong, p.expected, p.write) for p in report.problems]
    issues.sort(key=lambda issue: (issue.where.line or 0, issue.where.column or 0))
    return (None if issues else lawn), issues


def _check_whole(value: Any, report: Report) -> None:
    """What only several keys together can show: sums of cover, measurements, temperatures.

    Judged on the plain values, so that it is said beside every other problem; what is no number is left to the reader.
    """
    if not isinstance(value, Mapping):
        return
    high, low = value.get("air_high_f"), value.get("air_low_f")
    if _is_number(high) and _is_number(low) and low > high:
        report.add(("air_low_f",), "lawn-air", "the low is above the high of the day", "air_low_f below air_high_f")
    if value.get("zones") == []:
        wrong, expected = "the lawn has no zone", "at least one zone with its area"
        report.add(("zones",), "lawn-zones", wrong, expected, "zones: [{name: lawn, area_sqft: …}]")
    _check_measurements(value, (), report)
    for number, zone in enumerate(_rows(value, "zones")):
        path: KeyPath = ("zones", number)
        _check_measurements(zone, path, report)
        total = _number(zone, "turf_cover_percent") + _number(zone, "bare_percent")
        total += sum(_number(row, "cover") for row in _rows(zone, "weeds"))
        if total > OVERLAP_PERCENT:
            wrong = f"turf, weeds and bare ground of the zone {zone.get('name')!r} sum to {total:g} percent"
            report.add(path, "lawn-cover", wrong, f"about 100, at most {OVERLAP_PERCENT:g} where plants overlap")


def _rows(value: Mapping[str, Any], key: str) -> list[Mapping[str, Any]]:
    """The rows of a list, a wrong one as an empty row, so that the numbers of the others stay."""
    rows = value.get(key)
    return [row if isinstance(row, Mapping) else {} for row in rows] if isinstance(rows, list) else []


def _number(row: Mapping[str, Any], key: str) -> float:
    """A share of the zone as a number; a value outside 0 to 100 has its own problem already and counts nothing."""
    value = row.get(key)
    return float(value) if _is_number(value) and 0 <= value <= _FULL_PERCENT else 0.0


def _is_number(value: Any) -> TypeGuard[float]:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _check_measurements(value: Mapping[str, Any], path: KeyPath, report: Report) -> None:
    for number, row in enumerate(_rows(value, "measured")):
        what, found = row.get("what"), row.get("value")
        if not isinstance(what, str) or what not in MEASURED_BOUNDS or not isinstance(found, str | int | float):
            continue
        low, high = MEASURED_BOUNDS[what]
        spot = (*path, "measured", number, "value")
        if not _is_number(found):
            wrong = f"{found!r} is not a figure of {what}"
            report.add(spot, "lawn-measured", wrong, f"a number from {low:g} to {high:g}")
        elif not low <= found <= high:
            report.add(spot, "lawn-measured", f"{what} of {found:g} cannot be", f"{low:g} to {high:g}")


def cover_sum(zone: Zone) -> float:
    """Percent of the zone that turf (if given), weeds and bare ground cover together."""
    return (
        (zone.turf_cover_percent or 0.0) + zone.bare_percent + sum(finding.cover_percent for finding in zone.findings)
    )


def _warnings(document: Document, lawn: Lawn, knowledge: Knowledge) -> Iterator[Issue]:
    known = {*MEASURED_BOUNDS, *(m.what for c in knowledge.conditions.values() for m in c.measurements)}
    for number, zone in enumerate(lawn.zones):
        total = cover_sum(zone)
        if total > _FULL_PERCENT + _ROUNDING:
            wrong = f"turf, weeds and bare ground of the zone {zone.name!r} sum to {total:g} percent"
            yield Issue(
                "lawn-cover",
                "warning",
                document.where(("zones", number)),
                wrong,
                "about 100; more only where plants overlap",
            )
        for row, measured in enumerate(zone.measured):
            if measured.what not in known:
                yield _unused(document, ("zones", number, "measured", row, "what"), measured)
    for row, measured in enumerate(lawn.measured):
        if measured.what not in known:
            yield _unused(document, ("measured", row, "what"), measured)


def _unused(document: Document, path: KeyPath, measured: Measured) -> Issue:
    wrong = f"nothing here uses the measurement {measured.what!r}"
    return Issue("lawn-measured", "warning", document.where(path), wrong, "one of " + ", ".join(MEASURED_BOUNDS))
