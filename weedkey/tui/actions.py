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
        return f"[@click='{self.name}']{key_words(self.keys[0])} {self.words}[/]"

    @property
    def short_link(self) -> str:
        """The same for a phone, where a long name of a key takes the room of another action."""
        return f"[@click='{self.name}']{self.words}[/]" if len(key_words(self.keys[0])) > 3 else self.link


HELP = Action("app.help", ("question_mark", "f1"), "help", "what can be done on this screen")
QUIT = Action("app.leave", ("q",), "quit", "leave; everything is saved")
BACK = Action("screen.back", ("escape", "h", "left"), "back", "one screen back")
PALETTE = Action("app.command_palette", ("colon",), "all actions", "search every action by its words")
THEME = Action(
    "app.next_theme", ("T",), "theme", "next theme: dark, light, high contrast, terminal colours; it is kept"
)
DOWN = Action("screen.more", ("space", "pagedown"), "more", "next page")
UNDO = Action("screen.undo", ("u",), "undo", "take the last answer or change back")
WHY = Action("screen.why", ("w",), "why", "why this is asked, or why this is the verdict")
COPY = Action("app.copy_text", ("y",), "copy", "send what this screen says to the terminal's clipboard")
WRITE = Action("app.write_text", ("f",), "to a file", "write what this screen says to a text file")
FIND = Action("screen.find", ("slash",), "search", "go to the field in which one types")

#: In reach on every screen.
EVERYWHERE = (HELP, QUIT, PALETTE, THEME, COPY, WRITE)


def key_words(key: str) -> str:
    """A key as it is written for people."""
    return {"escape": "esc", "question_mark": "?", "colon": ":", "slash": "/"}.get(key, key)


def screen_actions(screen: object) -> tuple[Action, ...]:
    """Everything that can be done on a screen: its own actions first, then what is in reach everywhere."""
    own = tuple(getattr(screen, "ACTIONS", ()))
    everywhere = (BACK, UNDO, DOWN, *EVERYWHERE)
    return own + tuple(action for action in everywhere if action.name not in {one.name for one in own})
