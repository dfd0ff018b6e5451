"""Entry point of ``weedkey``: finds the command, imports its module only, turns errors into exit codes."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from importlib import import_module
from typing import NoReturn, Protocol

from weedkey import __version__
from weedkey.cli.exit_codes import ExitCode
from weedkey.errors import WeedkeyError

#: Command -> (module, one line of help). The order is the order of the job.
COMMANDS: dict[str, tuple[str, str]] = {
    "name": ("weedkey.cli.name", "name a weed by what can be seen, and stop when its treatment is settled"),
    "weed": ("weedkey.cli.weed", "one weed: its marks, signs, look-alikes, responses and sources"),
    "compare": ("weedkey.cli.compare", "two or three weeds side by side: only what tells them apart"),
    "choices": (
        "weedkey.cli.choices",
        "what may be done about a weed on this turf, now and here, and why not",
    ),
    "turf": (
        "weedkey.cli.turf",
        "every control on one turf: safe, with care, injures, not labelled, not known",
    ),
    "ground": ("weedkey.cli.ground", "what the weeds of a lawn say about its ground"),
    "sign": ("weedkey.cli.sign", "the weeds that point to a condition of the ground, and who says so"),
    "lime": ("weedkey.cli.lime", "lime from a laboratory's figures, split by the published caps"),
    "plan": (
        "weedkey.cli.plan",
        "the dated plan of a lawn: verdicts, visits, the owner's sheet",
    ),
    "spot": ("weedkey.cli.spot", "will the turf close a bare spot of this size before it stops growing?"),
    "season": ("weedkey.cli.season", "the year of a place: temperatures, growth, frost, windows"),
    "traits": ("weedkey.cli.traits", "the looks and their states, with field cost"),
    "printed-key": (
        "weedkey.cli.printed_key",
        "a numbered key on paper that stops where the treatment is settled",
    ),
    "add": ("weedkey.cli.add", "add a weed, control or place of your own, or override a fact"),
    "entries": ("weedkey.cli.entries", "your own entries: list, compare, undo, remove, export, import"),
    "check": ("weedkey.cli.check", "check the knowledge, a local folder or a lawn file"),
    "walks": ("weedkey.cli.walks", "the saved walks: list, search, walk again, archive, treatments, photos, zip"),
    "demo": ("weedkey.cli.demo", "open, list, show or copy the demo lawns"),
    "config": ("weedkey.cli.config", "the settings: where they lie, what they are, where each comes from"),
    "serve": ("weedkey.cli.serve", "the screens in a browser, on this computer or on a phone nearby"),
    "completion": ("weedkey.cli.completion", "a completion script for bash, zsh or fish"),
    "help": ("weedkey.cli.help", "the manual of a command, or of the program with its files and surroundings"),
}

#: These work although the settings are broken, or because they are.
ASK_NO_SETTINGS = ("config", "completion", "help")

DESCRIPTION = "From the weeds that can be seen on a lawn to a plan that its grass survives."
EPILOG = (
    "Without a command the screens open; with --plain the same job as numbered questions, line by line.\n"
    "Try: weedkey plan demo:tennessee_zoysiagrass\n"
    "exit codes: 0 ok, 1 nothing found or problems, 2 usage, 3 knowledge unreadable, 130 interrupted"
)


class CommandModule(Protocol):
    """What each command's module offers."""

    def configure(self, parser: argparse.ArgumentParser) -> None:
        """Add the command's arguments."""

    def execute(self, args: argparse.Namespace) -> int:
        """Run the command and return the exit code."""


def command_module(command: str) -> CommandModule:
    """Import and return the module of a command. Raises KeyError for a command that does not exist."""
    module: CommandModule = import_module(COMMANDS[command][0])
    return module


def build_parser(command: str | None = None, *, every: bool = False) -> argparse.ArgumentParser:
    """The parser: all commands by name, arguments for ``command`` (or ``every`` one)."""
    parser = argparse.ArgumentParser(
        prog="weedkey",
        description=DESCRIPTION,
        epilog=EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--version", action="version", version=f"weedkey {__version__}")
    parser.add_argument("--plain", action="store_true", help="numbered questions on this line instead of screens")
    parser.add_argument("--local", metavar="DIR", help="folder with your own entries")
    parser.add_argument("--no-mouse", action="store_true", help="leave the mouse to the terminal (screens only)")
    parser.add_argument("--theme", metavar="NAME", help="colours of the screens; weedkey config --explain lists them")
    commands = parser.add_subparsers(dest="command", metavar="command", title="commands")
    for name, (_, summary) in COMMANDS.items():
        sub = commands.add_parser(
            name,
            help=summary,
            description=summary[0].upper() + summary[1:] + ".",
            formatter_class=argparse.RawDescriptionHelpFormatter,
        )
        if every or name == command:
            command_module(name).configure(sub)
            import_module("weedkey.cli.help_sections").finish_help(sub, name)
    return parser


def wanted_command(argv: Sequence[str]) -> str | None:
    """The first word that names a command, if there is one."""
    return next((word for word in argv if word in COMMANDS), None)


def main(argv: Sequence[str] | None = None) -> int:
    """Run the command line and return the exit code; errors go to standard error, data to standard output."""
    words = list(sys.argv[1:] if argv is None else argv)
    args = build_parser(wanted_command(words)).parse_args(words)
    try:
        if args.command not in ASK_NO_SETTINGS:
            import_module("weedkey.cli.settings").apply_settings(args)
        if args.command is None:
            return int(import_module("weedkey.cli.screens").execute(args))
        return command_module(args.command).execute(args)
    except WeedkeyError as error:
        print(f"weedkey: {error}", file=sys.stderr)
        return error.exit_code
    except KeyboardInterrupt:
        return ExitCode.INTERRUPTED
    except BrokenPipeError:
        # The reader (head, less) has seen enough; keep the interpreter from complaining when it closes.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return ExitCode.OK


def run() -> NoReturn:
    """Console script: exit with the code of ``main``."""
    sys.exit(main())
