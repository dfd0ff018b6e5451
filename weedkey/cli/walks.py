"""``weedkey walks``: the walks that were saved."""

from __future__ import annotations

import argparse
from pathlib import Path

from weedkey.cli.arguments import add_output
from weedkey.cli.exit_codes import ExitCode
from weedkey.cli.opening import print_json
from weedkey.errors import UsageError
from weedkey.storage import LAWN_FILE, list_visits


def configure(parser: argparse.ArgumentParser) -> None:
    """Arguments of ``weedkey walks``."""
    parser.add_argument("walk", nargs="?", metavar="NAME", help="print the lawn file of this walk")
    parser.add_argument("--export", metavar="ZIP", help="write all walks as one zip of plain files")
    parser.epilog = "example: weedkey walks"
    add_output(parser)


def execute(args: argparse.Namespace) -> int:
    """List the walks, newest first; print one; or export them all."""
    folders = list_visits()
    if args.export:
        return _export(folders, Path(args.export))
    if args.walk:
        found = next((folder for folder in folders if folder.name == args.walk), None)
        if found is None:
            names = ", ".join(folder.name for folder in folders) or "none is saved"
            raise UsageError(f"there is no walk {args.walk!r}", f"one of: {names}")
        print((found / LAWN_FILE).read_text(encoding="utf-8"), end="")
        return ExitCode.OK
    if args.json:
        print_json({"walks": [{"name": folder.name, "path": str(folder)} for folder in folders]})
    else:
        print("\n".join(folder.name for folder in folders) or "no walk is saved")
    return ExitCode.OK


def _export(folders: list[Path], target: Path) -> int:
    from zipfile import ZIP_DEFLATED, ZipFile

    if target.exists():
        raise UsageError(f"{target} exists already", "a file name that is free")
    with ZipFile(target, "w", ZIP_DEFLATED) as archive:
        for folder in folders:
            for file in sorted(folder.iterdir()):
                archive.write(file, f"{folder.name}/{file.name}")
    print(f"written: {target} ({len(folders)} walks)")
    return ExitCode.OK
