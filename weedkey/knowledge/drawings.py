"""The drawings of one trait, read only when something is to be drawn: naming and planning never pay for them.

An installed package holds all drawings in one compiled JSON file; a checkout reads the YAML file of the trait.
"""

from __future__ import annotations

import json
from dataclasses import asdict
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from weedkey.errors import Issue, KnowledgeError
from weedkey.knowledge import locate
from weedkey.model.drawing import Drawing, TraitDrawings

if TYPE_CHECKING:
    from weedkey.knowledge.strict_yaml import Document

FOLDER = "drawings"
COMPILED = locate.PACKAGE / "_drawings.json"


@cache
def drawings_of(trait: str) -> TraitDrawings | None:
    """The drawings of a shipped trait, or None if it has none. KnowledgeError if its file cannot be used."""
    root = locate.shipped_folder()
    if locate.is_installed(root):
        row = _compiled().get(trait)
        return None if row is None else _from_row(row)
    file = root / FOLDER / f"{trait}.yaml"
    return read_drawings(file) if file.is_file() else None


def read_drawings(file: Path) -> TraitDrawings:
    """The drawings of one YAML file. KnowledgeError holds every problem of its form."""
    from weedkey.knowledge.entries import shown_path
    from weedkey.knowledge.strict_yaml import read_document

    made, issues = build_drawings(read_document(file, shown_path(file)))
    if made is None:
        raise KnowledgeError(issues)
    return made


def build_drawings(document: Document) -> tuple[TraitDrawings | None, list[Issue]]:
    """A file of drawings as the model has it, or None and what is wrong."""
    from weedkey.knowledge.build import Report, build_entry

    report = Report()
    made = build_entry(TraitDrawings, document.value, report)
    issues = [Issue(p.check, "error", document.where(p.path), p.wrong, p.expected, p.write) for p in report.problems]
    return made, issues


def drawing_files(root: Path) -> list[Path]:
    """Every file of drawings below a folder of knowledge, by name."""
    return sorted(file for file in (root / FOLDER).glob("*.yaml") if not file.name.startswith("."))


def compile_drawings(root: Path) -> str:
    """All drawings below a folder as the text of the compiled file. KnowledgeError if one cannot be used."""
    rows = {drawings.trait: asdict(drawings) for drawings in map(read_drawings, drawing_files(root))}
    return json.dumps(rows, separators=(",", ":")) + "\n"


@cache
def _compiled() -> dict[str, Any]:
    try:
        rows: dict[str, Any] = json.loads(COMPILED.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}  # words stand alone
    return rows


def _from_row(row: dict[str, Any]) -> TraitDrawings:
    drawings = tuple(
        Drawing(one["state"], one["shows"], tuple(one["strokes"]), tuple(one["fills"])) for one in row["drawings"]
    )
    return TraitDrawings(row["trait"], drawings, tuple(row["sources"]))
