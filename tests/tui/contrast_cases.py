"""Contrast of what is really drawn, by the formula of WCAG 2.1 (relative luminance, contrast ratio)."""

from __future__ import annotations

from collections.abc import Iterator

from rich.color import Color as RichColor
from textual.app import App


def luminance(triplet: tuple[int, int, int]) -> float:
    """Relative luminance of an sRGB colour. Source: WCAG 2.1, "relative luminance" (W3C Recommendation, 2018)."""
    parts = [value / 255 for value in triplet]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: tuple[int, int, int], other: tuple[int, int, int]) -> float:
    """Contrast ratio from 1 to 21. Source: WCAG 2.1, "contrast ratio"."""
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def drawn_contrasts(app: App[None]) -> Iterator[tuple[float, str]]:
    """(contrast, text) of every piece of words on the screen whose colours are set."""
    for strip in app.screen._compositor.render_strips():
        for segment in strip:
            style = segment.style
            if style is None or not any(letter.isalnum() for letter in segment.text):
                continue
            if style.color is None or style.bgcolor is None:
                continue
            front, back = _triplet(style.color), _triplet(style.bgcolor)
            if style.reverse:
                front, back = back, front
            if front and back:
                yield contrast(front, back), segment.text


def _triplet(color: RichColor) -> tuple[int, int, int] | None:
    return None if color.is_default or color.triplet is None else tuple(color.triplet)  # type: ignore[return-value]
