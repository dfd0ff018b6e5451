"""What a screen says, as plain text for the clipboard or a file."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

from textual.screen import Screen
from textual.widgets import Input, Static

from weedkey.storage import data_folder, write_atomic
from weedkey.tui.widgets.rows import Rows

#: Below the folder of what the user made.
FOLDER = "written"


def screen_result(screen: Screen[object]) -> str:
    """The text of a page; of another screen its lines and rows from top to bottom."""
    own = getattr(screen, "result_text", None)
    if own is not None:
        return str(own())
    lines: list[str] = []
    for widget in screen.query("#lawn_line, #body Static, #body Rows, #body Input"):
        if isinstance(widget, Rows):
            lines += [f"{row.key:>2}  {row.words}".rstrip() for row in widget.rows]
        elif isinstance(widget, Static) and widget.display:
            lines += str(widget.render()).splitlines()
        elif isinstance(widget, Input) and widget.value:
            lines.append(widget.value)
    return "\n".join(line.rstrip() for line in lines).strip("\n") + "\n"


def write_result(screen: Screen[object], today: date) -> Path:
    """Write the text into a new file and return its path; an existing file is never overwritten. Raises OSError."""
    text = screen_result(screen)
    title = next((line for line in text.splitlines() if line.strip()), "screen")
    words = "-".join(re.findall(r"[a-z0-9]+", title.lower()))[:50].strip("-") or "screen"
    path, number = data_folder() / FOLDER / f"{today.isoformat()}-{words}.txt", 2
    while path.exists():
        path = path.with_name(f"{today.isoformat()}-{words}-{number}.txt")
        number += 1
    write_atomic(path, text)
    return path
