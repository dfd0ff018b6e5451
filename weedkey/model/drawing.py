"""Small line drawings of what one may see: one for each state of a trait, in a box of 64 by 48 units.

A path is written as in SVG, with the absolute commands M, L, Q, C and Z only, so that one text serves every renderer.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from weedkey.model.source import require_sources

BOX_WIDTH, BOX_HEIGHT = 64, 48
#: Width of a stroke in units of the box.
STROKE_WIDTH = 2.0
#: How far, in units, a flattened curve may lie from the true one.
TOLERANCE = 0.05
_PAIRS = {"M": 1, "L": 1, "Q": 2, "C": 3, "Z": 0}
_TOKEN = re.compile(r"\s*,?\s*([A-Za-z]|-?\d+(?:\.\d+)?)")

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Drawing:
    """One state drawn. ``shows`` says in a sentence what is drawn; ``strokes`` are lines, ``fills`` solid areas."""

    state: str
    shows: str
    strokes: tuple[str, ...] = ()
    fills: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if not self.strokes and not self.fills:
            raise ValueError("nothing is drawn: strokes or fills are needed")


@dataclass(frozen=True, slots=True)
class TraitDrawings:
    """The drawings of one trait, one for each of its states."""

    trait: str
    drawings: tuple[Drawing, ...]
    sources: tuple[str, ...]

    def __post_init__(self) -> None:
        require_sources(self.sources, f"drawings of {self.trait}")

    def of_state(self, state: str) -> Drawing | None:
        """The drawing of one state, if it has one."""
        return next((drawing for drawing in self.drawings if drawing.state == state), None)


def read_path(text: str) -> list[tuple[str, tuple[Point, ...]]]:
    """Commands of a path with their points (units of the box). ValueError says what cannot be read."""
    tokens = list(_tokens(text))
    if not tokens or tokens[0] != "M":
        raise ValueError("a path begins with M and a point")
    commands: list[tuple[str, tuple[Point, ...]]] = []
    place, command = 0, ""
    while place < len(tokens):
        if tokens[place] in _PAIRS:
            command = tokens[place]
            place += 1
        elif command == "Z":
            raise ValueError("a number follows Z")
        count = 2 * _PAIRS[command]
        numbers = tokens[place : place + count]
        if len(numbers) < count or any(token in _PAIRS for token in numbers):
            raise ValueError(f"{command} takes {count} numbers")
        values = [float(token) for token in numbers]
        commands.append((command, tuple(zip(values[::2], values[1::2], strict=True))))
        place += count
        command = "L" if command == "M" else command
    return commands


def _tokens(text: str) -> Iterator[str]:
    place, end = 0, len(text.rstrip())
    while place < end:
        found = _TOKEN.match(text, place)
        if found is None or (found[1].isalpha() and found[1] not in _PAIRS):
            raise ValueError(f"{text[place:].split(maxsplit=1)[0]!r} is neither a number nor one of M, L, Q, C, Z")
        yield found[1]
        place = found.end()


def flatten_path(text: str, tolerance: float = TOLERANCE) -> list[list[Point]]:
    """The lines of a path as lists of points; no point of a curve lies further than ``tolerance`` units from them.

    ValueError if the path cannot be read.
    """
    lines: list[list[Point]] = []
    for command, points in read_path(text):
        if command == "M":
            lines.append([points[0]])
        elif command == "Z":
            lines[-1].append(lines[-1][0])
            lines.append([lines[-1][0]])  # what follows Z without M starts where the closed line started
        else:
            control = [lines[-1][-1], *points]
            pieces = _pieces(control, tolerance)
            lines[-1] += [_bezier(control, piece / pieces) for piece in range(1, pieces)]
            lines[-1].append(points[-1])
    return [line for line in lines if len(line) > 1]


def _pieces(control: list[Point], tolerance: float) -> int:
    """Equal steps that keep the chords within the tolerance.

    A chord over a step h is off by at most h²/8 times the largest second derivative, and that of a Bézier curve of
    degree d is at most d(d-1) times the largest second difference of its control points.
    """
    degree = len(control) - 1
    bend = max(
        (
            math.hypot(a[0] - 2 * b[0] + c[0], a[1] - 2 * b[1] + c[1])
            for a, b, c in zip(control, control[1:], control[2:], strict=False)
        ),
        default=0.0,
    )
    return max(1, math.ceil(math.sqrt(degree * (degree - 1) * bend / 8 / tolerance)))


def _bezier(control: list[Point], share: float) -> Point:
    """The point at ``share`` (0 to 1) of a Bézier curve, by repeated halving of the way (de Casteljau)."""
    points = control
    while len(points) > 1:
        points = [(a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share) for a, b in pairwise(points)]
    return points[0]
