"""Fills what the command line left out from the environment and the file of settings."""

from __future__ import annotations

import argparse

from weedkey.config import Config, Value, read_config


def apply_settings(args: argparse.Namespace) -> Config:
    """The settings with the flags above them; what was not typed is filled into ``args``.

    Raises ConfigError, which lists every problem of the file and of the environment.
    """
    flags: dict[str, Value | None] = {
        "theme": getattr(args, "theme", None),
        "mouse": False if getattr(args, "no_mouse", False) else None,
        "plain": True if getattr(args, "plain", False) else None,
        "local": getattr(args, "local", None),
    }
    config = read_config(flags=flags)
    args.plain = config.flag("plain")
    # beside a region or in a command that asks for its place itself, the usual place would say something untyped
    if hasattr(args, "turf") and getattr(args, "place", "") is None and not getattr(args, "region", None):
        args.place = config.text("place") or None
    if hasattr(args, "licensed") and args.licensed is None and config.text("licensed") != "ask":
        args.licensed = config.text("licensed")
    args.config = config
    return config
