"""Three places say what a file may hold: the model, the accepted words, the schemas. They must agree."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields
from typing import Any

import pytest

from weedkey.knowledge.build import field_types, required_fields
from weedkey.knowledge.checks.schema import read_schema
from weedkey.knowledge.entries import KINDS
from weedkey.knowledge.forms import RENAMED, document_key, document_keys
from weedkey.knowledge.words import ACCEPTED, BOUNDS
from weedkey.model.lawn import Lawn

KINDS_OF_ONE = [kind.name for kind in KINDS.values() if not kind.one_file]


def _rules(name: str) -> dict[str, Any]:
    """Class of the model -> its part of the schema."""
    schema, common = read_schema(name), read_schema("common")
    return {**common["$defs"], **schema["$defs"], name.capitalize(): schema}


@pytest.mark.parametrize("name", [*KINDS_OF_ONE, "lawn"])
def test_a_schema_has_the_keys_of_the_model(name: str) -> None:
    """The same keys, the same required ones, for the entry itself; each with a description."""
    model = Lawn if name == "lawn" else KINDS[name].model
    schema = read_schema(name)
    keys = document_keys(model.__name__, [item.name for item in fields(model)])
    assert set(schema["properties"]) == set(keys)
    required = {document_key(model.__name__, field) for field in required_fields(model)}
    assert set(schema["required"]) == required
    assert all(rule.get("description") for rule in schema["properties"].values())


def _word_lists(name: str) -> Iterator[tuple[tuple[str, str], list[str]]]:
    for kind, rule in _rules(name).items():
        for key, inner in rule.get("properties", {}).items():
            words = inner.get("enum") or inner.get("items", {}).get("enum")
            if words:
                yield (kind, key), words


@pytest.mark.parametrize("name", [*KINDS_OF_ONE, "lawn"])
def test_a_schema_has_the_words_of_the_reader(name: str) -> None:
    """Every closed list of words equals the one that the reader accepts."""
    checked = 0
    for (kind, key), words in _word_lists(name):
        if (kind, key) in ACCEPTED:
            assert sorted(words) == sorted(ACCEPTED[kind, key]), (kind, key)
            checked += 1
    assert checked


def test_accepted_words_and_bounds_belong_to_fields() -> None:
    """A rule for a field that is not there would guard nothing."""
    known = {}
    waiting = [kind.model for kind in KINDS.values()] + [Lawn]
    while waiting:
        model = waiting.pop()
        if model.__name__ not in known:
            known[model.__name__] = set(field_types(model))
            waiting += [part for hint in field_types(model).values() for part in _classes(hint)]
    wrong = [(kind, name) for kind, name in (*ACCEPTED, *BOUNDS) if name not in known.get(kind, ())]
    assert wrong == []


def _classes(hint: Any) -> Iterator[type]:
    if hasattr(hint, "__dataclass_fields__"):
        yield hint
    for part in getattr(hint, "__args__", ()):
        yield from _classes(part)


SCHEMAS = [*KINDS_OF_ONE, *(kind.plural for kind in KINDS.values() if kind.one_file), "lawn"]
#: Rows that a file writes in a form of its own; the reader of that form is tested where it is used.
OWN_FORM = {("Finding", "weed"), ("Place", "monthly"), ("FrostDate", "date"), ("Trait", "asked_if"), ("Seen", "often")}


def _models() -> dict[str, type[Any]]:
    found: dict[str, type[Any]] = {}
    waiting: list[type[Any]] = [kind.model for kind in KINDS.values()] + [Lawn]
    while waiting:
        model = waiting.pop()
        if model.__name__ not in found:
            found[model.__name__] = model
            waiting += [part for hint in field_types(model).values() for part in _classes(hint)]
    return found


@pytest.mark.parametrize("name", SCHEMAS)
def test_every_row_of_a_schema_has_the_keys_words_and_bounds_of_the_model(name: str) -> None:
    """Rows below an entry too: no key more or less, each described, closed, with the same words and bounds."""
    models, schema = _models(), read_schema(name)
    rules = {**schema.get("$defs", {}), **read_schema("common")["$defs"]}
    if name in (*KINDS_OF_ONE, "lawn"):
        rules[name.capitalize()] = schema
    seen = 0
    for kind, rule in rules.items():
        if kind not in models:
            continue
        seen += 1
        assert rule["additionalProperties"] is False, kind
        keys = document_keys(kind, tuple(field_types(models[kind])))
        assert set(rule["properties"]) == set(keys), kind
        for key, inner in rule["properties"].items():
            assert inner.get("description"), (kind, key)
            field = RENAMED.get(kind, {}).get(key, key)
            value = inner.get("items", inner)
            if (kind, field) in ACCEPTED:
                assert value.get("enum") == list(ACCEPTED[kind, field]), (kind, key)
            if (kind, field) in BOUNDS and (kind, key) not in OWN_FORM:
                assert (value.get("minimum"), value.get("maximum")) == BOUNDS[kind, field], (kind, key)
    assert seen


def test_each_schema_is_a_schema_and_its_examples_fit() -> None:
    """The examples go into templates: one that does not fit would teach a mistake."""
    from jsonschema import Draft202012Validator
    from referencing import Registry, Resource

    registry: Any = Registry().with_resource("common.schema.json", Resource.from_contents(read_schema("common")))
    for name in SCHEMAS:
        schema = read_schema(name)
        Draft202012Validator.check_schema(schema)
        for key, rule in schema["properties"].items():
            for example in rule.get("examples", ()):
                part = {**schema, "required": []}
                errors = list(Draft202012Validator(part, registry=registry).iter_errors({key: example}))
                assert errors == [], (name, key)
