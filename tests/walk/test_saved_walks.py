"""Several lawns: list, search, duplicate, archive, treatments over the years, photos as paths, a zip there and back."""

from __future__ import annotations

import stat
from dataclasses import replace
from datetime import date, timedelta
from functools import cache
from pathlib import Path
from zipfile import ZipFile, ZipInfo

import pytest

from weedkey.control import list_choices
from weedkey.errors import UnknownName, UsageError, WalkError
from weedkey.key import Context
from weedkey.knowledge import load
from weedkey.knowledge.lawn_file import lawn_file_issues, read_lawn
from weedkey.knowledge.locate import shipped_folder
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Lawn, PastApplication
from weedkey.plan.limits import share_limits
from weedkey.plan.planner import make_plan
from weedkey.plan.situation import setting_for
from weedkey.report.application_text import application_record
from weedkey.report.plan_text import operator_text, owner_text
from weedkey.report.style import Style
from weedkey.storage import list_visits
from weedkey.visit import UNNAMED_LAWN, Visit, resume_visit, start_visit
from weedkey.walks.changing import archive_walk, bring_back, duplicate_walk, lawn_today
from weedkey.walks.history import note_application, with_history
from weedkey.walks.listing import find_walk, read_walks, search_walks
from weedkey.walks.photos import add_photo, drop_photo, photos_of, with_absolute_photos
from weedkey.walks.zipping import bring_in, look_into_zip, write_zip

TODAY = date(2026, 11, 2)


@cache
def knowledge() -> Knowledge:
    """The shipped knowledge."""
    return load()


@cache
def demo(name: str) -> Lawn:
    """A demo lawn."""
    return read_lawn(shipped_folder() / "demo" / f"{name}.yaml", knowledge())


@pytest.fixture(autouse=True)
def own_home(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """Walks in a folder of the test."""
    monkeypatch.setenv("WEEDKEY_HOME", str(tmp_path / "home"))
    return tmp_path / "home"


@pytest.fixture
def two_walks() -> tuple[Visit, Visit]:
    """A zoysiagrass rental in Tennessee and a centipedegrass lawn in Texas."""
    return start_visit(demo("tennessee_zoysiagrass")), start_visit(demo("gulf_centipedegrass"))


class TestList:
    """What is saved, and the search in it."""

    @pytest.mark.usefixtures("two_walks")
    def test_each_walk_says_day_lawn_turf_place_and_number_of_weeds(self) -> None:
        """Read from the lawn file itself, not from the folder's name."""
        rows = {walk.lawn.turf: walk for walk in read_walks(knowledge()) if walk.lawn}
        assert rows["zoysiagrass"].findings == 7
        assert rows["zoysiagrass"].lawn.on == date(2026, 6, 3)  # type: ignore[union-attr]
        assert rows["centipedegrass"].lawn.place == "houston_tx"  # type: ignore[union-attr]

    @pytest.mark.parametrize(
        "text",
        [
            "rental",
            "Zoysia",
            "Murfreesboro",
            "murfresboro",
            "nutsedge june",
            "yelow nutsege",
            "Eleusine indica",
            "goose grass",
            "gosegrass",
            "downspout",
            "3 June 2026",
            "2026-06",
        ],
    )
    @pytest.mark.usefixtures("two_walks")
    def test_any_word_finds_the_walk_and_only_that(self, text: str) -> None:
        """Lawn, turf, place, zone, day, weeds by common or scientific name; slips of the finger are allowed."""
        found = search_walks(knowledge(), read_walks(knowledge()), text)
        assert [walk.lawn.turf for walk in found if walk.lawn] == ["zoysiagrass"]

    @pytest.mark.usefixtures("two_walks")
    def test_what_no_walk_holds_finds_nothing(self) -> None:
        """Every word must be held by the same walk."""
        for text in ("kelp", "zoysiagrass Houston", "1999"):
            assert search_walks(knowledge(), read_walks(knowledge()), text) == []

    def test_a_lawn_that_cannot_be_read_stays_in_the_list(self, two_walks: tuple[Visit, Visit]) -> None:
        """With file and line of what is wrong; the others are not hidden by it."""
        (two_walks[0].folder / "lawn.yaml").write_text("name: a\nturf: moon\n", encoding="utf-8")
        walks = read_walks(knowledge())
        assert len(walks) == 2
        (broken,) = [walk for walk in walks if walk.lawn is None]
        assert "lawn.yaml:" in broken.problem

    @pytest.mark.usefixtures("two_walks")
    def test_a_walk_is_found_by_folder_or_lawn_and_else_the_nearest_are_named(self) -> None:
        """Two walks of one lawn are told apart by their folders."""
        walks = read_walks(knowledge())
        assert find_walk(walks, "valley rental zoysiagrass").findings == 7
        with pytest.raises(UnknownName, match="gulf-coast"):
            find_walk(walks, "atlantis")


class TestChange:
    """Duplicate, archive, bring back, undo."""

    def test_an_archived_walk_is_out_of_the_list_and_whole(self, two_walks: tuple[Visit, Visit]) -> None:
        """Nothing is deleted; brought back it is in the list again."""
        folder = two_walks[0].folder
        before = (folder / "lawn.yaml").read_bytes()
        archive_walk(folder, TODAY)
        assert folder not in list_visits()
        assert [walk.folder for walk in read_walks(knowledge(), archived=True)] == [folder]
        assert (folder / "lawn.yaml").read_bytes() == before
        bring_back(folder)
        assert folder in list_visits()
        assert [walk.folder for walk in read_walks(knowledge(), archived=True)] == []

    def test_a_new_walk_of_the_lawn_keeps_the_setting_and_drops_the_day(self, two_walks: tuple[Visit, Visit]) -> None:
        """Zones, trees, measurements (with their day) stay; weather, weeds and estimated cover go."""
        old = demo("tennessee_zoysiagrass")
        made = duplicate_walk(two_walks[0].folder, knowledge(), TODAY, keep_weeds=False).lawn
        assert (made.on, made.turf, made.place, made.trees) == (TODAY, old.turf, old.place, old.trees)
        assert [zone.name for zone in made.zones] == [zone.name for zone in old.zones]
        assert not any(zone.findings or zone.turf_cover_percent for zone in made.zones)
        probe = next(zone for zone in made.zones if zone.name == "drive edge").measured[0]
        assert probe.on == old.on
        assert made.stand_age_years == pytest.approx(14 + 152 / 365.25, abs=0.01)

    def test_weeds_are_kept_by_choice(self, two_walks: tuple[Visit, Visit]) -> None:
        """The old walk is not touched by the new one."""
        before = (two_walks[0].folder / "lawn.yaml").read_bytes()
        made = duplicate_walk(two_walks[0].folder, knowledge(), TODAY, keep_weeds=True)
        assert sum(len(zone.findings) for zone in made.lawn.zones) == 7
        assert made.folder != two_walks[0].folder
        assert (two_walks[0].folder / "lawn.yaml").read_bytes() == before

    def test_a_change_is_taken_back_on_disk_as_well(self, two_walks: tuple[Visit, Visit]) -> None:
        """Undo of the lawn: the file is what it was."""
        visit = two_walks[0]
        before = (visit.folder / "lawn.yaml").read_bytes()
        visit.replace_finding("drive edge", 0, None)
        assert (visit.folder / "lawn.yaml").read_bytes() != before
        assert visit.undo_change() is not None
        assert (visit.folder / "lawn.yaml").read_bytes() == before
        assert visit.undo_change() is None


class TestTreatments:
    """What was put on in earlier walks counts in later ones."""

    @staticmethod
    def put_on(lawn: Lawn, *rows: PastApplication) -> Visit:
        """A saved walk in which applications were written down."""
        visit = start_visit(lawn)
        for row in rows:
            note_application(visit, row, application_record(knowledge(), visit.lawn, row))
        return visit

    def gates(self, lawn: Lawn, weed: str, control: str) -> dict[str, str]:
        """Gate -> state of one control."""
        choices = list_choices(knowledge(), weed, setting_for(knowledge(), lawn))
        return {row.gate: row.state for choice in choices if choice.control == control for row in choice.gates}

    def test_two_applications_in_two_walks_use_up_a_yearly_maximum_of_two(self) -> None:
        """Atrazine: two applications a year (lawn labels, from memory in the entry): the third stays shut."""
        lawn = demo("gulf_centipedegrass")
        self.put_on(replace(lawn, on=date(2026, 1, 10)), PastApplication(date(2026, 1, 10), "atrazine"))
        self.put_on(replace(lawn, on=date(2026, 3, 1)), PastApplication(date(2026, 3, 1), "atrazine"))
        now = lawn_today(lawn, date(2026, 5, 14), keep_weeds=True)
        assert self.gates(now, "large_crabgrass", "atrazine").get("yearly_maximum") != "shut"
        assert self.gates(with_history(knowledge(), now), "large_crabgrass", "atrazine")["yearly_maximum"] == "shut"
        limits = share_limits(knowledge(), with_history(knowledge(), now), {"atrazine"}, now.on)
        assert limits.yearly["atrazine"] == 0
        plan = make_plan(knowledge(), with_history(knowledge(), now))
        late = [v.first for v in plan.visits for a in v.actions if a.control.startswith("atrazine")]
        assert all(day > date(2027, 1, 10) for day in late)

    def test_the_class_of_last_year_is_not_used_again_on_a_weed_that_resists_it(self) -> None:
        """Annual bluegrass resists photosystem II inhibitors (its rows say so): last year's atrazine shuts simazine."""
        lawn = replace(demo("gulf_centipedegrass"), on=date(2026, 11, 20))
        last_year = lawn.on - timedelta(days=370)
        self.put_on(replace(lawn, on=last_year), PastApplication(last_year, "atrazine"))
        assert self.gates(lawn, "annual_bluegrass", "simazine")["class_rotation"] == "open"
        assert self.gates(with_history(knowledge(), lawn), "annual_bluegrass", "simazine")["class_rotation"] == "shut"

    def test_only_walks_of_the_same_lawn_count_and_each_application_once(self) -> None:
        """Same name and place in any spelling; another lawn, or one without a name, never; archived walks still do."""
        lawn = demo("gulf_centipedegrass")
        row = PastApplication(date(2026, 3, 1), "atrazine")
        visit = self.put_on(replace(lawn, name="gulf coast CENTIPEDEGRASS"), row)
        self.put_on(replace(lawn, name="the neighbour's"), PastApplication(date(2026, 2, 1), "simazine"))
        self.put_on(replace(lawn, name=UNNAMED_LAWN), PastApplication(date(2026, 2, 2), "simazine"))
        archive_walk(visit.folder, TODAY)
        assert with_history(knowledge(), lawn).history == (row,)
        assert with_history(knowledge(), replace(lawn, history=(row,))).history == (row,)
        assert with_history(knowledge(), replace(lawn, name=UNNAMED_LAWN)).history == ()

    def test_a_record_is_written_beside_the_lawn_and_says_what_is_still_open(self) -> None:
        """The day, the control, the area; what only a person knows stays a line to fill in."""
        lawn = demo("tennessee_zoysiagrass")
        visit = self.put_on(lawn, PastApplication(date(2026, 6, 10), "sulfentrazone", ("downspout",), 0.5, "fl oz"))
        (record,) = (visit.folder / "records").iterdir()
        text = record.read_text(encoding="utf-8")
        for said in (
            "10 June 2026",
            "sulfentrazone",
            "120 sq ft",
            "yellow nutsedge",
            "product name on the label: ____",
        ):
            assert said in text, said
        again = resume_visit(visit.folder, knowledge())
        assert again.lawn.history == visit.lawn.history != ()

    def test_what_cannot_be_written_down_is_refused(self) -> None:
        """A zone that is not there; the same application twice."""
        visit = start_visit(demo("tennessee_zoysiagrass"))
        row = PastApplication(date(2026, 6, 10), "sulfentrazone", ("moon",))
        with pytest.raises(UsageError, match="downspout"):
            note_application(visit, row, "")
        note_application(visit, replace(row, zones=()), "")
        with pytest.raises(UsageError, match="already"):
            note_application(visit, replace(row, zones=()), "")


class TestPhotos:
    """Paths only."""

    def test_a_photo_is_noted_named_in_the_sheets_and_forgotten(self, tmp_path: Path) -> None:
        """Operator's and owner's sheet and record name it; the file itself is never opened (it cannot even be read)."""
        photo = tmp_path / "edge one.jpg"
        photo.write_bytes(b"not read")
        photo.chmod(0)
        visit = start_visit(demo("tennessee_zoysiagrass"))
        add_photo(visit, "drive edge", 0, str(photo))
        add_photo(visit, "drive edge", None, str(photo))
        again = resume_visit(visit.folder, knowledge())
        assert [row.is_there for row in photos_of(again.lawn, again.folder)] == [True, True]
        plan = make_plan(knowledge(), again.lawn)
        for text in (operator_text(knowledge(), plan, Style()), owner_text(knowledge(), plan, Style())):
            assert "edge one.jpg" in " ".join(text.split())
        row = PastApplication(date(2026, 6, 10), "sulfentrazone", ("drive edge",))
        assert "edge one.jpg" in " ".join(application_record(knowledge(), again.lawn, row).split())
        drop_photo(again, next(photos_of(again.lawn, again.folder)))
        assert len(list(photos_of(again.lawn, again.folder))) == 1
        assert photo.exists()

    def test_a_photo_that_is_not_there_is_refused_and_one_that_went_is_named_by_the_check(self, tmp_path: Path) -> None:
        """Typed: refused at once. In a file: a warning with its line."""
        visit = start_visit(demo("tennessee_zoysiagrass"))
        with pytest.raises(UsageError, match="no such file"):
            add_photo(visit, "drive edge", 0, str(tmp_path / "none.jpg"))
        photo = tmp_path / "a.jpg"
        photo.touch()
        add_photo(visit, "drive edge", 0, str(photo))
        file = visit.folder / "lawn.yaml"
        assert [issue for issue in lawn_file_issues(file, knowledge()) if issue.check == "lawn-photo"] == []
        photo.unlink()
        (issue,) = [issue for issue in lawn_file_issues(file, knowledge()) if issue.check == "lawn-photo"]
        assert issue.severity == "warning"
        assert "a.jpg" in issue.wrong

    def test_a_relative_path_is_meant_from_the_folder_of_the_lawn_file(self, tmp_path: Path) -> None:
        """A lawn taken into the walks keeps finding its photos."""
        (tmp_path / "pictures").mkdir()
        (tmp_path / "pictures" / "a.jpg").touch()
        lawn = demo("tennessee_zoysiagrass")
        zone = replace(lawn.zones[0], photos=("pictures/a.jpg",))
        moved = with_absolute_photos(replace(lawn, zones=(zone, *lawn.zones[1:])), tmp_path)
        visit = start_visit(moved)
        assert [row.is_there for row in photos_of(visit.lawn, visit.folder)] == [True]


class TestZip:
    """Plain files there and back; nothing outside is touched."""

    def test_out_and_in_again_is_the_same(self, two_walks: tuple[Visit, Visit], tmp_path: Path) -> None:
        """Lawn, journal, record, byte by byte; a note says what the files are."""
        visit = two_walks[0]
        naming = visit.start_naming("drive edge", Context(6))
        row = PastApplication(date(2026, 6, 10), "sulfentrazone")
        note_application(visit, row, application_record(knowledge(), visit.lawn, row))
        assert naming.path is not None
        target = tmp_path / "all.zip"
        assert write_zip(target, list_visits(), knowledge()) == ()
        with ZipFile(target) as archive:
            assert "lawn.yaml" in archive.read("README.txt").decode()
            names = set(archive.namelist())
        assert f"{visit.folder.name}/naming-1.jsonl" in names
        assert f"{visit.folder.name}/records/2026-06-10-sulfentrazone.txt" in names
        other = tmp_path / "other"
        preview = look_into_zip(target, knowledge(), other)
        assert len(preview.wanted) == 2
        assert not other.exists()
        bring_in(target, knowledge(), other)
        for folder in list_visits():
            files = {file.relative_to(folder): file.read_bytes() for file in folder.rglob("*") if file.is_file()}
            there = other / folder.name
            assert {f.relative_to(there): f.read_bytes() for f in there.rglob("*") if f.is_file()} == files
        again = look_into_zip(target, knowledge(), other)
        assert again.wanted == ()
        assert [walk.problem for walk in again.walks] == ["", ""]

    def test_a_walk_that_is_here_is_never_overwritten(self, two_walks: tuple[Visit, Visit], tmp_path: Path) -> None:
        """Changed since, it comes in beside the other under another name."""
        target = tmp_path / "all.zip"
        write_zip(target, [two_walks[0].folder], knowledge())
        with pytest.raises(UsageError, match="exists already"):
            write_zip(target, [two_walks[0].folder], knowledge())
        two_walks[0].replace_finding("drive edge", 0, None)
        now = (two_walks[0].folder / "lawn.yaml").read_bytes()
        _, made = bring_in(target, knowledge())
        assert [folder.name for folder in made] == [f"{two_walks[0].folder.name}-2"]
        assert (two_walks[0].folder / "lawn.yaml").read_bytes() == now

    def test_photos_come_along_only_if_asked(self, two_walks: tuple[Visit, Visit], tmp_path: Path) -> None:
        """Then they lie beside the lawn, which names them there; one that is missing is said."""
        photo = tmp_path / "edge one.jpg"
        photo.write_bytes(b"jpeg")
        gone = tmp_path / "gone.jpg"
        gone.touch()
        visit = two_walks[0]
        add_photo(visit, "drive edge", 0, str(photo))
        add_photo(visit, "drive edge", None, str(gone))
        gone.unlink()
        write_zip(tmp_path / "without.zip", [visit.folder], knowledge())
        with ZipFile(tmp_path / "without.zip") as archive:
            assert not any("photos/" in name for name in archive.namelist())
        left = write_zip(tmp_path / "with.zip", [visit.folder], knowledge(), photos=True)
        assert left == (f"{visit.folder.name}: {gone} is not there",)
        _, (folder,) = bring_in(tmp_path / "with.zip", knowledge(), tmp_path / "other")
        lawn = read_lawn(folder / "lawn.yaml", knowledge())
        found = {row.text: row.is_there for row in photos_of(lawn, folder)}
        assert found == {"photos/001-edge_one.jpg": True, str(gone): False}
        assert (folder / "photos" / "001-edge_one.jpg").read_bytes() == b"jpeg"

    @pytest.mark.parametrize(
        "name",
        [
            "../../evil/lawn.yaml",
            "/etc/evil/lawn.yaml",
            "walk/../../evil/lawn.yaml",
            "..\\evil\\lawn.yaml",
            "C:/evil/lawn.yaml",
            "walk/run.sh",
            "walk/records/../../x.txt",
            ".hidden/lawn.yaml",
            "lawn.yaml",
            "walk/photos/a.exe",
            "walk/photos/deep/a.jpg",
        ],
    )
    def test_a_path_that_climbs_or_does_not_belong_is_refused(self, tmp_path: Path, name: str) -> None:
        """Named with the reason; nothing is written anywhere."""
        bad = tmp_path / "bad.zip"
        with ZipFile(bad, "w") as archive:
            archive.writestr(name, "x")
        before = sorted(tmp_path.rglob("*"))
        preview, made = bring_in(bad, knowledge(), tmp_path / "inside" / "walks")
        assert made == ()
        assert preview.wanted == ()
        assert len(preview.refused) == 1
        assert sorted(tmp_path.rglob("*")) == before

    def test_links_bombs_and_broken_lawns_are_refused(self, tmp_path: Path) -> None:
        """A link, a file of many MB of nothing, a lawn of an unknown turf, no lawn at all, no zip at all."""
        bad = tmp_path / "bad.zip"
        link = ZipInfo("one/lawn.yaml")
        link.external_attr = (stat.S_IFLNK | 0o777) << 16
        with ZipFile(bad, "w", 8) as archive:
            archive.writestr(link, "/etc/passwd")
            archive.writestr("two/lawn.yaml", "x" * (5 << 20))
            archive.writestr("three/lawn.yaml", "name: a\ndate: '2026-06-03'\nturf: moon\nsite: home_lawn\nzones: []\n")
            archive.writestr("four/zone.txt", "x")
        preview, made = bring_in(bad, knowledge(), tmp_path / "walks")
        assert made == ()
        assert {name for name, _ in preview.refused} == {"one/lawn.yaml", "two/lawn.yaml"}
        problems = {walk.name: walk.problem for walk in preview.walks}
        assert "three/lawn.yaml:" in problems["three"]
        assert "no lawn.yaml" in problems["four"]
        (tmp_path / "text.zip").write_text("no zip", encoding="utf-8")
        with pytest.raises(UsageError, match="zip"):
            look_into_zip(tmp_path / "text.zip", knowledge())

    @pytest.mark.usefixtures("two_walks")
    def test_a_walk_that_cannot_be_written_leaves_nothing_half(self, tmp_path: Path) -> None:
        """The folder of walks is a file here: the error is said, no part is left."""
        target = tmp_path / "all.zip"
        write_zip(target, list_visits(), knowledge())
        (tmp_path / "file").touch()
        with pytest.raises((WalkError, OSError)):
            bring_in(target, knowledge(), tmp_path / "file")
