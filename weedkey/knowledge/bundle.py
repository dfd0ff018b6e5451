"""The compiled bundle: all entries as one JSON file, one entry a line, so that a command starts without any YAML.

The file is valid JSON as a whole. Its first line holds the format, the digest of the YAML files, and size and time of
every file that it was made from. In a checkout those are compared at each start (times first, then contents); in an
installed package nobody edits the files and the bundle is trusted. A stale or damaged bundle is never used.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterator, Mapping
from functools import cache, partial
from pathlib import Path
from typing import Any

import weedkey
from weedkey.knowledge import locate
from weedkey.knowledge.compact import Decoder, LazyEntries
from weedkey.model.base import Knowledge

#: Raise when the shape of the bundle changes.
FORMAT = 2
_ONE_FILE = ("sources", "traits", "conditions")
_FOLDERS = ("turfs", "controls", "places", "weeds")
_CLASSES = {
    "weeds": "Weed",
    "traits": "Trait",
    "turfs": "Turf",
    "controls": "Control",
    "conditions": "Condition",
    "places": "Place",
    "sources": "Source",
}
#: Code that decides what a bundle holds, relative to the package.
_CODE = (
    "model",
    "knowledge/strict_yaml.py",
    "knowledge/entries.py",
    "knowledge/loading.py",
    "knowledge/build.py",
    "knowledge/forms.py",
    "knowledge/words.py",
    "knowledge/names.py",
    "knowledge/compact.py",
    "knowledge/bundle.py",
)
_HEAD = '{"head": '

Stamp = dict[str, list[int]]


def read_fresh_or_none(root: Path, file: Path = locate.BUNDLE) -> Knowledge | None:
    """The knowledge from the bundle, or None if there is none, or it is stale, damaged or of another version."""
    try:
        text = file.read_text(encoding="utf-8")
        first = text[len(_HEAD) : text.index("\n") - 1]
        head: dict[str, Any] = json.loads(first)
        if (
            not text.startswith(_HEAD)
            or head["format"] != FORMAT
            or head["version"] != weedkey.__version__
            or not text.endswith("}}\n")
        ):
            return None
        if not locate.is_installed(root) and not _is_fresh(head, root, text, file):
            return None
        return _knowledge(text, head)
    except (OSError, ValueError, KeyError, TypeError):
        return None


def _is_fresh(head: Mapping[str, Any], root: Path, text: str, file: Path) -> bool:
    stamp = stamp_files(root)
    if head["stamp"] == stamp:
        return True
    if head["stamp"].keys() != stamp.keys() or head["contents"] != digest_contents(root, with_code=True):
        return False
    _write(file, _HEAD + json.dumps({**head, "stamp": stamp}) + text[text.index("\n") - 1 :])
    return True


def _knowledge(text: str, head: Mapping[str, Any]) -> Knowledge:
    decoder = Decoder(head["plan"])
    sections: dict[str, dict[str, str]] = {}
    current: dict[str, str] = {}
    for line in text.split("\n")[1:-1]:
        if line.endswith("{"):
            current = sections[line[1 : line.index('"', 1)]] = {}
        elif line[0] == '"':
            end = line.index('"', 1)
            current[line[1:end]] = line[end + 3 : -1] if line.endswith(",") else line[end + 3 :]
    names = sections["names"]

    @cache
    def names_of(plural: str) -> Mapping[str, list[list[Any]]]:
        rows: Mapping[str, list[list[Any]]] = json.loads(names[plural])
        return rows

    entries: dict[str, Any] = {
        plural: LazyEntries(sections[plural], partial(decoder.read, kind), partial(names_of, plural))
        for plural, kind in _CLASSES.items()
    }
    return Knowledge(**entries, digest=head["digest"])


def compile_text(knowledge: Knowledge, root: Path, stamp: Stamp) -> str:
    """The text of the bundle for a knowledge that was read from ``root``."""
    from weedkey.knowledge.compact import encode, make_plan
    from weedkey.knowledge.entries import KINDS
    from weedkey.knowledge.names import all_names

    head = {
        "format": FORMAT,
        "version": weedkey.__version__,
        "digest": knowledge.digest,
        "contents": digest_contents(root, with_code=True),
        "plan": make_plan(tuple(kind.model for kind in KINDS.values())),
        "stamp": stamp,
    }
    parts = [_HEAD + json.dumps(head)]
    sections: dict[str, Mapping[str, Any]] = {plural: getattr(knowledge, plural) for plural in _CLASSES}
    rows = {plural: {name: encode(entry) for name, entry in entries.items()} for plural, entries in sections.items()}
    rows["names"] = {
        plural: {name: all_names(entry) for name, entry in entries.items()} for plural, entries in sections.items()
    }
    for plural, entries in rows.items():
        # ASCII throughout: a text without other letters is read and split in half the time
        lines = ",\n".join(f'"{name}": {json.dumps(row)}' for name, row in entries.items())
        parts.append(f'"{plural}": {{\n{lines}\n}}' if lines else f'"{plural}": {{\n}}')
    return ",\n".join(parts) + "}\n"


def write_if_possible(knowledge: Knowledge, root: Path, stamp: Stamp, file: Path = locate.BUNDLE) -> bool:
    """Write the bundle beside the package if that folder can be written; True if it was written."""
    if not os.access(file.parent, os.W_OK):
        return False
    return _write(file, compile_text(knowledge, root, stamp))


def _write(file: Path, text: str) -> bool:
    from weedkey.storage import write_atomic

    try:
        write_atomic(file, text)
    except OSError:
        return False
    return True


def stamp_files(root: Path) -> Stamp:
    """Size and time of every file that a bundle of this folder is made from."""
    stamp: Stamp = {}
    for name, path in _files(root, with_code=True):
        found = os.stat(path)  # noqa: PTH116 - hundreds of files at each start
        stamp[name] = [found.st_size, found.st_mtime_ns]
    return stamp


def digest_contents(root: Path, *, with_code: bool = False) -> str:
    """SHA-256 over names and contents of the YAML files, and of the code that reads them if asked for."""
    import hashlib

    digest = hashlib.sha256()
    for name, path in _files(root, with_code=with_code):
        content = Path(path).read_bytes()
        digest.update(f"{name}\0{len(content)}\0".encode())
        digest.update(content)
    return digest.hexdigest()


def _files(root: Path, *, with_code: bool) -> Iterator[tuple[str, str]]:
    """(short name, path) in a fixed order; plain strings, for speed."""
    base = str(root)
    for plural in _ONE_FILE:
        path = f"{base}/{plural}.yaml"
        if os.path.isfile(path):  # noqa: PTH113
            yield f"{plural}.yaml", path
    for folder in _FOLDERS:
        for name in _names(f"{base}/{folder}", ".yaml"):
            yield f"{folder}/{name}", f"{base}/{folder}/{name}"
    if with_code:
        for part in _CODE:
            path = f"{locate.PACKAGE}/{part}"
            if part.endswith(".py"):
                yield part, path
            else:
                yield from ((f"{part}/{name}", f"{path}/{name}") for name in _names(path, ".py"))


def _names(folder: str, ending: str) -> list[str]:
    try:
        return sorted(name for name in os.listdir(folder) if name.endswith(ending) and not name.startswith("."))  # noqa: PTH208
    except OSError:
        return []
