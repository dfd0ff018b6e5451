"""Drawings on the naming screen: beside the words, never in their way, and off when not wanted."""

from __future__ import annotations

import pytest
import test_screens
from screen_cases import has_sideways_scroll, key_line, new_app, screen_text
from textual.pilot import Pilot

from weedkey.config import read_config
from weedkey.knowledge.drawings import drawings_of
from weedkey.model.lawn import Look
from weedkey.report.drawing import SIZES, drawing_lines
from weedkey.tui.app import WeedkeyApp
from weedkey.tui.screens.drawings import DrawingsScreen
from weedkey.tui.screens.name import NameScreen
from weedkey.tui.widgets.drawing_box import DrawingBox, next_drawing_style
from weedkey.tui.widgets.rows import Rows

BLOCKS = set("▀▄█")
BRAILLE = {chr(code) for code in range(0x2801, 0x2900)}


async def ask_for(pilot: Pilot[None], app: WeedkeyApp, trait: str) -> NameScreen:
    """Open the naming of a grass and ask for one look."""
    await test_screens.TestName().start_naming(pilot, app)
    screen = app.screen
    assert isinstance(screen, NameScreen)
    assert app.visit is not None
    assert app.visit.naming is not None
    app.visit.naming.answer(Look("plant_group", ("grassy",)))
    known = app.knowledge.traits[trait]
    look = screen._look
    assert look is not None
    screen._ask(type(look)(trait, known.question, known.state_ids, known.cost_seconds, 0.0, 0.0, look.why))
    await pilot.pause(0.2)
    return screen


def shown(screen: NameScreen) -> list[str]:
    """The lines of the drawing on the screen."""
    return str(screen.query_one("#drawing", DrawingBox).render()).split("\n")


@pytest.mark.parametrize(
    ("size", "form"), [((40, 24), "small"), ((80, 24), "small"), ((120, 40), "large"), ((120, 24), "small")]
)
async def test_the_drawing_follows_the_cursor(size: tuple[int, int], form: str) -> None:
    """Each state in turn is drawn in the size that the screen has room for; the answers stay where they were."""
    app = new_app(test_screens.DEMO)
    async with app.run_test(size=size) as pilot:
        screen = await ask_for(pilot, app, "ligule")
        drawings = drawings_of("ligule")
        assert drawings is not None
        places = screen.query_one("#states", Rows).region
        for state in app.knowledge.traits["ligule"].state_ids:
            drawing = drawings.of_state(state)
            assert drawing is not None
            assert shown(screen) == drawing_lines(drawing, form)
            box = screen.query_one("#drawing", DrawingBox)
            assert (box.size.width, box.size.height) == SIZES[form]
            assert box.region.bottom <= size[1]
            assert screen.query_one("#states", Rows).region == places
            assert not has_sideways_scroll(app)
            await pilot.press("down")
            await pilot.pause()
        assert not any(BLOCKS & set(line) for line in shown(screen))  # "can't tell" is not drawn


@pytest.mark.parametrize("width", [40, 80, 120])
async def test_the_words_stand_with_and_without_drawings(width: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """The same answers at the same places in their list; without drawings not one block is on the screen."""
    rows = {}
    for style in ("blocks", "off"):
        monkeypatch.setenv("WEEDKEY_DRAWINGS", style)
        app = new_app(test_screens.DEMO)
        async with app.run_test(size=(width, 24)) as pilot:
            screen = await ask_for(pilot, app, "ligule")
            rows[style] = screen.query_one("#states", Rows).rows
            assert bool(BLOCKS & set("".join(line[: width - 4] for line in screen_text(app).splitlines()))) == (
                style == "blocks"
            )
            assert screen.query_one("#drawing").display == (style == "blocks")
            assert "a thin skin with a fringe" in " ".join(screen_text(app).split())
    assert rows["blocks"] == rows["off"]


async def test_on_a_phone_answers_come_before_drawings() -> None:
    """Eight long answers fill 40x24: no drawing, all answers in sight, and a row that leads to the drawings."""
    app = new_app(test_screens.DEMO)
    async with app.run_test(size=(40, 24)) as pilot:
        screen = await ask_for(pilot, app, "growth_habit")
        assert not screen.query_one("#drawing").display
        text = screen_text(app)
        assert "8  a film" in text
        assert "0  can't tell" in text
        await pilot.press("d")
        await pilot.pause(0.2)
        assert isinstance(app.screen, DrawingsScreen)
        assert BLOCKS & set(screen_text(app))
        assert not has_sideways_scroll(app)
        assert "q quit" in key_line(app)


async def test_a_look_without_drawings_takes_no_room() -> None:
    """A colour is not drawn."""
    app = new_app(test_screens.DEMO)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await ask_for(pilot, app, "plant_colour")
        assert not screen.query_one("#drawing").display
        await pilot.press("d")
        await pilot.pause(0.2)
        assert app.screen is screen


async def test_braille_and_off_by_key() -> None:
    """On the page of drawings d goes to braille and to words alone; the naming screen follows."""
    app = new_app(test_screens.DEMO)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await ask_for(pilot, app, "ligule")
        await pilot.press("d", "d")
        await pilot.pause(0.2)
        assert BRAILLE & set(screen_text(app))
        await pilot.press("escape")
        await pilot.pause(0.2)
        assert BRAILLE & set("".join(shown(screen)))
        await pilot.press("d", "d")
        await pilot.pause(0.2)
        text = "\n".join(line[:76] for line in screen_text(app).splitlines())  # without the scroll bar
        assert not (BRAILLE | BLOCKS) & set(text)
        assert "drawn: a blade bent down" in text
        await pilot.press("escape")
        await pilot.pause(0.2)
        assert not screen.query_one("#drawing").display
    assert read_config().text("drawings") == "off"  # kept for the next start


async def test_a_drawing_follows_a_change_of_width() -> None:
    """From 120 to 80 to 40 columns: large, small beside, small beneath."""
    app = new_app(test_screens.DEMO)
    async with app.run_test(size=(120, 40)) as pilot:
        screen = await ask_for(pilot, app, "vernation")
        heights = []
        for width in (120, 80, 40):
            await pilot.resize_terminal(width, 40)
            await pilot.pause(0.2)
            heights.append(screen.query_one("#drawing").size.height)
            assert not has_sideways_scroll(app)
        assert heights == [12, 6, 6]


async def test_the_settings_choose_the_style(monkeypatch: pytest.MonkeyPatch) -> None:
    """Half blocks unless the settings say otherwise; small stays small at any width."""
    monkeypatch.setenv("WEEDKEY_DRAWINGS", "braille")
    monkeypatch.setenv("WEEDKEY_DRAWING_SIZE", "small")
    app = new_app(test_screens.DEMO)
    async with app.run_test(size=(120, 40)) as pilot:
        screen = await ask_for(pilot, app, "ligule")
        drawings = drawings_of("ligule")
        assert drawings is not None
        assert shown(screen) == drawing_lines(drawings.drawings[0], "small", braille=True)


def test_the_key_goes_round() -> None:
    """From the last style to the first."""
    assert [next_drawing_style(style) for style in ("blocks", "braille", "off")] == ["braille", "off", "blocks"]
