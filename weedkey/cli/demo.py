"""``weedkey demo``: the demo lawns."""

from __future__ import annotations

import argparse
from pathlib import Path

from weedkey.cli.arguments import add_output
from weedkey.cli.exit_codes import ExitCode
from weedkey.cli.opening import demo_folder, lawn_path, print_json
from weedkey.errors import UsageError


def configure(parser: argparse.ArgumentParser) -> None:
    """Arguments of ``weedkey demo``."""
    parser.add_argument("lawn", nargs="?", metavar="NAME", help="print this demo lawn")
    parser.add_argument("--copy", metavar="FILE", help="copy it to FILE, to start your own lawn from")
    parser.add_argument("--screens", action="store_true", help="open it in the screens")
    parser.add_argument("--list", action="store_true", help="only list them")
    parser.epilog = (
        "Without NAME the demo lawns open in the screens; without a terminal, or with --list, they are listed.\n"
        "examples:\n  weedkey demo\n  weedkey demo tennessee_zoysiagrass --copy my-lawn.yaml"
    )
    add_output(parser)


def execute(args: argparse.Namespace) -> int:
    """List, print, copy or open a demo lawn; an existing file is never overwritten."""
    if args.lawn is None:
        if not (args.list or args.json or args.plain or args.copy):
            from weedkey.cli.screens import open_screens, wants_screens

            if wants_screens():
                return open_screens(args, demos=True)
        names = sorted(file.stem for file in demo_folder().glob("*.yaml"))
        if args.json:
            print_json({"lawns": names})
        else:
            width = max(map(len, names))
            print("\n".join(f"demo:{name:{width}}  {_title(name)}" for name in names))
            print("next: weedkey plan demo:NAME · weedkey demo NAME --screens · weedkey demo NAME --copy my-lawn.yaml")
        return ExitCode.OK
    path = lawn_path("demo:" + args.lawn.removeprefix("demo:"))
    if args.screens:
        from weedkey.cli.screens import open_screens

        return open_screens(args, lawn=path)
    text = path.read_text(encoding="utf-8")
    if args.copy:
        return _copy(text, Path(args.copy))
    print(text, end="")
    return ExitCode.OK


def _title(name: str) -> str:
    """The lawn's own name, from its first line that gives one."""
    lines = lawn_path("demo:" + name).read_text(encoding="utf-8").splitlines()
    return next((line.partition(":")[2].strip() for line in lines if line.startswith("name:")), "")


def _copy(text: str, target: Path) -> int:
    if target.exists():
        raise UsageError(f"{target} exists already", "a file name that is free")
    target.write_text(text, encoding="utf-8")
    print(f"written: {target}")
    return ExitCode.OK
