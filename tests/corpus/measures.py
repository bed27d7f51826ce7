"""The measures of one picture: each compares the truth with an answer and knows no calculator.

Colours are sRGB of 0 to 255; differences are scikit-image's CIEDE2000. A plane of labels
has a label a pixel, and a colour for each label.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy
from scipy.spatial import cKDTree

from tests.corpus.truth import NO_WHITE, Rgb, Strokes, delta_e

#: The reported width of an enlarged picture is right within this share.
DETAIL_WITHIN = 0.15
#: Damage: pixels off by more than this (CIEDE2000) over more than this share of the area.
DAMAGE_DELTA_E, DAMAGE_SHARE = 3.0, 0.005
#: A found colour is one of the drawing's within this; with no more than this share
#: it is a few stray pixels and not counted.
SAME_DELTA_E, INVENTED_SHARE = 6.0, 0.001
#: A main colour counts where it is this wide somewhere; where it is this wide, it has to be found this near.
WIDE_PX, BROAD_PX, NEAR_DELTA_E = 2.0, 4.0, 3.0
#: Strokes count from this width on, and are thin up to that one.
STROKE_PX, THIN_PX = 1.5, 4.0
#: Outlines this near to the picture's frame run along it.
FRAME_PX = 1.0
#: The least centre line in points that gives a useful share.
FEWEST_POINTS = 12


def detail_error(reported_px: float, true_px: float) -> float:
    """Return the error of the reported width of the true detail, as a share of the true one."""
    return abs(reported_px / true_px - 1)


def damaged_share(pixels: numpy.ndarray, lossless: numpy.ndarray) -> float:
    """Return the share of pixels that differ visibly from the lossless picture."""
    differing = (pixels[..., :3] != lossless[..., :3]).any(axis=-1)
    if not differing.any():
        return 0.0
    apart = delta_e(pixels[differing][:, :3], lossless[differing][:, :3])
    return float((apart > DAMAGE_DELTA_E).sum() / differing.size)


def edge_points(labels: numpy.ndarray) -> numpy.ndarray:
    """Return the middles of the sides between pixels of different labels, (x, y) in
    shares of the width and of the height.
    """
    height, width = labels.shape
    across = numpy.argwhere(labels[:, 1:] != labels[:, :-1])[:, ::-1] + (1.0, 0.5)
    down = numpy.argwhere(labels[1:] != labels[:-1])[:, ::-1] + (0.5, 1.0)
    return numpy.concatenate([across, down]) / (width, height)


def deviations(reported: numpy.ndarray, true: numpy.ndarray, size: tuple[int, int]) -> numpy.ndarray:
    """Return how far points of traced outlines are from the nearest true edge, in pixels of a picture of that size.

    Both are (x, y) in shares of it. Outlines along its frame follow no edge of the drawing and are left out.
    """
    reported, true = reported * size, true * size
    inside = ((reported > FRAME_PX) & (reported < numpy.array(size) - FRAME_PX)).all(axis=1)
    return cKDTree(true).query(reported[inside])[0] if len(true) and inside.any() else numpy.array([])


def missing(true: Sequence[Strokes], found: Sequence[Rgb], width_px: int) -> list[Rgb]:
    """Return the main colours, wide enough somewhere to count, to which no found colour is near."""
    counting = [each.rgb for each in true if each.widest * width_px >= WIDE_PX]
    return [rgb for rgb in counting if to_nearest(rgb, found) > SAME_DELTA_E]


def invented(every: Sequence[Rgb], found: Sequence[Rgb], shares: Sequence[float]) -> list[Rgb]:
    """Return the found colours that are far from every colour of the drawing and are more than stray pixels."""
    return [
        rgb
        for rgb, share in zip(found, shares, strict=True)
        if share > INVENTED_SHARE and to_nearest(rgb, every) > SAME_DELTA_E
    ]


def colour_errors(true: Sequence[Strokes], found: Sequence[Rgb], width_px: int, *, broad: bool = True) -> list[float]:
    """Return how far the nearest found colour is (CIEDE2000) for each main colour with
    a broad part, or of those that have none.
    """
    low, high = (BROAD_PX, float("inf")) if broad else (WIDE_PX, BROAD_PX)
    return [to_nearest(each.rgb, found) for each in true if low <= each.widest * width_px < high]


def to_nearest(rgb: Rgb, others: Sequence[Rgb]) -> float:
    """Return the distance (CIEDE2000) of the nearest of ``others``, infinite without any."""
    return float(delta_e([rgb], others).min()) if len(others) else float("inf")


@dataclass(frozen=True)
class Length:
    """The points on a colour's centre line in the lossless picture, and those that remain in the answer."""

    there: int
    remaining: int

    @property
    def lost(self) -> float | None:
        """The share that was lost, None with too few points."""
        return 1 - self.remaining / self.there if self.there >= FEWEST_POINTS else None


def stroke_length(
    true: Sequence[Strokes], place: int, lossless: numpy.ndarray, reported: numpy.ndarray, *, thin: bool = False
) -> Length:
    """Return how much of the centre line of the main colour at ``place`` the reported picture keeps.

    ``lossless`` holds the pixels without loss, height x width x 4; ``reported`` those of the answer, in flat colours,
    height x width x 3. A point is there, or remains, if its own is the main colour nearest to its pixel. With
    ``thin`` only thin strokes count.
    """
    height, width = lossless.shape[:2]
    line = true[place]
    wide = line.width * width
    counts = (wide >= STROKE_PX) & (wide <= THIN_PX if thin else True)
    at = (line.y[counts] * height).astype(int), (line.x[counts] * width).astype(int)
    there = lossless[at][:, :3]
    # On nothing at all no colour is there.
    is_there = (_belongs(there, true) == place) & (lossless[at][:, 3] >= 128)
    at_reported = (at[0] * reported.shape[0] // height, at[1] * reported.shape[1] // width)
    remaining = _belongs(reported[at_reported], true) == place
    return Length(int(is_there.sum()), int((is_there & remaining).sum()))


def _belongs(pixels: numpy.ndarray, true: Sequence[Strokes]) -> numpy.ndarray:
    """Return for each pixel the place of the main colour nearest to it; -1 for one that is no colour (negative)."""
    if not len(pixels):
        return numpy.zeros(0, int)
    # Sorting numbers is many times quicker than sorting rows of three. Shifted by one, since no colour is -1.
    packed, which = numpy.unique((pixels.astype(int) + 1) @ (1 << 18, 1 << 9, 1), return_inverse=True)
    shades = numpy.stack([packed >> 18, packed >> 9 & 511, packed & 511], axis=-1) - 1
    return nearest_places(shades, [each.rgb for each in true])[which]


def nearest_places(shades: numpy.ndarray, true: Sequence[Rgb]) -> numpy.ndarray:
    """Return the place of the nearest of ``true`` for each shade, -1 for one that is no colour."""
    nearest = delta_e(numpy.clip(shades, 0, 255)[:, None], numpy.array(true)[None]).argmin(axis=1)
    return numpy.where((shades < 0).any(axis=1), -1, nearest)


def whites_right(true: numpy.ndarray, reported: numpy.ndarray, white: numpy.ndarray) -> float | None:
    """Return the share of the white area with the right reported meaning, None without any.

    ``reported`` and ``white`` (which pixels are white without loss) have the picture's size, ``true`` covers the same
    at any size; both planes hold the values of truth.py.
    """
    height, width = reported.shape
    rows = ((numpy.arange(height) + 0.5) * true.shape[0] / height).astype(int)
    columns = ((numpy.arange(width) + 0.5) * true.shape[1] / width).astype(int)
    meant = true[rows[:, None], columns[None]]
    counts = (meant != NO_WHITE) & white
    return float((reported == meant)[counts].mean()) if counts.any() else None
