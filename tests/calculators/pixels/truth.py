"""Shapes whose outlines are known, drawn into pixels by exact coverage, and what is measured of outlines found in them.

Shapes are rings of points in mm in a box of 12 mm (holes the other way round); curves are taken as so many chords that
they leave the curve by less than a thousandth of a pixel.
"""

from __future__ import annotations

import itertools
import re
import subprocess
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

import numpy
import shapely
from scipy.spatial import cKDTree

from calculators.pixels.raster import Raster
from calculators.shapes.cubics import at
from tests.conftest import ROOT
from tests.tools import program

BOX_MM = 12
MM_PER_INCH = 25.4


@dataclass(frozen=True)
class Shape:
    """Rings in mm, and the corners among their points."""

    rings: tuple[numpy.ndarray, ...]
    corners: numpy.ndarray


def turned(points: Sequence[Sequence[float]], angle: float, middle: tuple[float, float] = (6, 6)) -> numpy.ndarray:
    cos, sin = numpy.cos(angle), numpy.sin(angle)
    return numpy.asarray(points, float) @ numpy.array([[cos, sin], [-sin, cos]]) + middle


def ellipse(across: float, down: float, angle: float = 0.0, *, hole: bool = False) -> numpy.ndarray:
    turn = numpy.linspace(0, 2 * numpy.pi, 1440, endpoint=False)
    return turned(numpy.stack([across * numpy.cos(turn), down * numpy.sin(turn)], 1), angle)[:: -1 if hole else 1]


def curve(*points: tuple[float, float]) -> numpy.ndarray:
    """Return a cubic as points, without its end."""
    share = numpy.linspace(0, 1, 96, endpoint=False)[:, None]
    one, two, three, four = (numpy.array(each, float) for each in points)
    left = 1 - share
    return left**3 * one + 3 * left**2 * share * two + 3 * left * share**2 * three + share**3 * four


def star() -> numpy.ndarray:
    angles = numpy.arange(10) * numpy.pi / 5 + 0.1 - numpy.pi / 2
    reach = numpy.where(numpy.arange(10) % 2 == 0, 5.2, 2.1)
    return numpy.stack([6 + reach * numpy.cos(angles), 6 + reach * numpy.sin(angles)], 1)


def _shape(*rings, corners=()) -> Shape:
    return Shape(tuple(numpy.asarray(ring, float) for ring in rings), numpy.asarray(corners, float).reshape(-1, 2))


def crest() -> Shape:
    """Return the ring and the leaves of the demonstration's crest, as far as it is two pixels wide at 150 ppi.

    Its stalks, ribs and the gaps between berries are thinner and left out; tips of leaves and gaps between two are
    rounded to that width. Sharp tips are what the leaf and the star are held to.
    """
    drawn = (ROOT / "content" / "demo" / "crest-left.svg").read_text("utf-8")
    leaves = []
    for path in re.search(r'<path id="leaves"[^>]* d="([^"]+)"', drawn)[1].strip("Mz").split("zM"):
        start, *curves = (
            [tuple(map(float, pair)) for pair in re.findall(r"(-?[\d.]+) (-?[\d.]+)", part)] for part in path.split("C")
        )
        points, before = [], start[0]
        for one, two, three in (part[i : i + 3] for part in curves for i in range(0, len(part), 3)):
            points.append(curve(before, one, two, three))
            before = three
        leaves.append(shapely.Polygon(numpy.concatenate(points)).buffer(0))
    ring = shapely.Polygon(ellipse(6.9, 6.9) + 0.9, [ellipse(6.28, 6.28) + 0.9])
    scale = 0.9 * BOX_MM / 13.8
    pixel = MM_PER_INCH / 150 / scale
    whole = shapely.unary_union([ring, *leaves]).buffer(-pixel, 64).buffer(2 * pixel, 64).buffer(-pixel, 64)
    parts = shapely.get_parts(whole)
    oriented = [shapely.geometry.polygon.orient(part) for part in parts]
    rings = [
        numpy.asarray(each.coords)[:-1] * scale + 0.05 * BOX_MM
        for part in oriented
        for each in (part.exterior, *part.interiors)
    ]
    return _shape(*rings)


@cache
def shapes() -> dict[str, Shape]:
    """Return disc, ring, star, turned bar, ellipse, square, leaf, letters of our own, and the demonstration's crest."""
    bar = turned([(-5, -0.7), (5, -0.7), (5, 0.7), (-5, 0.7)], 0.36)
    square = [(2, 2), (10, 2), (10, 10), (2, 10)]
    a = (
        [(1, 11), (5, 1), (7, 1), (11, 11), (9, 11), (7.9, 8.2), (4.1, 8.2), (3, 11)],
        [(4.75, 6.5), (7.25, 6.5), (6, 3.2)],
    )
    e = [
        (2, 1),
        (10, 1),
        (10, 2.6),
        (4, 2.6),
        (4, 5.2),
        (8.5, 5.2),
        (8.5, 6.8),
        (4, 6.8),
        (4, 9.4),
        (10, 9.4),
        (10, 11),
        (2, 11),
    ]
    p = (
        numpy.concatenate([[(2, 1)], curve((6, 1), (11, 1), (11, 7), (6.5, 7)), [(6.5, 7), (4, 7), (4, 11), (2, 11)]]),
        numpy.concatenate([[(4, 2.6), (4, 5.4)], curve((6.3, 5.4), (8.6, 5.4), (8.6, 2.6), (6.3, 2.6)), [(6.3, 2.6)]]),
    )
    s = numpy.concatenate(
        [
            curve((10, 3.5), (9, 0.5), (2.5, 0.2), (2.5, 4)),
            curve((2.5, 4), (2.5, 7.2), (8.5, 5.6), (8.5, 8)),
            curve((8.5, 8), (8.5, 10), (4.5, 10), (3.6, 8)),
            [(3.6, 8)],
            curve((2, 8.6), (3.2, 12), (10.2, 12.2), (10.2, 7.8)),
            curve((10.2, 7.8), (10.2, 4.6), (4.2, 6), (4.2, 4)),
            curve((4.2, 4), (4.2, 2), (7.8, 2), (8.5, 4)),
            [(8.5, 4)],
        ]
    )
    leaf = numpy.concatenate([curve((1, 6), (3, 1), (9, 1), (11, 6)), curve((11, 6), (9, 9), (3, 9), (1, 6))])
    return {
        "disc": _shape(ellipse(5, 5)),
        "small disc": _shape(ellipse(1, 1)),
        "ring": _shape(ellipse(5, 5), ellipse(3.6, 3.6, hole=True)),
        "ellipse": _shape(ellipse(5, 2.4, 0.5)),
        "star": _shape(star(), corners=star()),
        "turned bar": _shape(bar, corners=bar),
        "square": _shape(square, corners=square),
        "letter A": _shape(*a, corners=[*a[0], *a[1]]),
        "letter E": _shape(e, corners=e),
        "letter P": _shape(*p, corners=[(2, 1), (4, 7), (4, 11), (2, 11), (4, 2.6), (4, 5.4)]),
        "letter S": _shape(s, corners=[(10, 3.5), (3.6, 8), (2, 8.6), (8.5, 4)]),
        "leaf": _shape(leaf, corners=[(1, 6), (11, 6)]),
        "crest": crest(),
    }


def covered(rings: Sequence[numpy.ndarray], width: int, height: int) -> numpy.ndarray:
    """Return the share of each pixel within ``rings`` (in pixels), exactly: areas beneath edges, summed along rows."""
    sums = numpy.zeros((height, width + 2))
    for ring in rings:
        for (x, y), (to_x, to_y) in zip(ring, numpy.roll(ring, -1, 0), strict=True):
            if y == to_y:
                continue
            sign = 1.0
            if y > to_y:
                x, y, to_x, to_y, sign = to_x, to_y, x, y, -1.0
            slope = (to_x - x) / (to_y - y)
            for row in range(int(y), int(numpy.ceil(to_y))):
                top, bottom = max(row, y), min(row + 1, to_y)
                low, high = sorted((x + (top - y) * slope, x + (bottom - y) * slope))
                first, last = int(low), max(int(numpy.ceil(high)), int(low) + 1)
                for column in range(first, last):
                    begin, end = max(low, column), min(high, column + 1)
                    part = sign * (bottom - top) * ((end - begin) / (high - low) if high > low else 1.0)
                    mean = (begin + end) / 2 - column if high > low else low - column
                    sums[row, column] += part * (1 - mean)
                    sums[row, column + 1] += part * mean
    return numpy.abs(numpy.cumsum(sums, 1)[:, :width]).clip(0, 1)


def placed(
    shape: Shape, ppi: float, offset: Sequence[float]
) -> tuple[list[numpy.ndarray], numpy.ndarray, numpy.ndarray]:
    """Return rings and corners in pixels, moved by ``offset``, and how much of each pixel they cover, in 255 parts."""
    scale = ppi / MM_PER_INCH
    rings = [ring * scale + offset for ring in shape.rings]
    size = int(BOX_MM * scale) + 2
    return rings, shape.corners * scale + offset, numpy.rint(covered(rings, size, size) * 255).astype(numpy.uint8)


def clear_raster(levels: numpy.ndarray) -> Raster:
    """Return a picture in one colour that is as opaque as ``levels`` say."""
    rgba = numpy.zeros((*levels.shape, 4), numpy.uint8)
    rgba[..., 3] = levels
    return Raster(rgba.tobytes(), levels.shape[1], levels.shape[0])


def along(pieces, step: float = 0.05) -> numpy.ndarray:
    """Return points along curves, about ``step`` pixels apart."""
    points = []
    for piece in pieces:
        length = sum(abs(b - a) for a, b in itertools.pairwise(piece))
        count = max(2, int(length / step))
        points += [at(piece, part / count) for part in range(count)]
    return numpy.array([(each.real, each.imag) for each in points]).reshape(-1, 2)


def round_rings(rings: Sequence[numpy.ndarray], step: float = 0.05) -> numpy.ndarray:
    """Return points along closed rings of points."""
    return numpy.concatenate(
        [shapely.get_coordinates(shapely.segmentize(shapely.LinearRing(ring), step)) for ring in rings]
    )


def apart(one: numpy.ndarray, two: numpy.ndarray, step: float = 0.05) -> float:
    """Return the symmetric root-mean-square distance of two lines given by points no more than ``step`` apart.

    Distances to points, not to the lines between them, are too long by up to half a step; that is taken out again.
    """
    squares = [tree.query(points)[0] ** 2 for tree, points in ((cKDTree(two), one), (cKDTree(one), two))]
    rough = sum(each.mean() for each in squares) / 2
    return float(max(0.0, rough - step**2 / 12) ** 0.5)


def potrace(mask: numpy.ndarray):
    """Return the curves of potrace on a mask, in pixels from the top left, or skip where there is no potrace."""
    height, width = mask.shape
    bitmap = b"P4\n%d %d\n" % (width, height) + numpy.packbits(mask, axis=1).tobytes()
    command = [program("potrace", package="potrace"), "--svg", "--flat", "--unit", "1000", "--output", "-"]
    made = subprocess.run(command, input=bitmap, capture_output=True, check=True)
    text = made.stdout.decode()
    move_x, move_y, scale_x, scale_y = map(
        float, re.search(r"translate\((\S+),(\S+)\) scale\((\S+),(\S+)\)", text).groups()
    )
    pieces = [piece for data in re.findall(r'\sd="([^"]*)"', text) for piece in _pieces(data)]
    return [tuple(complex(move_x + scale_x * p.real, move_y + scale_y * p.imag) for p in piece) for piece in pieces]


def _pieces(data: str):
    """Yield the pieces of a path of m, l, c and z, relative or absolute."""
    parts = re.findall(r"[a-zA-Z]|-?[\d.]+", data)
    here = start = 0j
    command, place = "", 0

    def point() -> complex:
        nonlocal place
        place += 2
        return complex(float(parts[place - 2]), float(parts[place - 1])) + (here if command.islower() else 0)

    while place < len(parts):
        if parts[place].isalpha():
            command = parts[place]
            place += 1
        match command.lower():
            case "z":
                if abs(here - start) > 1e-6:
                    yield here, start
                here = start
            case "m":
                here = start = point()
                command = "l" if command == "m" else "L"
            case "l":
                end = point()
                yield here, end
                here = end
            case "c":
                piece = here, point(), point(), point()
                yield piece
                here = piece[-1]
            case _:
                raise ValueError(command)
