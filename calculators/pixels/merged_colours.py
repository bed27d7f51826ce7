"""Colours that became another one, far from them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import combinations
from math import ceil

from calculators.colour.difference import delta_e
from calculators.pixels.colour_table import OPAQUE_FROM, Rgb, lab, unpacked
from calculators.pixels.flat_colours import NONE
from calculators.pixels.lost_parts import Place
from calculators.pixels.raster import Raster
from calculators.pixels.shades import between

#: A colour was merged if it makes this share of the picture and lies further than
#: this (delta E 2000) from its label's colour.
MERGED_SHARE, MERGED_APART = 0.005, 6.0
#: The search uses squares of one label with this side in pixels, away from the noise of compression beside edges; a
#: larger range of green within one is the ripple of an edge.
SQUARE, QUIET = 5, 14
#: With more ripple, up to this, it is another colour only at this many times the distance.
RIPPLED, CLEARLY = 45, 1.4
#: Labels of colours within this (delta E 2000) may speckle a square. The further off a colour is, the fewer squares it
#: needs: at so many times the distance, so many times fewer, up to these.
SPECKLED, MOST_WEIGHT = 20.0, 4.0
#: A thin part of a colour has hardly a square, but without compression its pixels have exactly one colour, unlike the
#: shades of edges: so large a share of the picture, and so many of the pixels looked at.
THIN_SHARE, THIN_LEAST = 0.003, 12
#: Compression makes this share of the pixels that differ from their label's colour differ by so few levels.
SLIGHT_SHARE, SLIGHT = 0.25, 6
#: Such a colour is a shade if it lies within so many levels of a mix of two colours within so many pixels.
MIX_WITHIN, MIX_REACH = 8.0, 3
#: And it is a colour if so much of it is no shade, or lies in squares of two by two between different colours; but not
#: if two rows or two columns have this share of it.
OWN_SHARE, IN_ROWS = 0.5, 0.7
#: The number of pixels reported for a merged colour.
POINTS = 60
#: The number of places searched for merged colours.
SAMPLES = 40_000
#: Colours are rounded to 4 levels here, each to the middle, so that decisions can be reused.
COARSE, MIDDLE = 0xFCFCFC, 0x020202


def whole_place(places: list[tuple[int, int]], was: Rgb, now: Rgb) -> Place:
    """Return the place of a whole colour by some of its pixels."""
    columns, rows = [x for x, _ in places], [y for _, y in places]
    box = min(columns), min(rows), max(columns) + 1, max(rows) + 1
    return Place(box, was, now, tuple(sorted(places)[:: ceil(len(places) / POINTS)]))


def merged(raster: Raster, labels: bytes, colours: Sequence[Rgb], apart: float) -> tuple[Place, ...]:
    """Return colours of the picture that fill squares and are far from the colour of their label.

    A square may be speckled with the labels of similar colours, of which the mean counts.
    """
    off: dict[tuple[int, Rgb], list[tuple[int, int]]] = {}
    looked_at, width = 0, raster.width
    far, clearly = _Far(colours, apart), _Far(colours, CLEARLY * apart)
    labs = [lab(rgb) for rgb in colours]
    near = [{place for place, other in enumerate(labs) if delta_e(own, other) <= SPECKLED} for own in labs]
    for every, has, packed in sampled(raster, labels, SQUARE // 2):
        looked_at += len(has) - has.count(NONE)
        # Pairs repeat in a row, and in most rows no colour is far from its label's.
        differ = {pair for pair in set(zip(has, packed, strict=True)) if far[pair[0], pair[1] & COARSE]}
        for at, pair in zip(every, zip(has, packed, strict=True), strict=True) if differ else ():
            if pair in differ:
                label, rows = pair[0], range(at - 2 * width, at + 3 * width, width)
                square = b"".join(labels[place - 2 : place + 3] for place in rows)
                if not near[label].issuperset(square):
                    continue
                parts = b"".join(raster.rgba[4 * place - 8 : 4 * place + 12] for place in rows)
                mean = sum(sum(parts[channel::4]) // SQUARE**2 << 8 * channel for channel in range(3)) & COARSE
                greens = parts[1::4]
                ripple = max(greens) - min(greens)
                quiet, shows = ripple <= QUIET, square.count(label) == SQUARE**2
                if ripple > RIPPLED or not (far if quiet else clearly)[label, mean]:
                    continue
                if shows or _differs(mean, square, colours, apart if quiet else CLEARLY * apart):
                    off.setdefault((label, unpacked(mean | MIDDLE)), []).append((at % width, at // width))
    return _gathered(off, colours, MERGED_SHARE * looked_at, apart)


def merged_thin(raster: Raster, labels: bytes, colours: Sequence[Rgb], apart: float) -> tuple[Place, ...]:
    """Return colours of thin parts of a lossless picture that are far from the colour of their label.

    Many pixels have exactly such a colour, and it is neither a mix of those around it nor a shade: no edge has one over
    two pixels.
    """
    alike: dict[tuple[int, int], list[int]] = {}
    looked_at, width, own = 0, raster.width, [packed_opaque(rgb) for rgb in colours]
    for every, has, packed in sampled(raster, labels, MIX_REACH):
        looked_at += len(has) - has.count(NONE)
        for at, label, pixel in zip(every, has, packed, strict=True):
            if label != NONE and pixel != own[label]:
                alike.setdefault((label, pixel), []).append(at)
    if _is_noisy(alike, colours):
        return ()
    least, far, made = max(THIN_LEAST, THIN_SHARE * looked_at), _Far(colours, apart), {}
    for (label, pixel), places in sorted(alike.items(), key=lambda each: (-len(each[1]), each[0])):
        if len(places) < least or pixel >> 24 < OPAQUE_FROM or not far[label, pixel & COARSE]:
            continue
        if _are_their_own(raster, labels, colours, places):
            made[label, unpacked(pixel)] = [(at % width, at // width) for at in places]
    return tuple(whole_place(places, was, colours[label]) for (label, was), places in made.items())


def _is_noisy(alike: dict[tuple[int, int], list[int]], colours: Sequence[Rgb]) -> bool:
    """Return whether many of the pixels that differ from their labels' colours do so by little, as compression leaves
    them; the shades of edges differ by anything.
    """
    slightly = sum(
        len(places)
        for (label, pixel), places in alike.items()
        if max(abs(one - two) for one, two in zip(unpacked(pixel), colours[label], strict=True)) <= SLIGHT
    )
    return slightly > SLIGHT_SHARE * sum(map(len, alike.values()))


def packed_opaque(rgb: Rgb) -> int:
    """Return an opaque colour as a pixel has it."""
    return rgb[0] | rgb[1] << 8 | rgb[2] << 16 | 0xFF000000


def _are_their_own(raster: Raster, labels: bytes, colours: Sequence[Rgb], places: list[int]) -> bool:
    """Return whether the colour of ``places`` is one of its own: a mix of none around it, or filling squares."""
    width = raster.width
    # At a straight edge three colours mix to one shade, all along a row or two of pixels.
    in_rows = any(
        sum(times for _line, times in Counter(lines).most_common(2)) > IN_ROWS * len(places)
        for lines in ((at // width for at in places), (at % width for at in places))
    )
    own = sum(
        _lies_between_two(raster, labels, at) or (not in_rows and not _is_mix(raster, labels, colours, at))
        for at in places
    )
    return own >= OWN_SHARE * len(places)


def _is_mix(raster: Raster, labels: bytes, colours: Sequence[Rgb], at: int) -> bool:
    """Return whether the colour of a pixel is a mix of two of the colours around it."""
    width, shade = raster.width, unpacked(memoryview(raster.rgba).cast("I")[at])
    rows = range(at - MIX_REACH * width, at + MIX_REACH * width + 1, width)
    near = {label for row in rows for label in labels[row - MIX_REACH : row + MIX_REACH + 1] if label != NONE}
    return any(between(shade, colours[one], colours[two], MIX_WITHIN) for one, two in combinations(sorted(near), 2))


def _lies_between_two(raster: Raster, labels: bytes, at: int) -> bool:
    """Return whether a pixel lies in a square of two by two of its colour, with different labels on two sides of it."""
    width, pixels = raster.width, memoryview(raster.rgba).cast("I")
    for right in (1, -1):
        for down in (width, -width):
            if pixels[at + right] == pixels[at + down] == pixels[at + right + down] == pixels[at]:
                # A hairline between two rows of pixels has one ground; an edge has two.
                return any(labels[at - 2 * step] != labels[at + 3 * step] for step in (right, down))
    return False


def sampled(raster: Raster, labels: bytes, margin: int) -> Iterator[tuple[range, bytes, memoryview]]:
    """Yield the places looked at in some rows, and the label and the packed colour of each."""
    width, pixels = raster.width, memoryview(raster.rgba).cast("I")
    step = ceil((width * raster.height / SAMPLES) ** 0.5)
    for row in range(margin, raster.height - margin, step):
        every = range(row * width + margin, (row + 1) * width - margin, step)
        some = slice(every.start, every.stop, step)
        yield every, labels[some], pixels[some]


def _differs(mean: int, square: bytes, colours: Sequence[Rgb], apart: float) -> bool:
    """Return whether the mean of a square of the picture is far from the mean colour of its labels."""
    counts = Counter(square)
    red, green, blue = (
        round(sum(times * colours[label][channel] for label, times in counts.items()) / len(square))
        for channel in range(3)
    )
    return delta_e(lab(unpacked(mean | MIDDLE)), lab((red, green, blue))) > apart


class _Far(dict[tuple[int, int], bool]):
    """Whether a packed colour lies further than ``apart`` from that of a label, unless it has none; each is worked out
    once.
    """

    def __init__(self, colours: Sequence[Rgb], apart: float) -> None:
        self._labs, self._apart = [lab(rgb) for rgb in colours], apart

    def __missing__(self, key: tuple[int, int]) -> bool:
        label, packed = key
        found = self[key] = label != NONE and delta_e(lab(unpacked(packed | MIDDLE)), self._labs[label]) > self._apart
        return found


def _gathered(
    off: dict[tuple[int, Rgb], list[tuple[int, int]]], colours: Sequence[Rgb], least: float, apart: float
) -> tuple[Place, ...]:
    """Return one place for each colour that was merged into a label's, shades within ``apart`` taken together."""
    made, left = [], dict(off)
    for key in sorted(off, key=lambda each: (-len(off[each]), each)):
        if key not in left:
            continue
        label, mean = key
        alike = [each for each in left if each[0] == label and delta_e(lab(mean), lab(each[1])) <= apart]
        places = [place for each in alike for place in left.pop(each)]
        weight = min(MOST_WEIGHT, delta_e(lab(mean), lab(colours[label])) / apart)
        if len(places) >= 4 and weight * len(places) >= least:
            made.append(whole_place(places, mean, colours[label]))
    return tuple(made)
