"""Local entries on the screens: a new weed by keys alone and by taps alone, nothing lost, every width."""

from __future__ import annotations

from pathlib import Path

import pytest
from screen_cases import has_sideways_scroll, key_line, new_app, screen_text
from textual.pilot import Pilot
from textual.widgets import Input

from weedkey.knowledge import load
from weedkey.knowledge.drafts import list_drafts
from weedkey.knowledge.locate import shipped_folder
from weedkey.storage import data_folder, local_entries_folder
from weedkey.tui.app import WeedkeyApp
from weedkey.tui.screens.entries import EntriesScreen
from weedkey.tui.screens.field import FieldPick, FieldText
from weedkey.tui.screens.form import FormScreen
from weedkey.tui.screens.lawn import LawnScreen
from weedkey.tui.widgets.rows import Rows

WIDTHS = (37, 40, 60, 80, 100, 120)
DEMO = shipped_folder() / "demo" / "tennessee_zoysiagrass.yaml"


async def settle(pilot: Pilot[None]) -> None:
    """Wait until what was pressed has been worked off and painted; a field that waits for an answer is such a state."""
    for _ in range(3):
        await pilot.pause(0.05)


async def press(pilot: Pilot[None], *keys: str) -> None:
    """Press keys one after another, each with its paint."""
    for key in keys:
        await pilot.press(key)
        await settle(pilot)


async def type_in(pilot: Pilot[None], text: str) -> None:
    """Type over what stands in the field, and press enter."""
    pilot.app.screen.query_one(Input).value = ""
    await pilot.press(*text, "enter")
    await settle(pilot)


async def open_entries(pilot: Pilot[None], app: WeedkeyApp) -> None:
    """From the first screen."""
    await pilot.pause(0.2)
    await press(pilot, "5")
    assert isinstance(app.screen, EntriesScreen)


async def tap(pilot: Pilot[None], words: str) -> None:
    """Tap the row that holds these words."""
    for rows in pilot.app.screen.query(Rows):
        for place, row in enumerate(rows.rows):
            if words in row.words:
                rows.scroll_to_highlight()
                rows.highlighted = place
                await pilot.pause()
                line = sum(
                    rows._get_visual(option).get_height(rows.styles, rows.size.width) for option in rows.options[:place]
                )
                rows.screen.query_one("#body").scroll_to(y=max(0, rows.virtual_region.y + line - 5), animate=False)
                await pilot.pause(0.05)
                assert await pilot.click(rows, offset=(4, line))
                await settle(pilot)
                return
    raise AssertionError(f"no row with {words!r} on the screen:\n{screen_text(pilot.app)}")


async def enter_new_weed(pilot: Pilot[None]) -> None:
    """The required fields of a new grass that somebody saw, up to the first look that the form proposes."""
    await press(pilot, "1", "1", "enter")
    await type_in(pilot, "behind the shed")
    await type_in(pilot, "shed grass")
    await press(pilot, "enter", "enter", "1", "1", "5")


class TestWidths:
    """Every page at every width."""

    @pytest.mark.parametrize("width", WIDTHS)
    async def test_every_page_fits_and_keeps_help_and_quit(self, width: int) -> None:
        """No sideways scrolling; the list, a field of rows, a field to type in, a look, the form."""
        app = new_app()
        async with app.run_test(size=(width, 24)) as pilot:
            await open_entries(pilot, app)
            pages = [EntriesScreen, FieldPick, FieldText, FieldPick, FormScreen]

            async def check() -> None:
                assert isinstance(app.screen, pages.pop(0)), screen_text(app)
                assert not has_sideways_scroll(app)
                assert "? help" in key_line(app)
                assert "q quit" in key_line(app)

            await check()
            await press(pilot, "1")
            await check()
            await press(pilot, "1")
            await check()
            await pilot.press("enter")
            await settle(pilot)
            await type_in(pilot, "behind the shed")
            await type_in(pilot, "shed grass")
            await press(pilot, "enter", "enter", "1", "1", "5")
            await check()
            assert "(about" in screen_text(app)  # a look, with what it costs
            await press(pilot, "escape")
            await check()

    @pytest.mark.parametrize(("width", "beside"), [(40, False), (80, False), (120, True)])
    async def test_look_alikes_stand_beneath_or_beside(self, width: int, beside: bool) -> None:
        """One column below 100, two from there on."""
        app = new_app()
        async with app.run_test(size=(width, 50)) as pilot:
            await open_entries(pilot, app)
            await enter_new_weed(pilot)
            await press(pilot, "1", "1", "1")
            rows, aside = app.screen.query_one("#pick").region, app.screen.query_one("#aside").region
            assert (aside.x > rows.x) == beside
            assert (aside.y >= rows.bottom) == (not beside)
            assert "looks entered, 14 or more are" in " ".join(screen_text(app).split())


class TestNewWeed:
    """The whole way."""

    @pytest.mark.parametrize("width", [37, 40, 80, 120])
    async def test_by_keys_alone_it_is_saved_and_takes_part_at_once(self, width: int) -> None:
        """Source, name, group, season, life cycle, looks; saved; the lawn knows it without a new start."""
        app = new_app(DEMO)
        async with app.run_test(size=(width, 40)) as pilot:
            for _ in range(50):
                await settle(pilot)
                if isinstance(app.screen, LawnScreen):
                    break
            await press(pilot, "e")
            await enter_new_weed(pilot)
            await press(pilot, "2", "1", "0", "1", "escape")
            assert isinstance(app.screen, FormScreen)
            await press(pilot, "s")
            assert isinstance(app.screen, EntriesScreen)
            weed = app.knowledge.weeds["shed_grass"]
            assert weed.local
            assert weed.seen[0].place == "behind the shed"
            assert len(weed.looks) == 4
            assert list_drafts() == []
            await press(pilot, "escape", "2")
            await pilot.press(*"shed", "enter")
            await settle(pilot)
            await press(pilot, "1")
            await type_in(pilot, "12")
            assert app.visit is not None
            assert any("shed_grass" in row.weeds for zone in app.visit.lawn.zones for row in zone.findings)
            await press(pilot, "4")
            assert "shed grass" in screen_text(app)

    async def test_by_taps_alone(self) -> None:
        """Every step but the words themselves is a tap."""
        app = new_app()
        async with app.run_test(size=(40, 30)) as pilot:
            await pilot.pause(0.2)
            await tap(pilot, "local entries")
            await tap(pilot, "add a weed")
            await tap(pilot, "I saw it myself")
            await tap(pilot, "take it")
            app.screen.query_one(Input).value = "behind the shed"
            await tap(pilot, "take it")
            app.screen.query_one(Input).value = "shed grass"
            for words in ("take it", "take it", "take it", "grassy", "warm", "perennial", "can't tell"):
                await tap(pilot, words)
            await pilot.click("KeyLine", offset=(1, 0))
            await settle(pilot)
            assert isinstance(app.screen, FormScreen)
            await tap(pilot, "save: it takes part")
            assert "shed_grass" in app.knowledge.weeds

    async def test_a_dropped_line_loses_nothing(self) -> None:
        """After each field the draft is on disk; another process goes on with it."""
        app = new_app()
        async with app.run_test(size=(80, 30)) as pilot:
            await open_entries(pilot, app)
            await enter_new_weed(pilot)
            await press(pilot, "1")
            before = list_drafts()[0].value
        again = new_app()
        async with again.run_test(size=(80, 30)) as pilot:
            await open_entries(pilot, again)
            assert "forms not saved yet (1), the last: shed grass" in screen_text(again)
            await press(pilot, "5", "1")
            assert isinstance(again.screen, FormScreen)
            assert "shed grass: a new weed" in screen_text(again)
            assert list_drafts()[0].value == before

    async def test_undo_takes_the_last_field_back(self) -> None:
        """On a page of rows and on the form."""
        app = new_app()
        async with app.run_test(size=(80, 40)) as pilot:
            await open_entries(pilot, app)
            await enter_new_weed(pilot)
            question = screen_text(app)
            count = len(list_drafts()[0].value["looks"])
            await press(pilot, "1")
            assert len(list_drafts()[0].value["looks"]) == count + 1
            await press(pilot, "u")
            assert len(list_drafts()[0].value["looks"]) == count
            assert screen_text(app) == question
            await press(pilot, "u")
            assert "life_cycle" not in list_drafts()[0].value
            await press(pilot, "u", "u")
            assert "looks" not in list_drafts()[0].value  # the group and the look that follows from it are one step
            await press(pilot, "escape")
            assert "still missing: group, growth season, life cycle, looks" in " ".join(screen_text(app).split())

    async def test_what_is_missing_is_said_and_nothing_is_written(self) -> None:
        """Saving half a form keeps the form."""
        app = new_app()
        async with app.run_test(size=(80, 40)) as pilot:
            await open_entries(pilot, app)
            await press(pilot, "1", "2")
            await type_in(pilot, "shed grass")
            await press(pilot, "escape", "s")
            assert isinstance(app.screen, FormScreen)
            assert "still missing: scientific" in screen_text(app)
            assert not local_entries_folder().exists()

    async def test_a_shipped_name_is_not_taken_twice(self) -> None:
        """The field says what to do instead."""
        app = new_app()
        async with app.run_test(size=(80, 40)) as pilot:
            await open_entries(pilot, app)
            await press(pilot, "1", "2")
            await type_in(pilot, "Goose Grass")
            assert isinstance(app.screen, FieldText)
            assert "goosegrass is there already" in screen_text(app)

    async def test_a_form_in_which_nothing_was_entered_is_not_kept(self) -> None:
        """Looking at it leaves no trace."""
        app = new_app()
        async with app.run_test(size=(80, 40)) as pilot:
            await open_entries(pilot, app)
            await press(pilot, "1", "escape", "escape")
            assert isinstance(app.screen, EntriesScreen)
            assert list_drafts() == []


class TestChange:
    """A fact of a shipped entry."""

    async def test_one_response_is_changed_by_keys(self) -> None:
        """Entry, field, row, key, value, source; the difference is shown; undo brings the shipped row back."""
        app = new_app()
        async with app.run_test(size=(120, 40)) as pilot:
            await open_entries(pilot, app)
            await press(pilot, "4", "1")
            await pilot.press(*"goosegrass", "enter")
            await settle(pilot)
            assert isinstance(app.screen, FormScreen)
            await press(pilot, "1")
            await pilot.press(*"responses", "enter")
            await settle(pilot)
            await press(pilot, "2", "1", "2", "4")
            assert "changed from" in screen_text(app)
            await press(pilot, "s")
            assert isinstance(app.screen, EntriesScreen)
            before, after = load().weeds["goosegrass"], app.knowledge.weeds["goosegrass"]
            assert [row.result for row in before.responses[1:]] == [row.result for row in after.responses[1:]]
            assert after.responses[0].result == "poor"
            assert after.responses[0].sources == ("from_memory",)
            assert "weed goosegrass: changes the shipped entry" in screen_text(app)
            await press(pilot, "u")
            assert app.knowledge.weeds["goosegrass"] == before

    async def test_a_place_by_keys(self) -> None:
        """Twelve figures in one field; the place can be chosen for a lawn at once."""
        app = new_app()
        async with app.run_test(size=(80, 40)) as pilot:
            await open_entries(pilot, app)
            await press(pilot, "2", "3")
            await type_in(pilot, "My Town")
            await press(pilot, "3")
            await type_in(pilot, "35.5")
            await type_in(pilot, "-86.2")
            await type_in(pilot, "48 53 62 72 79 86 90 89 83 73 61 x")
            assert "is not accepted" in screen_text(app)
            await type_in(pilot, "48 53 62 72 79 86 90 89 83 73 61 51")
            await type_in(pilot, "28 31 38 46 56 64 68 66 59 47 38 31")
            await press(pilot, "0", "s")
            place = app.knowledge.places["my_town"]
            assert place.sources == ("common_practice",)
            assert (place.high_f[0], place.low_f[11]) == (48, 31)


class TestList:
    """What one has, sent and read in."""

    async def test_a_broken_file_is_named_and_the_rest_works(self) -> None:
        """It is left out; the list says so."""
        folder = local_entries_folder() / "weeds"
        folder.mkdir(parents=True)
        (folder / "henbit.yaml").write_text("id: henbit\nnuisance: 9\n", encoding="utf-8")
        (folder / "goosegrass.yaml").write_text("id: goosegrass\nnuisance: 1\n", encoding="utf-8")
        app = WeedkeyApp(local=local_entries_folder())
        async with app.run_test(size=(80, 40)) as pilot:
            await open_entries(pilot, app)
            assert "weed henbit: changes the shipped entry; left out: 1 problem" in screen_text(app)
            assert app.knowledge.weeds["goosegrass"].nuisance == 1
            await tap(pilot, "weed henbit")
            assert "outside the range" in screen_text(app)

    async def test_export_then_import_into_an_empty_folder(self, tmp_path: Path) -> None:
        """Preview first; then the same knowledge; undo takes it back."""
        folder = local_entries_folder() / "weeds"
        folder.mkdir(parents=True)
        (folder / "goosegrass.yaml").write_text("# mine\nid: goosegrass\nnuisance: 1\n", encoding="utf-8")
        sent = tmp_path / "sent.yaml"
        app = WeedkeyApp(local=local_entries_folder())
        async with app.run_test(size=(80, 40)) as pilot:
            await open_entries(pilot, app)
            await press(pilot, "7")
            app.screen.query_one(Input).value = str(sent)
            await press(pilot, "enter")
            assert "# mine" in sent.read_text(encoding="utf-8")
        other = tmp_path / "other"
        app = WeedkeyApp(local=other)
        async with app.run_test(size=(80, 40)) as pilot:
            await open_entries(pilot, app)
            await press(pilot, "6")
            app.screen.query_one(Input).value = str(sent)
            await press(pilot, "enter")
            assert "weed goosegrass: changes the shipped entry" in screen_text(app)
            assert not other.exists()
            await press(pilot, "1")
            assert app.knowledge.digest == load(local_entries_folder()).digest
            await press(pilot, "u")
            assert app.knowledge.digest == load().digest

    @pytest.mark.parametrize("name", ["/etc/hosts", "../x.yaml", "a/b.yaml", ".hidden", "~/x.yaml"])
    async def test_a_page_in_a_browser_reaches_no_other_folder(
        self, name: str, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        """Whoever sits at the other end names a file, never a folder."""
        folder = local_entries_folder() / "weeds"
        folder.mkdir(parents=True)
        (folder / "goosegrass.yaml").write_text("id: goosegrass\nnuisance: 1\n", encoding="utf-8")
        app = WeedkeyApp(local=local_entries_folder())
        async with app.run_test(size=(80, 40)) as pilot:
            monkeypatch.setenv("TEXTUAL_DRIVER", "a page")
            await open_entries(pilot, app)
            for key in ("7", "6"):
                await press(pilot, key)
                await type_in(pilot, name)
                assert isinstance(app.screen, FieldText)
                assert "without a folder" in " ".join(screen_text(app).split())
                await press(pilot, "escape")
            await press(pilot, "7")
            await type_in(pilot, "mine.yaml")
            assert (data_folder() / "sent/mine.yaml").is_file()

    async def test_remove_and_take_back(self) -> None:
        """An entry goes and comes."""
        folder = local_entries_folder() / "weeds"
        folder.mkdir(parents=True)
        (folder / "goosegrass.yaml").write_text("id: goosegrass\nnuisance: 1\n", encoding="utf-8")
        app = WeedkeyApp(local=local_entries_folder())
        async with app.run_test(size=(80, 40)) as pilot:
            await open_entries(pilot, app)
            await press(pilot, "a")
            await tap(pilot, "remove it")
            assert app.knowledge.weeds["goosegrass"].nuisance != 1
            await press(pilot, "u")
            assert app.knowledge.weeds["goosegrass"].nuisance == 1


async def test_the_row_under_the_cursor_stays_in_sight() -> None:
    """Arrows alone reach the last row of a page that is longer than the screen, and the row is seen."""
    app = new_app()
    async with app.run_test(size=(40, 20)) as pilot:
        await open_entries(pilot, app)
        await press(pilot, "4", "1")
        await pilot.press(*"goosegrass", "enter")
        await settle(pilot)
        await press(pilot, "1")
        await pilot.press(*"responses", "enter")
        await settle(pilot)
        await press(pilot, "2", "down", *["down"] * 9)
        rows = app.screen.query_one("#pick", Rows)
        body = app.screen.query_one("#body").region
        last = rows.rows[rows.highlighted or 0].words[:18]
        assert (rows.highlighted or 0) >= 8
        assert any(last in line for line in screen_text(app).splitlines()[body.y : body.bottom])
