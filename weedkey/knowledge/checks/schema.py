"""The JSON Schemas: one validator a kind, and each complaint in our own words. jsonschema is imported only here."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any

from weedkey.errors import Issue
from weedkey.knowledge import locate
from weedkey.knowledge.build import describe, nearest_or_none
from weedkey.knowledge.entries import RawEntry
from weedkey.knowledge.strict_yaml import Document

SCHEMA_ID = "schema"
_SUBFOLDER = "schema"


def schema_folder() -> Path:
    """Where the schemas lie: beside the shipped entries."""
    return locate.shipped_folder() / _SUBFOLDER


@cache
def read_schema(name: str) -> dict[str, Any]:
    """One schema by its file name without ``.schema.json``: weed, traits, lawn, common …"""
    loaded: dict[str, Any] = json.loads((schema_folder() / f"{name}.schema.json").read_text(encoding="utf-8"))
    return loaded


@cache
def _validator(name: str) -> Any:
    from jsonschema import Draft202012Validator
    from referencing import Registry, Resource

    others = ("common", name.removeprefix("change_"))
    files = [(f"{other}.schema.json", Resource.from_contents(read_schema(other))) for other in others]
    registry: Any = Registry().with_resources(files)
    return Draft202012Validator(read_schema(name), registry=registry)


@cache
def _absolute(name: str) -> dict[str, Any]:
    """A schema whose references name their file, so that a part of it can be followed by itself."""

    def walk(part: Any) -> Any:
        if isinstance(part, dict):
            return {key: _with_file(item, name) if key == "$ref" else walk(item) for key, item in part.items()}
        return [walk(item) for item in part] if isinstance(part, list) else part

    made: dict[str, Any] = walk(read_schema(name))
    return made


def _with_file(reference: str, name: str) -> str:
    return f"{name}.schema.json{reference}" if reference.startswith("#") else reference


def entry_rule(name: str) -> Mapping[str, Any]:
    """The rule of a whole file; parts of it may be given to ``resolve_rule``."""
    return _absolute(name)


def resolve_rule(rule: Mapping[str, Any]) -> Mapping[str, Any]:
    """The rule that a reference stands for, with what is said beside the reference; any other rule as it is."""
    if "$ref" not in rule:
        return rule
    file, _, path = str(rule["$ref"]).partition(".schema.json#/")
    found: Any = _absolute(file)
    for part in path.split("/") if path else ():
        found = found[part]
    return {**resolve_rule(found), **{key: value for key, value in rule.items() if key != "$ref"}}


def schema_name(raw: RawEntry) -> str:
    """The schema that describes the file of an entry."""
    return raw.kind.plural if raw.kind.one_file else raw.kind.name


def find_schema_issues(document: Document, name: str) -> Iterator[Issue]:
    """Every place at which a file does not fit its schema, in the order of the file."""
    errors = sorted(
        _validator(name).iter_errors(document.value), key=lambda error: [str(part) for part in error.absolute_path]
    )
    for error in errors:
        yield from _issues_of(document, error)


def _issues_of(document: Document, error: Any) -> Iterator[Issue]:
    path = tuple(error.absolute_path)
    if error.validator in ("anyOf", "oneOf") and error.context:
        from jsonschema.exceptions import best_match

        error = best_match([error])
        path = tuple(error.absolute_path)
    if error.validator == "additionalProperties":
        known = tuple(error.schema.get("properties", ()))
        for key in sorted(set(error.instance) - set(known)):
            write = nearest_or_none(key, known) or ""
            expected = "" if write else "one of " + ", ".join(known)
            yield Issue(SCHEMA_ID, "error", document.where((*path, key)), f"{key!r} is not a key here", expected, write)
        return
    if error.validator == "required":
        for key in error.validator_value:
            if key not in error.instance:
                yield Issue(
                    SCHEMA_ID, "error", document.where((*path, key)), f"the key {key!r} is missing", "", f"{key}: …"
                )
        return
    wrong, expected, write = _words(error)
    yield Issue(SCHEMA_ID, "error", document.where(path), wrong, expected, write)


_TYPE_WORDS = {
    "string": "text",
    "integer": "a whole number",
    "number": "a number",
    "boolean": "true or false",
    "array": "a list",
    "object": "a row of keys",
}


_PATTERN_WORDS = {
    "^[a-z0-9]+(_[a-z0-9]+)*$": "an id in lower_snake: small letters, figures, single underscores",
    "^\\d{1,2}-\\d{1,2}$": 'month and day as "MM-DD"',
    "^\\d{4}-\\d{2}-\\d{2}$": 'a date as "YYYY-MM-DD"',
}


def _words(error: Any) -> tuple[str, str, str]:
    """What is wrong, what was expected, what to write, for one complaint of the validator."""
    value, limit = error.instance, error.validator_value
    shown = describe(value)
    texts: dict[str, tuple[str, str, str]] = {
        "enum": (
            f"{shown} is not a word of this list",
            "one of " + ", ".join(map(str, limit)) if isinstance(limit, list) else "",
            "",
        ),
        "type": (f"{shown} stands here", _TYPE_WORDS.get(str(limit), str(limit)), ""),
        "pattern": (f"{shown} is not written as this key asks", _PATTERN_WORDS.get(str(limit), "another form"), ""),
        "minimum": (f"{shown} is too low", f"at least {limit}", ""),
        "maximum": (f"{shown} is too high", f"at most {limit}", ""),
        "minItems": (
            "the list is too short",
            f"at least {limit}",
            "" if limit != 1 else "a value, or leave the key out",
        ),
        "maxItems": ("the list is too long", f"at most {limit}", ""),
        "minLength": ("the text is empty", "", "some text, or leave the key out"),
        "minProperties": ("nothing stands below this key", "", "a value, or leave the key out"),
        "uniqueItems": ("the list names something twice", "each once", ""),
        "not": ("two keys that exclude each other stand here", str(error.schema.get("description", "one of them")), ""),
    }
    if error.validator == "enum" and isinstance(value, str):
        wrong, expected, _ = texts["enum"]
        return wrong, expected, nearest_or_none(value, [str(word) for word in limit]) or ""
    return texts.get(error.validator, (f"{shown} does not fit", "", ""))
