"""The schema of a local file that changes a shipped entry, made from the schema of the entry itself.

``python -m weedkey.knowledge.checks.change_schema`` writes the files; a test finds one that is stale.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from weedkey.knowledge.checks.schema import read_schema, resolve_rule, schema_folder
from weedkey.knowledge.entries import KINDS
from weedkey.knowledge.row_changes import ADD_TO, CHANGE, REMOVE_FROM

CHANGEABLE = tuple(kind.name for kind in KINDS.values() if not kind.one_file)
_ABOUT = {
    CHANGE: "Rows of a list that say something else here: row names one row by keys of it, to says what differs.",
    ADD_TO: "Rows that a list has as well.",
    REMOVE_FROM: "Rows that a list does not have here, each named by keys of it.",
}


def change_schema(kind: str) -> dict[str, Any]:
    """The schema of ``knowledge/schema/change_KIND.schema.json``."""
    base = read_schema(kind)
    properties = {
        key: {"$ref": f"{kind}.schema.json#/properties/{key}", "description": rule["description"]}
        for key, rule in base["properties"].items()
    }
    words = {word: _word_rule(kind, word, base) for word in (CHANGE, ADD_TO, REMOVE_FROM)}
    return {
        "$schema": base["$schema"],
        "$id": f"change_{kind}.schema.json",
        "title": f"A change of a shipped {kind}",
        "description": f"The id of a shipped {kind}, and only what differs from it.",
        "type": "object",
        "additionalProperties": False,
        "required": ["id"],
        "properties": {**properties, **words},
    }


def _word_rule(kind: str, word: str, base: Mapping[str, Any]) -> dict[str, Any]:
    lists: dict[str, Any] = {}
    for key, rule in base["properties"].items():
        path = f"{kind}.schema.json#/properties/{key}"
        if rule.get("type") == "array" and "maxItems" not in rule:
            lists[key] = _list_rule(word, rule, path)
        elif isinstance(rule.get("additionalProperties"), dict):
            inner = _list_rule(word, rule["additionalProperties"], f"{path}/additionalProperties")
            lists[key] = {"description": rule["description"], "type": "object", "additionalProperties": inner}
        if key in lists:
            lists[key]["description"] = rule["description"]
    return {
        "description": _ABOUT[word],
        "type": "object",
        "additionalProperties": False,
        "minProperties": 1,
        "properties": lists,
    }


def _list_rule(word: str, rule: Mapping[str, Any], path: str) -> dict[str, Any]:
    if word == ADD_TO:
        return {"$ref": path}
    item = rule["items"]
    reference = item.get("$ref")
    if reference is None:  # a list of texts
        return {"type": "array", "minItems": 1, "items": {"$ref": f"{path}/items"}}
    reference = reference if not reference.startswith("#") else path.partition("#")[0] + reference
    row: dict[str, Any] = {
        "description": "Keys that only the row that is meant has.",
        "type": "object",
        "additionalProperties": False,
        "minProperties": 1,
        "properties": {
            key: {"$ref": f"{reference}/properties/{key}"} for key in resolve_rule({"$ref": reference})["properties"]
        },
    }
    if word == REMOVE_FROM:
        return {"type": "array", "minItems": 1, "items": row}
    needs = ["sources"] if "sources" in row["properties"] else []
    to = {**row, "description": "What the row says here, with sources of its own.", "required": needs}
    change = {
        "type": "object",
        "additionalProperties": False,
        "required": ["row", "to"],
        "properties": {"row": row, "to": to},
    }
    return {"type": "array", "minItems": 1, "items": change}


def write_schemas() -> None:
    """Write the files beside the schemas that they are made from."""
    for kind in CHANGEABLE:
        text = json.dumps(change_schema(kind), indent=2, ensure_ascii=False) + "\n"
        (schema_folder() / f"change_{kind}.schema.json").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    write_schemas()
