"""Every exception of the program. Facts are attributes; the sentence is built at the edge, in ``__str__``.

Message order: where, what is wrong, what was expected, what to write.
This module imports nothing of ours.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Where:
    """A place in a file: path as the user gave it, line and column from 1, key path inside the file."""

    path: str
    line: int | None = None
    column: int | None = None
    key: str | None = None

    def __str__(self) -> str:
        spot = self.path
        if self.line is not None:
            spot += f":{self.line}"
            if self.column is not None:
                spot += f":{self.column}"
        return f"{spot} {self.key}" if self.key else spot


@dataclass(frozen=True, slots=True)
class Issue:
    """One problem found by a check: ``check`` is a stable id, ``severity`` is error, warning or note."""

    check: str
    severity: str
    where: Where
    wrong: str
    expected: str = ""
    write: str = ""

    def __str__(self) -> str:
        parts = [f"{self.where}: {self.wrong}."]
        if self.expected:
            parts.append(f"Expected {self.expected}.")
        if self.write:
            parts.append(f"Write {self.write}.")
        parts.append(f"[{self.check}]")
        return " ".join(parts)


class WeedkeyError(Exception):
    """Base of all errors that the program raises on purpose; ``exit_code`` is what the command line
    returns.
    """

    exit_code = 1


class SourceMissing(WeedkeyError, ValueError):
    """A fact was built without a source. Raised by the model, so that no such fact can exist."""

    def __init__(self, fact: str) -> None:
        super().__init__(fact)
        self.fact = fact

    def __str__(self) -> str:
        return f"{self.fact} has no source. Name at least one source id, or from_memory, or common_practice."


class KnowledgeError(WeedkeyError):
    """The knowledge (or one local file) cannot be read; ``issues`` holds every problem found, not the
    first.
    """

    exit_code = 3

    def __init__(self, issues: Sequence[Issue]) -> None:
        super().__init__(*issues)
        self.issues = tuple(issues)

    def __str__(self) -> str:
        return _issue_lines(self.issues)


class LawnError(WeedkeyError, ValueError):
    """A lawn file or a value given for a lawn is not usable; ``issues`` holds every problem found."""

    exit_code = 2

    def __init__(self, issues: Sequence[Issue]) -> None:
        super().__init__(*issues)
        self.issues = tuple(issues)

    def __str__(self) -> str:
        return _issue_lines(self.issues)


class ConfigError(WeedkeyError, ValueError):
    """The settings (file or environment) are not usable; ``issues`` holds every problem found."""

    exit_code = 2

    def __init__(self, issues: Sequence[Issue]) -> None:
        super().__init__(*issues)
        self.issues = tuple(issues)

    def __str__(self) -> str:
        return _issue_lines(self.issues)


class UnknownName(WeedkeyError, LookupError):
    """No entry of this kind has this name; ``nearest`` lists the closest names, best first."""

    exit_code = 2

    def __init__(self, kind: str, name: str, nearest: Sequence[str] = ()) -> None:
        super().__init__(kind, name, tuple(nearest))
        self.kind = kind
        self.name = name
        self.nearest = tuple(nearest)

    def __str__(self) -> str:
        text = f"no {self.kind} is called {self.name!r}."
        if self.nearest:
            text += " Did you mean " + ", ".join(self.nearest[:5]) + "?"
        return text


class UsageError(WeedkeyError, ValueError):
    """A value on the command line is outside what is accepted; ``expected`` states the accepted range."""

    exit_code = 2

    def __init__(self, what: str, expected: str = "", write: str = "") -> None:
        super().__init__(what, expected, write)
        self.what = what
        self.expected = expected
        self.write = write

    def __str__(self) -> str:
        parts = [f"{self.what}."]
        if self.expected:
            parts.append(f"Expected {self.expected}.")
        if self.write:
            parts.append(f"Write {self.write}.")
        return " ".join(parts)


class UnitError(UsageError):
    """Two units that cannot be converted into each other, or a unit that is not known."""


class WalkError(WeedkeyError):
    """A saved walk cannot be read or written; nothing that was saved before is lost."""


def _issue_lines(issues: Sequence[Issue]) -> str:
    lines = [str(issue) for issue in issues]
    count = len(lines)
    lines.append(f"{count} problem{'' if count == 1 else 's'}.")
    return "\n".join(lines)
