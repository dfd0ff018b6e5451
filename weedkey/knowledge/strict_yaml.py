"""Strict reading of YAML: one job, to turn text into plain values without any of YAML's surprises.

Closed traps: a duplicate key is an error that names both lines; ``yes``, ``no``, ``on``, ``off`` stay words (only
``true`` and ``false`` are flags); a date stays text; ``012`` and ``1:30`` stay text (numbers are decimal); anchors,
aliases and tags are refused. Every value keeps its line and column, so that a later check can point at it.

PyYAML is imported on first use: a normal command reads the compiled bundle and never comes here.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

from weedkey.errors import Issue, KnowledgeError, Where

KeyPath = tuple[str | int, ...]

_TAG = "tag:yaml.org,2002:"
_WHOLE = re.compile(r"^[-+]?(?:0|[1-9][0-9]*)$")
_NUMBER = re.compile(r"^[-+]?(?:(?:0|[1-9][0-9]*)\.[0-9]*|\.[0-9]+)(?:[eE][-+]?[0-9]+)?$")
#: Deeper than any entry needs; a file beyond it is refused instead of exhausting the stack.
MAX_DEPTH = 40


def key_text(path: Sequence[str | int]) -> str:
    """A key path as people read it: ``looks.ligule[0].state``; rows count from 0."""
    text = ""
    for part in path:
        if isinstance(part, int):
            text += f"[{part}]"
        else:
            text += f".{part}" if text else part
    return text


@dataclass(frozen=True, slots=True)
class Document:
    """One file as plain values, with the places of its keys.

    ``moved``: where parts of the value stand in the file, if they do not stand where the value has them.
    """

    path: str
    value: Any
    node: Any
    moved: Mapping[KeyPath, KeyPath] = field(default_factory=dict)

    def where(self, key: Sequence[str | int] = ()) -> Where:
        """Line and column of a key path; of its nearest existing parent if the key itself is missing."""
        key = self._written(tuple(key))
        line, column = _find(self.node, key)
        return Where(self.path, line, column, key_text(key) or None)

    def _written(self, key: KeyPath) -> KeyPath:
        for length in range(len(key), 0, -1) if self.moved else ():
            if key[:length] in self.moved:
                return (*self.moved[key[:length]], *key[length:])
        return key


def read_document(path: Path, shown: str | None = None) -> Document:
    """Read one YAML file; KnowledgeError names every problem. ``shown`` is the path that messages print."""
    name = shown or str(path)
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except OSError as error:
        reason = error.strerror or "it cannot be opened"
        raise KnowledgeError(
            [Issue("file-unreadable", "error", Where(name), f"cannot read the file: {reason}")]
        ) from error
    except UnicodeDecodeError as error:
        issue = Issue(
            "file-encoding", "error", Where(name), "the file is not UTF-8 text", "UTF-8", "the file again as UTF-8"
        )
        raise KnowledgeError([issue]) from error
    return parse_document(text, name)


def parse_document(text: str, path: str) -> Document:
    """Turn YAML text into a Document; KnowledgeError holds every problem found. ``path`` is only shown in messages."""
    node = _compose(text, path)
    if node is None:
        raise KnowledgeError([Issue("yaml-empty", "error", Where(path, 1, 1), "the file holds nothing", "an entry")])
    reader = _Reader(path)
    value = reader.value(node, (), 0)
    if reader.issues:
        raise KnowledgeError(sorted(reader.issues, key=lambda issue: (issue.where.line or 0, issue.where.column or 0)))
    return Document(path, value, node)


@cache
def _loader_class() -> Any:
    """The C loader of PyYAML without its YAML 1.1 resolvers; without the C part reading takes seven times as long."""
    import yaml

    if not hasattr(yaml, "CSafeLoader"):  # pragma: no cover - depends on the installation
        issue = Issue(
            "yaml-library", "error", Where("PyYAML"), "the compiled part of PyYAML is missing", "a PyYAML with libyaml"
        )
        raise KnowledgeError([issue])

    class StrictLoader(yaml.CSafeLoader):
        yaml_implicit_resolvers: dict[str, list[tuple[str, re.Pattern[str]]]] = {}  # noqa: RUF012

    for tag, pattern, first in (
        ("bool", re.compile("^(?:true|false)$"), "tf"),
        ("int", _WHOLE, "-+0123456789"),
        ("float", _NUMBER, "-+0123456789."),
        ("null", re.compile("^(?:~|null|)$"), ["~", "n", ""]),
    ):
        StrictLoader.add_implicit_resolver(_TAG + tag, pattern, list(first))
    return StrictLoader


def _compose(text: str, path: str) -> Any:
    import yaml

    if deep := _too_deep(text):
        raise KnowledgeError(
            [
                Issue(
                    "yaml-depth",
                    "error",
                    Where(path, deep, 1),
                    "brackets are nested too deeply",
                    f"at most {MAX_DEPTH} levels",
                )
            ]
        )
    try:
        loader = _loader_class()(text)
        try:
            return loader.get_single_node()
        finally:
            loader.dispose()
    except yaml.reader.ReaderError as error:
        line = text.count("\n", 0, error.position) + 1
        issue = Issue("yaml-syntax", "error", Where(path, line), "a control character stands in the text", "plain text")
        raise KnowledgeError([issue]) from error
    except yaml.MarkedYAMLError as error:
        raise KnowledgeError([_syntax_issue(error, path, text)]) from error
    except RecursionError as error:
        raise KnowledgeError([Issue("yaml-depth", "error", Where(path), "the file is nested too deeply")]) from error


def _too_deep(text: str) -> int | None:
    """Line on which flow brackets pass MAX_DEPTH levels; a cheap guard before the C parser recurses."""
    if text.count("[") + text.count("{") <= MAX_DEPTH:
        return None
    depth = 0
    for number, line in enumerate(text.split("\n"), 1):
        bare = re.sub(r"\"(?:\\.|[^\"\\])*\"|'[^']*'|(?:^|\s)#.*", "", line)
        depth = max(0, depth + bare.count("[") + bare.count("{") - bare.count("]") - bare.count("}"))
        if depth > MAX_DEPTH or (len(line) - len(line.lstrip("- "))) > 8 * MAX_DEPTH:
            return number
    return None


def _syntax_issue(error: Any, path: str, text: str) -> Issue:
    """A parser's complaint in plain words, with its place."""
    mark = error.problem_mark or error.context_mark
    problem = str(error.problem or error.context or "the text is not YAML")
    expected, write = "", ""
    lines = text.split("\n")
    line = lines[mark.line] if mark is not None and mark.line < len(lines) else ""
    if "\\t" in problem or "tab" in problem or "\t" in line[: len(line) - len(line.lstrip())]:
        problem, expected, write = "a tab stands where spaces are needed", "spaces", "two spaces for each level"
    elif "mapping values are not allowed" in problem:
        problem, write = "a colon stands inside an unquoted text", 'quotes around the whole text: "…: …"'
    elif "expected a single document" in str(error.context or ""):
        problem, expected = "a second document starts here (---)", "one entry a file"
    elif "nesting depth" in problem:
        problem, expected = "the file is nested too deeply", f"at most {MAX_DEPTH} levels"
    elif "undefined alias" in problem:
        problem, write = "a * starts this text, which YAML takes for an alias", "quotes around the text"
    elif "did not find expected key" in problem or "expected <block end>" in problem:
        problem, expected = (
            "the indentation does not fit the lines above",
            "two spaces for each level, lists indented under their key",
        )
    elif "did not find expected ',' or" in problem:
        problem, expected = (
            "a list or row in brackets is not closed or lacks a comma",
            "[a, b] or {key: value, key: value}",
        )
    where = Where(path, mark.line + 1, mark.column + 1) if mark is not None else Where(path)
    return Issue("yaml-syntax", "error", where, problem, expected, write)


class _Reader:
    """Turns a node tree into values; collects problems instead of stopping at the first."""

    def __init__(self, path: str) -> None:
        self.path = path
        self.issues: list[Issue] = []
        self._seen: set[int] = set()

    def value(self, node: Any, path: KeyPath, depth: int) -> Any:
        """The plain value of a node: str, int, float, bool, None, list or dict with text keys."""
        if depth > MAX_DEPTH:
            self._report("yaml-depth", node, path, "nested too deeply", f"at most {MAX_DEPTH} levels")
            return None
        kind = node.id
        if kind == "scalar":
            return self._scalar(node, path)
        if id(node) in self._seen:
            self._report(
                "yaml-alias", node, path, "an anchor (&) is used again as an alias (*)", "the text written out again"
            )
            return None
        self._seen.add(id(node))
        if node.tag not in (_TAG + "seq", _TAG + "map"):
            self._report("yaml-tag", node, path, f"the tag {node.tag} is not used here", "plain text, lists and rows")
        if kind == "sequence":
            return [self.value(item, (*path, index), depth + 1) for index, item in enumerate(node.value)]
        return self._mapping(node, path, depth)

    def _scalar(self, node: Any, path: KeyPath) -> Any:
        tag = node.tag.removeprefix(_TAG)
        text = node.value
        if tag == "str":
            return text
        if tag == "null":
            return None
        if tag == "bool" and text in ("true", "false"):
            return text == "true"
        if tag == "int" and _WHOLE.match(text) and len(text) < 40:
            return int(text)
        if tag == "float" and _NUMBER.match(text):
            return float(text)
        self._report(
            "yaml-tag",
            node,
            path,
            f"{text!r} carries the tag {tag}, which is not used here",
            "plain text or a decimal number",
        )
        return None

    def _mapping(self, node: Any, path: KeyPath, depth: int) -> dict[str, Any]:
        result: dict[str, Any] = {}
        lines: dict[str, int] = {}
        for key_node, value_node in node.value:
            line = key_node.start_mark.line + 1
            if key_node.id != "scalar":
                self._report("yaml-key", key_node, path, "a key is a list or a row", "one word as key")
                continue
            key = key_node.value
            if key in lines:
                self._report(
                    "yaml-duplicate-key",
                    key_node,
                    (*path, key),
                    f"the key stands twice, in line {lines[key]} and in line {line}",
                    "each key once",
                    "both values under one key, or delete one of the two",
                )
                continue
            lines[key] = line
            result[key] = self.value(value_node, (*path, key), depth + 1)
        return result

    def _report(  # noqa: PLR0917 - the order of a message
        self, check: str, node: Any, path: KeyPath, wrong: str, expected: str = "", write: str = ""
    ) -> None:
        mark = node.start_mark
        where = Where(self.path, mark.line + 1, mark.column + 1, key_text(path) or None)
        self.issues.append(Issue(check, "error", where, wrong, expected, write))


def _find(node: Any, path: KeyPath) -> tuple[int, int]:
    """Line and column, from 1, of the key or row that the path names, or of its nearest parent."""
    mark = node.start_mark
    for part in path:
        if node.id == "mapping":
            found = next(((key, value) for key, value in node.value if key.value == part), None)
            if found is None:
                break
            mark, node = found[0].start_mark, found[1]
        elif node.id == "sequence" and isinstance(part, int) and part < len(node.value):
            node = node.value[part]
            mark = node.start_mark
        else:
            break
    return mark.line + 1, mark.column + 1
