"""Reading without surprises: what YAML would turn into something else stays as it was typed."""

from __future__ import annotations

import pytest

from weedkey.errors import KnowledgeError
from weedkey.knowledge.strict_yaml import parse_document


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        ("NO", "NO"),
        ("yes", "yes"),
        ("off", "off"),
        ("True", "True"),
        ("true", True),
        ("2026-06-03", "2026-06-03"),
        ("012", "012"),
        ("1:30", "1:30"),
        ("0x1F", "0x1F"),
        ("1_000", "1_000"),
        ("1.50", 1.5),
        ("-3", -3),
        ("~", None),
        (".inf", ".inf"),
    ],
)
def test_a_word_stays_what_it_was_typed_as(typed: str, read: object) -> None:
    """Only true, false, decimal numbers and ~ are more than text (the traps of YAML 1.1)."""
    found = parse_document(f"key: {typed}\n", "a.yaml").value["key"]
    assert found == read
    assert type(found) is type(read)


@pytest.mark.parametrize(
    ("text", "check", "line"),
    [
        ("a: 1\nb: 2\na: 3\n", "yaml-duplicate-key", 3),
        ("a: {b: 1, b: 2}\n", "yaml-duplicate-key", 1),
        ("a: &x 1\nb: [*x]\nc: &y [1]\nd: *y\n", "yaml-alias", 3),
        ("a: !!python/none 1\n", "yaml-tag", 1),
        ("a: 1\n---\nb: 2\n", "yaml-syntax", 2),
        ("a: [1, 2\n", "yaml-syntax", 2),
        ("a:\n\t- 1\n", "yaml-syntax", 2),
        ("? [a]\n: 1\n", "yaml-key", 1),
        ("", "yaml-empty", 1),
        ("a: " + "[" * 60 + "]" * 60 + "\n", "yaml-depth", 1),
    ],
)
def test_a_trap_is_refused_with_its_line(text: str, check: str, line: int) -> None:
    """Duplicate keys, aliases, tags, second documents, open brackets, tabs and deep nests are named."""
    with pytest.raises(KnowledgeError) as caught:
        parse_document(text, "a.yaml")
    assert (check, line) in [(issue.check, issue.where.line) for issue in caught.value.issues]


def test_a_value_knows_its_place() -> None:
    """Line and column from 1, of the key or the row; of the nearest parent where the key is missing."""
    document = parse_document("a: 1\nrows:\n  - {x: 1, y: 2}\n", "a.yaml")
    assert str(document.where(("rows", 0, "y"))) == "a.yaml:3:12 rows[0].y"
    assert document.where(("rows", 0, "z")).line == 3
