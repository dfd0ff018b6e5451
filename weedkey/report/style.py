"""The one style map: words and marks carry the meaning, a terminal style only repeats it."""

from __future__ import annotations

import textwrap
from dataclasses import dataclass

#: Mark and word for each tolerance; the mark is never alone.
TOLERANCE_WORDS = {
    "safe": "ok safe",
    "caution": "!  with care",
    "injures": "x  injures",
    "not_labelled": "x  not labelled",
    "not_known": "?  not known",
}
VERDICT_WORDS = {
    "treat_now": "treat now",
    "wait_for": "wait for the window",
    "leave_it": "leave it",
    "prevent": "prevent",
    "spot_treatment_only": "spot treatment only",
    "renovate": "renovate",
}
GATE_MARKS = {"open": "ok", "shut": "x ", "ask": "? "}
EVIDENCE_BARS = {"none": "....", "hint": "#...", "likely": "###.", "measured": "####"}


@dataclass(frozen=True, slots=True)
class Style:
    """How a piece of text is set off. ``codes`` False gives bare text."""

    codes: bool = False
    width: int = 80

    def strong(self, text: str) -> str:
        """A heading or the word that matters."""
        return f"\x1b[1m{text}\x1b[0m" if self.codes else text

    def faint(self, text: str) -> str:
        """Sources and asides."""
        return f"\x1b[2m{text}\x1b[0m" if self.codes else text

    def wrap(self, text: str, indent: str = "", hanging: str | None = None) -> str:
        """Wrap to the width; ``hanging`` is the indent of the following lines (default: the same)."""
        return "\n".join(
            textwrap.wrap(
                text,
                width=max(20, self.width),
                initial_indent=indent,
                subsequent_indent=indent if hanging is None else hanging,
                break_long_words=False,
                break_on_hyphens=False,
            )
        )

    def bullet(self, text: str, mark: str = "-", indent: str = "  ") -> str:
        """One item of a list, wrapped with a hanging indent."""
        return self.wrap(text, f"{indent}{mark} ", indent + " " * (len(mark) + 1))


def bar(share: float, cells: int = 10) -> str:
    """A bar of ``cells`` characters for a share from 0 to 1; at least one cell if the share is above 0."""
    full = round(share * cells)
    if share > 0 and full == 0:
        full = 1
    return "#" * full + "." * (cells - full)


def words_of(identifier: str) -> str:
    """An id as words: ``tall_fescue`` reads "tall fescue"."""
    return identifier.replace("_", " ")


def join_words(words: list[str], last: str = "and") -> str:
    """a; a and b; a, b and c."""
    if len(words) <= 1:
        return "".join(words)
    return ", ".join(words[:-1]) + f" {last} " + words[-1]
