"""What saving as JPEG did to a picture near its edges, and at which quality it was saved.

That it was saved so is told by the waves that its squares of 8 x 8 pixels lack (``squares.py``). How much it shows is
told by ripples: a hard edge needs all of the waves, so their rounding shows beside it, but only within the square that holds
the edge: the square beside it stays as calm as it was. A picture that is restless on both sides has grain or texture. A
lossless picture that was reduced ripples too, so ripples alone are evidence in JPEG files only.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise
from operator import sub
from statistics import median

from calculators.files.header import BadHeader, CutShort, jpeg_segments
from calculators.files.picture import Picture
from calculators.pixels.raster import ACROSS, DOWN, Raster, busiest, raster_of
from calculators.pixels.squares import BLOCK, excess

#: How much is looked at along each axis: strips of 8 lines, cut to a stretch.
MOST_STRIPS, MOST_LENGTH = 24, 1024
#: A step between two pixels from this size on is an edge, and a square with such a range holds one (of 1020).
EDGE = 4 * 64
#: A step from this size on is drawn, not a ripple (of 1020).
DRAWN = 4 * 40
#: How many pixels after an edge are looked at, and from which on: nearer ones belong to its smooth slope.
FROM, TO = 2, 8
#: Ripples of this many levels (of 255) can be seen in flat areas (estimate).
SEEN_LEVELS = 4.0
#: There is damage where the middle one of all steps inside has this many levels, while outside it has
#: no more than that: flat beside the square, restless within. Estimates, set on the tuning half of the sample pictures.
LEAST_INSIDE, MOST_OUTSIDE = 0.25, 0.5
#: The share of missing waves on the grid of the squares is this much above that beside it, and what chance can do, where JPEG
#: squeezed the picture. Of a file that is a JPEG less will do, unless its quality is so fine that little is lost. Of other
#: files more is asked, since thin rules on the grid miss waves too. Estimates, set on the tuning half.
EXCESS, EXCESS_OF_JPEG, EXCESS_OF_FINE_JPEG, FINE_QUALITY = 0.03, -0.02, 0.04, 93
#: Fewer looks than this tell nothing.
FEWEST = 24

#: The luminance table of ITU-T T.81, K.1, in the zigzag order of the file.
_LUMINANCE = bytes((
    16, 11, 12, 14, 12, 10, 16, 14, 13, 14, 18, 17, 16, 19, 24, 40,
    26, 24, 22, 22, 24, 49, 35, 37, 29, 40, 58, 51, 61, 60, 57, 51,
    56, 55, 64, 72, 92, 78, 64, 68, 87, 69, 55, 56, 80, 109, 81, 87,
    95, 98, 103, 104, 103, 62, 77, 113, 121, 112, 100, 120, 92, 101, 103, 99,
))  # fmt: skip
_DEFINE_TABLES = 0xDB


@dataclass(frozen=True)
class JpegDamage:
    """Ripples beside edges; an estimate.

    ``worst_level`` is how far they swing (levels of 255) in the worst twentieth of the places looked
    at, ``share`` the share of places where they swing further than can go unseen; both 0 where no damage was
    ``found``. ``quality`` (1 to 100) is what the file's own tables say, None for other files.
    """

    found: bool
    worst_level: float
    share: float
    quality: int | None = None


@dataclass
class _Looks:
    """Steps and swings beside edges, inside the edge's own square and just outside it."""

    steps: dict[bool, list[float]] = field(default_factory=lambda: {True: [], False: []})
    swings: list[float] = field(default_factory=list)

    def note(self, run: list[int], inside: bool) -> None:
        steps = [abs(after - before) for before, after in pairwise(run)]
        if max(steps) >= DRAWN:
            return
        self.steps[inside].append(sum(steps) / len(steps) / 4)
        if inside:
            self.swings.append((max(run) - min(run)) / 4)

    @property
    def ripple(self) -> bool:
        """Whether it is restless inside while it is flat outside."""
        inside, outside = self.steps[True], self.steps[False]
        return min(len(inside), len(outside)) >= FEWEST and median(inside) >= LEAST_INSIDE and median(outside) <= MOST_OUTSIDE


def jpeg_damage(picture: Picture) -> JpegDamage:
    """Return what JPEG did near the edges of a decoded ``picture``, whether it is one now or was one before.

    Estimate. Holds for pictures whose squares still lie where they were made: one that was cut, enlarged or reduced since is
    not told. How far ripples swing is told for art with flat areas beside its edges alone, since texture hides them.
    """
    quality = saved_quality(picture.data) if picture.header.kind == "JPEG" else None
    raster = raster_of(picture)
    missing, is_jpeg = excess(raster), quality is not None
    if not is_jpeg and (missing is None or missing < EXCESS):
        return JpegDamage(False, 0.0, 0.0, quality)
    looks = _Looks()
    for axis in (ACROSS, DOWN):
        for strip in _strips(raster, axis):
            _look(strip, looks)
    needed = EXCESS_OF_FINE_JPEG if is_jpeg and quality >= FINE_QUALITY else EXCESS_OF_JPEG
    if (missing is None or missing < needed) and not looks.ripple:
        return JpegDamage(False, 0.0, 0.0, quality)
    swings = sorted(looks.swings) or [0.0]
    return JpegDamage(
        found=True,
        worst_level=swings[len(swings) * 19 // 20],
        share=sum(each >= SEEN_LEVELS for each in swings) / len(swings),
        quality=quality,
    )


def saved_quality(data: bytes) -> int | None:
    """Return the quality (1 to 100) whose luminance table is nearest to that of the JPEG in ``data``, or None.

    The scale is that of the Independent JPEG Group's library, known from memory; other programs
    number their qualities otherwise.
    """
    try:
        for marker, body in jpeg_segments(data):
            if marker == _DEFINE_TABLES and len(body) >= 65 and body[0] == 0:
                return _nearest_quality(body[1:65])
    except (BadHeader, CutShort, IndexError):
        pass
    return None


def _nearest_quality(table: bytes) -> int:
    def distance(quality: int) -> int:
        scale = 5000 // quality if quality < 50 else 200 - 2 * quality
        made = (min(255, max(1, (each * scale + 50) // 100)) for each in _LUMINANCE)
        return sum(abs(mine - its) for mine, its in zip(made, table, strict=True))

    return min(range(1, 101), key=distance)


def _strips(raster: Raster, axis: str) -> list[list[list[int]]]:
    """Return strips of 8 lines along ``axis``, laid on the grid of the squares."""
    length, count = raster.length(axis) // BLOCK * BLOCK, raster.count(axis) // BLOCK
    if length < 2 * BLOCK or not count:
        return []
    start = 0
    if length > MOST_LENGTH:
        start = busiest(raster, axis, MOST_LENGTH, False) // BLOCK * BLOCK
        length = min(MOST_LENGTH, length - start)
    places = sorted({index * count // MOST_STRIPS for index in range(MOST_STRIPS)})
    return [
        [raster.brightness(axis, BLOCK * place + line, start, start + length, False) for line in range(BLOCK)]
        for place in places
    ]


def _look(strip: list[list[int]], looks: _Looks) -> None:
    """Note the runs of pixels after each edge, in both directions along every line of the strip."""
    calm = _calm_squares(strip)
    if all(calm):
        return
    for line in strip:
        _look_after_edges(line, calm, looks)
        _look_after_edges(line[::-1], calm[::-1], looks)


def _calm_squares(strip: list[list[int]]) -> list[bool]:
    squares = []
    for at in range(0, len(strip[0]), BLOCK):
        parts = [line[at : at + BLOCK] for line in strip]
        squares.append(max(map(max, parts)) - min(map(min, parts)) < EDGE)
    return squares


def _look_after_edges(line: list[int], calm: list[bool], looks: _Looks) -> None:
    steps = list(map(sub, line[1:], line))
    edges = [place for place, step in enumerate(steps, 1) if abs(step) >= EDGE]
    for place, following in pairwise([*edges, len(line) + FROM]):
        # ``place`` is the first pixel beyond the edge; the run ends before the next edge's own slope.
        first, last = place + FROM, min(place + TO, following - FROM)
        border = (place // BLOCK + 1) * BLOCK
        if min(last, border) - first >= 2:
            looks.note(line[first : min(last, border)], True)
        first = max(first, border)
        if last - first >= 2 and last <= len(line) and calm[first // BLOCK]:
            looks.note(line[first:last], False)
