"""Treatment regions that are kept between two runs: the same as fresh ones, and never used for another lawn."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from weedkey import kept_regions
from weedkey.control import decision_regions
from weedkey.errors import UnknownName
from weedkey.kept_regions import MOST_KEPT, regions_of_lawn
from weedkey.knowledge import load
from weedkey.knowledge.writing import edit_local
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Finding, Lawn, Measured, Zone
from weedkey.plan.situation import setting_for, settings_ahead

LAWN = Lawn("back", date(2026, 6, 3), "zoysiagrass", "home_lawn", (), place="murfreesboro_tn")
ZONE = Zone("edge", 260, (Finding({"goosegrass": 1.0}, 30),))


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    """The shipped knowledge."""
    return load()


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A user's folder of its own."""
    monkeypatch.setenv("WEEDKEY_HOME", str(tmp_path))
    return tmp_path / "cache" / "regions"


@pytest.fixture
def worked_out(monkeypatch: pytest.MonkeyPatch) -> list[Lawn]:
    """The lawns whose regions were worked out anew."""
    seen: list[Lawn] = []
    real = kept_regions._work_out

    def note(knowledge, lawn, zone, region):
        seen.append(lawn)
        return real(knowledge, lawn, zone, region)

    monkeypatch.setattr(kept_regions, "_work_out", note)
    return seen


def test_kept_regions_are_the_fresh_ones(knowledge: Knowledge, worked_out: list[Lawn]) -> None:
    """Weed by weed the same region from the file as from the control rules."""
    fresh = decision_regions(
        knowledge,
        setting_for(knowledge, LAWN, barriers=False),
        settings_ahead(knowledge, LAWN, None, LAWN.on, barriers=False)[::2],
    )
    first, second = regions_of_lawn(knowledge, LAWN), regions_of_lawn(knowledge, LAWN)
    assert dict(first) == dict(fresh) == dict(second)
    assert len(worked_out) == 1


def test_a_new_finding_or_name_does_not_ask_again(knowledge: Knowledge, worked_out: list[Lawn]) -> None:
    """What is found on the lawn is what the key is asked about; it changes no treatment."""
    regions_of_lawn(knowledge, LAWN, ZONE)
    regions_of_lawn(knowledge, replace(LAWN, name="front", zones=(ZONE,)), replace(ZONE, findings=()))
    assert len(worked_out) == 1


@pytest.mark.parametrize(
    ("lawn", "zone"),
    [
        (replace(LAWN, on=date(2026, 6, 4)), ZONE),
        (replace(LAWN, turf="bermudagrass"), ZONE),
        (replace(LAWN, site="school"), ZONE),
        (replace(LAWN, licensed=True), ZONE),
        (replace(LAWN, air_high_f=96.0), ZONE),
        (LAWN, replace(ZONE, under_trees=True)),
        (LAWN, replace(ZONE, measured=(Measured("soil_ph", 5.1),))),
        (LAWN, None),
    ],
)
def test_another_day_lawn_or_zone_is_worked_out_for_itself(
    knowledge: Knowledge, worked_out: list[Lawn], lawn: Lawn, zone: Zone | None
) -> None:
    """Everything that a gate may ask of the lawn makes a new file."""
    regions_of_lawn(knowledge, LAWN, ZONE)
    regions_of_lawn(knowledge, lawn, zone)
    assert len(worked_out) == 2


def test_a_region_that_was_typed_counts(knowledge: Knowledge, worked_out: list[Lawn]) -> None:
    """Without a place the region decides when weeds germinate and die."""
    bare = replace(LAWN, place=None)
    regions_of_lawn(knowledge, bare, region="gulf_coast")
    regions_of_lawn(knowledge, bare, region="northeast")
    assert len(worked_out) == 2


def test_own_entries_make_regions_of_their_own(worked_out: list[Lawn], tmp_path: Path) -> None:
    """A fact that the user overrides must not meet regions from before."""
    regions_of_lawn(load(), LAWN)
    edit_local("weed", "goosegrass", {"nuisance": 2}, tmp_path / "entries")
    regions_of_lawn(load(tmp_path / "entries"), LAWN)
    edit_local("weed", "goosegrass", {"nuisance": 1}, tmp_path / "entries")
    regions_of_lawn(load(tmp_path / "entries"), LAWN)
    assert len(worked_out) == 3


@pytest.mark.parametrize("text", ["", "{", "[]", '{"regions": [], "weeds": {}}', '{"regions": [1], "weeds": {"a": 0}}'])
def test_a_damaged_file_is_worked_out_again(
    knowledge: Knowledge, worked_out: list[Lawn], home: Path, text: str
) -> None:
    """Half a file, another file, or the weeds of an older list are never believed."""
    regions_of_lawn(knowledge, LAWN)
    next(home.glob("*.json")).write_text(text, encoding="utf-8")
    regions_of_lawn(knowledge, LAWN)
    regions_of_lawn(knowledge, LAWN)
    assert len(worked_out) == 2


def test_a_folder_that_cannot_be_written_keeps_nothing(knowledge: Knowledge, home: Path) -> None:
    """The answer comes all the same."""
    home.parent.mkdir(parents=True)
    home.write_text("a file where the folder should be", encoding="utf-8")
    assert set(regions_of_lawn(knowledge, LAWN)) == set(knowledge.weeds)


def test_the_oldest_file_goes_first(knowledge: Knowledge, home: Path) -> None:
    """The folder does not grow without end."""
    home.mkdir(parents=True)
    for number in range(MOST_KEPT + 5):
        (home / f"{number}.json").write_text("{}", encoding="utf-8")
    regions_of_lawn(knowledge, LAWN)
    assert len(list(home.glob("*.json"))) == MOST_KEPT


def test_an_unknown_turf_is_named(knowledge: Knowledge) -> None:
    """As in the control rules themselves."""
    with pytest.raises(UnknownName, match="turf"):
        regions_of_lawn(knowledge, replace(LAWN, turf="astroturf"))
