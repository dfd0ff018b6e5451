"""The application: opens the knowledge beside the first paint, holds the visit in hand, shows one screen at a time."""

from __future__ import annotations

import asyncio
import os
import signal
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual.app import App, SystemCommand
from textual.binding import BindingType
from textual.filter import Monochrome, NoColor
from textual.screen import Screen

from weedkey.config import Config, read_config, set_value
from weedkey.errors import WeedkeyError
from weedkey.tui.actions import EVERYWHERE, screen_actions
from weedkey.tui.themes import THEMES, first_theme, next_theme, theme_word

if TYPE_CHECKING:
    from weedkey.model.base import Knowledge
    from weedkey.model.lawn import Lawn
    from weedkey.visit import Visit


#: After a hang-up the program is gone within this time.
LEAVES_WITHIN_SECONDS = 2


class WeedkeyApp(App[None]):
    """One visit of one lawn at a time."""

    TITLE = "weedkey"
    CSS = """
    #lawn_line { dock: top; height: auto; max-height: 2; background: $panel; color: $foreground; }
    #body { padding: 0 1; scrollbar-gutter: stable; scrollbar-size-vertical: 1; }
    #body > Static { height: auto; }
    .title { text-style: bold; margin: 1 0 0 0; }
    #foot { dock: bottom; height: auto; }
    #hint { height: auto; background: $surface; color: $foreground; }
    Screen.-phone #hint, #hint.-empty { display: none; }

    Screen { background: $background; color: $foreground; }
    Input { border: none; height: 1; padding: 0; background: $panel; }
    Input:focus { border: none; background: $panel; }
    Input > .input--placeholder { color: $foreground; }
    Toast { border-left: none; }
    Screen.-phone Toast { width: 100%; max-width: 100%; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [action.binding() for action in EVERYWHERE]
    ENABLE_COMMAND_PALETTE = True
    HORIZONTAL_BREAKPOINTS = [(0, "-phone"), (60, "-middle"), (100, "-wide")]

    def __init__(
        self,
        local: Path | None = None,
        lawn: Path | None = None,
        today: date | None = None,
        config: Config | None = None,
    ) -> None:
        super().__init__()
        self.config = config or read_config()
        if self.no_color:
            # the library greys everything, and makes the terminal's own colours black on black; here none is sent
            self._filters = [one for one in self._filters if not isinstance(one, Monochrome)]
            self._filters.append(NoColor())
        self.local_folder = local
        self.lawn_file = lawn
        self.today = today or date.today()  # noqa: DTZ011 - the lawn's own calendar day, not an instant
        self.visit: Visit | None = None
        self.opens_demos = False
        self._drawing_style = self.config.text("drawings")
        self._planned: tuple[Lawn, Lawn] | None = None
        self._knowledge: Knowledge | None = None
        self._loading: asyncio.Task[None] | None = None
        moving = self.config.text("animations")
        if moving == "off" or (moving == "auto" and "SSH_CONNECTION" in os.environ):
            self.animation_level = "none"

    @property
    def knowledge(self) -> Knowledge:
        """The knowledge; loaded on the spot if the first screen was faster than the worker."""
        if self._knowledge is None:
            from weedkey.knowledge import load

            self._knowledge = load(self.local_folder)
        return self._knowledge

    def use_entries(self, folder: Path) -> None:
        """Read the knowledge anew with the user's own entries of a folder, after one of them has changed."""
        from weedkey.knowledge import load

        self._knowledge = load(folder)
        self._planned = None
        self.local_folder = folder

    def on_mount(self) -> None:
        """Paint first; read the knowledge in the background; leave politely when the line drops."""
        for theme in THEMES:
            self.register_theme(theme)
        self.theme = first_theme(self.config.text("theme"))
        loop = asyncio.get_running_loop()
        for name in ("SIGTERM", "SIGHUP"):
            if hasattr(signal, name):
                loop.add_signal_handler(getattr(signal, name), self._leave_for_good)
        from weedkey.tui.screens.home import HomeScreen

        self.push_screen(HomeScreen())
        self.call_after_refresh(self._start_loading)

    def _leave_for_good(self) -> None:
        """The line has dropped, or somebody wants the program to end. Everything is on disk. A terminal that is gone
        can block the last words to it for ever; then the system's alarm clock ends the program.
        """
        if hasattr(signal, "alarm"):
            signal.alarm(LEAVES_WITHIN_SECONDS)
        self.exit()

    def _start_loading(self) -> None:
        self.run_worker(self._load, thread=True, exclusive=True)

    def _load(self) -> None:
        try:
            _ = self.knowledge
        except WeedkeyError as error:
            self.call_from_thread(self.exit, return_code=error.exit_code, message=f"weedkey: {error}")
            return
        self.call_from_thread(self._loaded)

    def _loaded(self) -> None:
        left_out = self.knowledge.left_out
        if left_out:
            self.notify(f"{len(left_out)} of your own files could not be used: {left_out[0]}", severity="warning")
        if self.lawn_file is not None:
            from weedkey.tui.opening import open_lawn_file

            open_lawn_file(self, self.lawn_file)
            self.lawn_file = None

        elif self.opens_demos:
            from weedkey.tui.starting import ask_demo

            self.opens_demos = False
            self.run_worker(ask_demo(self))

    @property
    def drawing_style(self) -> str:
        """How drawings are shown: blocks, braille or off."""
        return self._drawing_style

    @drawing_style.setter
    def drawing_style(self, style: str) -> None:
        self._drawing_style = style
        self.keep_setting("drawings", style)

    def keep_setting(self, name: str, value: str) -> None:
        """Write a choice made on the screens into the file of settings; a file that cannot be written is said."""
        try:
            set_value(name, value)
        except (OSError, WeedkeyError) as error:
            self.notify(f"The choice holds until you leave; it could not be kept: {error}", severity="warning")

    def lawn_with_history(self) -> Lawn:
        """The lawn in hand with what its other walks say was put on: what every gate and the plan must know."""
        if self.visit is None:
            raise RuntimeError("no lawn is open")
        lawn = self.visit.lawn
        if self._planned is None or self._planned[0] is not lawn:
            from weedkey.walks.history import with_history

            self._planned = (lawn, with_history(self.knowledge, lawn))
        return self._planned[1]

    def lawn_line(self) -> str:
        """Turf, date, place and state of growth of the lawn in hand, in one line."""
        if self.visit is None:
            return "weedkey: from the weeds you see to a plan that your grass survives"
        from weedkey.report.lawn_line import lawn_line

        return lawn_line(self.knowledge, self.visit.lawn)

    def say_error(self, error: WeedkeyError) -> None:
        """A problem of the domain as a notice; the screen stays as it is."""
        self.notify(str(error), severity="error", timeout=12)

    def action_help(self) -> None:
        """What can be done here."""
        from weedkey.tui.screens.help import HelpScreen

        if not isinstance(self.screen, HelpScreen):
            self.push_screen(HelpScreen(self.screen), self._after_help)

    def _after_help(self, name: str | None) -> None:
        if name:
            self.run_named(name)

    def action_leave(self) -> None:
        """Leave; every answer is on disk already."""
        self.exit()

    def action_next_theme(self) -> None:
        """The next theme; the settings keep it."""
        self.theme = next_theme(self.theme)
        self.keep_setting("theme", theme_word(self.theme))

    def action_copy_text(self) -> None:
        """Send what the screen says to the terminal's clipboard; whether it arrives only the terminal knows."""
        from weedkey.tui.copying import screen_result

        text = screen_result(self.screen)
        self.copy_to_clipboard(text)
        self.notify(
            f"Sent {len(text.splitlines())} lines to the terminal's clipboard. Not every terminal takes them"
            " (tmux: set-clipboard on); f writes them to a file."
        )

    def action_write_text(self) -> None:
        """Write what the screen says to a new text file, and say where."""
        from weedkey.tui.copying import write_result

        try:
            path = write_result(self.screen, self.today)
        except OSError as error:
            self.notify(f"The file could not be written: {error}", severity="error")
            return
        self.notify(f"Written: {path}", timeout=12)

    def get_system_commands(self, screen: Screen[object]):  # type: ignore[no-untyped-def]  # noqa: ANN201
        """Every action of the screen and of the program in plain words, for the palette."""
        for action in screen_actions(screen):
            yield SystemCommand(action.words, action.help, lambda a=action: self._run(a.name))
        from weedkey.tui.widgets.rows import Rows

        for rows in screen.query(Rows):
            for row in rows.rows:
                yield SystemCommand(row.words, "a row of this screen", lambda r=rows, i=row.id: r.choose(i))

    async def _run(self, name: str) -> None:
        namespace, _, action = name.partition(".")
        await self.run_action(action, self if namespace == "app" else self.screen)

    def run_named(self, name: str) -> None:
        """Run an action by its name on the screen that is shown."""
        self.call_later(self._run, name)


def run_app(
    local: Path | None = None, lawn: Path | None = None, config: Config | None = None, *, demos: bool = False
) -> int:
    """Run the screens and return the exit code. ``demos``: begin with the choice of a demo lawn."""
    app = WeedkeyApp(local, lawn, config=config)
    app.opens_demos = demos
    app.run(mouse=app.config.flag("mouse"))
    return app.return_code or 0
