"""The screens: the whole job by keys, by mouse alone, at every width, with everything on disk."""

from __future__ import annotations

from pathlib import Path

import pytest
from screen_cases import has_sideways_scroll, key_line, new_app, screen_text
from textual.pilot import Pilot

from weedkey.knowledge.locate import shipped_folder
from weedkey.model.lawn import Look
from weedkey.tui.app import WeedkeyApp
from weedkey.tui.screens.lawn import LawnScreen
from weedkey.tui.screens.name import NameScreen
from weedkey.tui.widgets.rows import Rows
from weedkey.visit import list_visits

WIDTHS = (37, 40, 60, 80, 100, 120, 160)
DEMO = shipped_folder() / "demo" / "tennessee_zoysiagrass.yaml"


async def settle(pilot: Pilot[None]) -> None:
    """Wait for workers and the paint after them."""
    await pilot.pause()
    await pilot.app.workers.wait_for_complete()
    await pilot.pause()


async def open_demo(pilot: Pilot[None], app: WeedkeyApp) -> None:
    """Wait until the lawn given at the start is open."""
    for _ in range(50):
        await settle(pilot)
        if isinstance(app.screen, LawnScreen):
            return
    raise AssertionError("the lawn did not open")


class TestHome:
    """The first screen."""

    @pytest.mark.parametrize("width", WIDTHS)
    async def test_fits_and_keeps_help_and_quit(self, width: int) -> None:
        """No sideways scrolling; Help and Quit on the key line at every width."""
        app = new_app()
        async with app.run_test(size=(width, 24)) as pilot:
            await settle(pilot)
            assert not has_sideways_scroll(app)
            assert "? help" in key_line(app)
            assert "q quit" in key_line(app)

    async def test_offers_the_walk_that_was_left(self) -> None:
        """A walk from before stands first, with its day."""
        app = new_app(DEMO)
        async with app.run_test(size=(80, 24)) as pilot:
            await open_demo(pilot, app)
        again = new_app()
        async with again.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            assert "continue the walk of 3 June 2026" in screen_text(again)


class TestLawn:
    """The parts of the job."""

    async def test_a_town_without_a_climate_of_its_own_shows_the_nearest(self) -> None:
        """Typing Atlanta shows Griffin and says how far it is; enter takes it."""
        app = new_app()
        async with app.run_test(size=(80, 30)) as pilot:
            await settle(pilot)
            for keys in (["2"], [*"zoy", "enter"], [*"atlanta"]):
                await pilot.press(*keys)
                await pilot.pause(0.1)
            shown = " ".join(screen_text(app).split())
            assert "Griffin, Georgia (southeast) — Atlanta, Georgia, about 35 miles away" in shown
            await pilot.press("enter")
            await pilot.pause(0.2)
            assert "What kind of site is it?" in screen_text(app)

    async def test_a_new_lawn_by_keys_alone(self) -> None:
        """Turf, place, site, size, day, name: six questions, then the parts."""
        app = new_app()
        async with app.run_test(size=(80, 30)) as pilot:
            await settle(pilot)
            for keys in (["2"], [*"zoy", "enter"], [*"murf", "enter"], ["1"], [*"5000", "enter"], ["enter"], ["enter"]):
                await pilot.press(*keys)
                await pilot.pause(0.1)
            await pilot.pause(0.2)
            assert isinstance(app.screen, LawnScreen)
            assert app.visit is not None
            assert app.visit.lawn.turf == "zoysiagrass"
            assert app.visit.lawn.area_sqft == 5000

    async def test_what_is_not_accepted_is_said_with_what_is(self) -> None:
        """A negative area is refused and the question stays."""
        app = new_app()
        async with app.run_test(size=(80, 30)) as pilot:
            await settle(pilot)
            for keys in (["2"], [*"zoy", "enter"], [*"murf", "enter"], ["1"], ["minus", "5", "enter"]):
                await pilot.press(*keys)
                await pilot.pause(0.1)
            assert "is not accepted; expected: number above 0" in screen_text(app)


class TestName:
    """One look at a time."""

    async def start_naming(self, pilot: Pilot[None], app: WeedkeyApp) -> None:
        """Open the naming of a plant in the second zone."""
        await open_demo(pilot, app)
        await pilot.press("1")
        await pilot.pause(0.1)
        await pilot.press("2")
        await pilot.pause(0.3)
        assert isinstance(app.screen, NameScreen)

    @pytest.mark.parametrize("width", WIDTHS)
    async def test_fits_every_width(self, width: int) -> None:
        """No sideways scrolling; Help and Quit stay."""
        app = new_app(DEMO)
        async with app.run_test(size=(width, 35)) as pilot:
            await self.start_naming(pilot, app)
            await pilot.press("1")
            await pilot.pause(0.1)
            assert not has_sideways_scroll(app)
            assert "q quit" in key_line(app)

    async def test_an_answer_is_on_disk_before_the_next_question(self) -> None:
        """The journal holds the answer as soon as the next look shows."""
        app = new_app(DEMO)
        async with app.run_test(size=(80, 35)) as pilot:
            await self.start_naming(pilot, app)
            await pilot.press("2")
            await pilot.pause()
            journal = list_visits()[0] / "naming-1.jsonl"
            assert '"event": "look"' in journal.read_text(encoding="utf-8")

    async def test_undo_takes_the_last_answer_back_exactly(self) -> None:
        """After an answer and u the screen shows what it showed before."""
        app = new_app(DEMO)
        async with app.run_test(size=(80, 35)) as pilot:
            await self.start_naming(pilot, app)
            before = screen_text(app)
            await pilot.press("2")
            await pilot.pause()
            assert screen_text(app) != before
            await pilot.press("u")
            await pilot.pause()
            assert screen_text(app) == before

    async def test_several_states_and_not_sure(self) -> None:
        """M marks states, e says one of these; n makes the answer count half."""
        app = new_app(DEMO)
        async with app.run_test(size=(80, 40)) as pilot:
            await self.start_naming(pilot, app)
            await pilot.press("n", "m", "1", "2", "e")
            await pilot.pause()
            assert app.visit is not None
            assert app.visit.naming is not None
            (look,) = app.visit.naming.looks
            assert len(look.states) == 2
            assert look.unsure

    async def test_plain_words_are_confirmed_one_by_one(self) -> None:
        """Nothing counts before the user says yes."""
        app = new_app(DEMO)
        async with app.run_test(size=(80, 40)) as pilot:
            await self.start_naming(pilot, app)
            await pilot.press("t")
            await pilot.pause(0.1)
            await pilot.press(*"three-sided stem", "enter")
            await pilot.pause(0.2)
            assert app.visit is not None
            assert app.visit.naming is not None
            assert app.visit.naming.looks == ()
            await pilot.press("1")
            await pilot.pause(0.2)
            assert [look.trait for look in app.visit.naming.looks] == ["stem_section"]

    async def test_the_walk_goes_on_after_a_kill(self) -> None:
        """A new process finds the naming where it was left."""
        app = new_app(DEMO)
        async with app.run_test(size=(80, 35)) as pilot:
            await self.start_naming(pilot, app)
            await pilot.press("2")
            await pilot.pause()
        again = new_app()
        async with again.run_test(size=(80, 35)) as pilot:
            await settle(pilot)
            await pilot.press("1")
            await pilot.pause(0.4)
            assert isinstance(again.screen, NameScreen)
            assert "Look 2" in screen_text(again)
            assert "seen so far" in screen_text(again)

    async def test_the_likeliest_plants_stand_side_by_side(self) -> None:
        """C shows only what tells them apart."""
        app = new_app(DEMO)
        async with app.run_test(size=(80, 60)) as pilot:
            await self.start_naming(pilot, app)
            assert app.visit is not None
            assert app.visit.naming is not None
            app.visit.naming.answer(Look("plant_group", ("sedge",)))
            await pilot.press("0")
            await pilot.pause()
            await pilot.press("c")
            await pilot.pause(0.3)
            assert "In a sentence" in screen_text(app) or "by eye" in screen_text(app)

    async def test_by_mouse_alone(self) -> None:
        """A tap on a row answers; a tap on the key line undoes."""
        app = new_app(DEMO)
        async with app.run_test(size=(80, 35)) as pilot:
            await self.start_naming(pilot, app)
            await pilot.click("#states", offset=(4, 1))
            await pilot.pause()
            assert app.visit is not None
            assert app.visit.naming is not None
            assert len(app.visit.naming.looks) == 1


class TestParts:
    """Weeds here, choices, ground, season."""

    @pytest.mark.parametrize("width", [40, 120])
    async def test_choices_show_the_verdict_first(self, width: int) -> None:
        """Verdict, then rows with a word and a mark; a row opens every gate with its reason."""
        app = new_app(DEMO)
        async with app.run_test(size=(width, 40)) as pilot:
            await open_demo(pilot, app)
            await pilot.press("4")
            await pilot.pause(0.2)
            await pilot.press("4")
            await pilot.pause(0.5)
            assert "goosegrass:" in screen_text(app)
            rows = app.screen.query_one("#choices", Rows).rows
            assert any(row.words.startswith("ok open") for row in rows)
            assert any(row.words.startswith("x  shut") for row in rows)
            await pilot.press("enter")
            await pilot.pause(0.3)
            assert "turf" in screen_text(app)

    @pytest.mark.parametrize("width", [40, 120])
    async def test_ground_is_a_grid_or_a_list(self, width: int) -> None:
        """Zones by conditions where there is room, a list where there is not."""
        app = new_app(DEMO)
        async with app.run_test(size=(width, 50)) as pilot:
            await open_demo(pilot, app)
            await pilot.press("5")
            await pilot.pause(0.4)
            assert "compacted" in screen_text(app)
            assert not has_sideways_scroll(app)
            await pilot.press("2")
            await pilot.pause(0.2)
            assert "drive edge" in screen_text(app)

    async def test_season_gives_every_sheet(self) -> None:
        """The owner's sheet, the outlook, the records, the operator's sheet."""
        app = new_app(DEMO)
        async with app.run_test(size=(80, 40)) as pilot:
            await open_demo(pilot, app)
            await pilot.press("6")
            for _ in range(80):
                await settle(pilot)
                if "in the year ahead" in screen_text(app):
                    break
            for key, said in (("2", "Your lawn"), ("3", "percent of the lawn"), ("5", "Record:"), ("1", "Plan for")):
                await pilot.press(key)
                await settle(pilot)
                await pilot.pause(0.3)
                assert said in screen_text(app)
                await pilot.press("escape")
                await pilot.pause(0.2)

    async def test_a_weed_is_removed_again(self) -> None:
        """Weeds here: choose, remove; the file follows."""
        app = new_app(DEMO)
        async with app.run_test(size=(80, 40)) as pilot:
            await open_demo(pilot, app)
            await pilot.press("3")
            await pilot.pause(0.2)
            await pilot.press("1")
            await pilot.pause(0.2)
            await pilot.press("3")
            await pilot.pause(0.2)
            text = (list_visits()[0] / "lawn.yaml").read_text(encoding="utf-8")
            assert "tall_fescue_clump" not in text


class TestEverywhere:
    """Help, themes, errors."""

    async def test_help_names_the_actions_of_the_screen(self) -> None:
        """? shows the keys of the screen one is on."""
        app = new_app()
        async with app.run_test(size=(80, 40)) as pilot:
            await settle(pilot)
            await pilot.press("question_mark")
            await pilot.pause()
            text = screen_text(app)
            assert "theme" in text
            assert "x  never" in text

    async def test_no_colour_means_the_terminals_own(self, monkeypatch: pytest.MonkeyPatch) -> None:
        """NO_COLOR starts with the terminal's own colours."""
        monkeypatch.setenv("NO_COLOR", "1")
        app = new_app()
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            assert app.theme == "ansi-dark"

    async def test_a_broken_lawn_file_is_a_notice(self, tmp_path: Path) -> None:
        """The first screen stays; nothing is lost."""
        bad = tmp_path / "bad.yaml"
        bad.write_text("turf: zoysiagrass\n", encoding="utf-8")
        app = new_app(bad)
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            assert "Walk the lawn" in screen_text(app)
