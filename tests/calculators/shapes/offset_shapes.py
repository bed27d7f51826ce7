"""Outlines that spread, choke and set operations are tested on, in mm: rings of pieces, filled by winding."""

from __future__ import annotations

import math
import random
from functools import cache
from pathlib import Path

from calculators.files.outline_reader import Outlines, read_outlines
from calculators.files.svg_paths import path_lines
from calculators.shapes.cubics import Piece
from calculators.shapes.offsets import as_pieces
from tests.corpus.letters import SANS, SERIF, outlines

Rings = list[list[Piece]]
DEMO = Path(__file__).resolve().parents[3] / "content" / "demo"


def around(count: int, radius, middle: complex = 0j) -> list[complex]:
    """Return a closed line of ``count`` points, ``radius`` a function of the direction."""
    turns = (2 * math.pi * step / count for step in range(count))
    return [middle + radius(turn) * complex(math.cos(turn), math.sin(turn)) for turn in turns]


def polygon(*corners: tuple[float, float]) -> list[Piece]:
    return as_pieces([complex(*each) for each in corners])


def box(x: float, y: float, width: float, height: float) -> list[Piece]:
    return polygon((x, y), (x + width, y), (x + width, y + height), (x, y + height))


def hole(ring: list[Piece]) -> list[Piece]:
    return [piece[::-1] for piece in reversed(ring)]


def letter(text: str, family: str = SANS) -> Rings:
    """Return letters of an open-licence font, capitals 12 mm high."""
    return [pieces for pieces, _closed in path_lines(outlines(text, 10, 14, 12, family=family), 9999)]


def path(data: str) -> Rings:
    return [pieces for pieces, _closed in path_lines(data + "Z", 9999)]


def rough(seed: int, count: int) -> list[Piece]:
    chance = random.Random(seed)
    return as_pieces(around(count, lambda _turn: chance.uniform(2, 9)))


@cache
def outlines_of(name: str) -> Outlines:
    return read_outlines((DEMO / name).read_bytes())


def traced(name: str, number: int) -> Rings:
    """Return the rings of one shape of the demonstration artwork."""
    shape = outlines_of(name).shapes[number]
    return [list(ring) for ring in shape.rings]


SHAPES: dict[str, Rings] = {
    "square": [box(0, 0, 10, 10)],
    "frame": [box(0, 0, 10, 10), hole(box(3, 3, 4, 4))],
    "touching squares": [box(0, 0, 4, 4), box(4, 4, 4, 4)],
    "overlapping squares": [box(0, 0, 6, 6), box(3, 3, 6, 6)],
    "triangle": [polygon((0, 0), (9, 1), (2, 8))],
    "star": [as_pieces(around(10, lambda turn: 5 if round(turn * 5 / math.pi) % 2 else 2))],
    "fan": [as_pieces(around(72, lambda turn: 6 if round(turn * 36 / math.pi) % 2 else 5))],
    "dumb-bell": [
        polygon(
            (0, 0), (5, 0), (5, 2.4), (9, 2.4), (9, 0), (14, 0), (14, 5), (9, 5), (9, 2.6), (5, 2.6), (5, 5), (0, 5)
        )
    ],
    "comb": [polygon((0, 0), (12, 0), *((12 - step / 2, 2 + 4 * (step // 2 % 2)) for step in range(24)))],
    "needle": [polygon((0, 0), (20, 0.3), (0, 0.6))],
    "slit": [box(0, 0, 12, 8), hole(box(2, 3.9, 8, 0.2))],
    "sieve": [box(0, 0, 14, 8), *(hole(box(1 + 2.2 * n, 1 + 1.4 * (n % 4), 1, 1)) for n in range(6))],
    "circle": [as_pieces(around(200, lambda _turn: 4))],
    "coarse circle": [as_pieces(around(16, lambda _turn: 4))],
    "ring": [as_pieces(around(160, lambda _turn: 6)), as_pieces(around(160, lambda _turn: 5.2)[::-1])],
    "wave": [as_pieces(around(400, lambda turn: 6 + 1.2 * math.sin(13 * turn)))],
    "cusp": path("M0 0C6 0 6 0 6 6C6 0 6 0 12 0C12 8 0 8 0 0"),
    "arcs that nearly touch": path("M0 0A5 5 0 0 0 10 0A5 5 0 0 1 20.02 0V-1H0zM0 12A5 5 0 0 1 10 12h10.02V14H0z"),
    "crossing curve": path("M0 0C18 14 -6 14 12 0"),
    "rough": [rough(1, 40)],
    "rougher": [rough(2, 90)],
    "R": letter("R"),
    "g": letter("g", SERIF),
    "8": letter("8"),
    "&": letter("&", SERIF),
    "letters": letter("Saw"),
    "crest ring": traced("crest-left.svg", 1),
    "stalk of the crest": traced("crest-left.svg", 3),
    "shaded figures": traced("fleet-number.svg", 0),
    "fine lining": traced("lining-left.svg", 1),
}
