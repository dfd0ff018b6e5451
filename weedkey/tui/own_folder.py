"""The user's own entries as the screens use them: where they lie, and reading them anew after a change."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from weedkey.storage import local_entries_folder

if TYPE_CHECKING:
    from weedkey.tui.app import WeedkeyApp


def own_folder(app: WeedkeyApp) -> Path:
    """The folder of own entries; it need not exist yet."""
    return app.local_folder or local_entries_folder()


def reload_entries(app: WeedkeyApp, folder: Path) -> None:
    """Read the knowledge anew: what was saved takes part in naming, choices and ground at once."""
    app.use_entries(folder)
