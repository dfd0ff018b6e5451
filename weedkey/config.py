"""The settings of the program: a flag beats the environment, the environment beats the file, the file the default.

The file is ``config.toml`` in the platform's folder for settings (``WEEDKEY_HOME/config`` if that is set). It is read
with the standard library only, and a value is set by changing its one line, so that every comment stays.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from weedkey.errors import ConfigError, Issue, UsageError, Where
from weedkey.storage import config_folder, write_atomic

CONFIG_FILE = "config.toml"
_PREFIX = "WEEDKEY_"
_YES, _NO = ("true", "yes", "on", "1"), ("false", "no", "off", "0")
_LINE = re.compile(r"^\s*(?P<off>#\s?)?(?P<key>[A-Za-z_][\w-]*)\s*=\s*(?P<value>.*)$")
_TAIL = re.compile(r'^(?:"(?:\\.|[^"\\])*"|\'[^\']*\'|[^#]*?)(?P<tail>\s+#.*)?$')

Value = str | bool


@dataclass(frozen=True, slots=True)
class Key:
    """One setting. ``words``: what a text may be (empty: any text); a bool default makes it a yes or no."""

    name: str
    default: Value
    help: str
    words: tuple[str, ...] = ()
    flag: str = ""

    @property
    def variable(self) -> str:
        """The variable of the environment that stands above the file."""
        return _PREFIX + self.name.upper()

    @property
    def expected(self) -> str:
        """What is accepted, in words."""
        if isinstance(self.default, bool):
            return "true or false"
        return "one of " + ", ".join(self.words) if self.words else "text in quotes"


KEYS = (
    Key(
        "theme",
        "auto",
        "Colours of the screens. auto: dark; over a slow line and where NO_COLOR is set, the terminal's own colours."
        " T in the screens goes through them and writes the choice here.",
        ("auto", "dark", "light", "contrast", "terminal-dark", "terminal-light"),
        "--theme",
    ),
    Key(
        "mouse",
        True,
        "Taps and clicks choose rows. false leaves the mouse to the terminal, so that its own selection works"
        " (a browser ignores this).",
        flag="--no-mouse",
    ),
    Key(
        "animations",
        "auto",
        "Moving parts of the screens. auto: off over a remote line (SSH_CONNECTION), on elsewhere.",
        ("auto", "on", "off"),
    ),
    Key(
        "plain",
        False,
        "Numbered questions line by line instead of screens, and bare lines from every command.",
        flag="--plain",
    ),
    Key("place", "", "The place with your climate, if none is given: name or id, e.g. Murfreesboro.", flag="--place"),
    Key(
        "licensed",
        "ask",
        "Do you hold the applicator's licence of your state? ask leaves it open, and what hangs on it is asked.",
        ("ask", "yes", "no"),
        "--licensed",
    ),
    Key("local", "", "Folder with your own entries, instead of the platform's.", flag="--local"),
    Key(
        "drawings",
        "blocks",
        "Small drawings of the states of a look; the words always stand beside them. blocks stand in every font;"
        " braille is finer, is missing in some fonts and is noise for a screen reader.",
        ("blocks", "braille", "off"),
    ),
    Key(
        "drawing_size",
        "auto",
        "auto: 32 by 12 cells where there is room, else 16 by 6.",
        ("auto", "small", "large"),
    ),
)
_BY_NAME = {key.name: key for key in KEYS}


@dataclass(frozen=True, slots=True)
class Chosen:
    """A value and where it comes from: default, file:line, a variable, or a flag."""

    value: Value
    origin: str


@dataclass(frozen=True, slots=True)
class Config:
    """Every setting with its value; read once at the start."""

    path: Path
    values: Mapping[str, Chosen]

    def text(self, name: str) -> str:
        """The value of a text. Raises KeyError for a setting that does not exist."""
        return str(self.values[name].value)

    def flag(self, name: str) -> bool:
        """The value of a yes or no. Raises KeyError for a setting that does not exist."""
        return self.values[name].value is True


def config_path() -> Path:
    """Where the file is, or would be."""
    return config_folder() / CONFIG_FILE


def find_key(name: str) -> Key:
    """A setting by its name. Raises UsageError with the names that exist."""
    found = _BY_NAME.get(name.strip().lower().replace("-", "_"))
    if found is None:
        raise UsageError(f"there is no setting {name!r}", "one of " + ", ".join(_BY_NAME))
    return found


def read_config(
    environment: Mapping[str, str] | None = None, flags: Mapping[str, Value | None] | None = None
) -> Config:
    """All settings. ``flags``: name -> value typed on the command line, None if it was not typed.

    Raises ConfigError, which lists every problem of the file and of the environment.
    """
    path = config_path()
    surroundings = os.environ if environment is None else environment
    values = {key.name: Chosen(key.default, "default") for key in KEYS}
    issues: list[Issue] = []
    if path.is_file():
        values |= _from_text(_read_text(path), path, issues)
    for key in KEYS:
        text = surroundings.get(key.variable)
        if text is not None:
            value = _read_word(key, text)
            if value is None:
                issues.append(_wrong(Where(key.variable), key, text))
            else:
                values[key.name] = Chosen(value, f"environment {key.variable}")
    if issues:
        raise ConfigError(issues)
    for name, given in (flags or {}).items():
        if given is not None:
            values[name] = Chosen(given, f"flag {_BY_NAME[name].flag}")
    return Config(path, values)


def _read_text(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        issue = Issue("config-unreadable", "error", Where(str(path)), "the file cannot be read as UTF-8 text")
        raise ConfigError([issue]) from error


def _from_text(text: str, path: Path, issues: list[Issue]) -> dict[str, Chosen]:
    """The settings of the file; problems with their lines go to ``issues``."""
    import tomllib

    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        found = re.search(r"line (\d+)", str(error))
        line = int(found.group(1)) if found else None
        wrong = f"the line cannot be read ({error})"
        issues.append(
            Issue("config-syntax", "error", Where(str(path), line), wrong, "KEY = VALUE", 'a text in quotes: "dark"')
        )
        return {}
    lines = {name: number for number, name, is_off, _ in _rows(text) if not is_off}
    values: dict[str, Chosen] = {}
    for name, value in document.items():
        where = Where(str(path), lines.get(name) or _table_line(text, name))
        key = _BY_NAME.get(name)
        if key is None:
            wrong = f"there is no setting {name!r}"
            issues.append(Issue("config-key", "error", where, wrong, "one of " + ", ".join(_BY_NAME)))
        elif not _fits(key, value):
            issues.append(_wrong(where, key, value))
        else:
            values[name] = Chosen(value, f"{path}:{where.line}")
    return values


def _fits(key: Key, value: object) -> bool:
    if isinstance(key.default, bool) or isinstance(value, bool):
        return isinstance(key.default, bool) and isinstance(value, bool)
    return isinstance(value, str) and (not key.words or value in key.words)


def _wrong(where: Where, key: Key, value: object) -> Issue:
    write = f"{key.name} = {value_text(key.default)}"
    return Issue("config-value", "error", where, f"{value!r} is no value of {key.name}", key.expected, write)


def _read_word(key: Key, text: str) -> Value | None:
    """A value from the environment or the command line; None if it is not accepted."""
    word = text.strip()
    if isinstance(key.default, bool):
        return True if word.lower() in _YES else False if word.lower() in _NO else None
    if key.words:
        return word.lower() if word.lower() in key.words else None
    return word


def read_value(key: Key, text: str) -> Value:
    """A value as typed on the command line. Raises UsageError with what is accepted."""
    value = _read_word(key, text)
    if value is None:
        raise UsageError(f"{text!r} is no value of {key.name}", key.expected)
    return value


def value_text(value: Value) -> str:
    """A value as the file writes it."""
    if isinstance(value, bool):
        return "true" if value else "false"
    return '"' + value.replace("\\", "\\\\").replace('"', '\\"') + '"'


def template_text() -> str:
    """The file with every key explained and switched off."""
    lines = [
        "# Settings of weedkey. A line that begins with # is off: take the # away to use it.",
        "# A flag on the command line beats the environment, the environment beats this file.",
    ]
    for key in KEYS:
        lines += ["", *_comment(key.help), *_comment(f"{key.expected}; environment: {key.variable}")]
        lines.append(f"#{key.name} = {value_text(key.default)}")
    return "\n".join(lines) + "\n"


def _comment(text: str) -> list[str]:
    import textwrap

    return textwrap.wrap(text, 100, initial_indent="# ", subsequent_indent="# ")


def changed_text(text: str, key: Key, value: Value | None) -> str:
    """The text of the file with one value set, or with its line switched off (None); every other line as it was."""
    lines = text.splitlines()
    rows = [(is_off, number, rest) for number, name, is_off, rest in _rows(text) if name == key.name]
    if not rows:
        return "\n".join([*lines, *([] if value is None else [f"{key.name} = {value_text(value)}"])]) + "\n"
    is_off, number, rest = min(rows)  # a line that is on is changed before one that is off
    if value is not None:
        lines[number - 1] = f"{key.name} = {value_text(value)}{'' if is_off else _tail(rest)}"
    elif not is_off:
        lines[number - 1] = f"#{key.name} = {rest}"
    return "\n".join(lines) + "\n"


def set_value(name: str, value: Value | None) -> Path:
    """Write one setting (None: back to the default) into the file, which is made from the template if there is none.

    Raises UsageError for a name that does not exist and OSError if the file cannot be written.
    """
    key, path = find_key(name), config_path()
    text = _read_text(path) if path.is_file() else template_text()
    write_atomic(path, changed_text(text, key, value))
    return path


def _rows(text: str) -> Iterator[tuple[int, str, bool, str]]:
    """(line, name, switched off, what follows the equals sign) of every line that sets or could set a value."""
    for number, line in enumerate(text.splitlines(), 1):
        found = _LINE.match(line)
        if found and (not found["off"] or found["key"] in _BY_NAME):
            yield number, found["key"], bool(found["off"]), found["value"]


def _table_line(text: str, name: str) -> int | None:
    """The line of a [heading], which this file has no use for."""
    lines = text.splitlines()
    return next((number for number, line in enumerate(lines, 1) if line.strip().startswith(f"[{name}")), None)


def _tail(rest: str) -> str:
    """The comment behind a value, with the spaces before it."""
    found = _TAIL.match(rest)
    return (found["tail"] or "") if found else ""
