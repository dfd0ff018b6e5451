"""Reading one line of an answer in the line mode."""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence

#: (question, what is accepted, the same in words) -> the accepted text
Ask = Callable[[str, Callable[[str], bool], str], str]
#: (question, rows of id and words) -> the id chosen
Pick = Callable[[str, Sequence[tuple[str, str]]], str]


class Ended(Exception):
    """The input ended or the user left; everything is on disk."""


def read_line(prompt: str) -> str:
    """One line without spaces around it. Raises Ended at the end of the input or on q."""
    print(f"{prompt} ", end="", flush=True)
    line = sys.stdin.readline()
    if not line or line.strip().lower() == "q":
        raise Ended
    return line.strip()
