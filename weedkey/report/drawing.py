"""A drawing as text (half blocks or braille, two sizes) and as inline SVG. It stands beside the words, never alone."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from weedkey.model.drawing import BOX_HEIGHT, BOX_WIDTH, STROKE_WIDTH, Drawing, Point, flatten_path

#: Columns and rows of text by size.
SIZES = {"small": (16, 6), "large": (32, 12)}
#: Dots a character holds, across and down: half blocks stand in every font, braille not in every console's.
HALF_BLOCK_DOTS, BRAILLE_DOTS = (1, 2), (2, 4)
_HALF_BLOCKS = " ▀▄█"
_BRAILLE_BLANK = 0x2800
#: Bits of the dots of a braille pattern, row by row, as the Unicode Standard numbers them (dots 1-8).
_BRAILLE_BITS = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))
#: Dots are judged a hair beside their centre: a line exactly between two rows fills one of them, not both or none.
_HAIR = 0.001

Raster = list[list[bool]]


def drawing_lines(drawing: Drawing, size: str = "small", *, braille: bool = False) -> list[str]:
    """The drawing as lines of text, each as wide as the size says. ``size``: small (16x6 cells) or large (32x12)."""
    columns, rows = SIZES[size]
    across, down = BRAILLE_DOTS if braille else HALF_BLOCK_DOTS
    raster = rasterise(drawing, columns * across, rows * down)
    cell = _braille_cell if braille else _half_block_cell
    return ["".join(cell(raster, column, row) for column in range(columns)) for row in range(rows)]


def _half_block_cell(raster: Raster, column: int, row: int) -> str:
    return _HALF_BLOCKS[raster[2 * row][column] + 2 * raster[2 * row + 1][column]]


def _braille_cell(raster: Raster, column: int, row: int) -> str:
    bits = sum(
        bit
        for down, pair in enumerate(_BRAILLE_BITS)
        for across, bit in enumerate(pair)
        if raster[4 * row + down][2 * column + across]
    )
    return chr(_BRAILLE_BLANK + bits)


def rasterise(drawing: Drawing, width: int, height: int) -> Raster:
    """The drawing as rows of dots, ``width`` by ``height`` of them over the whole box.

    A dot is set if its centre lies in a solid area (even-odd rule) or no further from a line than half the width of a
    stroke; a stroke is at least one dot wide, so that no line breaks. A part that reaches no centre sets one dot.
    """
    raster = [[False] * width for _ in range(height)]
    for path in drawing.fills:
        lines = flatten_path(path)
        if not _fill(raster, lines):
            _set_one(raster, [point for line in lines for point in line])
    for path in drawing.strokes:
        for line in flatten_path(path):
            if not any([_stroke(raster, start, end) for start, end in pairwise(line)]):  # noqa: C419 - all are drawn
                _set_one(raster, line)
    return raster


def _set_one(raster: Raster, points: Sequence[Point]) -> None:
    """Set the dot in the middle of some points."""
    wide, high = _scale(raster)
    column = math.fsum(x for x, _ in points) / len(points) / wide
    row = math.fsum(y for _, y in points) / len(points) / high
    raster[min(int(row), len(raster) - 1)][min(int(column), len(raster[0]) - 1)] = True


def _scale(raster: Raster) -> tuple[float, float]:
    """Width and height of a dot in units of the box."""
    return BOX_WIDTH / len(raster[0]), BOX_HEIGHT / len(raster)


def _centre(place: int, step: float) -> float:
    return (place + 0.5 + _HAIR) * step


def _fill(raster: Raster, lines: Sequence[Sequence[Point]]) -> bool:
    """Set the dots whose centre lies inside the closed lines; False if there is none."""
    wide, high = _scale(raster)
    found = False
    for row, dots in enumerate(raster):
        y = _centre(row, high)
        crossings = sorted(
            a[0] + (y - a[1]) / (b[1] - a[1]) * (b[0] - a[0])
            for line in lines
            for a, b in zip(line, [*line[1:], line[0]], strict=True)
            if (a[1] <= y) != (b[1] <= y)
        )
        for left, right in zip(crossings[::2], crossings[1::2], strict=True):
            for column in range(len(dots)):
                if left <= _centre(column, wide) < right:
                    dots[column] = found = True
    return found


def _stroke(raster: Raster, start: Point, end: Point) -> bool:
    """Set the dots whose centre lies within half a stroke of the line from start to end; False if there is none."""
    wide, high = _scale(raster)
    reach = max(STROKE_WIDTH, wide, high) / 2
    rows = _span(start[1], end[1], reach, high, len(raster))
    columns = _span(start[0], end[0], reach, wide, len(raster[0]))
    found = False
    for row in rows:
        for column in columns:
            if _distance((_centre(column, wide), _centre(row, high)), start, end) <= reach:
                raster[row][column] = found = True
    return found


def _span(first: float, second: float, reach: float, step: float, count: int) -> range:
    """The dots along one side that can be within reach."""
    low, high = sorted((first, second))
    return range(max(0, math.floor((low - reach) / step - 1)), min(count, math.ceil((high + reach) / step + 1)))


def _distance(point: Point, start: Point, end: Point) -> float:
    """From a point to the nearest point of the line from start to end."""
    along = (end[0] - start[0], end[1] - start[1])
    length = along[0] ** 2 + along[1] ** 2
    away = (point[0] - start[0], point[1] - start[1])
    share = min(1.0, max(0.0, (away[0] * along[0] + away[1] * along[1]) / length)) if length else 0.0
    return math.hypot(away[0] - share * along[0], away[1] - share * along[1])


def drawing_svg(drawing: Drawing, width_px: int = 128) -> str:
    """The drawing as an SVG file that also stands in a page: the text's own colour, its sentence as title."""
    return _frame(drawing, width_px, _shapes(drawing), f' xmlns="{SVG_NAMESPACE}"')


def drawing_symbol(drawing: Drawing, name: str) -> str:
    """The drawing as a symbol, for a page that shows it many times with ``drawing_use``."""
    return f'<symbol id="{name}" viewBox="{_VIEW}">{_shapes(drawing)}</symbol>'


def drawing_use(drawing: Drawing, name: str, width_px: int = 128) -> str:
    """An SVG element in an HTML page, where it needs no namespace, that shows the symbol of this name."""
    return _frame(drawing, width_px, f'<use href="#{name}"/>')


SVG_NAMESPACE = "http://www.w3.org/2000/svg"
_VIEW = f"0 0 {BOX_WIDTH} {BOX_HEIGHT}"


def _frame(drawing: Drawing, width_px: int, inside: str, namespace: str = "") -> str:
    from html import escape

    height_px = round(width_px * BOX_HEIGHT / BOX_WIDTH)
    return (
        f'<svg{namespace} class="drawing" role="img" width="{width_px}" height="{height_px}"'
        f' viewBox="{_VIEW}"><title>{escape(drawing.shows)}</title>{inside}</svg>'
    )


def _shapes(drawing: Drawing) -> str:
    """Solid areas, then lines."""
    from html import escape

    fills = "".join(f'<path d="{escape(path)}" fill="currentColor" fill-rule="evenodd"/>' for path in drawing.fills)
    if not drawing.strokes:
        return fills
    strokes = "".join(f'<path d="{escape(path)}"/>' for path in drawing.strokes)
    return (
        f'{fills}<g fill="none" stroke="currentColor" stroke-width="{STROKE_WIDTH:g}" stroke-linecap="round"'
        f' stroke-linejoin="round">{strokes}</g>'
    )
