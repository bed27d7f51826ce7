"""Take a marking out of its picture: remove the background, flatten the colours, crop."""

from __future__ import annotations

import re
from collections.abc import Generator, Mapping
from dataclasses import dataclass
from itertools import combinations

from calculators import messages
from calculators.colour.difference import delta_e
from calculators.pixels.border import border_of, has_outside, is_filled, is_in_blocks, is_narrow
from calculators.pixels.colour_table import OPAQUE_FROM, Rgb, lab
from calculators.pixels.connected import connected, painted
from calculators.pixels.flat_colours import NONE, FlatColours
from calculators.pixels.raster import Raster
from calculators.values import Progress

#: A background is even if its colour makes at least this share of the opaque border.
EVEN_SHARE = 0.5
#: Where no colour has half of the border, a marking fills the picture if the border's colours differ by this (delta E
#: 2000; uneven paper differs by less) and lie in blocks of this share of the smaller side.
APART, BLOCK = 20.0, 0.05
#: What differs from the background by no more is no stripe of the marking but shaded paper.
PAPER = 12.0
_EDGE = re.compile(rb"[^\xff]+")


@dataclass(frozen=True)
class Background:
    """The background to remove: ``plane`` has one byte a pixel, 1 there, else 0; ``rgb`` is its colour.

    ``share`` is its share of all pixels, ``border_share`` that of its colour along the border, clear pixels left out.
    """

    plane: bytes
    rgb: Rgb
    share: float
    border_share: float


def flooded(
    raster: Raster, flat: FlatColours, tolerance: float, *, enclosed: bool
) -> Generator[Progress, None, Background | None]:
    """Return the background of a picture, flooded from its border over colours within ``tolerance`` (delta E 2000).

    The colour that is most frequent along the border is that of the background, an outline of the marking that runs
    there left out; None where there is none: the border is clear, holds many colours, or is filled by the stripes of a
    marking. ``enclosed`` takes that colour everywhere.
    """
    width, height, labels = flat.width, flat.height, flat.labels
    border = border_of(labels, width)
    counts = [border.count(label) for label in range(len(flat.colours))]
    if not any(counts):
        return None
    most = max(range(len(counts)), key=counts.__getitem__)
    no_stripes = {NONE, most}
    if is_narrow(labels, width, most) and has_outside(
        labels, width, (yield from connected(labels, width, height)), most
    ):
        border = border.replace(bytes([most]), b"")
        counts[most] = 0
        most = max(range(len(counts)), key=counts.__getitem__)
        no_stripes.add(most)
    if sum(counts) < len(border) - sum(counts):
        return None
    near = near_of(flat, most, tolerance)
    if not enclosed and is_filled(labels, width, no_stripes | near | near_of(flat, most, PAPER)):
        return None
    border_share = sum(counts[label] for label in near) / sum(counts)
    if border_share < EVEN_SHARE:
        return None
    mask = labels.translate(bytes(1 if label in near else 0 for label in range(256)))
    if not enclosed:
        found = yield from connected(mask, width, height, by_corners=(0,))
        reached = [area for area in found if area.value == 1 and area.at_border]
        mask = painted(reached, [1] * len(reached), len(mask))
    return Background(mask, flat.colours[most].rgb, mask.count(1) / len(mask), border_share)


def near_of(flat: FlatColours, label: int, tolerance: float) -> set[int]:
    """Return the labels of colours within ``tolerance`` (delta E 2000) of that of ``label``, with itself."""
    seed = lab(flat.colours[label].rgb)
    return {other for other, each in enumerate(flat.colours) if delta_e(seed, lab(each.rgb)) <= tolerance} | {label}


def fills_picture(flat: FlatColours) -> bool:
    """Return whether the marking reaches the border all round, as a flag does, so that there is no background."""
    border = border_of(flat.labels, flat.width)
    counts = {label: border.count(label) for label in set(border)}
    most = max(counts, key=lambda label: (counts[label], -label))
    if most == NONE:
        return False
    if is_filled(flat.labels, flat.width, {NONE} | near_of(flat, most, PAPER)):
        return True
    labs = [lab(flat.colours[label].rgb) for label in counts if label != NONE and counts[label] >= BLOCK * len(border)]
    return (
        2 * counts[most] < len(border)
        and is_in_blocks(border, round(BLOCK * min(flat.width, flat.height)))
        and all(delta_e(one, two) > APART for one, two in combinations(labs, 2))
    )


def cleaned(
    raster: Raster, flat: FlatColours, background: Background | None, becomes: Mapping[int, Rgb | None]
) -> Generator[Progress, None, bytearray]:
    """Return the RGBA pixels of the marking alone, in flat colours with smooth edges.

    ``becomes`` maps the labels that change to their new colour, None for one that is dropped. The shade of an edge is
    mixed again from the two colours beside it; beside a removed one it turns into alpha.
    """
    yield Progress(None, messages.TAKING_OUT)
    colours: list[Rgb | None] = [becomes.get(label, each.rgb) for label, each in enumerate(flat.colours)]
    rgba = bytearray(4 * len(flat.labels))
    for channel in range(3):
        levels = bytes(colour[channel] if colour else 0 for colour in colours)
        rgba[channel::4] = flat.labels.translate(levels + bytes(256 - len(levels)))
    opaque = bytes(255 if colour else 0 for colour in colours)
    alpha = _and(flat.labels.translate(opaque + bytes(256 - len(opaque))), raster.rgba[3::4])
    if background:
        alpha = _and(alpha, background.plane.translate(b"\xff\0" + bytes(254)))
    rgba[3::4] = alpha
    _soften(rgba, raster, flat, background, colours)
    _fade(rgba, raster, flat, background, colours)
    return rgba


def _and(first: bytes, second: bytes) -> bytes:
    return (int.from_bytes(first, "little") & int.from_bytes(second, "little")).to_bytes(len(first), "little")


def _soften(
    rgba: bytearray, raster: Raster, flat: FlatColours, background: Background | None, colours: list[Rgb | None]
) -> None:
    """Mix the pixels of edges from both sides, or fade them if one side was removed."""
    gone = background.plane if background else bytes(len(flat.labels))
    width = flat.width
    for found in _EDGE.finditer(flat.others):
        for place in range(*found.span()):
            own, other, lean = flat.labels[place], flat.others[place], flat.leans[place]
            first = None if gone[place] else colours[own]
            # The other side is removed if its colour is, or if the background begins beside the pixel.
            second = None if background and _touches(gone, flat.labels, other, place, width) else colours[other]
            if first and second:
                mixed = (round((a * (255 - lean) + b * lean) / 255) for a, b in zip(first, second, strict=True))
                rgba[4 * place : 4 * place + 3] = bytes(mixed)
                continue
            colour, share = (first, 255 - lean) if first else (second, lean) if second else (None, 0)
            rgba[4 * place : 4 * place + 3] = bytes(colour or (0, 0, 0))
            rgba[4 * place + 3] = share * raster.rgba[4 * place + 3] // 255


def _touches(gone: bytes, labels: bytes, other: int, place: int, width: int) -> bool:
    """Return whether the neighbours of the ``other`` colour all belong to the background."""
    near = (
        place - 1,
        place + 1,
        place - width,
        place + width,
        place - width - 1,
        place - width + 1,
        place + width - 1,
        place + width + 1,
    )
    sides = [gone[at] for at in near if 0 <= at < len(labels) and labels[at] == other]
    return bool(sides) and all(sides)


def _fade(
    rgba: bytearray, raster: Raster, flat: FlatColours, background: Background | None, colours: list[Rgb | None]
) -> None:
    """Give the faint pixels of edges that were clear before the nearest colour, with their own alpha.

    Those of the background, as round a hole in the paper, go with it.
    """
    faint = raster.rgba[3::4].translate(bytes([0]) + b"\1" * (OPAQUE_FROM - 1) + bytes(256 - OPAQUE_FROM))
    seen = [lab(each.rgb) for each in flat.colours]
    nearest: dict[Rgb, int] = {}
    for found in re.finditer(b"\1+", faint):
        for place in range(*found.span()):
            if flat.labels[place] != NONE or not colours:
                continue
            red, green, blue = raster.rgba[4 * place : 4 * place + 3]
            colour = red, green, blue
            if colour not in nearest:
                here = lab(colour)
                nearest[colour] = min(range(len(seen)), key=lambda label: delta_e(seen[label], here))
            label = nearest[colour]
            becomes = colours[label]
            if becomes and not (background and _touches(background.plane, flat.labels, label, place, flat.width)):
                rgba[4 * place : 4 * place + 3] = bytes(becomes)
                rgba[4 * place + 3] = raster.rgba[4 * place + 3]


def marking_box(alpha: bytes, width: int, height: int) -> tuple[int, int, int, int] | None:
    """Return left, top, right, bottom (exclusive) of all that is not transparent, or None."""
    first, last = alpha.lstrip(b"\0"), alpha.rstrip(b"\0")
    if not first:
        return None
    top, bottom = (len(alpha) - len(first)) // width, (len(last) - 1) // width + 1
    held = 0
    for row in range(top, bottom):
        held |= int.from_bytes(alpha[row * width : (row + 1) * width], "big")
    columns = held.to_bytes(width, "big")
    return width - len(columns.lstrip(b"\0")), top, len(columns.rstrip(b"\0")), bottom


def cropped(rgba: bytes | bytearray, width: int, box: tuple[int, int, int, int]) -> Raster:
    """Return the part of a picture inside ``box``."""
    left, top, right, bottom = box
    rows = (rgba[4 * (row * width + left) : 4 * (row * width + right)] for row in range(top, bottom))
    return Raster(b"".join(map(bytes, rows)), right - left, bottom - top)
