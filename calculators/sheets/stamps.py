"""Pieces and marks as pixels of a sheet: small pictures on white, each made when its rows are reached."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import chain
from math import ceil, floor

from calculators.colour.srgb import levels_of
from calculators.cut.artwork import CutArtwork, Meanings
from calculators.cut.openings import beneath
from calculators.lettering.alphabet import CHARACTERS, outline
from calculators.shapes.cubics import Piece
from calculators.shapes.filled import Fill, filled
from calculators.shapes.grid import Rings
from calculators.shapes.offsets import as_pieces
from calculators.shapes.strokes import Pen, stroked
from calculators.shapes.transforms import Matrix, mapped
from calculators.sheets.bleed import BARE_WHITE, bleed_strips, carried, cut_holes, without_narrow_holes
from calculators.sheets.contents import OutlineContent, PictureContent, Steps, pixels_of
from calculators.sheets.masks import plain_meanings, white_rows
from calculators.sheets.resampled import Axis, Pixels, over_white, resampled
from calculators.sheets.white_plate import white_of
from calculators.values import in_one_go

#: Letters of labels: width, stroke and gap by their height.
LETTER_WIDTH, LETTER_STROKE, LETTER_GAP = 0.62, 0.12, 0.24
#: Curves that are stroked are followed within so many mm.
FOLLOWED_MM = 2e-3
BLACK = "#000000"
#: Lines across a picture stay level within so many pixels: corrections of printers slant what goes down only.
LEVEL_PX = 0.05
#: A shape in mm of a content: colour, rings, and whether they are filled by even-odd.
Coloured = tuple[str, Rings, bool]


@dataclass(frozen=True)
class Stamp:
    """Pixels of a sheet: ``rgb`` has three bytes a pixel, ``height`` rows of ``width``, with the corner at ``left`` and
    ``top``.
    """

    left: int
    top: int
    width: int
    height: int
    rgb: bytes


@dataclass(frozen=True)
class Extent:
    """The pixels that something may cover on a page."""

    left: int
    top: int
    right: int
    bottom: int

    @property
    def is_empty(self) -> bool:
        """Whether nothing of it lies on the page."""
        return self.right <= self.left or self.bottom <= self.top


def extent_of(corners: Iterable[complex], matrix: Matrix, page: tuple[int, int]) -> Extent:
    """Return the pixels of a page around points in mm, which ``matrix`` takes to pixels."""
    places = [mapped(matrix, (each.real, each.imag)) for each in corners]
    return Extent(
        max(0, floor(min(x for x, _y in places))),
        max(0, floor(min(y for _x, y in places))),
        min(page[0], ceil(max(x for x, _y in places))),
        min(page[1], ceil(max(y for _x, y in places))),
    )


def corners_of(size: complex, reach: float = 0.0) -> list[complex]:
    """Return the corners of a content's box, ``reach`` further out."""
    low, high = complex(-reach, -reach), size + complex(reach, reach)
    return [low, complex(high.real, low.imag), high, complex(low.real, high.imag)]


def shapes_stamp(shapes: Sequence[Coloured], matrix: Matrix, extent: Extent) -> Stamp:
    """Return shapes as pixels, each covered by exactly what lies in it."""
    move = complex(extent.left, extent.top)

    def pixel(point: complex) -> complex:
        return complex(*mapped(matrix, (point.real, point.imag))) - move

    fills: list[Fill] = [
        (levels_of(colour), [[tuple(map(pixel, piece)) for piece in ring] for ring in rings], even_odd)
        for colour, rings, even_odd in shapes
    ]
    width, height = extent.right - extent.left, extent.bottom - extent.top
    rgba = in_one_go(filled(fills, width, height))
    return Stamp(extent.left, extent.top, width, height, over_white(rgba, width, height).interleaved())


def outline_shapes(content: OutlineContent, bleed_mm: float) -> Steps[list[Coloured]]:
    """Return the shapes of a content, with its colours carried past their edges beneath them. Raises TooTangled."""
    white = (yield from white_of(content)) if bleed_mm else None
    if not isinstance(white, CutArtwork):
        return [(each.fill, each.rings, each.even_odd) for each in content.shapes]
    further: list[Coloured] = [
        (colour, [as_pieces(polygon) for polygon in polygons], False)
        for colour, polygons in bleed_strips(white, bleed_mm)
    ]
    plane = white.plane
    # Without the white ground of the drawing, which would hide what was carried on.
    flats = [(BARE_WHITE, cut_holes(white, bleed_mm)[1]), *white.colours.items(), (BARE_WHITE, white.white)]
    return [*further, *((colour, plane.rings(flat), False) for colour, flat in flats if flat)]


def white_shapes(white: CutArtwork, choke_mm: float) -> list[Coloured]:
    """Return white as black shapes. Raises TooTangled."""
    return [(BLACK, white.plane.rings(beneath(white, choke_mm).flat), False)]


def line_shapes(runs: Iterable[Sequence[Piece]], width_mm: float, colour: str) -> list[Coloured]:
    """Return closed lines as shapes."""
    rings = stroked([(run, True) for run in runs], Pen(width_mm), FOLLOWED_MM)
    return [(colour, rings, False)]


def picture_pixels(content: PictureContent, bleed_mm: float) -> Steps[tuple[Pixels, complex]]:
    """Return a picture's pixels on white, with its edges carried outwards, and how far that is in mm. Asks for pixels.

    A picture whose regions are known is carried on by its transparency.
    """
    picture = yield from pixels_of(content.picture)
    width, height = picture.size_px
    own = over_white(picture.pixels, width, height)
    if not bleed_mm:
        return own, 0j
    pixel = complex(content.size.real / width, content.size.imag / height)
    white = content.white if isinstance(content.white, Meanings) else None
    meanings = white or plain_meanings(picture.pixels, width, height, pixel)
    reach = ceil(bleed_mm / min(pixel.real, pixel.imag))
    further = carried(picture.pixels, without_narrow_holes(meanings, reach), reach)
    wide, high = width + 2 * reach, height + 2 * reach
    return _laid_over(_with_margin(own, reach), further, wide, high), reach * pixel


def white_pixels(white: Meanings, choke_mm: float) -> Pixels:
    """Return white as black pixels."""
    rows, packed = white_rows(white, choke_mm), (white.width + 7) // 8
    bits = (f"{int.from_bytes(rows[at : at + packed]):0{8 * packed}b}" for at in range(0, len(rows), packed))
    plane = "".join(each[: white.width] for each in bits).translate({48: "\xff", 49: "\0"}).encode("latin-1")
    return Pixels((plane, plane, plane), white.width, white.height)


def pixels_stamp(
    pixels: Pixels, size: complex, further: complex, matrix: Matrix, page: tuple[int, int]
) -> Stamp | None:
    """Return a picture as pixels of the page. It fills a box of ``size`` and what is ``further`` round that, in mm,
    which ``matrix`` takes to pixels: a quarter turn, a mirror, and a printer's slant at most. None beside the page.
    """
    low, whole = -further, size + 2 * further
    (a, b, _e), (c, d, _f), _ = matrix
    if abs(b) > abs(a):
        # By a quarter to the left: what was the right end comes to the top.
        pixels, low, whole = pixels.turned(), complex(low.imag, -low.real - whole.real), complex(whole.imag, whole.real)
        a, b, c, d = b, -a, d, -c
    origin = mapped(matrix, (0.0, 0.0))
    if a < 0:
        pixels, low = pixels.mirrored(), complex(-low.real - whole.real, low.imag)
        a, c = -a, -c
    if d < 0:
        pixels, low = pixels.flipped(), complex(low.real, -low.imag - whole.imag)
        b, d = -b, -d
    if abs(c * whole.real) > LEVEL_PX:
        raise ValueError("lines across do not stay level")
    left, top = origin[0] + a * low.real + b * low.imag, origin[1] + d * low.imag
    width, height = a * whole.real, d * whole.imag
    ends = [left, left + b * whole.imag, left + width, left + width + b * whole.imag]
    first, last = floor(min(ends)) - 1, ceil(max(ends)) + 1
    upper, lower = floor(top) - 1, ceil(top + height) + 1
    across = Axis(width / pixels.width, left - first, last - first)
    down = Axis(height / pixels.height, top - upper, lower - upper)
    # The slant of row 0 lies at the picture's upper edge.
    slant = b / d
    start = replace(across, start=across.start + slant * (upper - top))
    made = resampled(pixels, start, down, slant)
    return cropped(Stamp(first, upper, made.width, made.height, made.interleaved()), page)


def cropped(stamp: Stamp, page: tuple[int, int]) -> Stamp | None:
    """Return what of a stamp lies on the page."""
    left, right = max(0, stamp.left), min(page[0], stamp.left + stamp.width)
    top, bottom = max(0, stamp.top), min(page[1], stamp.top + stamp.height)
    if left >= right or top >= bottom:
        return None
    start, length = 3 * (left - stamp.left), 3 * (right - left)
    rows = range(top - stamp.top, bottom - stamp.top)
    rgb = b"".join(stamp.rgb[3 * stamp.width * row + start :][:length] for row in rows)
    return Stamp(left, top, right - left, bottom - top, rgb)


def words_shapes(words: str, start: complex, height_mm: float, colour: str, *, upward: bool = False) -> list[Coloured]:
    """Return words in capitals of ``height_mm`` as shapes, beginning at ``start`` on their base line. What the alphabet
    does not have becomes a gap.
    """
    rings: list[list[Piece]] = []
    way = -1j if upward else 1 + 0j
    across = 0.0
    for character in words.upper():
        if character in CHARACTERS:
            drawn = outline(character, LETTER_WIDTH, 1.0, LETTER_STROKE)
            move = complex(across, -1.0)
            rings += [
                [tuple(start + way * height_mm * (point + move) for point in piece) for piece in ring] for ring in drawn
            ]
        across += LETTER_WIDTH + LETTER_GAP
    return [(colour, rings, False)]


def words_length(words: str, height_mm: float) -> float:
    """Return how long words are in mm."""
    return len(words) * (LETTER_WIDTH + LETTER_GAP) * height_mm


def box_shape(left: float, top: float, width: float, height: float, colour: str) -> Coloured:
    """Return a filled rectangle as a shape."""
    low, high = complex(left, top), complex(left + width, top + height)
    return colour, [as_pieces([low, complex(high.real, low.imag), high, complex(low.real, high.imag)])], False


def points_of(shapes: Iterable[Coloured]) -> list[complex]:
    """Return all points of shapes, whose box holds them."""
    return list(chain.from_iterable(piece for _colour, rings, _rule in shapes for ring in rings for piece in ring))


def _with_margin(pixels: Pixels, reach: int) -> Pixels:
    width = pixels.width
    outside, side = b"\xff" * (width + 2 * reach) * reach, b"\xff" * reach

    def one(plane: bytes) -> bytes:
        rows = (side + plane[at : at + width] + side for at in range(0, len(plane), width))
        return b"".join((outside, *rows, outside))

    red, green, blue = map(one, pixels.planes)
    return Pixels((red, green, blue), width + 2 * reach, pixels.height + 2 * reach)


def _laid_over(below: Pixels, rgba: bytes, width: int, height: int) -> Pixels:
    """Return ``below`` with opaque pixels of ``rgba`` in their places."""
    mask = int.from_bytes(rgba[3::4], "little")

    def one(channel: int) -> bytes:
        new, old = (int.from_bytes(each, "little") for each in (rgba[channel::4], below.planes[channel]))
        return (new & mask | old & ~mask).to_bytes(width * height, "little")

    return Pixels((one(0), one(1), one(2)), width, height)


#: Makes a stamp when its rows are reached; it may ask for pixels.
Maker = Callable[[], Steps[Stamp | None]]
