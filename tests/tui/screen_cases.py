"""Runs the screens in the test process and reads them as text."""

from __future__ import annotations

import difflib
import os
from datetime import date
from pathlib import Path

from textual.widgets import Static

from weedkey.knowledge.locate import shipped_folder
from weedkey.tui.app import WeedkeyApp

TODAY = date(2026, 6, 3)
DEMO = shipped_folder() / "demo" / "tennessee_zoysiagrass.yaml"
SNAPSHOTS = Path(__file__).parent / "snapshots"


def new_app(lawn: Path | None = None) -> WeedkeyApp:
    """The application on a fixed day."""
    return WeedkeyApp(lawn=lawn, today=TODAY)


def screen_text(app: WeedkeyApp) -> str:
    """What stands on the screen, line by line (the one place that reads the compositor)."""
    strips = app.screen._compositor.render_strips()
    lines = ["".join(segment.text for segment in strip) for strip in strips]
    return "\n".join(without_scroll_bar(line).rstrip() for line in lines) + "\n"


def without_scroll_bar(line: str) -> str:
    """The line with its last two cells cleared of the ends of a scroll bar, which move by an eighth of a cell."""
    return line[:-2] + line[-2:].translate(dict.fromkeys(map(ord, "▁▂▃▄▅▆▇█▔"), " "))


def has_sideways_scroll(app: WeedkeyApp) -> bool:
    """True if any part of the screen would have to be scrolled sideways."""
    return any(widget.max_scroll_x > 0 for widget in app.screen.query("*") if widget.display)


def key_line(app: WeedkeyApp) -> str:
    """The text of the line of keys."""
    return str(app.screen.query_one("KeyLine", Static).render())


def compare_snapshot(name: str, text: str) -> None:
    """Compare with the stored text; WEEDKEY_SNAPSHOTS=write stores it anew."""
    file = SNAPSHOTS / f"{name}.txt"
    if os.environ.get("WEEDKEY_SNAPSHOTS") == "write":
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8")
    assert file.is_file(), f"no snapshot {file.name}; run once with WEEDKEY_SNAPSHOTS=write and read it"
    stored = file.read_text(encoding="utf-8")
    difference = "\n".join(difflib.unified_diff(stored.splitlines(), text.splitlines(), "stored", "now", lineterm=""))
    assert not difference, f"{name} has changed (WEEDKEY_SNAPSHOTS=write stores it anew):\n{difference}"
