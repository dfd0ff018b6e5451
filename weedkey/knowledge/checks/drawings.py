"""The drawings: their form, and that each state of their trait is drawn once, inside the box."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from pathlib import Path

from weedkey.errors import Issue, KnowledgeError
from weedkey.knowledge.build import nearest_or_none
from weedkey.knowledge.checks.schema import find_schema_issues
from weedkey.knowledge.drawings import build_drawings
from weedkey.knowledge.entries import shown_path
from weedkey.knowledge.strict_yaml import Document, KeyPath, read_document
from weedkey.model.drawing import BOX_HEIGHT, BOX_WIDTH, TraitDrawings, flatten_path
from weedkey.model.source import COMMON_PRACTICE, FROM_MEMORY
from weedkey.model.trait import Trait


def check_drawings(file: Path, traits: Mapping[str, Trait], sources: Mapping[str, object]) -> list[Issue]:
    """Every problem of one file of drawings."""
    try:
        document = read_document(file, shown_path(file))
    except KnowledgeError as error:
        return list(error.issues)
    drawings, issues = build_drawings(document)
    named = {issue.where.key for issue in issues}
    issues += [issue for issue in find_schema_issues(document, "drawing") if issue.where.key not in named]
    if drawings is None:
        return issues
    issues += _trait_issues(document, drawings, file, traits)
    known = (*sources, FROM_MEMORY, COMMON_PRACTICE)
    for place, name in enumerate(drawings.sources):
        if name not in known:
            wrong, expected = f"there is no source {name!r}", "an id of sources.yaml, from_memory or common_practice"
            issues.append(Issue("source-unknown", "error", document.where(("sources", place)), wrong, expected))
    return issues + list(_path_issues(document, drawings))


def _trait_issues(
    document: Document, drawings: TraitDrawings, file: Path, traits: Mapping[str, Trait]
) -> Iterator[Issue]:
    """The trait exists and gives the file its name; each of its states is drawn once."""
    if drawings.trait != file.stem:
        yield Issue(
            "id-stem", "error", document.where(("trait",)), f"the file is called {file.name}", "", f"trait: {file.stem}"
        )
    trait = traits.get(drawings.trait)
    if trait is None:
        write = nearest_or_none(drawings.trait, tuple(traits)) or ""
        wrong = f"there is no trait {drawings.trait!r}"
        yield Issue("drawing-trait", "error", document.where(("trait",)), wrong, "an id of traits.yaml", write)
        return
    counts = Counter(drawing.state for drawing in drawings.drawings)
    for place, drawing in enumerate(drawings.drawings):
        where = document.where(("drawings", place, "state"))
        if drawing.state not in trait.state_ids:
            expected = "one of " + ", ".join(trait.state_ids)
            yield Issue("drawing-state", "error", where, f"{trait.id} has no state {drawing.state!r}", expected)
        elif counts[drawing.state] > 1:
            yield Issue("drawing-state", "error", where, f"the state {drawing.state!r} is drawn twice", "each once")
    for state in trait.state_ids:
        if state not in counts:
            where = document.where(("drawings",))
            yield Issue("drawing-state", "error", where, f"the state {state!r} is not drawn", "each state once")


def _path_issues(document: Document, drawings: TraitDrawings) -> Iterator[Issue]:
    """Each path can be read and lies inside the box; a solid area is closed by its renderer, so Z is not asked for."""
    for place, drawing in enumerate(drawings.drawings):
        for key, paths in (("strokes", drawing.strokes), ("fills", drawing.fills)):
            for index, path in enumerate(paths):
                where: KeyPath = ("drawings", place, key, index)
                wrong = _path_fault(path)
                if wrong:
                    expected = f"absolute M, L, Q, C, Z with points from 0 0 to {BOX_WIDTH} {BOX_HEIGHT}"
                    yield Issue("drawing-path", "error", document.where(where), wrong, expected)


def _path_fault(path: str) -> str:
    """What is wrong with a path; empty if nothing is."""
    try:
        lines = flatten_path(path)
    except ValueError as error:
        return str(error)
    if not lines:
        return "the path draws nothing"
    for line in lines:
        for x, y in line:
            if not (0 <= x <= BOX_WIDTH and 0 <= y <= BOX_HEIGHT):
                return f"the path leaves the box at {x:.1f} {y:.1f}"
    return ""
