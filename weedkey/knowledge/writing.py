"""Writing the user's own entries: a template that explains itself, saving after checks, editing that keeps comments.

Nothing is written that the checks call an error, nothing is overwritten unasked, and every write can be taken back.
"""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from weedkey.errors import Issue, KnowledgeError, UsageError, Where
from weedkey.knowledge import history
from weedkey.knowledge.checks.run import check_local_text
from weedkey.knowledge.checks.schema import read_schema, schema_folder
from weedkey.knowledge.comments import edited_text, is_rows
from weedkey.knowledge.entries import KINDS, shown_path
from weedkey.knowledge.lawn_form import flow_text
from weedkey.knowledge.strict_yaml import parse_document
from weedkey.model.base import Knowledge

#: Kinds that have one file an entry and may therefore be added.
NEW_KINDS = ("weed", "control", "place", "turf")
_ID = re.compile(r"^[a-z0-9]+(?:_[a-z0-9]+)*$")
_WIDTH = 110
_EXPLAINED_ONCE = ("sources", "note")


def make_id(name: str) -> str:
    """A name as an id: ``Green kyllinga`` -> ``green_kyllinga``. Raises UsageError if nothing is left."""
    found = re.sub(r"[^a-z0-9]+", "_", name.lower()).strip("_")
    if not found:
        raise UsageError(f"{name!r} makes no id", "a name with letters or figures")
    return found


def required_keys(kind: str) -> tuple[str, ...]:
    """The keys that an entry of this kind cannot do without."""
    return tuple(read_schema(kind)["required"])


def head_line(kind: str, folder: Path | None = None, *, change: bool = False) -> str:
    """The first line of a file, which names the schema; by its full path outside of a knowledge folder.

    ``change``: the file changes a shipped entry.
    """
    beside = folder is None or (folder / "schema").is_dir()
    where = "../schema" if beside else schema_folder().as_posix()
    return f"# yaml-language-server: $schema={where}/{'change_' if change else ''}{kind}.schema.json"


def new_entry_text(kind: str, name: str, values: Mapping[str, Any], folder: Path | None = None) -> str:
    """A commented template of one entry with the id ``name``: the values that are given, the rest explained.

    ``values`` are written as a file writes them (``life_cycle``, windows as lists). Required keys without a value stand
    empty, which the checks name; other keys stand as a comment with an example. Raises UsageError for another kind.
    """
    if kind not in NEW_KINDS:
        raise UsageError(f"{kind!r} cannot be added as a file", "one of " + ", ".join(NEW_KINDS))
    schema = read_schema(kind)
    filled = {"id": name, **values}
    unknown = [key for key in filled if key not in schema["properties"]]
    if unknown:
        raise UsageError(f"{unknown[0]!r} is not a key of a {kind}", "one of " + ", ".join(schema["properties"]))
    lines = [
        head_line(kind, folder),
        *_comment("Every fact names its sources: ids of sources.yaml, or from_memory, or common_practice."),
        *_comment("Take the # away from what you fill in; leave out what you do not know. Then: weedkey check FILE"),
    ]
    for key, rule in schema["properties"].items():
        lines += ["", *_comment(_explain(rule)), *_below(rule, schema)]
        if key in filled:
            lines += value_lines(key, filled[key])
        elif key in schema["required"]:
            lines += [f"# {line}" for line in _example(key, rule)] + [f"{key}:"]
        else:
            lines += [f"# {line}" for line in _example(key, rule)]
    return "\n".join(lines) + "\n"


def _comment(text: str, indent: str = "") -> list[str]:
    return textwrap.wrap(text, _WIDTH, initial_indent=f"# {indent}", subsequent_indent=f"# {indent}  ")


def _explain(rule: Mapping[str, Any]) -> str:
    words = rule.get("enum") or rule.get("items", {}).get("enum")
    return str(rule.get("description", "")) + (f" One of: {', '.join(map(str, words))}." if words else "")


def _below(rule: Mapping[str, Any], schema: Mapping[str, Any]) -> Iterator[str]:
    """One line for each key of the rows below a key; sources and notes are the same everywhere."""
    row = _row_rule(rule, schema)
    for key, inner in row.get("properties", {}).items():
        if key not in _EXPLAINED_ONCE:
            must = " (required)" if key in row.get("required", ()) else ""
            yield from _comment(f"{key}{must}: {_explain(inner)}", "  ")


def _row_rule(rule: Mapping[str, Any], schema: Mapping[str, Any]) -> Mapping[str, Any]:
    """The schema of one row: of a list, of a mapping of lists, or of the value itself."""
    for key in ("items", "additionalProperties"):
        if isinstance(rule.get(key), dict) and "enum" not in rule[key]:
            return _row_rule(rule[key], schema)
    if "$ref" not in rule:
        return rule
    file, _, path = str(rule["$ref"]).partition("#/$defs/")
    found: Mapping[str, Any] = (read_schema("common") if file else schema)["$defs"][path]
    return found


def _example(key: str, rule: Mapping[str, Any]) -> list[str]:
    examples = rule.get("examples")
    return value_lines(key, examples[0]) if examples else [f"{key}: …"]


def value_lines(key: str, value: Any) -> list[str]:
    """One key in the house style: rows one a line, looks below their trait, anything short in one line."""
    if isinstance(value, Mapping) and value and all(is_rows(item) for item in value.values()):
        lines = [f"{key}:"]
        for name, rows in value.items():
            lines += [f"  {name}:", *(f"    - {flow_text(row)}" for row in rows)]
        return lines
    if is_rows(value):
        return [f"{key}:", *(f"  - {flow_text(row)}" for row in value)]
    return [f"{key}: {flow_text(value)}"]


def local_issues(kind: str, text: str, folder: Path, knowledge: Knowledge | None = None) -> list[Issue]:
    """Every problem that the text would have as a local entry in ``folder``; nothing is written.

    Raises KnowledgeError if the text has no usable id.
    """
    name = _id_of(kind, text)
    path = folder / KINDS[kind].plural / f"{name}.yaml"
    return check_local_text(KINDS[kind], text.encode(), path.name, shown_path(path), knowledge or _open(folder))


def _open(folder: Path) -> Knowledge:
    from weedkey.knowledge.loading import load

    return load(folder)


def _id_of(kind: str, text: str) -> str:
    document = parse_document(text, f"new {kind}")
    name = document.value.get("id") if isinstance(document.value, dict) else None
    if isinstance(name, str) and _ID.match(name):
        return name
    wrong = f"the id {name!r} is no id" if name else "the key 'id' is missing"
    issue = Issue("entry-id", "error", document.where(("id",)), wrong, "small letters, figures and single underscores")
    raise KnowledgeError([issue])


def save_local(
    kind: str, text: str, folder: Path, *, replace: bool = False, knowledge: Knowledge | None = None
) -> Path:
    """Save the text of one entry in the user's folder after all checks, and return its path.

    ``knowledge``: what it is judged against, if it is loaded already. Raises KnowledgeError with every error found
    (nothing is written then), and UsageError if the file is there already and ``replace`` is not said.
    """
    name = _id_of(kind, text)
    path = folder / KINDS[kind].plural / f"{name}.yaml"
    if path.exists() and not replace:
        raise UsageError(f"{shown_path(path)} is there already", "another name, or leave to replace it")
    errors = [issue for issue in local_issues(kind, text, folder, knowledge) if issue.severity == "error"]
    if errors:
        raise KnowledgeError(errors)
    _write(kind, path, text if text.endswith("\n") else text + "\n", folder)
    return path


def _write(kind: str, path: Path, text: str, folder: Path) -> None:
    history.write_files(folder, {path.relative_to(folder).as_posix(): text}, f"saving the {kind} {path.stem}")


def draft_issues(kind: str, name: str, values: Mapping[str, Any], folder: Path, knowledge: Knowledge) -> list[Issue]:
    """Errors in the values of an entry that is not complete yet: missing and empty keys are no error of a draft."""
    text = new_entry_text(kind, name, values)
    open_ended = ("entry-empty", "entry-missing-key")
    missing = {key for key in required_keys(kind) if key not in values and key != "id"}
    return [
        issue
        for issue in local_issues(kind, text, folder, knowledge)
        if issue.severity == "error" and issue.check not in open_ended and (issue.where.key or "") not in missing
    ]


def save_draft(kind: str, name: str, values: Mapping[str, Any], folder: Path, knowledge: Knowledge) -> Path:
    """Write the template of an entry to be filled in; what is given must be right. Raises like ``save_local``."""
    path = folder / KINDS[kind].plural / f"{name}.yaml"
    if path.exists():
        raise UsageError(f"{shown_path(path)} is there already", "another name, or --set to change it")
    if errors := draft_issues(kind, name, values, folder, knowledge):
        raise KnowledgeError(errors)
    _write(kind, path, new_entry_text(kind, name, values, folder), folder)
    return path


def change_text(kind: str, name: str, folder: Path | None = None) -> str:
    """The text of a file that changes nothing yet of the shipped entry ``name``."""
    return f"{head_line(kind, folder, change=True)}\nid: {name}\n"


def own_text(kind: str, name: str, folder: Path) -> str:
    """The text of a local entry; of a file that changes nothing yet if there is none. Raises KnowledgeError."""
    path = folder / KINDS[kind].plural / f"{name}.yaml"
    try:
        return path.read_text(encoding="utf-8")
    except FileNotFoundError:
        return change_text(kind, name, folder)
    except (OSError, UnicodeDecodeError) as error:
        issue = Issue("file-unreadable", "error", Where(shown_path(path)), f"cannot read the file: {error}")
        raise KnowledgeError([issue]) from error


def edit_local(
    kind: str, name: str, changes: Mapping[str, Any], folder: Path, *, knowledge: Knowledge | None = None
) -> Path:
    """Change keys of a local entry and keep its comments; a file that is not there yet holds the id and the changes.

    A key may be a path such as ``looks.ligule``; None takes the key away. Raises KnowledgeError like ``save_local``.
    """
    text = edited_text(own_text(kind, name, folder), changes)
    return save_local(kind, text, folder, replace=True, knowledge=knowledge)
