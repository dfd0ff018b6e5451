"""Run all checks over a folder or a single file and sort what they find."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory

from weedkey.errors import Issue, KnowledgeError, Where
from weedkey.knowledge.checks.base import Check, Subject
from weedkey.knowledge.checks.drawings import check_drawings
from weedkey.knowledge.checks.registry import CHECKS
from weedkey.knowledge.checks.schema import find_schema_issues, schema_name
from weedkey.knowledge.drawings import FOLDER, drawing_files
from weedkey.knowledge.entries import KINDS, Kind, RawEntry, entry_files, kind_of_file_or_none, read_entries, shown_path
from weedkey.knowledge.loading import build_raw, knowledge_of
from weedkey.knowledge.locate import shipped_folder
from weedkey.model.base import Knowledge
from weedkey.model.region import Region


def check_all(root: Path, local: Path | None = None, regions: Mapping[str, Region] | None = None) -> list[Issue]:
    """Every problem of the entries below ``root`` (and of the user's own below ``local``), by file and line.

    ``regions``: the treatments of the weeds on some lawn; with it, pairs with different treatments must be told apart.
    """
    raws, made, issues = _read(entry_files(root))
    knowledge = knowledge_of(made)
    issues += _run(CHECKS, Subject(tuple(raws), knowledge, regions=regions))
    for file in drawing_files(root):
        issues += check_drawings(file, knowledge.traits, knowledge.sources)
    if local is not None and local.is_dir():
        issues += _check_local(local, knowledge, root)
    return sorted(issues, key=_order)


#: A file with one of these keys at its margin is a lawn, wherever it lies.
_LAWN_KEY = re.compile(rb"^zones[ \t]*:", re.MULTILINE)
_MAYBE_LAWN_KEY = re.compile(rb"^(?:site|date)[ \t]*:", re.MULTILINE)


def check_file(path: Path, knowledge: Knowledge) -> list[Issue]:
    """Every problem of one file, judged against the knowledge that it belongs to: a file of entries, or a lawn.

    A file in a folder that does not hold a whole knowledge is one of the user's own: it may state only what it changes.
    """
    kind = kind_of_file_or_none(path)
    content = path.read_bytes() if path.is_file() else b""
    if _LAWN_KEY.search(content) or (kind is None and _MAYBE_LAWN_KEY.search(content)):
        from weedkey.knowledge.lawn_file import lawn_file_issues

        return lawn_file_issues(path, knowledge)
    if path.parent.name == FOLDER:
        return sorted(check_drawings(path, knowledge.traits, knowledge.sources), key=_order)
    if kind is None:
        wrong = "neither the folder nor the keys say what kind of file this is"
        expected = "a lawn with zones, or a file in " + ", ".join(
            f"{k.plural}/" for k in KINDS.values() if not k.one_file
        )
        return [Issue("file-place", "error", Where(shown_path(path)), wrong, expected)]
    if not _is_whole(path.parent if kind.one_file else path.parent.parent):
        return check_local_text(kind, content, path.name, shown_path(path), knowledge)
    raws, made, issues = _read([(kind, path)])
    merged = {k.name: {**getattr(knowledge, k.plural), **made[k.name]} for k in KINDS.values()}
    issues += _run(CHECKS, Subject(tuple(raws), knowledge_of(merged), whole=False))
    return sorted(issues, key=_order)


def _is_whole(folder: Path) -> bool:
    return all((folder / f"{kind.plural}.yaml").is_file() for kind in KINDS.values() if kind.one_file)


def check_local_text(kind: Kind, content: bytes, name: str, shown: str, knowledge: Knowledge) -> list[Issue]:
    """Every problem of a local file before it is saved: laid over the shipped entry of its id, then checked as a whole.

    ``name``: the file name that it has or will have; ``shown``: the path that messages print.
    """
    with TemporaryDirectory() as folder:
        file = Path(folder) / ("" if kind.one_file else kind.plural) / name
        file.parent.mkdir(exist_ok=True)
        file.write_bytes(content)
        found = _check_local(Path(folder), knowledge, shipped_folder())
    moved = [replace(issue, where=replace(issue.where, path=shown)) for issue in found]
    return sorted(dict.fromkeys(moved), key=_order)


def check_local(local: Path, knowledge: Knowledge, root: Path | None = None) -> list[Issue]:
    """Every problem of the user's own entries below ``local``; ``root`` is the folder that they are laid over."""
    return sorted(_check_local(local, knowledge, root or shipped_folder()), key=_order)


def _check_local(local: Path, knowledge: Knowledge, root: Path) -> list[Issue]:
    from weedkey.knowledge.overlay import apply_local, read_local, shipped_value_or_none

    raws, issues = read_local(local, root)
    for raw in raws:
        issues += _form_issues([raw])
    merged = apply_local(knowledge, local, root)
    issues += merged.left_out[len(knowledge.left_out) :]  # those before are of another reading of the folder
    issues += _run(CHECKS, Subject(tuple(raws), merged, whole=False, local=True))
    over = {
        raw.document.path: raw.document.value.keys()
        for raw in raws
        if not raw.kind.one_file and shipped_value_or_none(raw.kind, raw.id, root) is not None
    }
    return [issue for issue in dict.fromkeys(issues) if not _is_inherited(issue, over)]


def _is_inherited(issue: Issue, over: Mapping[str, Iterable[str]]) -> bool:
    """True if a file that changes a shipped entry does not hold the key at fault: that is not its fault."""
    key = re.split(r"[.\[]", issue.where.key or "")[0]
    return bool(key) and issue.where.path in over and key not in over[issue.where.path]


def _read(files: Iterable[tuple[Kind, Path]]) -> tuple[list[RawEntry], dict[str, dict[str, object]], list[Issue]]:
    """Read and build every entry; problems of form, of the schema and of single values."""
    raws: list[RawEntry] = []
    made: dict[str, dict[str, object]] = {name: {} for name in KINDS}
    issues: list[Issue] = []
    for kind, file in files:
        try:
            found = read_entries(kind, file)
        except KnowledgeError as error:
            issues += error.issues
            continue
        for raw in found:
            if raw.id in made[kind.name]:
                issues.append(
                    raw.issue("entry-duplicate-id", ("id",), f"the id {raw.id!r} stands twice", "each id once")
                )
            entry, _ = build_raw(raw)
            if entry is not None:
                made[kind.name].setdefault(raw.id, entry)
        raws += found
        issues += _form_issues(found)
    return raws, made, issues


def _form_issues(raws: list[RawEntry]) -> list[Issue]:
    """Problems of building, then those of the schema at places that were not named yet."""
    issues = [issue for raw in raws for issue in build_raw(raw)[1]]
    if raws:
        named = tuple(issue.where.key or "" for issue in issues)
        first = raws[0]
        document = first.document if first.kind.one_file else replace(first.document, value=first.value)
        for issue in find_schema_issues(document, schema_name(first)):
            key = issue.where.key or ""
            if not any(key == other or key.startswith((f"{other}.", f"{other}[")) for other in named):
                issues.append(issue)
    return issues


def _run(checks: Iterable[Check], subject: Subject) -> list[Issue]:
    return [issue for check in checks for issue in check.find(subject)]


def _order(issue: Issue) -> tuple[str, int, int, str]:
    where = issue.where
    return (where.path, where.line or 0, where.column or 0, issue.check)
