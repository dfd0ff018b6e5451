"""Editing YAML and keeping its comments, order and quotes. ruamel is imported only here, and only to edit."""

from __future__ import annotations

from collections.abc import Mapping
from io import StringIO
from typing import Any

from weedkey.knowledge.lawn_form import flow_text
from weedkey.knowledge.strict_yaml import parse_document


def load_tree(text: str) -> Any:
    """The text as a tree that keeps its comments. Raises KnowledgeError for what the strict reader refuses."""
    parse_document(text, "the entry")  # the strict reader first: ruamel would accept what we refuse
    return _yaml().load(text)


def dump_tree(tree: Any) -> str:
    """The text of a tree."""
    out = StringIO()
    _yaml().dump(tree, out)
    return out.getvalue()


def _yaml() -> Any:
    from ruamel.yaml import YAML

    yaml = YAML()
    yaml.preserve_quotes = True
    yaml.width = 4096
    yaml.indent(mapping=2, sequence=4, offset=2)
    return yaml


def edited_text(text: str, changes: Mapping[str, Any]) -> str:
    """The YAML text with some keys changed; comments, order and quotes of the rest stay.

    A key may be a path such as ``looks.ligule``; None takes the key away.
    """
    tree = load_tree(text)
    for key, value in changes.items():
        *parents, last = key.split(".")
        row = tree
        for parent in parents:
            if not isinstance(row.get(parent), Mapping):
                row[parent] = _yaml().map()
            row = row[parent]
        if value is None:
            row.pop(last, None)
        else:
            row[last] = _styled(value, flow=False)
    return dump_tree(tree)


def is_rows(value: Any) -> bool:
    """True for a list of rows of keys."""
    return isinstance(value, list | tuple) and bool(value) and all(isinstance(row, Mapping) for row in value)


def _styled(value: Any, *, flow: bool) -> Any:
    """Plain values as ruamel writes them in the house style: lists of rows below their key, each row in one line."""
    from ruamel.yaml.comments import CommentedMap, CommentedSeq
    from ruamel.yaml.scalarstring import DoubleQuotedScalarString

    if isinstance(value, Mapping):
        row = CommentedMap((key, _styled(item, flow=not is_rows(item))) for key, item in value.items())
        if flow or not any(is_rows(item) for item in value.values()):
            row.fa.set_flow_style()
        return row
    if isinstance(value, list | tuple):
        rows = CommentedSeq(_styled(item, flow=True) for item in value)
        if flow or not is_rows(value):
            rows.fa.set_flow_style()
        return rows
    if isinstance(value, str) and flow_text(value).startswith('"'):
        return DoubleQuotedScalarString(value)
    return value
