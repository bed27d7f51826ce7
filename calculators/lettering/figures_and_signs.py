"""The strokes of figures and signs, and the table of all characters. The shapes are our own."""

from __future__ import annotations

from collections.abc import Callable
from math import sqrt

from calculators.lettering.box import Box
from calculators.lettering.letters import BARE, LETTERS, ring
from calculators.lettering.pen import ACROSS, slab_width

#: A figure 1 wider than so many strokes has a foot. Its flag falls by so much of the height from the stem on.
FOOTED, FLAG = 3.4, 0.17


def _one(box: Box) -> None:
    if box.width <= BARE * box.stroke:
        box.stem(box.centre)
        return
    # A narrow one has its stem at the right and no foot.
    has_foot = box.width > FOOTED * box.stroke
    stem = box.centre if has_foot else box.right
    box.stem(stem)
    if has_foot:
        box.beam(box.foot)
    # The flag hangs from the top of the stem to the left edge, where it is cut upright.
    inner, left = stem - box.stroke / 2, 0.08 * box.width if has_foot else 0.0
    slope = FLAG * box.height / inner
    thick = box.stroke * sqrt(1 + slope * slope)
    drop = slope * (inner - left)
    box.pen.polygon(
        complex(inner, 0),
        complex(stem, 0),
        complex(stem, thick - slope * box.stroke / 2),
        complex(left, drop + thick),
        complex(left, drop),
    )


def _two(box: Box) -> None:
    bend = box.at(0.43)
    across = slab_width(box.stroke, box.height - bend, box.right, 0.5)
    box.pen.path(
        [
            complex(box.left, box.at(0.3)),
            complex(box.left, box.top),
            complex(box.right, box.top),
            complex(box.right, bend),
            complex(across / 2, box.height),
        ],
        box.radius,
        end=ACROSS,
    )
    box.beam(box.foot)


def _three(box: Box) -> None:
    hook, middle, start = box.at(0.28), box.at(0.49), box.centre - 0.6 * box.stroke
    box.path(
        complex(box.left, hook),
        complex(box.left, box.top),
        complex(box.right, box.top),
        complex(box.right, middle),
        complex(start, middle),
    )
    box.path(
        complex(start, middle),
        complex(box.right, middle),
        complex(box.right, box.foot),
        complex(box.left, box.foot),
        complex(box.left, box.height - hook),
    )


def _four(box: Box) -> None:
    stem, foot = box.width - 0.55 * box.stroke, box.at(0.79)
    across = slab_width(box.stroke, foot, stem, 1.0)
    box.pen.slab(complex(stem - across, 0), complex(0, foot), across)
    box.stem(stem - box.stroke / 2)
    box.beam(foot - box.stroke / 2)


def _five(box: Box) -> None:
    middle = box.at(0.43)
    box.path(
        complex(box.width - 0.25 * box.stroke, box.top),
        complex(box.left, box.top),
        complex(box.left, middle),
        complex(box.right, middle),
        complex(box.right, box.foot),
        complex(box.left, box.foot),
        complex(box.left, box.at(0.72)),
        sharp=(1, 2),
    )


def _six(box: Box) -> None:
    middle = box.at(0.43)
    box.path(
        complex(box.left, middle),
        complex(box.right, middle),
        complex(box.right, box.foot),
        complex(box.left, box.foot),
        closed=True,
        sharp=(0,),
    )
    box.path(
        complex(box.right, box.at(0.25)),
        complex(box.right, box.top),
        complex(box.left, box.top),
        complex(box.left, middle),
    )


def _seven(box: Box) -> None:
    start = 0.2 * box.width
    across = slab_width(box.stroke, box.height, box.width - start, 1.0)
    box.beam(box.top)
    box.pen.slab(complex(box.width - across, 0), complex(start, box.height), across)


def _eight(box: Box) -> None:
    middle = box.at(0.485)
    for top, foot in ((box.top, middle), (middle, box.foot)):
        box.path(
            complex(box.left, top),
            complex(box.right, top),
            complex(box.right, foot),
            complex(box.left, foot),
            closed=True,
        )


def _nine(box: Box) -> None:
    _six(box)
    box.turn_round()


def _ampersand(box: Box) -> None:
    left, right = 0.08 * box.width + box.left, 0.8 * box.width - box.left
    neck = box.at(0.26)
    across = slab_width(box.stroke, box.height - neck, box.width - left, 0.5)
    bend, end = 0.56 * box.width, box.at(0.54)
    arm = slab_width(box.stroke, box.foot - end, box.width - bend, 0.5)
    box.pen.path(
        [
            complex(box.width - across / 2, box.height),
            complex(left, neck),
            complex(left, box.top),
            complex(right, box.top),
            complex(right, neck),
            complex(box.left, box.at(0.6)),
            complex(box.left, box.foot),
            complex(bend, box.foot),
            complex(box.width - arm / 2, end),
        ],
        box.radius,
        start=ACROSS,
        end=ACROSS,
    )


def _hyphen(box: Box) -> None:
    box.beam(box.height / 2)


def _stop(box: Box) -> None:
    box.pen.bar(box.centre - box.stroke / 2, box.height - box.stroke, box.centre + box.stroke / 2, box.height)


def _slash(box: Box) -> None:
    across = slab_width(box.stroke, box.height, box.width, 1.0)
    box.pen.slab(complex(box.width - across, 0), complex(0, box.height), across)


#: Which function draws each character.
SKELETONS: dict[str, Callable[[Box], None]] = {
    **LETTERS,
    **dict(zip("0123456789", (ring, _one, _two, _three, _four, _five, _six, _seven, _eight, _nine), strict=True)),
    "-": _hyphen,
    ".": _stop,
    "/": _slash,
    "&": _ampersand,
}
