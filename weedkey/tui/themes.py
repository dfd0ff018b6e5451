"""Themes with neutral greys, so that 256-colour terminals show them as meant. Colour only repeats words."""

from __future__ import annotations

import os
from collections.abc import Mapping

from textual.theme import Theme

_DARK = Theme(
    name="weedkey-dark",
    primary="#7fb37f",
    secondary="#b0b0b0",
    accent="#e0c060",
    foreground="#e4e4e4",
    background="#1c1c1c",
    surface="#262626",
    panel="#303030",
    success="#87d787",
    warning="#ffd75f",
    error="#ff8787",
    dark=True,
)
_LIGHT = Theme(
    name="weedkey-light",
    primary="#005f00",
    secondary="#444444",
    accent="#5f5f00",
    foreground="#1c1c1c",
    background="#ffffff",
    surface="#eeeeee",
    panel="#dadada",
    success="#005f00",
    warning="#5f5f00",
    error="#870000",
    dark=False,
)
_CONTRAST = Theme(
    name="weedkey-contrast",
    primary="#ffffff",
    secondary="#ffffff",
    accent="#ffff00",
    foreground="#ffffff",
    background="#000000",
    surface="#000000",
    panel="#000000",
    success="#ffffff",
    warning="#ffff00",
    error="#ffffff",
    dark=True,
)
THEMES = (_DARK, _LIGHT, _CONTRAST)
#: The order in which the key for the theme goes through them.
THEME_ORDER = ("weedkey-dark", "weedkey-light", "weedkey-contrast", "ansi-dark", "ansi-light")


def first_theme(environment: Mapping[str, str] = os.environ) -> str:
    """The theme to start with: the terminal's own colours where colour is not wanted or costs bytes on a slow line."""
    if "NO_COLOR" in environment or "SSH_CONNECTION" in environment:
        return "ansi-dark"
    return "weedkey-dark"


def next_theme(current: str) -> str:
    """The theme after this one."""
    if current not in THEME_ORDER:
        return THEME_ORDER[0]
    return THEME_ORDER[(THEME_ORDER.index(current) + 1) % len(THEME_ORDER)]
