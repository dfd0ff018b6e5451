"""A yearly window of dates, and the year turned over for southern places."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

_LAST_DAY = (31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


@dataclass(frozen=True, slots=True)
class Window:
    """From one (month, day) to another, both included; it may run over the turn of the year."""

    start_month: int
    start_day: int
    end_month: int
    end_day: int

    def __post_init__(self) -> None:
        for month, day in ((self.start_month, self.start_day), (self.end_month, self.end_day)):
            if not 1 <= month <= 12 or not 1 <= day <= _LAST_DAY[month - 1]:
                raise ValueError(f"{month:02d}-{day:02d} is not a day of the year")

    @classmethod
    def months(cls, first: int, last: int) -> Window:
        """Whole months, for example ``months(11, 2)`` for November to the end of February."""
        return cls(first, 1, last, _LAST_DAY[last - 1])

    @property
    def wraps(self) -> bool:
        """True if the window runs over the turn of the year."""
        return (self.end_month, self.end_day) < (self.start_month, self.start_day)

    def holds(self, day: date) -> bool:
        """True if the day lies inside the window."""
        here = (day.month, day.day)
        start = (self.start_month, self.start_day)
        end = (self.end_month, self.end_day)
        return start <= here <= end if start <= end else here >= start or here <= end

    def holds_month(self, month: int) -> bool:
        """True if any day of the month lies inside the window."""
        if not self.wraps:
            return self.start_month <= month <= self.end_month
        return month >= self.start_month or month <= self.end_month

    def shifted_half_a_year(self) -> Window:
        """The same window for a place south of the equator (six months later)."""
        start = (self.start_month + 5) % 12 + 1
        end = (self.end_month + 5) % 12 + 1
        return Window(
            start,
            min(self.start_day, _LAST_DAY[start - 1]),
            end,
            _LAST_DAY[end - 1]
            if self.end_day >= _LAST_DAY[self.end_month - 1]
            else min(self.end_day, _LAST_DAY[end - 1]),
        )
