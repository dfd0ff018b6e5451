"""All own entries as one plain YAML file, and back: comments are kept, machine paths are not.

The file mirrors the folder: ``format: 1``, then for each kind its entries, each with the text of its own file. Reading
it is strict: ids that are no ids, aliases, keys that stand twice, another version and files that are too large are
refused, each with its line.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from weedkey.errors import Issue, KnowledgeError, Where
from weedkey.knowledge.comments import dump_tree, load_tree
from weedkey.knowledge.entries import KINDS, Kind, entry_files, shown_path
from weedkey.knowledge.entry_diff import entry_text
from weedkey.knowledge.own_entries import OwnEntry, own_file
from weedkey.knowledge.strict_yaml import Document, parse_document, read_document

FORMAT = 1
#: Larger than any collection of own entries; a larger file is refused before it is read.
LARGEST_BYTES = 4_000_000
CHECK_ID = "exchange"
_ID = re.compile(r"^[a-z0-9]+(?:_[a-z0-9]+)*$")
_LONGEST_ID = 80
_HEAD = "# Own entries of weedkey. To read them into another folder: weedkey entries import FILE\n"


@dataclass(frozen=True, slots=True)
class Package:
    """Texts by path below a folder of entries (``weeds/x.yaml``); one-file kinds hold only the rows that came along."""

    texts: dict[str, str]
    shown: str

    @property
    def names(self) -> tuple[tuple[str, str], ...]:
        """Kind and id of every entry."""
        found: list[tuple[str, str]] = []
        for name, text in self.texts.items():
            kind = kind_of(name)
            value = parse_document(text, name).value
            found += [(kind.name, row["id"]) for row in (value[kind.plural] if kind.one_file else [value])]
        return tuple(found)


def kind_of(name: str) -> Kind:
    """The kind of a path below a folder of entries."""
    first = name.partition("/")[0].removesuffix(".yaml")
    return next(kind for kind in KINDS.values() if kind.plural == first)


def export_text(folder: Path, entries: Iterable[OwnEntry]) -> str:
    """One file with the given entries of the folder, and with the own sources, looks and conditions that they use.

    Raises KnowledgeError for a file that cannot be read: it would be lost on the way.
    """
    chosen = list(entries)
    ids = {(entry.kind, entry.id) for entry in chosen}
    used = {word for entry in chosen for word in _words(entry.value)}
    lines = [_HEAD + f"format: {FORMAT}"]
    files = {entry.file for entry in chosen}
    for kind, file in entry_files(folder):
        if file not in files and not (kind.one_file and _is_readable(file)):
            continue
        document = read_document(file, shown_path(file))
        text = file.read_bytes().decode("utf-8-sig")
        if kind.one_file:
            wanted = {name for other, name in ids if other == kind.name} | used
            if rows := _some_rows(text, kind, wanted):
                lines.append(_below_key(_body(rows), kind.plural))
        elif (kind.name, file.stem) in ids:
            if f"{kind.plural}:" not in lines:
                lines.append(f"{kind.plural}:")
            lines += [f"  {file.stem}:", _indented(_faithful(_body(text), document), "    ")]
    return "\n".join(lines) + "\n"


def _is_readable(file: Path) -> bool:
    try:
        read_document(file)
    except KnowledgeError:
        return False
    return True


def _words(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, Mapping):
        for key, item in value.items():
            yield str(key)
            yield from _words(item)
    elif isinstance(value, list):
        for item in value:
            yield from _words(item)


def _some_rows(text: str, kind: Kind, wanted: set[str]) -> str:
    """The file of a one-file kind with the wanted rows only; empty if there are none."""
    tree = load_tree(text)
    rows = tree[kind.plural]
    unwanted = [place for place, row in enumerate(rows) if row.get("id") not in wanted]
    if len(unwanted) == len(rows):
        return ""
    for place in reversed(unwanted):
        del rows[place]
    return dump_tree(tree) if unwanted else text


def _body(text: str) -> str:
    """The text without the line that names the schema (it holds a path of this computer) and without --- and ..."""
    lines = [line.rstrip() for line in text.replace("\r\n", "\n").replace("\r", "\n").split("\n")]
    kept = [line for line in lines if "yaml-language-server" not in line and line not in ("---", "...")]
    return "\n".join(kept).strip("\n")


def _below_key(body: str, plural: str) -> str:
    """The rows with every remark at the margin moved below their key, so that it belongs to no other kind."""
    lines = [f"  {line}" if line.startswith("#") else line for line in body.split("\n")]
    place = next((number for number, line in enumerate(lines) if line.startswith(f"{plural}:")), 0)
    moved = "\n".join([lines[place], *lines[:place], *lines[place + 1 :]])
    value = parse_document(body, plural).value
    return moved if _reads_as(moved, value) else entry_text(value).rstrip("\n")


def _faithful(body: str, document: Document) -> str:
    """The text if it still says the same below a key; else the values in the house style."""
    whole = "entry:\n" + _indented(body, "    ")
    return body if _reads_as(whole, {"entry": document.value}) else entry_text(document.value).rstrip("\n")


def _reads_as(text: str, value: Any) -> bool:
    try:
        return bool(parse_document(text, "entry").value == value)
    except KnowledgeError:
        return False


def _indented(text: str, lead: str) -> str:
    return "\n".join(lead + line if line else "" for line in text.split("\n"))


def read_package(path: Path) -> Package:
    """Read a file of entries. Raises KnowledgeError that names every problem with its line; writes nothing."""
    shown = shown_path(path)
    try:
        size = path.stat().st_size
    except OSError as error:
        raise _refusal(Where(shown), f"cannot read the file: {error.strerror}") from error
    if size > LARGEST_BYTES:
        wrong = f"the file has {size} bytes"
        raise _refusal(Where(shown), wrong, f"at most {LARGEST_BYTES} bytes", "fewer entries in one file")
    document = read_document(path, shown)
    text = path.read_bytes().decode("utf-8-sig").replace("\r\n", "\n").replace("\r", "\n")
    issues = list(_find_issues(document))
    if issues:
        raise KnowledgeError(issues)
    return Package(dict(_texts(document, text)), shown)


def _refusal(where: Where, wrong: str, expected: str = "", write: str = "") -> KnowledgeError:
    return KnowledgeError([Issue(CHECK_ID, "error", where, wrong, expected, write)])


def _find_issues(document: Document) -> Iterator[Issue]:
    value = document.value
    plurals = {kind.plural: kind for kind in KINDS.values()}

    def issue(key: tuple[str | int, ...], wrong: str, expected: str, write: str = "") -> Issue:
        return Issue(CHECK_ID, "error", document.where(key), wrong, expected, write)

    if not isinstance(value, dict) or "format" not in value:
        yield issue(
            ("format",), "this is no file of own entries", "a file that weedkey entries export wrote", "format: 1"
        )
        return
    if value["format"] != FORMAT or isinstance(value["format"], bool):
        wrong = f"the file has the format {value['format']!r}"
        yield issue(("format",), wrong, f"format {FORMAT}; another one needs another version of the program")
        return
    if set(value) == {"format"}:
        yield issue(("format",), "the file holds no entry", "one of " + ", ".join(plurals))
    for key, rows in value.items():
        if key == "format":
            continue
        if key not in plurals:
            yield issue((key,), f"{key!r} is not a kind of entry", "one of " + ", ".join(plurals))
        elif plurals[key].one_file:
            yield from _row_issues(document, key, rows)
        else:
            yield from _entry_issues(document, key, rows)


def _row_issues(document: Document, plural: str, rows: Any) -> Iterator[Issue]:
    if not isinstance(rows, list) or not rows:
        yield Issue(CHECK_ID, "error", document.where((plural,)), "no list of rows stands here", "rows with an id")
        return
    for place, row in enumerate(rows):
        if not isinstance(row, dict) or not _is_id(row.get("id")):
            where = document.where((plural, place, "id"))
            yield Issue(CHECK_ID, "error", where, "the row has no usable id", _ID_WORDS)


_ID_WORDS = f"small letters, figures and single underscores, at most {_LONGEST_ID}"


def _is_id(name: Any) -> bool:
    return isinstance(name, str) and bool(_ID.match(name)) and len(name) <= _LONGEST_ID and name == name.strip()


def _entry_issues(document: Document, plural: str, rows: Any) -> Iterator[Issue]:
    if not isinstance(rows, dict) or not rows:
        where = document.where((plural,))
        yield Issue(CHECK_ID, "error", where, "no entries stand here", "ids, and below each its entry")
        return
    for name, entry in rows.items():
        where = document.where((plural, name))
        if not _is_id(name):
            yield Issue(CHECK_ID, "error", where, f"{name[:60]!r} is not an id", _ID_WORDS)
        elif not isinstance(entry, dict):
            yield Issue(CHECK_ID, "error", where, "no entry stands below this id", "the keys of the entry")
        elif entry.get("id") != name:
            found = document.where((plural, name, "id"))
            yield Issue(
                CHECK_ID, "error", found, f"the id is {entry.get('id')!r}", "the same id as above", f"id: {name}"
            )


def _texts(document: Document, text: str) -> Iterator[tuple[str, str]]:
    """Path and text of each file; the text of an entry as it stands, so that its comments come along."""
    lines = text.split("\n")
    keys = [(key.value, key.start_mark.line, value) for key, value in document.node.value]
    ends = [line for _, line, _ in keys[1:]] + [len(lines)]
    for (plural, start, node), end in zip(keys, ends, strict=True):
        if plural == "format":
            continue
        kind = next(kind for kind in KINDS.values() if kind.plural == plural)
        value = document.value[plural]
        if kind.one_file:
            body = "\n".join(lines[start:end]).rstrip() + "\n"
            yield own_file(kind.name, ""), _same_or_plain(body, {plural: value})
            continue
        inner = [(key.value, key.start_mark.line) for key, _ in node.value]
        stops = [line for _, line in inner[1:]] + [end]
        for (name, first), stop in zip(inner, stops, strict=True):
            body = "\n".join(_dedented(lines[first + 1 : stop])).strip("\n") + "\n"
            yield own_file(kind.name, name), _same_or_plain(body, value[name])


def _dedented(lines: list[str]) -> list[str]:
    leads = [len(line) - len(line.lstrip(" ")) for line in lines if line.strip() and not line.lstrip().startswith("#")]
    lead = min(leads, default=0)
    return [line[lead:] if not line[:lead].strip() else line.lstrip() for line in lines]


def _same_or_plain(body: str, value: Any) -> str:
    """The text if it reads as the value; else (rows in brackets over several keys) the value in the house style."""
    return body if _reads_as(body, value) else entry_text(value)
