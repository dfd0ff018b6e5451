"""What is done with saved walks from the screens: open, again, archive, treatments, zip. Each asks what it needs."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from weedkey.errors import WeedkeyError
from weedkey.report.application_text import applications_text
from weedkey.report.walks_text import preview_lines, walk_line
from weedkey.storage import data_folder
from weedkey.tui.opening import open_visit
from weedkey.tui.screens.ask import AskText
from weedkey.tui.screens.page import PageScreen
from weedkey.tui.screens.pick import PickScreen
from weedkey.tui.widgets.rows import Row
from weedkey.walks.changing import archive_walk, bring_back, duplicate_walk
from weedkey.walks.history import with_history
from weedkey.walks.listing import SavedWalk
from weedkey.walks.zipping import bring_in, look_into_zip, write_zip

if TYPE_CHECKING:
    from weedkey.tui.app import WeedkeyApp


async def ask_walk_change(app: WeedkeyApp, walk: SavedWalk) -> None:
    """What about this walk?"""
    rows = [
        Row("again", "walk this lawn again today: everything kept but the weeds"),
        Row("again_weeds", "walk this lawn again today, with the weeds entered"),
        Row("treatments", "what was put on this lawn, over all its walks"),
    ]
    rows = [Row("open", "open it"), *rows] if walk.lawn else []
    rows += [Row("export", "export it as a zip of plain files")]
    rows += [Row("back", "put it into the list again") if walk.archived else Row("archive", "archive it")]
    chosen = await app.push_screen_wait(PickScreen(walk_line(app.knowledge, walk), rows))
    if not chosen:
        return
    try:
        await _do(app, walk, chosen)
    except WeedkeyError as error:
        app.say_error(error)


async def _do(app: WeedkeyApp, walk: SavedWalk, chosen: str) -> None:
    if chosen == "open":
        open_visit(app, walk.folder)
    elif chosen in ("again", "again_weeds"):
        made = duplicate_walk(walk.folder, app.knowledge, app.today, keep_weeds=chosen == "again_weeds")
        open_visit(app, made.folder)
    elif chosen == "treatments" and walk.lawn is not None:
        lawn = with_history(app.knowledge, walk.lawn)
        app.push_screen(PageScreen(lambda style: applications_text(app.knowledge, lawn, style)))
    elif chosen == "export":
        await ask_export(app, (walk,))
    elif chosen == "archive":
        archive_walk(walk.folder, app.today)
        app.notify("Archived. a shows the archived walks; nothing was deleted.")
    elif chosen == "back":
        bring_back(walk.folder)
        app.notify("It is in the list again.")


async def ask_export(app: WeedkeyApp, walks: Sequence[SavedWalk]) -> None:
    """Where to, and with the photos?"""
    if not walks:
        app.notify("There is no walk to export.")
        return
    proposed = _free(data_folder() / f"walks-{app.today.isoformat()}.zip")
    count = f"{len(walks)} walk{'' if len(walks) == 1 else 's'}"
    where = await app.push_screen_wait(
        AskText(f"Write {count} as a zip to which file?", str(proposed), "a file name that is free", _is_free)
    )
    if not where:
        return
    photos = False
    if any(walk.photos for walk in walks):
        rows = [Row("no", "no: the lawn files say where they lie"), Row("yes", "yes, copy them into it")]
        answer = await app.push_screen_wait(PickScreen("Take the photos along?", rows))
        if not answer:
            return
        photos = answer == "yes"
    _write_zip(app, Path(where), walks, photos=photos)


def _write_zip(app: WeedkeyApp, where: Path, walks: Sequence[SavedWalk], *, photos: bool) -> None:
    target = where.expanduser()
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        left = write_zip(target, [walk.folder for walk in walks], app.knowledge, photos=photos)
    except WeedkeyError as error:
        app.say_error(error)
        return
    except OSError as error:
        app.notify(f"{target}: {error.strerror or error}", severity="error")
        return
    app.notify(f"Written: {target}" + (f". Left out: {'; '.join(left)}" if left else ""), timeout=12)


async def ask_import(app: WeedkeyApp) -> None:
    """Which zip? What it would do is shown; then yes or no."""
    where = await app.push_screen_wait(
        AskText("Which zip of walks?", "", "the path of a zip", lambda text: _home_path(text).is_file())
    )
    if not where:
        return
    source = _home_path(where)
    try:
        preview = look_into_zip(source, app.knowledge)
        rows = [Row("no", "leave it")]
        count = len(preview.wanted)
        if count:
            rows.insert(0, Row("yes", f"bring in {count} walk{'' if count == 1 else 's'}"))
        answer = await app.push_screen_wait(PickScreen("\n".join(preview_lines(preview)), rows))
        if answer == "yes":
            _, made = bring_in(source, app.knowledge)
            app.notify(f"{len(made)} walk{'' if len(made) == 1 else 's'} brought in.")
    except WeedkeyError as error:
        app.say_error(error)


def _home_path(text: str) -> Path:
    return Path(text).expanduser()


def _free(path: Path) -> Path:
    number, found = 2, path
    while found.exists():
        found = path.with_name(f"{path.stem}-{number}{path.suffix}")
        number += 1
    return found


def _is_free(text: str) -> bool:
    return bool(text) and not Path(text).expanduser().exists()
