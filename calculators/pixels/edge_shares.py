"""The share of a pixel beside an edge that belongs to the colour on the other side.

Within a tolerance a pixel counts as wholly of its colour. An edge needs finer placement, so every pixel beside another
colour gets a place on the line from its own colour to the other. The line is in sRGB as stored, since most programs
smooth edges there; after blending in linear light, the dark side comes out a little too wide. Alpha alone decides the
edges of transparent areas.
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import lru_cache, partial
from typing import NamedTuple

from calculators.pixels.colour_table import Rgb
from calculators.pixels.flat_colours import NONE, FlatColours
from calculators.pixels.planes import Planes
from calculators.pixels.raster import Raster

#: An edge shade lies within this distance (in levels of 255 a channel) of the line between its two sides.
BESIDE_LINE = 26.0
#: Two shapes drawn one after the other let what lies behind both through in the edge that they share. The shade lies
#: within so many levels of such a mix, and what shows through is as much as it would be, within this share.
BESIDE_MIX, SHOWS_WITHIN = 12.0, 0.08
#: What lies behind both is one of the picture's colours or the white of a page.
PAGE: Rgb = (255, 255, 255)
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
    moved: dict[int, int] = {}
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
            # In a noisy picture what seems to show through may be noise, so no pixel changes sides for it.
            if lean[1] > MOST_LEAN and not flat.noisy:
                moved[place] = lean[0]
                others[place], leans[place] = own, 255 - lean[1]
            elif lean[1]:
                others[place], leans[place] = lean[0], min(MOST_LEAN, lean[1])
    flat = _with_labels(flat, moved)
    before_tips = planes.in_bands(_left_beside_leaning, beside, bytes(others), margin=1)
    if 1 in before_tips:
        _lean_before_tips(flat, raster, beside, before_tips, others, leans)
    return replace(flat, others=bytes(others), leans=bytes(leans))


def _with_labels(flat: FlatColours, moved: dict[int, int]) -> FlatColours:
    """Return ``flat`` with other labels at some places."""
    if not moved:
        return flat
    labels = bytearray(flat.labels)
    for place, label in moved.items():
        labels[place] = label
    return replace(flat, labels=bytes(labels))


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
    colours, pixels = [each.rgb for each in flat.colours], memoryview(raster.rgba).cast("I")
    known: dict[tuple[int, int, bytes], tuple[int, int]] = {}
    #: Whether a pixel lies at a tip of another colour, worked out once for all pixels beside it.
    tips: dict[tuple[int, int], bool] = {}
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
                    is_tip = tips.get((near, other))
                    if is_tip is None:
                        around = bytes([labels[at] for at in _around(near, width, size)])
                        is_tip = tips[near, other] = around.count(other) <= ROUND_TIP
                    if is_tip:
                        most[other] = leans[near]
            if most:
                key = pixels[place], own, bytes(sorted(most))
                if key not in known:
                    known[key] = _lean(raster.rgba[4 * place : 4 * place + 3], own, key[2], colours)
                other, lean = known[key]
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
    # Written out by channel here and below: grainy pictures ask this some hundred thousand times.
    red, green, blue = colours[own]
    off_red, off_green, off_blue = rgb[0] - red, rgb[1] - green, rgb[2] - blue
    for other in near:
        if other in (own, NONE):
            continue
        to_red, to_green, to_blue = colours[other]
        to_red, to_green, to_blue = to_red - red, to_green - green, to_blue - blue
        length = to_red * to_red + to_green * to_green + to_blue * to_blue
        share = (to_red * off_red + to_green * off_green + to_blue * off_blue) / length if length else 0.0
        if share <= 0:
            continue
        rest = (off_red - share * to_red) ** 2, (off_green - share * to_green) ** 2, (off_blue - share * to_blue) ** 2
        distance = sum(rest) ** 0.5
        if distance < best[0]:
            best = distance, other, min(MOST_LEAN, round(255 * share))
    return best[1:] if best[1] != NONE else _lean_over_a_third(rgb, own, near, colours)


def _lean_over_a_third(rgb: bytes, own: int, near: bytes, colours: list[Rgb]) -> tuple[int, int]:
    """Return (other, lean) of a pixel in which two colours meet and what lies behind both shows through.

    More than ``MOST_LEAN`` where the pixel belongs to the other: what shows through drew its colour to the wrong side.

    Of shapes that meet, the one drawn last covers its share s, the other its 1 - s of the rest, and (1 - s) s is left.
    """
    best = SHOWS_WITHIN, NONE, 0
    start = colours[own]
    x, y, z = (c - a for a, c in zip(start, rgb, strict=True))
    for other in near:
        if other in (own, NONE):
            continue
        for mix in _mixes(start, colours[other], tuple(colours)):
            (i, j, k), area = mix.normal, mix.area
            if (x * i + y * j + z * k) ** 2 >= BESIDE_MIX**2 * area:
                continue
            (a, b, c), (d, e, f) = mix.to_other, mix.to_behind
            of_one, of_two = a * x + b * y + c * z, d * x + e * y + f * z
            of_other = (of_one * mix.twos - of_two * mix.both) / area
            of_behind = (of_two * mix.ones - of_one * mix.both) / area
            of_own = 1 - of_other - of_behind
            # Either of the two may have been drawn last.
            for share, last in ((of_other, of_other), (1 - of_own, of_own)):
                off_by = abs(of_behind - last * (1 - last))
                if 0 < share < 1 and off_by < best[0]:
                    best = off_by, other, round(255 * share)
    return best[1:]


class _Mix(NamedTuple):
    """The plane through three colours: two ways from the first, their products, and their cross product."""

    to_other: Rgb
    to_behind: Rgb
    ones: int
    twos: int
    both: int
    normal: Rgb
    area: int  # squared


@lru_cache(maxsize=1024)
def _mixes(start: Rgb, other: Rgb, colours: tuple[Rgb, ...]) -> list[_Mix]:
    """Return the planes of ``start``, ``other`` and every further colour that does not lie on a line with them."""
    mixes = []
    a, b, c = (to - off for off, to in zip(start, other, strict=True))
    ones = a * a + b * b + c * c
    for behind in {*colours, PAGE} - {start, other}:
        d, e, f = (to - off for off, to in zip(start, behind, strict=True))
        twos, both = d * d + e * e + f * f, a * d + b * e + c * f
        area = ones * twos - both * both
        if area > 0.01 * ones * twos:
            normal = b * f - c * e, c * d - a * f, a * e - b * d
            mixes.append(_Mix((a, b, c), (d, e, f), ones, twos, both, normal, area))
    return mixes


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
