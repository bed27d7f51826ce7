"""The share of a pixel beside an edge that belongs to the colour on the other side.

Within a tolerance a pixel counts as wholly of its colour. An edge needs finer placement, so every pixel beside another
colour gets a place on the line from its own colour to the other. The line is in sRGB as stored, since most programs
smooth edges there; after blending in linear light, the dark side comes out a little too wide. Alpha alone decides the
edges of transparent areas.
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import partial

from calculators.pixels.colour_table import Rgb
from calculators.pixels.flat_colours import NONE, FlatColours
from calculators.pixels.planes import Planes
from calculators.pixels.raster import Raster

#: An edge shade lies within this distance (in levels of 255 a channel) of the line between its two sides.
BESIDE_LINE = 26.0
#: Shares count in parts of 255 and stay below one half: the label is that of the larger side.
MOST_LEAN = 127
#: Pixels before a sharp tip also lean to its colour without touching it: up to this many, from this lean (of 255) on,
#: and only if at most this many of the eight pixels round the previous one have that colour; an edge has more.
TIP_REACH, FAINT, ROUND_TIP = 3, 5, 2
#: In the plane of pixels that differ from their label's colour: those beside another label, and all others.
BESIDE, OFF = 1, 2


def with_edges(flat: FlatColours, raster: Raster) -> FlatColours:
    """Return ``flat`` with the leaning of pixels beside another colour or a transparent area."""
    return _by_alpha(_by_colour(flat, raster), raster)


def _by_colour(flat: FlatColours, raster: Raster) -> FlatColours:
    labels, width = flat.labels, flat.width
    planes = Planes(width, flat.height)
    channels = [bytes(each.rgb[channel] for each in flat.colours).ljust(256, b"\0") for channel in range(3)]
    beside = planes.in_bands(partial(_looked_at, channels), labels, flat.others, raster.rgba, margin=1)
    others, leans = bytearray(flat.others), bytearray(flat.leans)
    pixels = memoryview(raster.rgba).cast("I")
    colours = [each.rgb for each in flat.colours]
    known: dict[tuple[int, int, bytes], tuple[int, int]] = {}
    last = len(labels)
    for found in re.finditer(b"\1+", beside):
        for place in range(*found.span()):
            own = labels[place]
            if own == NONE:
                continue
            column = place % width
            left, right = place - (column > 0), place + (column < width - 1) + 1
            step = right - left
            near = labels[left:right]
            if place >= width:
                near += labels[left - width : left - width + step]
            if place + width < last:
                near += labels[left + width : left + width + step]
            key = pixels[place], own, bytes(sorted(set(near)))
            lean = known.get(key)
            if lean is None:
                lean = known[key] = _lean(raster.rgba[4 * place : 4 * place + 3], own, key[2], colours)
            if lean[1]:
                others[place], leans[place] = lean
    before_tips = planes.in_bands(_left_beside_leaning, beside, bytes(others), margin=1)
    if 1 in before_tips:
        _lean_before_tips(flat, raster, beside, before_tips, others, leans)
    return replace(flat, others=bytes(others), leans=bytes(leans))


def _left_beside_leaning(planes: Planes, looked_at: bytes, others: bytes) -> int:
    """Return 1 for pixels off their colour that lean to none, next to one that leans to another."""
    off = planes.number(looked_at.translate(bytes([0] + [1] * 255)))
    return off & planes.where(others, NONE) & planes.grown(planes.number(others.translate(bytes([1] * NONE + [0]))))


def _lean_before_tips(
    flat: FlatColours, raster: Raster, beside: bytes, before_tips: bytes, others: bytearray, leans: bytearray
) -> None:
    """Let pixels lean that lie before the tip of another colour, ever further from
    it, each less than the one before.
    """
    labels, width, size = flat.labels, flat.width, len(flat.labels)
    colours = [each.rgb for each in flat.colours]
    looked_at = [place for found in re.finditer(b"\1+", before_tips) for place in range(*found.span())]
    for _ in range(TIP_REACH):
        leaning_now: dict[int, tuple[int, int]] = {}
        for place in looked_at:
            own = labels[place]
            if own == NONE:
                continue
            most: dict[int, int] = {}
            for near in _around(place, width, size):
                other = others[near]
                if other != NONE and other != own and labels[near] == own and leans[near] > most.get(other, 0):
                    if sum(labels[at] == other for at in _around(near, width, size)) <= ROUND_TIP:
                        most[other] = leans[near]
            if most:
                other, lean = _lean(raster.rgba[4 * place : 4 * place + 3], own, bytes(sorted(most)), colours)
                if FAINT <= lean < most.get(other, 0):
                    leaning_now[place] = other, lean
        for place, leaning in leaning_now.items():
            others[place], leans[place] = leaning
        looked_at = sorted(
            {
                near
                for place in leaning_now
                for near in _around(place, width, size)
                if beside[near] and others[near] == NONE
            }
        )
        if not looked_at:
            return


def _around(place: int, width: int, size: int) -> list[int]:
    """Return the up to eight pixels round one."""
    column = place % width
    left, right = place - (column > 0), place + (column < width - 1) + 1
    near = [at for row in (-width, 0, width) for at in range(left + row, right + row) if 0 <= at < size]
    near.remove(place)
    return near


def _looked_at(channels: list[bytes], planes: Planes, labels: bytes, others: bytes, rgba: bytes) -> int:
    """Return BESIDE for pixels beside another label that lean to none yet and have not
    exactly the colour of their own; else OFF.

    ``channels`` hold the red, the green and the blue of each label.
    """
    differs = 0
    for channel, of_label in enumerate(channels):
        differs |= planes.number(labels.translate(of_label)) ^ planes.number(rgba[channel::4])
    own = planes.where(planes.plane(differs), 0)
    off = planes.where(others, NONE) & ~own
    near = _beside_another(planes, labels) & off
    return near | (off & ~near) << 1


def _beside_another(planes: Planes, labels: bytes) -> int:
    """Return 1 for each pixel one of whose eight neighbours has another label, and for some pixels more."""
    right, below, step = planes.same_right(labels), planes.same_below(labels), 8 * planes.width
    ones = planes.number(b"\1" * planes.size)
    changes = (ones & ~right) | (ones & ~below)
    # From the pixel before a change to those after it, also across the slant.
    return (changes | changes << 8 | changes << step | changes << step + 8 | changes << step - 8 | changes >> 8) & ones


def _lean(rgb: bytes, own: int, near: bytes, colours: list[Rgb]) -> tuple[int, int]:
    """Return (other, lean) of a pixel among the labels ``near``; (NONE, 0) if its colour lies on no line."""
    best = BESIDE_LINE, NONE, 0
    start = colours[own]
    for other in near:
        if other in (own, NONE):
            continue
        along = [b - a for a, b in zip(start, colours[other], strict=True)]
        off = [c - a for a, c in zip(start, rgb, strict=True)]
        length = sum(each * each for each in along)
        share = sum(a * b for a, b in zip(along, off, strict=True)) / length if length else 0.0
        if share <= 0:
            continue
        distance = sum((b - share * a) ** 2 for a, b in zip(along, off, strict=True)) ** 0.5
        if distance < best[0]:
            best = distance, other, min(MOST_LEAN, round(255 * share))
    return best[1:]


def _by_alpha(flat: FlatColours, raster: Raster) -> FlatColours:
    """Return ``flat`` with the edges of transparent areas by alpha: the transparent share of each pixel."""
    alpha = raster.rgba[3::4]
    if alpha.count(255) + alpha.count(0) == len(alpha):
        return flat
    others, leans, labels = bytearray(flat.others), bytearray(flat.leans), flat.labels
    width, size = flat.width, len(labels)
    further: list[int] = []
    for found in re.finditer(rb"[^\x00\xff]+", alpha):
        for place in range(*found.span()):
            level = alpha[place]
            if labels[place] != NONE:
                others[place], leans[place] = NONE, 255 - level
                continue
            # At a tip the only opaque pixel may lie across the slant.
            around = [place + way * reach for reach in (1, width, width + 1, width - 1) for way in (-1, 1)]
            near = [labels[at] for at in around if 0 <= at < size and labels[at] != NONE]
            if near:
                others[place], leans[place] = near[0], level
            else:
                further.append(place)
    # Before a sharp tip it lies further off.
    for _ in range(TIP_REACH):
        added = {}
        for place in further:
            most = max(_around(place, width, size), key=lambda at: leans[at] if labels[at] == NONE else 0)
            if leans[most] > alpha[place] >= FAINT and labels[most] == NONE and others[most] != NONE:
                added[place] = others[most]
        for place, other in added.items():
            others[place], leans[place] = other, alpha[place]
        further = [place for place in further if place not in added]
        if not added:
            break
    return replace(flat, others=bytes(others), leans=bytes(leans))
