"""Opens visits for the screens: a lawn file, a demo lawn, a walk from before."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from weedkey.errors import WeedkeyError
from weedkey.knowledge.lawn_file import read_lawn
from weedkey.model.lawn import Lawn
from weedkey.visit import resume_visit, start_visit
from weedkey.walks.photos import with_absolute_photos

if TYPE_CHECKING:
    from weedkey.tui.app import WeedkeyApp


def open_lawn_file(app: WeedkeyApp, path: Path) -> None:
    """Start a visit from a lawn file (the file itself is never changed) and show its parts."""
    try:
        open_lawn(app, with_absolute_photos(read_lawn(path, app.knowledge), path.parent))
    except WeedkeyError as error:
        app.say_error(error)


def open_lawn(app: WeedkeyApp, lawn: Lawn) -> None:
    """Start a visit of a lawn and show its parts."""
    try:
        app.visit = start_visit(lawn)
    except WeedkeyError as error:
        app.say_error(error)
        return
    _show_parts(app)


def open_visit(app: WeedkeyApp, folder: Path) -> None:
    """Continue a visit; a naming that was not closed opens where it was left."""
    try:
        app.visit = resume_visit(folder, app.knowledge)
    except WeedkeyError as error:
        app.say_error(error)
        return
    _show_parts(app)
    if app.visit.naming is not None:
        from weedkey.tui.screens.name import NameScreen

        app.push_screen(NameScreen())


def _show_parts(app: WeedkeyApp) -> None:
    from weedkey.tui.screens.lawn import LawnScreen

    app.push_screen(LawnScreen())
