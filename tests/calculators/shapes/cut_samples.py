"""Pieces to be cut, for the tests of order and files."""

from __future__ import annotations

import math

from calculators.shapes.cut_pieces import CutPiece, Layer, Run
from calculators.shapes.offsets import as_pieces, spread
from calculators.shapes.set_operations import cleaned
from calculators.shapes.waste import waste_cuts, waste_frame
from tests.calculators.shapes.offset_shapes import SHAPES, around, box

FILM = "white film"


def runs(rings) -> tuple[Run, ...]:
    return tuple(tuple(tuple(piece) for piece in ring) for ring in rings)


def circle(middle: complex, radius: float) -> Run:
    """Return a circle of four curves, off by less than 0.03 % of its radius."""
    reach = radius * 4 / 3 * math.tan(math.pi / 8)
    ways = [1 + 0j, 1j, -1 + 0j, -1j]
    return tuple(
        (
            middle + radius * way,
            middle + radius * way + reach * way * 1j,
            middle + radius * after + reach * after / 1j,
            middle + radius * after,
        )
        for way, after in zip(ways, [*ways[1:], ways[0]], strict=True)
    )


def cross(middle: complex, arm: float = 2.0) -> tuple[Run, Run]:
    return ((middle - arm, middle + arm),), ((middle - arm * 1j, middle + arm * 1j),)


def piece(rings, name="backing piece", layer=Layer.BACKING, **more) -> CutPiece:
    return CutPiece(name, layer, FILM, runs(rings), **more)


def shape(name: str) -> CutPiece:
    """Return one of the shapes that offsets are tested on, with all crossings resolved."""
    return piece(cleaned(SHAPES[name]), name)


def grown(name: str, distance: float) -> CutPiece:
    """Return a shape spread by ``distance``, its curves followed by short lines."""
    return piece([as_pieces(ring) for ring in spread(SHAPES[name], distance).rings], name)


def targets() -> list[CutPiece]:
    """Return rings within rings beside a square, with register marks, a frame and cuts through the waste."""
    rings = [circle(30 + 30j, radius) for radius in (20, 5, 12, 8, 16)]
    small = [as_pieces(around(6, lambda _turn: 1.5, complex(30, y))) for y in (30, 44)]
    pieces = [
        piece(rings, marks=(*cross(2 + 2j), *cross(88 + 58j))),
        piece([box(60, 20, 15, 25), *small], "stencil", Layer.STENCIL),
    ]
    frame = waste_frame(pieces, 5, "frame", FILM)
    return [waste_cuts(pieces, frame, "waste", FILM), frame, *pieces]
