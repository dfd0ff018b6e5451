"""The drawing of one state, beside its words. It repeats them; whoever cannot use it misses nothing."""

from __future__ import annotations

from textual.widgets import Static

from weedkey.errors import KnowledgeError
from weedkey.model.drawing import Drawing, TraitDrawings

#: How drawings are shown, in the order in which the key goes through them.
DRAWING_STYLES = ("blocks", "braille", "off")


def next_drawing_style(current: str) -> str:
    """The style after this one."""
    return DRAWING_STYLES[(DRAWING_STYLES.index(current) + 1) % len(DRAWING_STYLES)]


def drawings_or_none(trait: str) -> TraitDrawings | None:
    """The drawings of a look; None if it has none, or if their file is broken (``weedkey check`` says why)."""
    from weedkey.knowledge.drawings import drawings_of

    try:
        return drawings_of(trait)
    except KnowledgeError:
        return None


class DrawingBox(Static):
    """A place for one drawing; it keeps its size while the cursor moves, so that nothing jumps."""

    DEFAULT_CSS = """
    DrawingBox { display: none; }
    DrawingBox.-small { display: block; width: 16; height: 6; }
    DrawingBox.-large { display: block; width: 32; height: 12; }
    """

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 - Textual's own word
        super().__init__("", id=id, markup=False)
        self._form: str | None = None

    def show_drawing(self, drawing: Drawing | None, *, braille: bool) -> None:
        """Draw one state in the size that was set; nothing for a row without a drawing."""
        lines: list[str] = []
        if drawing is not None and self._form is not None:
            from weedkey.report.drawing import drawing_lines

            lines = drawing_lines(drawing, self._form, braille=braille)
        self.update("\n".join(lines))

    def set_size(self, size: str | None) -> None:
        """Small, large, or None to take no room at all."""
        self._form = size
        for name in ("small", "large"):
            self.set_class(name == size, f"-{name}")
