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


#: What the settings call them.
THEME_WORDS = {
    "dark": "weedkey-dark",
    "light": "weedkey-light",
    "contrast": "weedkey-contrast",
    "terminal-dark": "ansi-dark",
    "terminal-light": "ansi-light",
}


def first_theme(chosen: str = "auto", environment: Mapping[str, str] = os.environ) -> str:
    """The theme to start with. NO_COLOR allows the terminal's own colours only, whatever was chosen; ``auto`` takes
    them over a slow line as well, where they cost half the bytes.
    """
    if "NO_COLOR" in environment:
        return "ansi-light" if chosen in ("light", "terminal-light") else "ansi-dark"
    if chosen in THEME_WORDS:
        return THEME_WORDS[chosen]
    return "ansi-dark" if "SSH_CONNECTION" in environment else "weedkey-dark"


def theme_word(theme: str) -> str:
    """What the settings call a theme."""
    return next(word for word, name in THEME_WORDS.items() if name == theme)


def next_theme(current: str) -> str:
    """The theme after this one."""
    if current not in THEME_ORDER:
        return THEME_ORDER[0]
    return THEME_ORDER[(THEME_ORDER.index(current) + 1) % len(THEME_ORDER)]
