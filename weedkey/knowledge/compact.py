"""Entries of the model <-> one line of JSON each, without any search for types when reading.

Writing works out once which fields hold rows, lists or windows (the *plan*, which the bundle carries along);
reading follows the plan and builds each entry only when somebody asks for it.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping
from dataclasses import fields, is_dataclass
from datetime import date
from importlib import import_module
from typing import Any, TypeVar

from weedkey.errors import Issue, KnowledgeError, Where
from weedkey.model.window import Window

T = TypeVar("T")
#: class -> its module in the model, and {field: how to read it}; fields that JSON gives back as they are do not appear.
Plan = dict[str, tuple[str, dict[str, str]]]


def encode(entry: Any) -> Any:
    """A dataclass as plain values; fields that hold their default are left out."""
    if isinstance(entry, Window):
        return [entry.start_month, entry.start_day, entry.end_month, entry.end_day]
    if is_dataclass(entry) and not isinstance(entry, type):
        return {
            f.name: encode(getattr(entry, f.name)) for f in fields(entry) if not _is_default(f, getattr(entry, f.name))
        }
    if isinstance(entry, Mapping):
        return {key: encode(value) for key, value in entry.items()}
    if isinstance(entry, tuple):
        return [encode(value) for value in entry]
    return entry.isoformat() if isinstance(entry, date) else entry


def _is_default(item: Any, value: Any) -> bool:
    return bool(value == item.default and type(value) is type(item.default))


def make_plan(kinds: tuple[type[Any], ...]) -> Plan:
    """How to read every class that the given ones reach."""
    from weedkey.knowledge.build import field_types

    plan: Plan = {}
    waiting = list(kinds)
    while waiting:
        kind = waiting.pop()
        if kind.__name__ in plan:
            continue
        ways: dict[str, str] = {}
        plan[kind.__name__] = (kind.__module__.rpartition(".")[2], ways)
        for name, hint in field_types(kind).items():
            way, inner = _way(hint)
            if way:
                ways[name] = way
            if inner is not None:
                waiting.append(inner)
    return plan


def _way(hint: Any) -> tuple[str, type[Any] | None]:
    """The way to read one type: ``[]`` lists of plain values, ``X`` a row, ``[X]`` rows, ``{[X]}`` rows by key."""
    import types
    from typing import Union, get_args, get_origin

    origin, args = get_origin(hint), get_args(hint)
    if origin in (Union, types.UnionType):
        return _way(next(arg for arg in args if arg is not type(None)))
    if hint is date:
        return "date", None
    if is_dataclass(hint) and isinstance(hint, type):
        return hint.__name__, None if hint is Window else hint
    if origin is tuple:
        way, inner = _way(args[0])
        return (f"[{way}]" if inner is not None or way == "Window" else "[]"), inner
    if isinstance(origin, type) and issubclass(origin, Mapping):
        way, inner = _way(args[1])
        return f"{{{way}}}", inner
    return "", None


class Decoder:
    """Builds entries from plain values by a plan."""

    def __init__(self, plan: Plan) -> None:
        self._plan = plan
        self._ways: dict[str, Callable[[Any], Any]] = {
            "[]": _tuples,
            "Window": lambda row: Window(*row),
            "date": date.fromisoformat,
        }

    def read(self, name: str, row: dict[str, Any]) -> Any:
        """One entry of a class from its plain values."""
        return self.way(name)(row)

    def way(self, text: str) -> Callable[[Any], Any]:
        """The function that reads values of one way."""
        found = self._ways.get(text)
        if found is None:
            if text.startswith("["):
                item = self.way(text[1:-1])
                found = lambda rows: tuple([item(row) for row in rows])  # noqa: E731
            elif text.startswith("{"):
                item = self.way(text[1:-1])
                found = lambda rows: {key: item(row) for key, row in rows.items()}  # noqa: E731
            else:
                found = self._row_reader(text)
            self._ways[text] = found
        return found

    def _row_reader(self, name: str) -> Callable[[Any], Any]:
        module, ways = self._plan[name]
        kind = model_class(module, name)
        special = tuple((key, self.way(way)) for key, way in ways.items())

        def read(row: dict[str, Any]) -> Any:
            for key, way in special:
                if key in row:
                    row[key] = way(row[key])
            return kind(**row)

        return read


def _tuples(values: Any) -> Any:
    """Lists become tuples at every depth; the model knows no lists."""
    return tuple([_tuples(value) if type(value) is list else value for value in values])


def model_class(module: str, name: str) -> type[Any]:
    """A class of the model; its module is imported now, if it was not needed before. Raises LookupError."""
    found = getattr(import_module(f"weedkey.model.{module}"), name, None)
    if not isinstance(found, type):
        raise LookupError(name)  # noqa: TRY004 - the bundle is damaged; the caller says so
    return found


class LazyEntries(Mapping[str, T]):
    """Entries by id, each built from its line of JSON when it is first asked for."""

    def __init__(
        self, lines: dict[str, str], read: Callable[[Any], T], names: Callable[[], Mapping[str, list[list[Any]]]]
    ) -> None:
        self._lines = lines
        self._read = read
        self._made: dict[str, T] = {}
        self._names = names

    def __getitem__(self, key: str) -> T:
        found = self._made.get(key)
        if found is None:
            line = self._lines[key]
            try:
                found = self._made[key] = self._read(json.loads(line))
            except (ValueError, TypeError, LookupError) as error:
                issue = Issue(
                    "bundle-damaged",
                    "error",
                    Where("_bundle.json", key=key),
                    "the compiled entry cannot be read",
                    "",
                    "the installation again",
                )
                raise KnowledgeError([issue]) from error
        return found

    def __iter__(self) -> Iterator[str]:
        return iter(self._lines)

    def __len__(self) -> int:
        return len(self._lines)

    def __contains__(self, key: object) -> bool:
        return key in self._lines

    def __repr__(self) -> str:
        return f"LazyEntries({len(self)} entries)"

    def names(self) -> Mapping[str, list[list[Any]]]:
        """All names of every entry, known without building any (see ``weedkey.knowledge.names``)."""
        return self._names()
