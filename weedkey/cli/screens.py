"""Opens the screens, or the line mode where there is no screen to draw on."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path

from weedkey.cli.opening import local_folder


def execute(args: argparse.Namespace) -> int:
    """``weedkey`` without a command."""
    return open_screens(args)


def open_screens(args: argparse.Namespace, lawn: Path | None = None, *, demos: bool = False) -> int:
    """The screens; numbered questions with --plain, without a terminal, or on a dumb one.

    ``demos``: begin with the choice of a demo lawn.
    """
    local = local_folder(args)
    if (args.plain and not is_behind_page()) or not wants_screens():
        from weedkey.cli.line_mode import run_line_mode

        return run_line_mode(local, lawn)
    from weedkey.tui.app import run_app

    return run_app(local, lawn, getattr(args, "config", None), demos=demos)


def wants_screens() -> bool:
    """True on a terminal that can move its cursor, and behind a page of a browser."""
    if is_behind_page():
        return True
    return sys.stdin.isatty() and sys.stdout.isatty() and os.environ.get("TERM") != "dumb"


def is_behind_page() -> bool:
    """True if a page of a browser shows this process: there are no lines there to ask on, whatever the settings say."""
    return "TEXTUAL_DRIVER" in os.environ
