"""Dates and windows in words."""

from __future__ import annotations

from datetime import date

from weedkey.model.window import Window

MONTH_NAMES = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
_LAST_DAY = (31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


def day_words(day: date) -> str:
    """3 June 2026."""
    return f"{day.day} {MONTH_NAMES[day.month - 1]} {day.year}"


def window_words(window: Window) -> str:
    """April to October; or 15 April to 1 October where the window does not run over whole months."""
    whole = window.start_day == 1 and window.end_day >= _LAST_DAY[window.end_month - 1] - 1
    start, end = MONTH_NAMES[window.start_month - 1], MONTH_NAMES[window.end_month - 1]
    if whole:
        if window.start_month == 1 and window.end_month == 12:
            return "all year"
        return start if start == end else f"{start} to {end}"
    return f"{window.start_day} {start} to {window.end_day} {end}"
