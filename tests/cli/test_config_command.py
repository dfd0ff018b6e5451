"""The settings: a flag beats the environment, the environment beats the file; what is wrong is named with its line."""

from __future__ import annotations

from pathlib import Path

import pytest
from command_cases import Run

from weedkey.config import KEYS, changed_text, find_key, read_config, template_text
from weedkey.errors import ConfigError, UsageError


@pytest.fixture
def file(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """The file of settings in the test's own home."""
    monkeypatch.setenv("WEEDKEY_HOME", str(tmp_path / "home"))
    path = tmp_path / "home" / "config" / "config.toml"
    path.parent.mkdir(parents=True)
    return path


def test_flag_beats_environment_beats_file_beats_default(file: Path) -> None:
    """Four origins of one value, each named."""
    assert read_config({}).values["theme"].origin == "default"
    file.write_text('# mine\ntheme = "light"\n', encoding="utf-8")
    assert read_config({}).text("theme") == "light"
    assert read_config({}).values["theme"].origin == f"{file}:2"
    surroundings = {"WEEDKEY_THEME": "contrast"}
    assert read_config(surroundings).text("theme") == "contrast"
    assert read_config(surroundings, {"theme": "dark"}).values["theme"].origin == "flag --theme"


def test_every_problem_is_listed_with_its_line_and_what_was_expected(file: Path) -> None:
    """A key that does not exist, a wrong word, a word for a yes or no, a heading, a wrong variable."""
    file.write_text(
        'colour = "x"\ntheme = "pink"\nmouse = "no"\nplain = 1\n[drawings]\nshow = true\n', encoding="utf-8"
    )
    with pytest.raises(ConfigError) as caught:
        read_config({"WEEDKEY_MOUSE": "maybe"})
    text = str(caught.value)
    for said in (
        f"{file}:1",
        "there is no setting 'colour'",
        f"{file}:2",
        "one of auto, dark, light",
        f"{file}:3",
        "true or false",
        f"{file}:4",
        f"{file}:5",
        "WEEDKEY_MOUSE",
        "6 problems",
    ):
        assert said in text, said


def test_a_line_that_cannot_be_read_is_named(file: Path) -> None:
    """A text without quotes is the usual slip; the message shows how to write it."""
    file.write_text("# mine\n\ntheme = dark\n", encoding="utf-8")
    with pytest.raises(ConfigError, match=r"config\.toml:3: .*quotes"):
        read_config({})


def test_the_template_explains_every_key_and_sets_none(file: Path) -> None:
    """Written as it is, the template changes nothing."""
    file.write_text(template_text(), encoding="utf-8")
    assert {chosen.origin for chosen in read_config({}).values.values()} == {"default"}
    assert all(f"#{key.name} = " in template_text() and key.variable in template_text() for key in KEYS)


@pytest.mark.parametrize("key", KEYS, ids=lambda key: key.name)
def test_setting_and_unsetting_keep_every_other_line(file: Path, key: object) -> None:
    """One line changes; set, read, unset gives the template back."""
    row = find_key(key.name)  # type: ignore[attr-defined]
    value = (not row.default) if isinstance(row.default, bool) else (row.words[-1] if row.words else 'a "b" \\ c')
    before = template_text().splitlines()
    after = changed_text(template_text(), row, value).splitlines()
    assert sum(one != two for one, two in zip(before, after, strict=True)) == 1
    file.write_text("\n".join(after) + "\n", encoding="utf-8")
    assert read_config({}).values[row.name].value == value
    again = changed_text("\n".join(after) + "\n", row, None)
    file.write_text(again, encoding="utf-8")
    assert read_config({}).values[row.name].origin == "default"


def test_a_comment_behind_a_value_stays() -> None:
    """What the user wrote beside a value is the user's."""
    text = 'theme = "dark"   # on the bright tablet: light # or so\n# end\n'
    assert changed_text(text, find_key("theme"), "light") == text.replace('"dark"', '"light"')


def test_the_command_sets_shows_and_refuses(run: Run, tmp_path: Path) -> None:
    """One setting is set and shown with its origin; what is not accepted is said and nothing is written."""
    assert run("config", "theme", "pink").code == 2
    assert not (tmp_path / "home" / "config").exists()
    assert run("config", "theme", "light").code == 0
    assert run("config", "theme", "--json").json["settings"]["theme"]["value"] == "light"
    assert run("config", "place", "murfreesborro").code == 2
    assert run("config", "place", "murfreesboro").code == 0
    assert "murfreesboro_tn" in run("config").out
    assert run("config", "theme", "--unset").code == 0
    assert run("config", "theme", "--json").json["settings"]["theme"]["from"] == "default"
    assert "did" not in run("config", "--explain").err
    assert run("config", "nothing").code == 2


def test_a_usual_place_and_licence_are_filled_in(run: Run) -> None:
    """What the settings hold need not be typed; what is typed stands above them."""
    words = ("choices", "goosegrass", "--turf", "bermudagrass", "--month", "6", "--json")
    bare = run(*words).json
    run("config", "place", "Macon")
    assert run(*words).json == run(*words, "--place", "Macon").json
    assert run(*words).json != bare
    run("config", "licensed", "yes")
    typed = run(*words, "--licensed", "no").json
    assert typed != run(*words).json


def test_broken_settings_stop_a_command_and_say_where(run: Run, tmp_path: Path) -> None:
    """Exit code 2; ``weedkey config`` itself can still mend the line."""
    file = tmp_path / "home" / "config" / "config.toml"
    file.parent.mkdir(parents=True)
    file.write_text('theme = "pink"\n', encoding="utf-8")
    done = run("turf", "zoysiagrass", "--month", "6")
    assert done.code == 2
    assert "config.toml:1" in done.err
    assert run("config", "theme", "dark").code == 0
    assert run("turf", "zoysiagrass", "--month", "6").code == 0


def test_a_setting_that_does_not_exist_lists_those_that_do() -> None:
    """The names are in the message."""
    with pytest.raises(UsageError, match="drawing_size"):
        find_key("colours")


def test_the_user_guide_names_every_setting() -> None:
    """With its variable; a new setting cannot be forgotten there."""
    guide = (Path(__file__).resolve().parents[2] / "docs" / "user-guide.md").read_text(encoding="utf-8")
    for key in KEYS:
        assert f"| `{key.name}` |" in guide, key.name
        assert f"`{key.variable}`" in guide, key.variable
        assert all(word in guide for word in key.words)
