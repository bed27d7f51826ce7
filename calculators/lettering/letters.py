"""The strokes of each letter. The shapes are our own.

A square letter has sharp corners, and cuts some of them so that B is no 8, D no O and S no 5; in a round one, corners
have the radius of the style as far as there is room.
"""

from __future__ import annotations

from collections.abc import Callable

from calculators.lettering.box import Box
from calculators.lettering.pen import ACROSS, DOWN, crossing, slab_width

#: How wide the flat tip of A and V is, in strokes measured across.
_FLAT = 1.3
#: A W narrower than so many strokes has upright sides: slanted ones would close its openings.
_UPRIGHT_W = 5.0
#: Narrower than so many strokes, I and 1 are a bare stroke.
BARE = 2.0


def _a(box: Box) -> None:
    _peak(box, 0.0, box.width, box.height, _FLAT)
    # The crossbar ends within the sides.
    y = box.at(0.73)
    inset = box.stroke / 2 + (box.height - y) * (box.centre - box.stroke) / box.height
    box.beam(y, inset, box.width - inset)


def _peak(box: Box, left: float, right: float, foot: float, flat: float) -> None:
    """Draw two sides that lean on each other, with a flat tip."""
    half = (right - left) / 2
    across = slab_width(box.stroke, foot, half, flat / 2)
    tip = flat * across / 2
    middle = left + half
    box.pen.slab(complex(middle - tip, 0), complex(left, foot), across)
    box.pen.slab(complex(middle + tip - across, 0), complex(right - across, foot), across)


def _b(box: Box) -> None:
    middle = box.at(0.49)
    box.stem(box.left)
    box.bowl(box.top, middle)
    box.bowl(middle, box.foot)


def _c(box: Box) -> None:
    hook = box.at(0.3)
    box.path(
        complex(box.right, hook),
        complex(box.right, box.top),
        complex(box.left, box.top),
        complex(box.left, box.foot),
        complex(box.right, box.foot),
        complex(box.right, box.height - hook),
    )


def _d(box: Box) -> None:
    box.stem(box.left)
    box.bowl(box.top, box.foot)


def _e(box: Box) -> None:
    _f(box)
    box.beam(box.foot)


def _f(box: Box) -> None:
    box.stem(box.left)
    box.beam(box.top)
    box.beam(box.at(0.49), 0.0, box.width - 0.6 * box.stroke)


def _g(box: Box) -> None:
    bar = box.at(0.56)
    box.path(
        complex(box.right, box.at(0.29)),
        complex(box.right, box.top),
        complex(box.left, box.top),
        complex(box.left, box.foot),
        complex(box.right, box.foot),
        complex(box.right, bar),
        complex(box.centre - 0.1 * box.stroke, bar),
        sharp=(5,),
    )


def _h(box: Box) -> None:
    box.stem(box.left)
    box.stem(box.right)
    box.beam(box.at(0.49))


def _i(box: Box) -> None:
    box.stem(box.centre)
    if box.width > BARE * box.stroke:
        box.beam(box.top)
        box.beam(box.foot)


def _j(box: Box) -> None:
    box.path(
        complex(box.right, 0),
        complex(box.right, box.foot),
        complex(box.left, box.foot),
        complex(box.left, box.at(0.64)),
    )


def _k(box: Box) -> None:
    # The arm's upper edge meets the stem above the middle, and the leg leaves the arm near the stem.
    meets = box.at(0.42)
    run = box.width - box.stroke
    across = slab_width(box.stroke, meets, run, 1.0)
    way = complex(run - across, -meets)
    stem, top, foot = (complex(0.9 * box.stroke, 0), DOWN), (0j, ACROSS), (complex(0, box.height), ACROSS)
    upper, lower = (complex(box.width - across, 0), way), (complex(box.width, 0), way)
    box.stem(box.left)
    box.pen.polygon(*(crossing(side, end) for side, end in ((upper, stem), (upper, top), (lower, top), (lower, stem))))
    start = crossing(lower, (complex(box.stroke + 0.12 * run, 0), DOWN))
    leg = slab_width(box.stroke, box.height - start.imag, box.width - start.real, 1.0)
    down = complex(box.width - leg, box.height) - start
    middle = (complex(box.width - across / 2, 0), way)
    left, right = (start, down), (start + leg, down)
    box.pen.polygon(
        *(crossing(side, end) for side, end in ((left, middle), (right, middle), (right, foot), (left, foot)))
    )


def _l(box: Box) -> None:
    box.stem(box.left)
    box.beam(box.foot)


def _m(box: Box) -> None:
    box.stem(box.left)
    box.stem(box.right)
    deep = box.at(0.72)
    across = slab_width(box.stroke, deep, box.centre, 0.5)
    box.pen.slab(0j, complex(box.centre - across / 2, deep), across)
    box.pen.slab(complex(box.width - across, 0), complex(box.centre - across / 2, deep), across)


def _n(box: Box) -> None:
    box.stem(box.left)
    box.stem(box.right)
    across = slab_width(box.stroke, box.height, box.width, 1.0)
    box.pen.slab(0j, complex(box.width - across, box.height), across)


def ring(box: Box) -> None:
    box.path(
        complex(box.left, box.top),
        complex(box.right, box.top),
        complex(box.right, box.foot),
        complex(box.left, box.foot),
        closed=True,
    )


def _p(box: Box) -> None:
    box.stem(box.left)
    box.bowl(box.top, box.at(0.55))


def _q(box: Box) -> None:
    ring(box)
    deep = max(1.5 * box.stroke, box.at(0.22))
    left = max(box.width - max(2.3 * box.stroke, 0.45 * box.width), 1.5 * box.stroke)
    start = complex(left, box.height - deep)
    across = slab_width(box.stroke, deep, box.width - start.real, 1.0)
    way = complex(box.width - across, box.height) - start
    sides, foot = ((start, way), (start + across, way)), (complex(0, box.height), ACROSS)
    begin = start + across / 2, way * 1j
    box.pen.polygon(
        crossing(sides[0], begin), crossing(sides[1], begin), crossing(sides[1], foot), crossing(sides[0], foot)
    )


def _r(box: Box) -> None:
    middle = box.at(0.53)
    box.stem(box.left)
    box.bowl(box.top, middle)
    # In a square letter the leg leaves the bowl before its corner is cut.
    start = box.stroke + (0.06 if box.cut else 0.18) * (box.width - box.stroke)
    across = slab_width(box.stroke, box.height - middle, box.width - start, 1.0)
    box.pen.slab(complex(start, middle), complex(box.width - across, box.height), across)


def _s(box: Box) -> None:
    hook, middle = box.at(0.28), box.at(0.49)
    box.path(
        *_cut(
            box,
            [
                complex(box.right, hook),
                complex(box.right, box.top),
                complex(box.left, box.top),
                complex(box.left, middle),
                complex(box.right, middle),
                complex(box.right, box.foot),
                complex(box.left, box.foot),
                complex(box.left, box.height - hook),
            ],
        )
    )


def _cut(box: Box, points: list[complex]) -> list[complex]:
    """Return a path with its corners cut in a square letter."""
    if not box.cut:
        return points
    made = [points[0]]
    for before, here, after in zip(points, points[1:], points[2:], strict=False):
        cut = min(box.cut, abs(here - before) / 2.4, abs(after - here) / 2.4)
        made += [here + cut * (each - here) / abs(each - here) for each in (before, after)]
    return [*made, points[-1]]


def _t(box: Box) -> None:
    box.stem(box.centre)
    box.beam(box.top)


def _u(box: Box) -> None:
    box.path(complex(box.left, 0), complex(box.left, box.foot), complex(box.right, box.foot), complex(box.right, 0))


def _v(box: Box) -> None:
    _peak(box, 0.0, box.width, box.height, _FLAT)
    box.turn_over()


def _w(box: Box) -> None:
    if box.width < _UPRIGHT_W * box.stroke:
        _m(box)
        box.turn_over()
        return
    # Two V whose inner arms share the flat tip in the middle.
    across = slab_width(box.stroke, box.height, box.width / 4, 0.25)
    each = (box.width + across) / 2
    for left in (0.0, box.width - each):
        _peak(box, left, left + each, box.height, 1.0)
    box.turn_over()


def _x(box: Box) -> None:
    across = slab_width(box.stroke, box.height, box.width, 1.0)
    box.pen.slab(0j, complex(box.width - across, box.height), across)
    box.pen.slab(complex(box.width - across, 0), complex(0, box.height), across)


def _y(box: Box) -> None:
    meets, middle = box.at(0.56), box.centre
    run = middle - box.stroke / 2
    across = slab_width(box.stroke, meets, run)
    # Each arm ends at the centre line, above the place where its outer edge meets the stem.
    inner = (middle - across) * meets / run
    for side in (1, -1):
        arm = [0j, complex(across, 0), complex(middle, inner), complex(middle, meets), complex(run, meets)]
        box.pen.polygon(*(complex(middle + side * (each.real - middle), each.imag) for each in arm))
    box.pen.bar(run, meets, run + box.stroke, box.height)


def _z(box: Box) -> None:
    box.beam(box.top)
    box.beam(box.foot)
    across = slab_width(box.stroke, box.height, box.width, 1.0)
    box.pen.slab(complex(box.width - across, 0), complex(0, box.height), across)


#: Which function draws each letter.
LETTERS: dict[str, Callable[[Box], None]] = {
    **dict(zip("ABCDEFGHIJKLM", (_a, _b, _c, _d, _e, _f, _g, _h, _i, _j, _k, _l, _m), strict=True)),
    **dict(zip("NOPQRSTUVWXYZ", (_n, ring, _p, _q, _r, _s, _t, _u, _v, _w, _x, _y, _z), strict=True)),
}
