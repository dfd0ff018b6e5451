"""Local entries: what one has, a form for a new weed, place or control, a fact overridden, undo, export and import."""

from __future__ import annotations

import os
from collections.abc import Coroutine, Iterable
from functools import partial
from pathlib import Path
from typing import Any

from textual.widget import Widget
from textual.widgets import Static

from weedkey.errors import UsageError, WeedkeyError
from weedkey.knowledge import history
from weedkey.knowledge.drafts import list_drafts, start_draft
from weedkey.knowledge.entries import KINDS
from weedkey.knowledge.entry_diff import compare_entries
from weedkey.knowledge.exchange import Package, export_text, read_package
from weedkey.knowledge.importing import Preview, import_package, preview_import
from weedkey.knowledge.own_entries import OwnEntry, list_own, own_file, remove_own, shipped_and_own
from weedkey.report.entries_text import diff_text, own_line, preview_text
from weedkey.report.namer import Namer
from weedkey.report.style import Style
from weedkey.storage import data_folder, write_atomic
from weedkey.tui.actions import UNDO
from weedkey.tui.own_folder import own_folder, reload_entries
from weedkey.tui.screens.base import PartScreen
from weedkey.tui.screens.field import DecidePage, FieldPick, FieldText
from weedkey.tui.screens.form import FormScreen
from weedkey.tui.screens.page import PageScreen
from weedkey.tui.widgets.rows import Row, Rows

_ENTRY_KEYS = "abcdeimnoprstvxzABCDEFHIJKLMNOPQRS"
_DRAFT = "=draft "
_FILE = "weedkey-entries.yaml"
#: Below the user's data folder; the only place that a page in a browser may write to and read from.
_SENT = "sent"
_FORM_KINDS = ("weed", "place", "control")


class EntriesScreen(PartScreen):
    """The list of own entries and what can be done with them."""

    ACTIONS = (UNDO,)
    HELP_TEXT = "Your own entries lie over the shipped ones and take part everywhere. u takes the last save back."

    def __init__(self) -> None:
        super().__init__()
        self._own: tuple[OwnEntry, ...] = ()

    def compose_body(self) -> Iterable[Widget]:
        """What can be done, then the entries."""
        yield Static("Local entries", classes="title")
        yield Rows(id="do")
        yield Static("", id="yours", classes="title", markup=False)
        yield Rows(id="own")

    def on_mount(self) -> None:
        """One may choose at once."""
        self.query_one("#do", Rows).focus()

    def show_lawn(self) -> None:
        """Something may have been saved."""
        super().show_lawn()
        self.show_entries()

    def show_entries(self) -> None:
        """The rows as they are now."""
        app = self.weedkey
        self._own = list_own(own_folder(app), app.knowledge)
        drafts = list_drafts()
        rows = [
            Row(f"={kind}", f"add a {kind} that is not known here", str(n)) for n, kind in enumerate(_FORM_KINDS, 1)
        ]
        rows.append(Row("=change", "change a fact of a shipped entry", "4"))
        if drafts:
            rows.append(Row("=drafts", f"forms not saved yet ({len(drafts)}), the last: {drafts[0].name}", "5"))
        rows.append(Row("=import", "read in a file of entries: you see it first", "6"))
        if self._own:
            rows.append(Row("=export", "all to one file, to send to the project", "7"))
        self.query_one("#do", Rows).show_rows(rows)
        self.query_one("#yours", Static).update("Yours:" if self._own else "You have no entries of your own yet.")
        shown = [
            Row(str(place), own_line(entry), _ENTRY_KEYS[place] if place < len(_ENTRY_KEYS) else "")
            for place, entry in enumerate(self._own)
        ]
        self.query_one("#own", Rows).show_rows(shown)

    def on_rows_chosen(self, event: Rows.Chosen) -> None:
        """Do what the row says."""
        event.stop()
        chosen = event.row_id
        work = {"=change": self._change, "=drafts": self._drafts, "=import": self._import, "=export": self._export}
        if chosen in work:
            self.run_worker(self._safely(work[chosen]()))
        elif chosen.startswith("="):
            self._open_form(chosen.removeprefix("="), "")
        else:
            self.run_worker(self._safely(self._entry(self._own[int(chosen)])))

    async def _safely(self, work: Coroutine[Any, Any, None]) -> None:
        try:
            await work
        except WeedkeyError as error:
            self.weedkey.say_error(error)
        except OSError as error:
            self.notify(f"{error.filename or 'The file'}: {error.strerror}", severity="error", timeout=12)
        self.show_entries()

    def _open_form(self, kind: str, name: str) -> None:
        app = self.weedkey
        try:
            draft = start_draft(kind, name, own_folder(app), app.knowledge)
        except (WeedkeyError, OSError) as error:
            self.notify(str(error), severity="error", timeout=12)
            return
        screen = FormScreen(draft)
        app.push_screen(screen)
        if draft.mode == "new":
            screen.call_after_refresh(screen.action_next_field)

    async def _change(self) -> None:
        app = self.weedkey
        kinds = [kind.name for kind in KINDS.values() if not kind.one_file]
        rows = [Row(kind, f"a {kind}") for kind in reversed(kinds)]
        kind = await app.push_screen_wait(FieldPick("A fact of what?", rows))
        if kind not in kinds:
            return
        entries = getattr(app.knowledge, KINDS[str(kind)].plural).values()
        found = sorted((Row(entry.id, entry.name) for entry in entries), key=lambda row: row.words.lower())
        name = await app.push_screen_wait(FieldPick(f"Which {kind}?", found))
        if name:
            self._open_form(str(kind), str(name))

    async def _drafts(self) -> None:
        drafts = list_drafts()
        rows = [Row(str(place), f"{draft.name} ({draft.kind})") for place, draft in enumerate(drafts)]
        chosen = await self.weedkey.push_screen_wait(FieldPick("Which form?", rows))
        if chosen is not None and chosen.isdigit():
            self.weedkey.push_screen(FormScreen(drafts[int(chosen)]))

    async def _entry(self, entry: OwnEntry) -> None:
        app = self.weedkey
        rows = [Row("read", "read what it says" if entry.is_new else "compare with the shipped entry")]
        if entry.value is not None and not KINDS[entry.kind].one_file:
            rows.append(Row("form", "change it in the form"))
        rows += [Row("undo", "take its last save back"), Row("remove", "remove it (can be taken back)")]
        if entry.value is not None:
            rows.append(Row("export", "write it to a file, to send it"))
        about = "\n".join(str(issue) for issue in entry.issues if issue.severity == "error")
        chosen = await app.push_screen_wait(FieldPick(own_line(entry), rows, about))
        folder = own_folder(app)
        if chosen == "read":
            before, after = shipped_and_own(entry)
            found, namer = compare_entries(before, after), Namer(app.knowledge)
            app.push_screen(PageScreen(lambda style: diff_text(entry, found, namer, style)))
        elif chosen == "form":
            self._open_form(entry.kind, entry.id)
        elif chosen == "undo":
            self._take_back(own_file(entry.kind, entry.id))
        elif chosen == "remove":
            remove_own(folder, entry)
            reload_entries(app, folder)
            self.notify(f"{entry.name} is removed; u takes it back.")
        elif chosen == "export":
            await self._write((entry,))

    def action_undo(self) -> None:
        """Take the last write of the folder back, whole."""
        self._take_back(None)

    def _take_back(self, file: str | None) -> None:
        app, folder = self.weedkey, own_folder(self.weedkey)
        try:
            step = history.undo(folder, file)
        except OSError as error:
            self.notify(str(error), severity="error")
            return
        self.notify(f"Taken back: {step.what}" if step else "There is nothing to take back.")
        if step:
            reload_entries(app, folder)
        self.show_entries()

    async def _export(self) -> None:
        await self._write(tuple(entry for entry in self._own if entry.value is not None))

    async def _write(self, entries: tuple[OwnEntry, ...]) -> None:
        text = export_text(own_folder(self.weedkey), entries)

        def wrong(name: str) -> str:
            path = _path(name)
            if path is None or path.is_dir() or not (path.absolute().parent.is_dir() or _is_in_browser()):
                return f"{name or 'nothing'} is not accepted; expected: {_expected()}"
            return f"{path} exists already; expected: a name that is free" if path.exists() else ""

        about = "Comments come along; no path of this computer does. Places where you saw something do: read it first."
        page = FieldText("Write to which file?", _FILE, _expected(), about, wrong)
        name = await self.weedkey.push_screen_wait(page)
        if name:
            path = _write_text(name, text)
            self.notify(f"Written: {path} ({len(entries)} {'entry' if len(entries) == 1 else 'entries'})", timeout=8)

    async def _import(self) -> None:
        app, folder = self.weedkey, own_folder(self.weedkey)

        def wrong(name: str) -> str:
            path = _path(name)
            return "" if path is not None and path.is_file() else f"{name or 'nothing'}: no such file; {_expected()}"

        about = (
            "A file that was written by the export. You see first what is new, what would change, what has problems."
        )
        name = await app.push_screen_wait(FieldText("Read in which file?", "", _expected(), about, wrong))
        if not name:
            return
        preview = preview_import(_read(name), folder)
        rows = [Row("no", "leave it", "0")]
        if not preview.errors and not preview.is_empty:
            rows.insert(0, Row("yes", "read it in (can be taken back)", "1"))
        make = partial(self._preview, preview)
        if await app.push_screen_wait(DecidePage(make, rows)) == "yes":
            import_package(preview, folder)
            reload_entries(app, folder)
            self.notify(f"Read in: {len(preview.texts)} files; u takes it back.")

    def _preview(self, preview: Preview, style: Style) -> str:
        return preview_text(preview, Namer(self.weedkey.knowledge), style)


def _is_in_browser() -> bool:
    """True behind a page of a browser: somebody may sit elsewhere, who has no business in other folders."""
    return "TEXTUAL_DRIVER" in os.environ


def _expected() -> str:
    if _is_in_browser():
        return f"a file name without a folder; it lies in {data_folder() / _SENT}"
    return "a file in a folder that is there"


def _path(name: str) -> Path | None:
    """The file that a typed name means; None for what is not accepted."""
    if not name:
        return None
    if not _is_in_browser():
        return Path(name).expanduser()
    return data_folder() / _SENT / name if Path(name).name == name and not name.startswith(".") else None


def _write_text(name: str, text: str) -> Path:
    path = _path(name)
    if path is None:
        raise UsageError(f"{name!r} is no file name", _expected())
    write_atomic(path, text)
    return path


def _read(name: str) -> Package:
    path = _path(name)
    if path is None:
        raise UsageError(f"{name!r} is no file name", _expected())
    return read_package(path)
