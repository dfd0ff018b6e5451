"""The outlook as inline SVG: a chart a scenario, with bands of turf, weeds and bare ground, each with its word."""

from __future__ import annotations

from collections.abc import Callable
from html import escape

from weedkey.plan.outlook import Band, Outlook, OutlookMonth
from weedkey.report.dates import MONTH_NAMES
from weedkey.report.outlook_text import SCENARIOS

_WIDTH, _HEIGHT = 640, 240
_LEFT, _RIGHT, _TOP, _BOTTOM = 40, 90, 28, 28
#: Series: (word, colour, dashes, value). Chosen to stay apart in grey print and for colour-blind eyes.
_SERIES: tuple[tuple[str, str, str, Callable[[OutlookMonth], Band]], ...] = (
    ("turf", "#1b7837", "", lambda month: month.turf),
    ("weeds", "#762a83", "6 3", lambda month: month.all_weeds),
    ("bare", "#a6611a", "2 3", lambda month: month.bare),
)


def outlook_svg(outlook: Outlook) -> str:
    """One chart as an SVG element with a title for readers that speak it."""
    title = f"{SCENARIOS[outlook.scenario]}: percent of the lawn by month"
    parts = [
        f'<svg viewBox="0 0 {_WIDTH} {_HEIGHT}" role="img" aria-label="{escape(title)}" class="chart">',
        f"<title>{escape(title)}</title>",
        f'<text x="{_LEFT}" y="16" class="head">{escape(title)}</text>',
        *_grid(outlook),
    ]
    for word, colour, dashes, value in _SERIES:
        parts += _band(outlook, word, colour, dashes, value)
    parts.append("</svg>")
    return "\n".join(parts)


def _grid(outlook: Outlook) -> list[str]:
    lines = []
    for percent in (0, 25, 50, 75, 100):
        y = _y(percent)
        lines.append(f'<line x1="{_LEFT}" y1="{y}" x2="{_WIDTH - _RIGHT}" y2="{y}" stroke="#ccc" stroke-width="0.5"/>')
        lines.append(f'<text x="{_LEFT - 6}" y="{y + 4}" text-anchor="end" class="tick">{percent}</text>')
    for number, month in enumerate(outlook.months):
        x = _x(number, len(outlook.months))
        word = MONTH_NAMES[month.on.month - 1][:3]
        lines.append(f'<text x="{x}" y="{_HEIGHT - 8}" text-anchor="middle" class="tick">{word}</text>')
    return lines


def _band(outlook: Outlook, word: str, colour: str, dashes: str, value: Callable[[OutlookMonth], Band]) -> list[str]:
    count = len(outlook.months)
    bands = [value(month) for month in outlook.months]
    top = [f"{_x(n, count)},{_y(band.high)}" for n, band in enumerate(bands)]
    below = [f"{_x(n, count)},{_y(band.low)}" for n, band in reversed(list(enumerate(bands)))]
    middle = [f"{_x(n, count)},{_y((band.low + band.high) / 2)}" for n, band in enumerate(bands)]
    dash = f' stroke-dasharray="{dashes}"' if dashes else ""
    end = _y((bands[-1].low + bands[-1].high) / 2)
    return [
        f'<polygon points="{" ".join(top + below)}" fill="{colour}" fill-opacity="0.2" stroke="none"/>',
        f'<polyline points="{" ".join(middle)}" fill="none" stroke="{colour}" stroke-width="1.5"{dash}/>',
        f'<text x="{_WIDTH - _RIGHT + 6}" y="{end + 4}" fill="{colour}" class="tick">{word} '
        f"{bands[-1].low:.0f}-{bands[-1].high:.0f} %</text>",
    ]


def _x(number: int, count: int) -> float:
    return round(_LEFT + (_WIDTH - _LEFT - _RIGHT) * number / max(1, count - 1), 1)


def _y(percent: float) -> float:
    inside = _HEIGHT - _TOP - _BOTTOM
    return round(_TOP + inside * (1 - min(100.0, max(0.0, percent)) / 100), 1)
