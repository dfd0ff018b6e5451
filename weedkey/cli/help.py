"""``weedkey help [COMMAND]``: the manual of a command, or of the whole program with its files and surroundings."""

from __future__ import annotations

import argparse

from weedkey.cli.arguments import add_output
from weedkey.cli.exit_codes import ExitCode
from weedkey.errors import UnknownName, UsageError

_ENVIRONMENT = (
    ("NO_COLOR", "no colour anywhere; the screens take the terminal's own"),
    ("TERM=dumb", "numbered questions instead of screens"),
    ("SSH_CONNECTION", "the screens spare colours and moving parts over a remote line"),
    ("WEEDKEY_HOME", "walks, settings and own entries in this folder instead of the platform's"),
    ("WEEDKEY_…", "every setting: WEEDKEY_THEME, WEEDKEY_PLACE … (weedkey config --explain)"),
)


def configure(parser: argparse.ArgumentParser) -> None:
    """Arguments of ``weedkey help``."""
    parser.add_argument("about", nargs="?", metavar="COMMAND", help="a command; without one, the whole program")
    parser.epilog = "examples:\n  weedkey help\n  weedkey help plan"
    add_output(parser)


def execute(args: argparse.Namespace) -> int:
    """Print the manual. Raises UnknownName with the nearest commands."""
    from weedkey.cli.main import COMMANDS, build_parser

    if args.about is None:
        parser = build_parser()
        text = f"{parser.format_help().rstrip()}\n\n{_surroundings()}\n\n{_files()}\n"
    else:
        name = args.about.strip().lower()
        if name not in COMMANDS:
            raise UnknownName("command", args.about, _nearest(name, list(COMMANDS)))
        text = command_parser(name).format_help()
    if args.json:
        from weedkey.cli.opening import print_json

        print_json({"about": args.about, "text": text})
    else:
        print(text, end="")
    return ExitCode.OK


def command_parser(name: str) -> argparse.ArgumentParser:
    """The parser of one command. Raises UsageError for a name that is none."""
    from weedkey.cli.main import build_parser

    parser = build_parser(name)
    commands = next(action for action in parser._actions if isinstance(action, argparse._SubParsersAction))  # noqa: SLF001
    found: argparse.ArgumentParser | None = commands.choices.get(name)
    if found is None:
        raise UsageError(f"there is no command {name!r}")
    return found


def _nearest(name: str, names: list[str]) -> list[str]:
    from difflib import get_close_matches

    return get_close_matches(name, names, 3) or names


def _surroundings() -> str:
    rows = "\n".join(f"  {name:16} {words}" for name, words in _ENVIRONMENT)
    return f"environment:\n{rows}"


def _files() -> str:
    from weedkey.config import config_path
    from weedkey.storage import local_entries_folder, walks_folder

    rows = (
        (config_path(), "the settings"),
        (walks_folder(), "the walks, a folder each"),
        (local_entries_folder(), "your own entries"),
    )
    return "files:\n" + "\n".join(f"  {path}\n      {words}" for path, words in rows)
