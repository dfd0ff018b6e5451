"""The wishes of people who work in terminals, each held by a test (docs/screens.md lists them)."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from contrast_cases import contrast, drawn_contrasts
from screen_cases import DEMO, has_sideways_scroll, key_line, new_app, screen_text
from screen_stops import FEATURES, OPENED, Stop, app_for, go_to, prepare, typed, widget_text
from textual.pilot import Pilot
from textual.widgets import Input, OptionList

from weedkey.config import read_config, set_value
from weedkey.tui.actions import EVERYWHERE, screen_actions
from weedkey.tui.app import WeedkeyApp
from weedkey.tui.screens.help import HelpScreen
from weedkey.tui.screens.home import HomeScreen
from weedkey.tui.screens.lawn import LawnScreen
from weedkey.tui.screens.name import NameScreen
from weedkey.tui.themes import THEME_ORDER, THEME_WORDS, THEMES, first_theme, theme_word
from weedkey.tui.widgets.rows import Rows
from weedkey.visit import list_visits

LEAST_CONTRAST = 4.5  # Source: WCAG 2.1, success criterion 1.4.3 (level AA)


async def open_lawn(pilot: Pilot[None], app: WeedkeyApp) -> None:
    """The demo lawn is open."""
    await go_to(pilot, app, OPENED)


class TestColours:
    """Themes, contrast, no colour at all."""

    @pytest.mark.parametrize("theme", [theme.name for theme in THEMES])
    @pytest.mark.parametrize("feature", ["home", "name", "lawn"])
    async def test_every_word_drawn_has_enough_contrast(self, theme: str, feature: str) -> None:
        """Measured on what is drawn: rows, the row under the cursor, fields, key line, hint; and in greyscale as well,
        for contrast is a matter of luminance alone.
        """
        prepare(feature)
        app = app_for(feature)
        async with app.run_test(size=(80, 30)) as pilot:
            await pilot.pause()
            app.theme = theme
            for stop in FEATURES[feature][1][:7]:
                await go_to(pilot, app, stop)
                weak = [(round(found, 2), text) for found, text in drawn_contrasts(app) if found < LEAST_CONTRAST]
                assert weak == [], (theme, stop.name)

    def test_black_on_white_is_21_to_1(self) -> None:
        """The measure itself. Source: WCAG 2.1: the ratio ranges from 1 to 21."""
        assert contrast((0, 0, 0), (255, 255, 255)) == pytest.approx(21)
        assert contrast((119, 119, 119), (255, 255, 255)) == pytest.approx(4.48, abs=0.01)

    def test_greys_are_neutral(self) -> None:
        """R = G = B, so that a terminal of 256 colours shows grey as grey."""
        for theme in THEMES:
            for name in ("foreground", "background", "surface", "panel"):
                value = getattr(theme, name)
                assert value[1:3] == value[3:5] == value[5:7], (theme.name, name)

    def test_the_theme_to_start_with(self) -> None:
        """A choice stands above the line; NO_COLOR stands above every choice."""
        assert first_theme("auto", {}) == "weedkey-dark"
        assert first_theme("auto", {"SSH_CONNECTION": "x"}) == "ansi-dark"
        assert first_theme("light", {"SSH_CONNECTION": "x"}) == "weedkey-light"
        assert first_theme("light", {"NO_COLOR": "1"}) == "ansi-light"
        assert first_theme("contrast", {"NO_COLOR": "1"}) == "ansi-dark"
        assert [theme_word(name) for name in THEME_ORDER] == list(THEME_WORDS)

    async def test_the_theme_chosen_is_kept(self) -> None:
        """T writes it into the settings; the next start has it, and comments there stay."""
        app = new_app()
        async with app.run_test(size=(80, 24)) as pilot:
            await go_to(pilot, app, Stop("", ("T",), "start a new lawn"))
            assert app.theme == "weedkey-light"
        assert read_config({}).text("theme") == "light"
        again = new_app()
        async with again.run_test(size=(80, 24)) as pilot:
            await pilot.pause()
            assert again.theme == "weedkey-light"

    @pytest.mark.parametrize("feature", ["choices"])
    async def test_marks_and_words_carry_the_meaning(self, feature: str) -> None:
        """Open, spot only and shut are told apart by text, not by colour."""
        app = app_for(feature)
        async with app.run_test(size=(80, 40)) as pilot:
            for stop in FEATURES[feature][1]:
                await go_to(pilot, app, stop)
                if stop.name == "verdict":
                    text = widget_text(app)
                    assert "ok open" in text
                    assert "x  shut" in text


class TestSurroundings:
    """Settings of the user and of the line."""

    @pytest.mark.parametrize(
        ("setting", "environment", "level"),
        [
            ("auto", {}, "full"),
            ("auto", {"SSH_CONNECTION": "x"}, "none"),
            ("off", {}, "none"),
            ("on", {"SSH_CONNECTION": "x"}, "full"),
        ],
    )
    async def test_nothing_moves_over_a_remote_line(
        self, monkeypatch: pytest.MonkeyPatch, setting: str, environment: dict[str, str], level: str
    ) -> None:
        """Unless it is wanted."""
        for name, value in environment.items():
            monkeypatch.setenv(name, value)
        set_value("animations", setting)
        assert new_app().animation_level == level

    def test_broken_settings_are_named(self, own_home: Path) -> None:
        """Before any screen opens."""
        file = own_home / "config" / "config.toml"
        file.parent.mkdir(parents=True)
        file.write_text("mouse = 3\n", encoding="utf-8")
        with pytest.raises(Exception, match=r"config\.toml:1"):
            new_app()


class TestReach:
    """Everything by keys, by the palette, by taps."""

    @pytest.mark.parametrize("feature", FEATURES)
    async def test_help_and_back_on_every_screen(
        self, feature: str, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
    ) -> None:
        """? (F1 where one types) lists every action as a row; escape leads back to the very same screen."""
        monkeypatch.chdir(tmp_path)
        prepare(feature)
        app = app_for(feature)
        async with app.run_test(size=(80, 30)) as pilot:
            for stop in FEATURES[feature][1]:
                before = await go_to(pilot, app, stop)
                screen = app.screen
                if isinstance(screen, HelpScreen):
                    continue
                await pilot.press("f1" if isinstance(app.focused, Input) else "question_mark")
                await pilot.pause()
                assert isinstance(app.screen, HelpScreen), stop.name
                rows = {row.id for row in app.screen.query_one("#actions", Rows).rows}
                assert rows >= {action.name for action in screen_actions(screen)} - {"app.help"}, stop.name
                await pilot.press("escape")
                await pilot.pause()
                assert app.screen is screen, stop.name
                assert (await go_to(pilot, app, Stop(stop.name, (), stop.until))) == before

    @pytest.mark.parametrize("feature", FEATURES)
    async def test_the_palette_lists_every_action_and_row(
        self, feature: str, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
    ) -> None:
        """In the words of the screen."""
        monkeypatch.chdir(tmp_path)
        prepare(feature)
        app = app_for(feature)
        async with app.run_test(size=(80, 30)) as pilot:
            for stop in FEATURES[feature][1]:
                await go_to(pilot, app, stop)
                listed = {command.title for command in app.get_system_commands(app.screen)}
                assert {action.words for action in screen_actions(app.screen)} <= listed
                assert {action.words for action in EVERYWHERE} <= listed
                assert {row.words for rows in app.screen.query(Rows) for row in rows.rows} <= listed

    async def test_the_palette_opens_searches_and_runs(self) -> None:
        """: opens it; a word and enter do the action."""
        app = new_app()
        async with app.run_test(size=(80, 30)) as pilot:
            await go_to(pilot, app, Stop("", (), "start a new lawn"))
            await pilot.press("colon", *"theme")
            for _ in range(100):
                await pilot.pause(0.05)
                found = app.screen.query(OptionList)
                if found and found.first().option_count:
                    break
            await pilot.press("enter", "enter")
            for _ in range(100):
                await pilot.pause(0.05)
                if app.theme == "weedkey-light":
                    break
            assert app.theme == "weedkey-light"

    async def test_an_action_of_the_help_page_is_done_on_the_screen_beneath(self) -> None:
        """Help is also the menu of those who can only tap."""
        app = new_app(DEMO)
        async with app.run_test(size=(80, 40)) as pilot:
            await open_lawn(pilot, app)
            await go_to(pilot, app, Stop("", ("1", "2"), "Look 1"))
            await go_to(pilot, app, Stop("", ("question_mark",), "mark several"))
            await tap_row(pilot, app, "mark several")
            assert "[ ]" in await go_to(pilot, app, Stop("", (), "it is one of these"))

    async def test_vi_keys_walk_rows_and_pages(self) -> None:
        """J and k move, l chooses, h goes back; on a page j and k scroll."""
        app = new_app(DEMO)
        async with app.run_test(size=(80, 24)) as pilot:
            await open_lawn(pilot, app)
            rows = app.screen.query_one("#parts", Rows)
            await pilot.press("j", "j", "k")
            assert rows.highlighted == 1
            await go_to(pilot, app, Stop("", ("j", "l"), "Weeds here"))
            await go_to(pilot, app, Stop("", ("h",), "name a weed that you do not know"))
            await go_to(pilot, app, Stop("", ("5", "2"), "drive edge"))
            body = app.screen.query_one("#body")
            await pilot.press("j", "j", "j")
            await pilot.pause()
            assert body.scroll_offset.y == 3
            await pilot.press("k")
            await pilot.pause()
            assert body.scroll_offset.y == 2
            await pilot.press("G", "g")
            await pilot.pause()
            assert body.scroll_offset.y == 0

    async def test_q_leaves_from_every_part(self) -> None:
        """Nothing is lost by leaving: it is on disk."""
        for keys in ((), ("4",), ("5",), ("1", "2"), ("3",)):
            app = new_app(DEMO)
            async with app.run_test(size=(80, 30)) as pilot:
                await open_lawn(pilot, app)
                for key in keys:
                    await pilot.press(key)
                    await pilot.pause(0.2)
                await pilot.press("q")
                await pilot.pause()
            assert app.return_code == 0, keys

    async def test_undo_takes_a_change_of_the_lawn_back(self) -> None:
        """U on the parts and on the weeds; on a page it says that there is nothing to take back."""
        app = new_app(DEMO)
        async with app.run_test(size=(80, 30)) as pilot:
            await open_lawn(pilot, app)
            file = list_visits()[0] / "lawn.yaml"
            before = file.read_text(encoding="utf-8")
            await go_to(pilot, app, Stop("", ("3",), "Weeds here"))
            await go_to(pilot, app, Stop("", ("1",), "remove it"))
            await go_to(pilot, app, Stop("", ("3",), "Weeds here"))
            assert file.read_text(encoding="utf-8") != before
            await go_to(pilot, app, Stop("", ("u",), "tall fescue clump"))
            assert file.read_text(encoding="utf-8") == before
            await go_to(pilot, app, Stop("", ("escape", "5", "2", "u"), "drive edge"))
            assert file.read_text(encoding="utf-8") == before


class TestCopy:
    """What a screen says can be taken along."""

    async def test_copy_is_honest_and_a_file_is_sure(self, own_home: Path) -> None:
        """Y sends the page to the terminal's clipboard and says that it may not arrive; f writes it and says where."""
        app = new_app(DEMO)
        async with app.run_test(size=(60, 24)) as pilot:
            await open_lawn(pilot, app)
            await go_to(pilot, app, Stop("", ("5", "2"), "drive edge"))
            await pilot.press("y")
            await pilot.pause()
            assert "drive edge" in app.clipboard
            said = [note.message for note in app._notifications]
            assert any("terminal's clipboard" in text and "Not every terminal" in text for text in said)
            await pilot.press("f", "f")
            await pilot.pause()
        files = sorted((own_home / "data" / "written").iterdir())
        assert len(files) == 2
        assert {file.read_text(encoding="utf-8") for file in files} == {app.clipboard}

    async def test_every_screen_can_be_copied(self) -> None:
        """Lists as well as pages: rows with their keys, from top to bottom."""
        app = new_app(DEMO)
        async with app.run_test(size=(80, 24)) as pilot:
            await open_lawn(pilot, app)
            await pilot.press("y")
            await pilot.pause()
        lines = app.clipboard.splitlines()
        assert lines[0].startswith("zoysiagrass")
        assert " 1  name a weed that you do not know" in lines


async def tap_row(pilot: Pilot[None], app: WeedkeyApp, words: str) -> None:
    """Tap the row that says these words, scrolled into sight as a wheel would."""
    for rows in app.screen.query(Rows):
        for place, row in enumerate(rows.rows):
            if words in row.words:
                await tap(pilot, app, rows, rows.line_of(place))
                return
    raise AssertionError(f"no row says {words!r}:\n{screen_text(app)}")


async def tap(pilot: Pilot[None], app: WeedkeyApp, rows: Rows, y: int) -> None:
    """One tap on a line of the rows; "more" is tapped until it is in sight."""
    for _ in range(20):
        spot = rows.region.y + y
        body = app.screen.query_one("#body").region
        if body.y <= spot < body.bottom:
            await pilot.click(offset=(rows.region.x + 3, spot))
            await pilot.pause()
            return
        await tap_action(pilot, app, "more")
    raise AssertionError(f"the row did not come into sight:\n{screen_text(app)}")


async def tap_action(pilot: Pilot[None], app: WeedkeyApp, words: str) -> None:
    """Tap a word of the key line."""
    assert app.screen.query_one("KeyLine").region.height == 1
    await pilot.click("KeyLine", offset=(key_line(app).index(words), 0))
    await pilot.pause()


class TestTapsAlone:
    """The whole job by mouse or finger, on a phone, without a key pressed."""

    @pytest.mark.parametrize("size", [(40, 24), (100, 40)], ids=["phone", "wide"])
    async def test_from_the_first_screen_to_the_plan(self, size: tuple[int, int]) -> None:
        """A demo lawn is opened, a plant named and taken over, its choices, the ground and the owner's sheet read."""

        async def tapped(words: str, until: str) -> None:
            await tap_row(pilot, app, words)
            await go_to(pilot, app, Stop(words, (), until))

        app = new_app()
        async with app.run_test(size=size) as pilot:
            await go_to(pilot, app, Stop("", (), "start a new lawn"))
            await tapped("open a demo lawn", "Which demo lawn?")
            await tapped("tennessee zoysiagrass", "Valley rental")
            await tapped("name a weed that you do not know", "In which part")
            await tapped("drive edge", "Look 1")
            await tapped("a sedge: stem three-sided", "Look 2")
            await tap_action(pilot, app, "? help")
            await go_to(pilot, app, Stop("", (), "take the plant over"))
            await tapped("stop here", "How much of this part")
            await tapped("10", "Valley rental")
            assert any("sedge" in weed for weed in _weeds(app, "drive edge"))
            await tapped("choices: what may be done", "about which weed")
            await tapped("goosegrass (drive edge", "goosegrass:")
            await tap_action(pilot, app, "esc back")
            await go_to(pilot, app, Stop("", (), "Valley rental"))
            await tapped("ground: what the weeds say", "What the ground says")
            await tapped("read about drive edge", "drive edge")
            await tap_action(pilot, app, "esc back")
            await tap_action(pilot, app, "esc back")
            await tapped("season: the plan of the year", "in the year ahead")
            await tapped("the owner's sheet", "Your lawn")
            await tap_action(pilot, app, "q quit")
            await pilot.pause()
        assert app.return_code == 0

    async def test_a_new_lawn_is_made_by_taps(self) -> None:
        """Usual values stand as rows beneath each field."""
        app = new_app()
        async with app.run_test(size=(40, 24)) as pilot:
            await go_to(pilot, app, Stop("", (), "start a new lawn"))
            for words, until in (
                ("start a new lawn", "Which grass"),
                ("bermudagrass", "has your climate"),
                ("Alma", "What kind of site"),
                ("home lawn", "How large"),
                ("5000", "Which day"),
                ("take it", "called?"),
                ("take it", "name a weed"),
            ):
                await tap_row(pilot, app, words)
                await go_to(pilot, app, Stop(words, (), until))
            assert isinstance(app.screen, LawnScreen)
            assert app.visit is not None
            assert app.visit.lawn.area_sqft == 5000


def _weeds(app: WeedkeyApp, zone: str) -> list[str]:
    assert app.visit is not None
    return [weed for row in app.visit.zone(zone).findings for weed in row.weeds]


class TestKeysAlone:
    """The whole job without a mouse."""

    async def test_from_a_new_lawn_to_the_owners_sheet(self) -> None:
        """Made, named, decided, read, planned, written down, walked again."""
        app = new_app()
        async with app.run_test(size=(80, 30)) as pilot:
            for stop in (
                Stop("", ("2",), "Which grass"),
                Stop("", typed("zoy"), "has your climate"),
                Stop("", typed("murf"), "What kind of site"),
                Stop("", ("1",), "How large"),
                Stop("", typed("5000"), "Which day"),
                Stop("", ("enter",), "called?"),
                Stop("", ("enter",), "name a weed"),
                Stop("", ("1",), "Look 1"),
                Stop("", ("2",), "Look 2"),
                Stop("", ("s",), "How much of this part"),
                Stop("", typed("12"), "name a weed"),
                Stop("", ("4",), "about which weed"),
                Stop("", ("1",), "Published renovation rules"),
                Stop("", ("escape",), "name a weed"),
                Stop("", ("5",), "What the ground says"),
                Stop("", ("escape",), "name a weed"),
                Stop("", ("6",), "in the year ahead"),
                Stop("", ("2",), "Your lawn"),
                Stop("", ("escape", "escape"), "name a weed"),
                Stop("", ("7",), "What was put on?"),
                Stop("", typed("sulfentrazone"), "On which day"),
                Stop("", ("enter",), "How much, as the label"),
                Stop("", ("enter",), "Record: sulfentrazone"),
                Stop("", ("escape", "escape", "4"), "archived walks"),
                Stop("", ("1", "2"), "nothing entered yet"),
            ):
                await go_to(pilot, app, stop)
            assert app.visit is not None
            assert app.visit.lawn.history[0].control == "sulfentrazone"
            assert len(list_visits()) == 2
            assert not has_sideways_scroll(app)

    async def test_a_new_lawn_that_was_begun_goes_on(self) -> None:
        """Each answer is on disk before the next question: a kill in between loses nothing."""
        app = new_app()
        async with app.run_test(size=(80, 30)) as pilot:
            await go_to(pilot, app, Stop("", ("2",), "Which grass"))
            await go_to(pilot, app, Stop("", typed("zoy"), "has your climate"))
            await go_to(pilot, app, Stop("", typed("murf"), "What kind of site"))
        again = new_app()
        async with again.run_test(size=(80, 30)) as pilot:
            text = await go_to(pilot, again, Stop("", ("2",), "was begun"))
            assert "go on: zoysiagrass, Murfreesboro, Tennessee" in text
            await go_to(pilot, again, Stop("", ("1",), "What kind of site"))
            await go_to(pilot, again, Stop("", ("escape",), "has your climate"))
            assert isinstance(again.screen_stack[1], HomeScreen)


async def test_the_whole_name_is_taken_before_a_part_of_another() -> None:
    """Typing sulfentrazone and enter takes it, not the first mixture that holds it."""
    app = new_app(DEMO)
    async with app.run_test(size=(80, 30)) as pilot:
        await open_lawn(pilot, app)
        await go_to(pilot, app, Stop("", ("7",), "What was put on?"))
        text = await go_to(pilot, app, Stop("", tuple("sulfentrazone"), "sulfentrazone"))
        assert "1  sulfentrazone\n" in text


async def test_naming_fits_a_phone_in_every_state() -> None:
    """37 columns: with marks, with the next answer counting half, with a page of reasons."""
    app = new_app(DEMO)
    async with app.run_test(size=(37, 35)) as pilot:
        await open_lawn(pilot, app)
        await go_to(pilot, app, Stop("", ("1", "2"), "Look 1"))
        for keys in (("m",), ("1",), ("m",), ("n",), ("w",)):
            for key in keys:
                await pilot.press(key)
            await pilot.pause(0.1)
            assert not has_sideways_scroll(app)
        assert not isinstance(app.screen, NameScreen)


def test_the_page_of_wishes_names_tests_that_exist() -> None:
    """docs/screens.md: every file and every test in it."""
    root = Path(__file__).resolve().parents[2]
    page = (root / "docs" / "screens.md").read_text(encoding="utf-8")
    rows = [line for line in page.splitlines() if re.match(r"\| \d+ \|", line)]
    assert len(rows) == 21
    for row in rows:
        cell = row.split("|")[-2]
        named = re.findall(r"`((?:tests/\w+/)?\w+\.py)?(?:::(\w+))?`", cell)
        file = ""
        assert named or "stored texts" in cell, row
        for path, name in named:
            file = path or file
            place = root / file if "/" in file else root / "tests" / "tui" / file
            assert place.is_file(), (row, file)
            if name:
                assert re.search(rf"(?:def|class) {name}\b", place.read_text(encoding="utf-8")), (file, name)
