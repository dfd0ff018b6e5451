"""The lawn file: one YAML file a visit -> Lawn, and back. Every problem is named with line and column.

Keys equal the fields of the model, except ``date`` (``on``), ``weeds`` of a zone (``findings``), ``cover``
(``cover_percent``), ``weed`` or ``candidates`` (``weeds``), and ``area_m2`` beside ``area_sqft``.

Covers are percent of the zone. Turf, weeds and bare ground may together pass 100, because canopies overlap: up to
``OVERLAP_PERCENT`` it is only a warning, above that a mistake.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from pathlib import Path

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
    return _document_issues(document, knowledge)


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
    if lawn is not None:
        _check_lawn(lawn, report)
    issues = [Issue(p.check, "error", document.where(p.path), p.wrong, p.expected, p.write) for p in report.problems]
    issues.sort(key=lambda issue: (issue.where.line or 0, issue.where.column or 0))
    return (None if issues else lawn), issues


def _check_lawn(lawn: Lawn, report: Report) -> None:
    """What only the whole lawn can show: zones, sums of cover, measurements, temperatures."""
    if not lawn.zones:
        report.add(
            ("zones",),
            "lawn-zones",
            "the lawn has no zone",
            "at least one zone with its area",
            "zones: [{name: lawn, area_sqft: …}]",
        )
    if lawn.air_high_f is not None and lawn.air_low_f is not None and lawn.air_low_f > lawn.air_high_f:
        report.add(("air_low_f",), "lawn-air", "the low is above the high of the day", "air_low_f below air_high_f")
    for row, measured in enumerate(lawn.measured):
        _check_measured(measured, ("measured", row), report)
    for number, zone in enumerate(lawn.zones):
        for row, measured in enumerate(zone.measured):
            _check_measured(measured, ("zones", number, "measured", row), report)
        total = cover_sum(zone)
        if total > OVERLAP_PERCENT:
            wrong = f"turf, weeds and bare ground of the zone {zone.name!r} sum to {total:g} percent"
            report.add(
                ("zones", number), "lawn-cover", wrong, f"about 100, at most {OVERLAP_PERCENT:g} where plants overlap"
            )


def _check_measured(measured: Measured, path: KeyPath, report: Report) -> None:
    bounds = MEASURED_BOUNDS.get(measured.what)
    if bounds is None or isinstance(measured.value, str):
        if bounds is not None:
            report.add(
                (*path, "value"),
                "lawn-measured",
                f"{measured.value!r} is not a figure of {measured.what}",
                f"a number from {bounds[0]:g} to {bounds[1]:g}",
            )
        return
    if not bounds[0] <= measured.value <= bounds[1] or not math.isfinite(measured.value):
        report.add(
            (*path, "value"),
            "lawn-measured",
            f"{measured.what} of {measured.value:g} cannot be",
            f"{bounds[0]:g} to {bounds[1]:g}",
        )


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
