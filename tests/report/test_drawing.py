"""Drawings as dots, text and SVG: against exact curves, an outside drawing library, and each other."""

from __future__ import annotations

import math
import subprocess
import sys
from itertools import combinations, pairwise
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageDraw

from weedkey.knowledge.drawings import drawing_files, drawings_of, read_drawings
from weedkey.knowledge.locate import shipped_folder
from weedkey.model.drawing import BOX_HEIGHT, BOX_WIDTH, TOLERANCE, Drawing, flatten_path, read_path
from weedkey.report.drawing import SIZES, drawing_lines, drawing_svg, drawing_symbol, drawing_use, rasterise

ALL = [read_drawings(file) for file in drawing_files(shipped_folder())]
#: Two states of a look differ in at least this share of the dots that are set in either.
LEAST_DIFFERENCE = 0.08
#: Dots of the two small forms: half blocks and braille.
SMALL_RASTERS = ((16, 12), (32, 24))
SVG = "{http://www.w3.org/2000/svg}"

spots = st.tuples(st.floats(0, BOX_WIDTH), st.floats(0, BOX_HEIGHT))


def path_of(command: str, points: list[tuple[float, float]]) -> str:
    """A path of one command from the first point."""
    numbers = [f"{x:.4f} {y:.4f}" for x, y in points]
    return f"M {numbers[0]} {command} {' '.join(numbers[1:])}"


def exact(points: list[tuple[float, float]], share: float) -> tuple[float, float]:
    """A Bézier curve by its Bernstein polynomials, the textbook definition."""
    degree = len(points) - 1
    weights = [math.comb(degree, k) * share**k * (1 - share) ** (degree - k) for k in range(degree + 1)]
    return sum(w * x for w, (x, _) in zip(weights, points, strict=True)), sum(
        w * y for w, (_, y) in zip(weights, points, strict=True)
    )


def distance(spot: tuple[float, float], line: list[tuple[float, float]]) -> float:
    """From a spot to the nearest point of a line of pieces."""
    best = math.inf
    for (ax, ay), (bx, by) in pairwise(line):
        length = (bx - ax) ** 2 + (by - ay) ** 2
        share = (
            0.0 if not length else min(1, max(0, ((spot[0] - ax) * (bx - ax) + (spot[1] - ay) * (by - ay)) / length))
        )
        best = min(best, math.hypot(spot[0] - ax - share * (bx - ax), spot[1] - ay - share * (by - ay)))
    return best


class TestPaths:
    """Reading and flattening."""

    @given(st.lists(spots, min_size=3, max_size=4))
    def test_curves_lie_within_the_tolerance_of_the_exact_formula(self, points: list[tuple[float, float]]) -> None:
        """Every point of the true curve is as near to the flattened line as promised."""
        command = {3: "Q", 4: "C"}[len(points)]
        points = [(round(x, 4), round(y, 4)) for x, y in points]
        lines = flatten_path(path_of(command, points))
        line = lines[0] if lines else [points[0], points[0]]
        assert line[0] == points[0]
        assert line[-1] == points[-1]
        assert max(distance(exact(points, k / 97), line) for k in range(98)) <= TOLERANCE + 1e-6

    def test_commands_repeat_and_close_as_in_svg(self) -> None:
        """Numbers after a full command repeat it; after M they are lines; Z goes back to where its line began."""
        assert [command for command, _ in read_path("M 0 0 4 0 4 4 Z")] == ["M", "L", "L", "Z"]
        assert flatten_path("M 0 0 L 4 0 4 4 Z M 8 8 L 9 9") == [[(0, 0), (4, 0), (4, 4), (0, 0)], [(8, 8), (9, 9)]]

    @pytest.mark.parametrize(
        ("path", "said"),
        [
            ("", "begins with M"),
            ("L 1 2", "begins with M"),
            ("M 1", "takes 2 numbers"),
            ("M 1 2 l 3 4", "neither a number"),
            ("M 1 2 A 3 4", "neither a number"),
            ("M 1 2 Q 3 4 5", "takes 4 numbers"),
            ("M 1 2 L 3 4 Z 5", "follows Z"),
            ("M 1 2 L 3 4;", "neither a number"),
        ],
    )
    def test_what_cannot_be_read_is_named(self, path: str, said: str) -> None:
        """The message says what is wrong."""
        with pytest.raises(ValueError, match=said):
            read_path(path)


class TestRaster:
    """Dots against another drawing library."""

    # Source: Pillow's ImageDraw, at 32 times the size of a dot; the centres of the dots are looked up in its picture.
    SCALE = 32

    @given(st.lists(spots, min_size=3, max_size=6))
    def test_solid_areas(self, points: list[tuple[float, float]]) -> None:
        """A dot is set where the even-odd rule of the outside picture fills its centre."""
        points = [(round(x, 2), round(y, 2)) for x, y in points]
        drawing = Drawing("s", "an area", fills=(path_of("L", points) + " Z",))
        raster = rasterise(drawing, 16, 12)
        if sum(map(sum, raster)) == 1:
            return  # too small for any centre: one dot stands for it
        scale = self.SCALE / 4
        picture = Image.new("1", (16 * self.SCALE + 4, 12 * self.SCALE + 4))
        # the even-odd rule: triangles of a fan, laid over each other by exclusive or
        for second, third in pairwise(points[1:]):
            part = Image.new("1", picture.size)
            triangle = [(x * scale, y * scale) for x, y in (points[0], second, third)]
            ImageDraw.Draw(part).polygon(triangle, fill=1)
            picture = Image.frombytes(
                "1", picture.size, bytes(a ^ b for a, b in zip(picture.tobytes(), part.tobytes(), strict=True))
            )
        edges = [*points, points[0], *[spot for other in points[1:] for spot in (points[0], other)]]
        for row in range(12):
            for column in range(16):
                centre = ((column + 0.5) * 4, (row + 0.5) * 4)
                if distance(centre, edges) > 0.5:
                    assert raster[row][column] == bool(
                        picture.getpixel((round(centre[0] * scale), round(centre[1] * scale)))
                    )

    @given(spots, spots, st.sampled_from([(16, 12), (32, 24), (64, 48)]))
    def test_lines(self, start: tuple[float, float], end: tuple[float, float], size: tuple[int, int]) -> None:
        """A dot is set where a thick line with round ends of the outside picture covers its centre."""
        start, end = ((round(x, 2), round(y, 2)) for x, y in (start, end))
        dot = BOX_WIDTH / size[0]
        reach = max(2.0, dot) / 2
        raster = rasterise(Drawing("s", "a line", (path_of("L", [start, end]),)), *size)
        if sum(map(sum, raster)) == 1:
            return  # too short for any centre: one dot stands for it
        fine = 8  # pixels a unit
        picture = Image.new("1", (BOX_WIDTH * fine, BOX_HEIGHT * fine))
        pen = ImageDraw.Draw(picture)
        ends = [(x * fine, y * fine) for x, y in (start, end)]
        pen.line(ends, fill=1, width=round(2 * reach * fine))
        for x, y in ends:
            pen.ellipse((x - reach * fine, y - reach * fine, x + reach * fine, y + reach * fine), fill=1)
        for row, dots in enumerate(raster):
            for column, is_set in enumerate(dots):
                centre = ((column + 0.5) * dot, (row + 0.5) * dot)
                if abs(distance(centre, [start, end]) - reach) > 0.4:
                    assert is_set == bool(picture.getpixel((int(centre[0] * fine), int(centre[1] * fine))))

    @given(spots, spots)
    def test_a_line_never_breaks(self, start: tuple[float, float], end: tuple[float, float]) -> None:
        """From the first dot to the last each dot touches the next, at a side or a corner."""
        raster = rasterise(Drawing("s", "a line", (path_of("L", [start, end]),)), 16, 12)
        dots = {(column, row) for row, line in enumerate(raster) for column, is_set in enumerate(line) if is_set}
        assert dots
        waiting, seen = [min(dots)], {min(dots)}
        while waiting:
            x, y = waiting.pop()
            near = {(x + dx, y + dy) for dx in (-1, 0, 1) for dy in (-1, 0, 1)} & dots - seen
            seen |= near
            waiting += near
        assert seen == dots

    def test_a_line_between_two_rows_takes_one(self) -> None:
        """Level and upright lines are one dot thick, wherever they lie."""
        for y in range(1, 48):
            raster = rasterise(Drawing("s", "a line", (f"M 0 {y} L 64 {y}",)), 16, 12)
            assert sum(any(row) for row in raster) == 1


class TestText:
    """Half blocks and braille."""

    # Source: the Unicode Standard, chart "Braille Patterns" (dots 1-8 are the bits 0-7 of the code point above U+2800)
    # and chart "Block Elements" (U+2580 upper half, U+2584 lower half, U+2588 full).
    BRAILLE = ((0, 0, 1), (0, 1, 2), (0, 2, 3), (1, 0, 4), (1, 1, 5), (1, 2, 6), (0, 3, 7), (1, 3, 8))

    @pytest.mark.parametrize("size", SIZES)
    @pytest.mark.parametrize("drawings", ALL, ids=lambda drawings: drawings.trait)
    def test_the_text_holds_exactly_the_dots(self, drawings: object, size: str) -> None:
        """Read back character by character, both forms give the raster they were made from."""
        columns, rows = SIZES[size]
        for drawing in drawings.drawings:
            blocks = drawing_lines(drawing, size)
            assert {len(line) for line in blocks} == {columns}
            halves = {" ": (0, 0), "\u2580": (1, 0), "\u2584": (0, 1), "\u2588": (1, 1)}
            read = [[bool(halves[cell][part]) for cell in line] for line in blocks for part in (0, 1)]
            assert read == rasterise(drawing, columns, rows * 2)
            dots = [[False] * (columns * 2) for _ in range(rows * 4)]
            for y, line in enumerate(drawing_lines(drawing, size, braille=True)):
                for x, cell in enumerate(line):
                    for across, down, number in self.BRAILLE:
                        dots[4 * y + down][2 * x + across] = bool((ord(cell) - 0x2800) >> (number - 1) & 1)
            assert dots == rasterise(drawing, columns * 2, rows * 4)

    @pytest.mark.parametrize("drawings", ALL, ids=lambda drawings: drawings.trait)
    def test_two_states_look_different_at_the_small_size(self, drawings: object) -> None:
        """At least 8 of 100 dots that are set in either drawing are set in one only, in both forms."""
        for width, height in SMALL_RASTERS:
            dots = {
                one.state: [dot for row in rasterise(one, width, height) for dot in row] for one in drawings.drawings
            }
            for (first, left), (second, right) in combinations(dots.items(), 2):
                either = sum(a or b for a, b in zip(left, right, strict=True))
                differ = sum(a != b for a, b in zip(left, right, strict=True))
                assert differ >= LEAST_DIFFERENCE * either, (drawings.trait, first, second, width)

    @pytest.mark.parametrize("drawings", ALL, ids=lambda drawings: drawings.trait)
    def test_every_part_is_seen_in_small_braille(self, drawings: object) -> None:
        """No line and no solid area falls between the dots of the finer small form."""
        for one in drawings.drawings:
            for key, paths in (("strokes", one.strokes), ("fills", one.fills)):
                for path in paths:
                    alone = Drawing("s", "one part", **{key: (path,)})
                    assert any(map(any, rasterise(alone, 32, 24))), (drawings.trait, one.state, path)


class TestSvg:
    """Drawings on a page."""

    @pytest.mark.parametrize("drawings", ALL, ids=lambda drawings: drawings.trait)
    def test_well_formed_named_and_the_same_paths(self, drawings: object) -> None:
        """The parser reads it; role and title are there; the paths are those of the file, in its order."""
        for one in drawings.drawings:
            root = ET.fromstring(drawing_svg(one))  # noqa: S314 - our own text
            assert root.tag == f"{SVG}svg"
            assert root.get("role") == "img"
            assert root.get("viewBox") == "0 0 64 48"
            assert root[0].tag == f"{SVG}title"
            assert root[0].text == one.shows
            assert [path.get("d") for path in root.iter(f"{SVG}path")] == [*one.fills, *one.strokes]
            colours = {part.get(key) for part in root.iter() for key in ("fill", "stroke")} - {None}
            assert colours <= {"none", "currentColor"}

    def test_a_symbol_is_used_by_its_name(self) -> None:
        """A page that shows a drawing often holds its paths once; in HTML neither part needs a namespace."""
        drawing = Drawing("s", 'a "line" & more', ("M 0 0 L 4 4",))
        symbol = ET.fromstring(drawing_symbol(drawing, "d-a-s"))  # noqa: S314
        use = ET.fromstring(drawing_use(drawing, "d-a-s"))  # noqa: S314
        assert symbol.get("id") == "d-a-s"
        assert [path.get("d") for path in symbol.iter("path")] == ["M 0 0 L 4 4"]
        assert use.find("use").get("href") == "#d-a-s"
        assert use.find("title").text == drawing.shows


def test_naming_loads_no_drawing() -> None:
    """A command that does not draw imports neither the renderer nor the drawings."""
    words = ["name", "--turf", "zoysiagrass", "--month", "6", "--look", "plant_group=sedge", "--json"]
    code = (
        "import sys\nfrom weedkey.cli.main import main\n"
        f"main({words!r})\n"
        "print([m for m in sys.modules if m.startswith('weedkey.') and 'drawing' in m], file=sys.stderr)\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=120)
    assert done.stderr.splitlines()[-1] == "[]"


def test_a_look_without_drawings_has_none() -> None:
    """Colours, smells and times are not drawn."""
    assert drawings_of("sap") is None
