"""What is true of a drawing: its colours, where the strokes of each run and how wide, and what its white means.

All of it is read from the drawing rendered at 8 times 300 px, never from a picture that is judged. Colour differences
are scikit-image's CIEDE2000, not ours.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import cv2
import numpy
from skimage.color import deltaE_ciede2000, rgb2lab
from skimage.morphology import skeletonize

from tests.corpus.drawings import GROUND, RESVG, WANTED, Drawing, rendered

TRUTH_PX, GRID_PX = 8 * 300, 1200
#: Colours nearer than this (CIEDE2000) are one; one with no more than this share of the
#: opaque area is none of the drawing's main ones.
MERGED, MAIN_SHARE = 6.0, 0.01
#: A colour that fills squares of 3 x 3 pixels at 8 times in so many places was drawn; other shades are those of edges.
FEWEST_SOLID = 64
#: The most colours examined, the most frequent first; a drawing with gradients has more and is not called flat.
MOST_DRAWN = 64
OTHER = 255
#: A part wider than this on the grid is broad.
BROAD = 100
#: Two whites nearer than this on the grid of a drawing touch: what lies between is the soft edge of one.
BLURRED_PX = 2
#: Values of the plane of white.
NO_WHITE, BACKGROUND, WANTED_WHITE, HOLE = range(4)
#: A colour of 8 bits a channel is one of so many.
_EVERY_SHADE = 1 << 24
_MARKERS = {WANTED: (255, 0, 254), GROUND: (0, 255, 253)}

Rgb = tuple[int, int, int]


@dataclass(frozen=True)
class Strokes:
    """The centre line of all that has one colour: points in shares of width and height, widths in shares of the width.

    ``widest`` is the width of its widest part; ``share`` its share of the opaque area.
    """

    rgb: Rgb
    share: float
    widest: float
    x: numpy.ndarray
    y: numpy.ndarray
    width: numpy.ndarray


@dataclass(frozen=True)
class Truth:
    """``colours``: the main ones, the largest first; ``every``: all that were drawn, the small ones too.

    ``whites`` is a plane over the whole picture, None where the drawing does not say what its white means.
    """

    colours: tuple[Strokes, ...]
    every: tuple[Rgb, ...]
    flat_share: float
    whites: numpy.ndarray | None


def delta_e(first: object, second: object) -> numpy.ndarray:
    """Return CIEDE2000 between sRGB colours (..., 3) of 0 to 255, spread over each other."""
    return deltaE_ciede2000(
        *numpy.broadcast_arrays(*(rgb2lab(numpy.asarray(each, float) / 255) for each in (first, second)))
    )


@dataclass(frozen=True)
class Flat:
    """The flat colours of a drawing without their strokes: main ones with their shares, all that
    were drawn, their share, and a plane of labels.

    The plane has ``OTHER`` where no main colour is.
    """

    main: list[tuple[int, float]]
    drawn: list[int]
    share: float
    labels: numpy.ndarray


def truth_of(drawing: Drawing, *, clear: bool) -> Truth:
    """Return what is true of a flat drawing; ``clear``: on nothing, where its ground is not drawn, else on white."""
    flat = flat_of(drawing, clear=clear)
    return Truth(
        colours=tuple(
            _strokes(flat.labels == place, _tuple(colour), share) for place, (colour, share) in enumerate(flat.main)
        ),
        every=tuple(map(_tuple, flat.drawn)),
        flat_share=flat.share,
        whites=whites_of(drawing, clear=clear) if drawing.tells_whites else None,
    )


def flat_of(drawing: Drawing, *, clear: bool, longer_px: int = TRUTH_PX, step: int = TRUTH_PX // GRID_PX) -> Flat:
    """Return the flat colours of a drawing, and which place of a grid, of every
    ``step`` pixels, has which of the main ones.
    """
    pixels = rendered(drawing.svg, *drawing.size(longer_px), RESVG, clear=clear)
    packed = pixels[..., :3].astype(numpy.uint32) @ numpy.array([65536, 256, 1], numpy.uint32)
    opaque = pixels[..., 3] == 255
    shades, counts = numpy.unique(packed[opaque], return_counts=True)
    share_of = dict(zip(shades.tolist(), (counts / counts.sum()).tolist(), strict=True))
    drawn, drawn_counts = numpy.unique(packed[_solid(packed, opaque)], return_counts=True)
    drawn = sorted(drawn[drawn_counts >= FEWEST_SOLID].tolist(), key=lambda each: -share_of[each])[:MOST_DRAWN]
    main, belongs = _merged(drawn, share_of)
    packed, opaque = packed[::step, ::step], opaque[::step, ::step]
    labels = numpy.full(packed.shape, OTHER, numpy.uint8)
    labels[opaque] = _of_nearest(packed[opaque], _rgb(drawn), numpy.array(belongs, numpy.uint8))
    return Flat(main, drawn, sum(share_of[each] for each in drawn), labels)


def labels_of(drawing: Drawing, every: Sequence[Rgb], *, clear: bool, longer_px: int) -> numpy.ndarray:
    """Return which of ``every`` colour of a drawing each pixel has, where it is drawn that
    large; colours that are one have one label.

    ``OTHER`` is where nothing opaque is.
    """
    pixels = numpy.ascontiguousarray(rendered(drawing.svg, *drawing.size(longer_px), RESVG, clear=clear))
    alike = delta_e(numpy.array(every)[:, None], numpy.array(every)[None]) < MERGED
    packed = pixels.view("<u4")[..., 0]
    # Red is the lowest byte here.
    red, green, blue = (packed >> shift & 255 for shift in (0, 8, 16))
    labels = _of_nearest(red << 16 | green << 8 | blue, numpy.array(every), alike.argmax(axis=1).astype(numpy.uint8))
    labels[pixels[..., 3] < 128] = OTHER
    return labels


def _of_nearest(packed: numpy.ndarray, colours: numpy.ndarray, values: numpy.ndarray) -> numpy.ndarray:
    """Return for each packed colour the value of the nearest of ``colours``.

    A table of all shades takes a tenth of the time that sorting millions of pixels does.
    """
    seen = numpy.zeros(_EVERY_SHADE, bool)
    seen[packed] = True
    shades = numpy.flatnonzero(seen)
    value_of = numpy.zeros(_EVERY_SHADE, numpy.uint8)
    value_of[shades] = values[delta_e(_rgb(shades)[:, None], colours[None]).argmin(axis=1)]
    return value_of[packed]


def _solid(packed: numpy.ndarray, opaque: numpy.ndarray) -> numpy.ndarray:
    """Return where a pixel is opaque and like all eight around it."""
    alike = numpy.zeros(packed.shape, bool)
    middle = packed[1:-1, 1:-1]
    same = opaque[1:-1, 1:-1].copy()
    height, width = packed.shape
    for down in range(3):
        for right in range(3):
            same &= packed[down : height - 2 + down, right : width - 2 + right] == middle
    alike[1:-1, 1:-1] = same
    return alike


def _merged(drawn: list[int], share_of: dict[int, float]) -> tuple[list[tuple[int, float]], list[int]]:
    """Return the main colours with their shares, and for each drawn colour the place of that which it belongs to."""
    merged: list[list] = []
    goes_to = []
    for colour in drawn:
        apart = delta_e(_rgb([each for each, _share in merged]), _rgb([colour])) if merged else numpy.array([])
        place = int(apart.argmin()) if merged and apart.min() < MERGED else len(merged)
        if place == len(merged):
            merged.append([colour, 0.0])
        merged[place][1] += share_of[colour]
        goes_to.append(place)
    main = [place for place, (_colour, share) in enumerate(merged) if share > MAIN_SHARE]
    place_of = {old: new for new, old in enumerate(main)}
    return [tuple(merged[place]) for place in main], [place_of.get(place, OTHER) for place in goes_to]


def _strokes(mask: numpy.ndarray, rgb: Rgb, share: float) -> Strokes:
    height, width = mask.shape
    # One less: distances run from the middle of a pixel to the middle of the nearest outside.
    wide = 2 * cv2.distanceTransform(mask.astype(numpy.uint8), cv2.DIST_L2, 5) - 1
    down, right = _centre_line(mask, wide)
    return Strokes(
        rgb, share, float(wide.max() / width), (right + 0.5) / width, (down + 0.5) / height, wide[down, right] / width
    )


def _centre_line(mask: numpy.ndarray, wide: numpy.ndarray) -> tuple[numpy.ndarray, numpy.ndarray]:
    """Return rows and columns of the centre line of all parts.

    That of a broad part is sought on every second pixel of every second row, which is quicker; its points count twice.
    """
    points = []
    count, parts, boxes, _middles = cv2.connectedComponentsWithStats(mask.astype(numpy.uint8), connectivity=8)
    for part in range(1, count):
        left, top, across, down, _size = boxes[part]
        box = numpy.s_[top : top + down, left : left + across]
        own = parts[box] == part
        step = 2 if wide[box][own].max() > BROAD else 1
        found = numpy.argwhere(skeletonize(own[::step, ::step])) * step + (top, left)
        points.append(numpy.repeat(found, step, axis=0))
    rows, columns = numpy.concatenate(points or [numpy.zeros((0, 2), int)]).T
    return rows, columns


def whites_of(drawing: Drawing, *, clear: bool = False) -> numpy.ndarray:
    """Return what each place of a drawing means: no white, background, white that is wanted, or a hole.

    Ground that the border of the picture does not reach is a hole: the paint shows through it. Unless the ground is
    ``clear``, wanted white that runs into it without an edge counts as no white: no picture can show the two apart.
    """
    svg = drawing.source
    for token, (red, green, blue) in _MARKERS.items():
        svg = svg.replace(token, f"#{red:02x}{green:02x}{blue:02x}")
    pixels = rendered(svg, *drawing.size(GRID_PX), RESVG)[..., :3]
    wanted, ground = ((pixels == _MARKERS[token]).all(axis=2) for token in (WANTED, GROUND))
    _count, areas = cv2.connectedComponents(ground.astype(numpy.uint8), connectivity=4)
    border = numpy.unique(numpy.concatenate([areas[0], areas[-1], areas[:, 0], areas[:, -1]]))
    plane = numpy.where(ground, numpy.where(numpy.isin(areas, border), BACKGROUND, HOLE), NO_WHITE)
    if not clear:
        near = cv2.dilate(ground.astype(numpy.uint8), numpy.ones((3, 3), numpy.uint8), iterations=BLURRED_PX) == 1
        _count, pieces = cv2.connectedComponents(wanted.astype(numpy.uint8), connectivity=4)
        wanted &= ~numpy.isin(pieces, numpy.unique(pieces[near & wanted]))
    return numpy.where(wanted, WANTED_WHITE, plane).astype(numpy.uint8)


def _rgb(packed: object) -> numpy.ndarray:
    values = numpy.asarray(packed, numpy.int64)
    return numpy.stack([values >> 16, values >> 8 & 255, values & 255], axis=-1)


def _tuple(packed: int) -> Rgb:
    return packed >> 16, packed >> 8 & 255, packed & 255
