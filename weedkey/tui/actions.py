"""Every action once: its key, plain words, where it applies. Bindings, key line, palette and help come from it."""

from __future__ import annotations

from dataclasses import dataclass

from textual.binding import Binding


@dataclass(frozen=True, slots=True)
class Action:
    """``name`` is the Textual action; of ``keys`` the first is shown; ``words`` stand in the key line."""

    name: str
    keys: tuple[str, ...]
    words: str
    help: str

    def binding(self) -> Binding:
        """The binding of the action; hidden, because the key line shows it."""
        return Binding(",".join(self.keys), self.name, self.words, show=False)

    @property
    def link(self) -> str:
        """The action as a tappable piece of the key line."""
        key = {"escape": "esc", "question_mark": "?", "colon": ":"}.get(self.keys[0], self.keys[0])
        return f"[@click='{self.name}']{key} {self.words}[/]"


HELP = Action("app.help", ("question_mark", "f1"), "help", "what can be done on this screen")
QUIT = Action("app.leave", ("q",), "quit", "leave; everything is saved")
BACK = Action("screen.back", ("escape", "h", "left"), "back", "one screen back")
PALETTE = Action("app.command_palette", ("colon",), "all actions", "search every action by its words")
THEME = Action("app.next_theme", ("T",), "theme", "next theme: dark, light, high contrast, terminal colours")
DOWN = Action("screen.more", ("space", "pagedown"), "more", "next page")
UNDO = Action("screen.undo", ("u",), "undo", "take the last answer back")
WHY = Action("screen.why", ("w",), "why", "why this is asked, or why this is the verdict")

#: In reach on every screen.
EVERYWHERE = (HELP, QUIT, PALETTE, THEME)
