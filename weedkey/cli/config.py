"""``weedkey config``: where the settings lie, what they are, where each comes from; and setting one of them."""

from __future__ import annotations

import argparse
from typing import Any

from weedkey.cli.arguments import add_output
from weedkey.cli.exit_codes import ExitCode
from weedkey.cli.opening import print_json, style_for
from weedkey.config import KEYS, Key, Value, config_path, find_key, read_config, read_value, set_value, template_text
from weedkey.errors import UsageError


def configure(parser: argparse.ArgumentParser) -> None:
    """Arguments of ``weedkey config``."""
    parser.add_argument("key", nargs="?", metavar="KEY", help="one setting, e.g. theme or drawings")
    parser.add_argument("value", nargs="?", metavar="VALUE", help="set it; comments in the file stay")
    parser.add_argument("--unset", action="store_true", help="back to the default")
    parser.add_argument("--explain", action="store_true", help="what every setting means and takes")
    parser.add_argument("--write", action="store_true", help="write the file with every setting explained, all off")
    parser.epilog = (
        "A flag beats the environment, the environment beats the file.\n"
        "examples:\n  weedkey config\n  weedkey config theme light\n  weedkey config place Murfreesboro\n"
        "  weedkey config --explain"
    )
    add_output(parser)


def execute(args: argparse.Namespace) -> int:
    """Show all settings or one, explain them, or set one."""
    if args.write:
        return _write_template()
    if args.explain:
        return _explain(args)
    if args.key is None:
        return _show(args, KEYS)
    key = find_key(args.key)
    if args.unset and args.value is not None:
        raise UsageError("--unset and a value exclude each other", "one of the two")
    if args.value is None and not args.unset:
        return _show(args, (key,))
    return _set(args, key, None if args.unset else read_value(key, args.value))


def _set(args: argparse.Namespace, key: Key, value: Value | None) -> int:
    checked = _checked(args, key, value)
    try:
        path = set_value(key.name, checked)
    except OSError as error:
        raise UsageError(
            f"{config_path()} cannot be written ({error.strerror or error})", "a folder you may write to"
        ) from error
    chosen = read_config().values[key.name]
    if args.json:
        print_json({"path": str(path), "settings": {key.name: _row(key, chosen.value, chosen.origin)}})
    else:
        print(f"{key.name} = {chosen.value if chosen.value != '' else '(not set)'}, in {path}")
        if not chosen.origin.startswith((str(path), "default")):
            print(f"but {chosen.origin} stands above the file")
    return ExitCode.OK


def _checked(args: argparse.Namespace, key: Key, value: Value | None) -> Value | None:
    """The value as the knowledge and the folders know it. Raises UnknownName or UsageError."""
    if not value:
        return value
    if key.name == "place":
        from weedkey.cli.opening import open_knowledge
        from weedkey.knowledge.names import find_entry

        return str(find_entry(open_knowledge(args).places, "place", str(value)).id)
    if key.name == "local":
        from pathlib import Path

        folder = Path(str(value)).expanduser()
        if not folder.is_dir():
            raise UsageError(f"{value}: no such folder", "a folder with weeds/, controls/ … in it")
        return str(folder.resolve())
    return value


def _show(args: argparse.Namespace, keys: tuple[Key, ...]) -> int:
    config = read_config()
    rows = [(key, config.values[key.name]) for key in keys]
    if args.json:
        settings = {key.name: _row(key, chosen.value, chosen.origin) for key, chosen in rows}
        print_json({"path": str(config.path), "exists": config.path.is_file(), "settings": settings})
        return ExitCode.OK
    if len(keys) > 1:
        print(f"file: {config.path}" + ("" if config.path.is_file() else " (not there yet; weedkey config --write)"))
    width = max(len(key.name) for key, _ in rows)
    for key, chosen in rows:
        print(f"{key.name:{width}}  {_shown(chosen.value):16} {chosen.origin}")
    return ExitCode.OK


def _row(key: Key, value: Value, origin: str) -> dict[str, Any]:
    return {"value": value, "from": origin, "default": key.default, "expected": key.expected}


def _shown(value: Value) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    return value or "(not set)"


def _explain(args: argparse.Namespace) -> int:
    if args.json:
        print_json(
            {
                "settings": {
                    key.name: {
                        "help": key.help,
                        "expected": key.expected,
                        "default": key.default,
                        "environment": key.variable,
                        "flag": key.flag or None,
                    }
                    for key in KEYS
                }
            }
        )
        return ExitCode.OK
    style = style_for(args)
    for key in KEYS:
        print(style.strong(key.name))
        print(style.wrap(key.help, "  "))
        flag = f"; flag {key.flag}" if key.flag else ""
        print(style.wrap(f"{key.expected}; default {_shown(key.default)}; environment {key.variable}{flag}", "  "))
    return ExitCode.OK


def _write_template() -> int:
    from weedkey.storage import write_atomic

    path = config_path()
    if path.exists():
        raise UsageError(f"{path} exists already", "weedkey config KEY VALUE to change one setting")
    write_atomic(path, template_text())
    print(f"written: {path}")
    return ExitCode.OK
