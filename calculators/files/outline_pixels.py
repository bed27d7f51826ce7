"""Draws outlines as pixels for calculators that need pixels, such as a marking on its paint."""

from __future__ import annotations

from collections.abc import Generator
from dataclasses import replace
from math import sqrt
from typing import TYPE_CHECKING

from calculators import messages
from calculators.cache import PICTURES
from calculators.colour.srgb import levels_of
from calculators.files.picture import Picture
from calculators.shapes.filled import Fill, filled
from calculators.shapes.steps import FILLING
from calculators.units import MM_PER_INCH
from calculators.values import Message, Progress, in_words, message

if TYPE_CHECKING:
    from calculators.files.outline_reader import Outlines

#: Outlines are drawn with about so many pixels, 800 x 800 of a square, whatever their
#: size, and with no longer side than this.
DRAWN_PX, LONGEST_PX = 640_000, 4000
#: Outlines made for a width that differs by more than this share are reported.
OTHER_WIDTH = 0.005


def size_px(outlines: Outlines) -> tuple[int, int]:
    """Return width and height in pixels that ``outlines`` are drawn with."""
    width, height = outlines.width_mm, outlines.height_mm
    scale = min(sqrt(DRAWN_PX / (width * height)), LONGEST_PX / max(width, height))
    return max(1, round(width * scale)), max(1, round(height * scale))


def with_pixels(picture: Picture) -> Generator[Progress, None, Picture]:
    """Yield ``Progress``, and return ``picture`` with pixels: itself if it has them, else its outlines drawn.

    The drawing is cached.
    """
    outlines = picture.outlines
    if not outlines:
        return picture
    width, height = size_px(outlines)

    def drawn() -> Generator[Progress, None, bytes]:
        return in_words(filled(fills(outlines, width, height), width, height), {FILLING: messages.DRAWING_OUTLINES})

    rgba = yield from PICTURES.worked_out(picture.digest, ("drawn", width, height), drawn)
    return replace(picture, header=replace(picture.header, width_px=width, height_px=height), rgba=rgba)


def outline_reasons(drawn: Picture, width_mm: float) -> list[Message]:
    """Return how the outlines of a picture were drawn, and for which width they
    were made, if their file says so; nothing of one that has none.
    """
    if not drawn.outlines:
        return []
    width, height = drawn.size_px
    reasons = [
        message(messages.DRAWN_WITH, width=str(width), height=str(height), printed_ppi=MM_PER_INCH * width / width_mm)
    ]
    if drawn.outlines.sized and abs(drawn.outlines.width_mm / width_mm - 1) > OTHER_WIDTH:
        reasons.append(message(messages.OUTLINES_MADE_FOR, made_mm=drawn.outlines.width_mm, width_mm=width_mm))
    return reasons


def fills(outlines: Outlines, width: int, height: int) -> list[Fill]:
    """Return the shapes of a drawing in pixels of a picture of ``width`` x ``height``."""
    left, top, box_width, box_height = outlines.box
    across, down = width / box_width, height / box_height

    def pixel(place: complex) -> complex:
        return complex((place.real - left) * across, (place.imag - top) * down)

    return [
        (
            levels_of(shape.fill),
            [[tuple(map(pixel, piece)) for piece in ring] for ring in shape.rings],
            shape.even_odd,
        )
        for shape in outlines.shapes
    ]
