"""Opens the knowledge and lawn files for a command, and says on standard error what was left out."""

from __future__ import annotations

import argparse
import shutil
import sys
from importlib import import_module
from pathlib import Path

from weedkey.errors import UsageError
from weedkey.knowledge import load
from weedkey.model.base import Knowledge
from weedkey.model.lawn import Lawn
from weedkey.report.style import Style

DEMO_PREFIX = "demo:"
WALK_PREFIX = "walk:"
WIDEST = 100


def local_folder(args: argparse.Namespace) -> Path | None:
    """The folder of the user's own entries: --local, else the user's folder if it exists."""
    given = getattr(args, "local", None)
    if given:
        folder = Path(given)
        if not folder.is_dir():
            raise UsageError(f"--local {given}: no such folder", "a folder with weeds/, controls/ … in it")
        return folder
    config = getattr(args, "config", None)
    if config is not None and config.text("local"):
        folder = Path(config.text("local")).expanduser()
        if not folder.is_dir():
            origin = config.values["local"].origin
            raise UsageError(f"{origin}: local = {folder}: no such folder", "a folder with weeds/, controls/ … in it")
        return folder
    from weedkey.storage import local_entries_folder

    own = local_entries_folder()
    return own if own.is_dir() else None


def open_knowledge(args: argparse.Namespace) -> Knowledge:
    """The knowledge with the user's own entries; files left out are named on standard error."""
    knowledge = load(local_folder(args))
    for issue in knowledge.left_out:
        print(f"weedkey: left out: {issue}", file=sys.stderr)
    return knowledge


def demo_folder() -> Path:
    """Where the demo lawns lie."""
    folder: Path = import_module("weedkey.knowledge.locate").shipped_folder() / "demo"
    return folder


def lawn_path(text: str) -> Path:
    """The path of a lawn file, of a demo lawn written ``demo:NAME``, or of a saved walk written ``walk:NAME``.

    Raises UsageError, and UnknownName for a walk.
    """
    if text.startswith(WALK_PREFIX):
        return walk_folder(text.removeprefix(WALK_PREFIX)) / "lawn.yaml"
    if text.startswith(DEMO_PREFIX):
        name = text.removeprefix(DEMO_PREFIX)
        path = demo_folder() / f"{name}.yaml"
        if not path.is_file():
            names = ", ".join(sorted(file.stem for file in demo_folder().glob("*.yaml")))
            raise UsageError(f"there is no demo lawn {name!r}", f"one of {names}")
        return path
    path = Path(text)
    if not path.is_file():
        raise UsageError(
            f"{text}: no such file", "a lawn file, demo:NAME or walk:NAME", "weedkey demo, for one to start from"
        )
    return path


def walk_folder(name: str) -> Path:
    """The folder of a saved walk, archived or not. Raises UnknownName with the nearest."""
    from weedkey.errors import UnknownName
    from weedkey.storage import list_visits

    folders = list_visits(archived=None)
    found = next((folder for folder in folders if folder.name == name), None)
    if found is None:
        raise UnknownName("walk", name, [folder.name for folder in folders])
    return found


def open_lawn(text: str, knowledge: Knowledge) -> Lawn:
    """Read a lawn file; LawnError lists every problem with its line. A saved walk knows what its lawn got before."""
    from weedkey.knowledge.lawn_file import read_lawn

    path = lawn_path(text)
    try:
        lawn: Lawn = read_lawn(path, knowledge)
    except UnicodeDecodeError:
        raise UsageError(f"{text} is not a text file in UTF-8", "a lawn file") from None
    if text.startswith(WALK_PREFIX):
        from weedkey.walks.history import with_history

        return with_history(knowledge, lawn)
    return lawn


def style_for(args: argparse.Namespace) -> Style:
    """Styles only on a terminal that wants them (no --plain, no NO_COLOR, not TERM=dumb)."""
    import os

    width = min(WIDEST, shutil.get_terminal_size((80, 24)).columns)
    codes = sys.stdout.isatty() and not args.plain and "NO_COLOR" not in os.environ
    return Style(codes and os.environ.get("TERM") != "dumb", width)


def print_json(value: object) -> None:
    """One JSON document on standard output."""
    import json

    print(json.dumps(value, ensure_ascii=False, indent=2))
