"""What a piece draws: a picture with its own pixels, or outlines as curves, and where white belongs beneath it.

Everything is in mm from the top left corner of the artwork's box, y down.
"""

from __future__ import annotations

from collections.abc import Generator
from dataclasses import dataclass, replace
from math import ceil, isclose, sqrt
from typing import TypeAlias

from calculators.cache import PICTURES
from calculators.cut.artwork import CutArtwork, Meanings, from_outlines
from calculators.cut.plane import Flat
from calculators.files.outline_pixels import with_pixels
from calculators.files.outline_reader import Outlines
from calculators.files.picture import Picture, decoded_picture, read_picture
from calculators.files.png import png_in_steps
from calculators.files.svg_shapes import Shape
from calculators.pixels.connected import TooManyRuns
from calculators.pixels.raster import Raster, raster_of
from calculators.pixels.white_areas import BARE, PRINTED, TOLERANCE, areas, marked
from calculators.shapes.cubics import Piece
from calculators.shapes.offsets import as_pieces
from calculators.shapes.snap_rounding import TooTangled
from calculators.sheets.grounds import on_colour, without_alpha
from calculators.values import Made, Pixels, Progress, Wanted

#: Sizes that differ by less, in mm, are one size.
SAME_MM = 1e-3
#: What outlines mean is asked of points so many mm apart.
MEANT_MM = 0.05
#: The region to cut along is traced of about so many pixels: finer than 0.1 mm of most markings.
TRACED_PX = 250_000
BAND_PX = 2


@dataclass(frozen=True)
class OutlineContent:
    """Outlines in an artwork's box of ``size`` mm; later shapes lie over earlier ones.

    ``white`` has their regions by what they mean. Without it all of them are colour.
    """

    size: complex
    shapes: tuple[Shape, ...]
    white: CutArtwork | None = None


@dataclass(frozen=True)
class PictureContent:
    """A picture that fills an artwork's box of ``size`` mm. Its pixels may be missing: it is decoded when they are
    needed (``pixels_of``).

    ``white`` says what its pixels mean, or has their regions. Without it all that is not transparent is colour.
    ``edges`` has the region of all that is not bare, to be cut along, where that is not the whole box.
    """

    size: complex
    picture: Picture
    white: CutArtwork | Meanings | None = None
    edges: CutArtwork | None = None


Content = OutlineContent | PictureContent


#: Work that yields its progress, and asks for the pixels of one picture at a time where no decoder is at hand.
Steps: TypeAlias = Generator[Progress | Wanted, Pixels | None, Made]


def pixels_of(picture: Picture) -> Steps[Picture]:
    """Return a picture with its pixels, decoded if they are missing. Raises PictureTrouble."""
    if picture.rgba is not None:
        return picture
    return (yield from decoded_picture(picture.name, picture.data))


def outline_content(outlines: Outlines, width_mm: float) -> OutlineContent:
    """Return a drawing ``width_mm`` wide, curves as curves, without a word on its white."""
    left, top, box_width, box_height = outlines.box
    scale = width_mm / box_width
    corner = complex(left, top)
    shapes = tuple(
        Shape(
            shape.fill,
            tuple(tuple(tuple(scale * (each - corner) for each in piece) for piece in ring) for ring in shape.rings),
            shape.even_odd,
        )
        for shape in outlines.shapes
    )
    return OutlineContent(scale * complex(box_width, box_height), shapes)


def content_of(
    picture: Picture, width_mm: float, *, marks: str = "", tolerance: float = TOLERANCE, with_white: bool = True
) -> Generator[Progress, None, Content]:
    """Return what a picture, read with its pixels or its outlines, draws ``width_mm`` wide. Yields progress.

    With ``with_white`` its white areas are looked for, and ``marks`` say what they mean; without that all is colour.
    Raises BadMark.
    """
    if picture.outlines:
        content = outline_content(picture.outlines, width_mm)
        if not with_white:
            return content
        drawn = yield from with_pixels(picture)
        meaning = yield from _meaning(drawn, marks, tolerance)
        if meaning is None:
            return content
        outlines, size_px, known = picture.outlines, drawn.size_px, meaning
        operation = ("cut artwork", width_mm, marks, tolerance)
        try:
            made = yield from PICTURES.worked_out(
                picture.digest, operation, lambda: from_outlines(outlines, known, size_px, width_mm)
            )
        except TooTangled:
            return content
        return replace(content, white=made)
    width, height = picture.size_px
    pixel = width_mm / width
    size = pixel * complex(width, height)
    bare = replace(picture, rgba=None)
    if not with_white:
        return PictureContent(size, bare)
    meaning = yield from _meaning(picture, marks, tolerance)
    if meaning is None:
        return PictureContent(size, bare)
    white = Meanings(meaning, width, height, complex(pixel, pixel))
    return PictureContent(size, bare, white, (yield from _edges(white)))


def traced(content: PictureContent) -> Steps[PictureContent]:
    """Return a picture's content with its regions as outlines, whose edges are finer than pixels; the same content
    where it cannot be traced, such as a photograph.
    """
    if not isinstance(content.white, Meanings):
        return content
    from calculators.cut.traced import UNTRACEABLE, from_picture

    picture = yield from pixels_of(content.picture)
    try:
        made = yield from from_picture(raster_of(picture), content.white.plane, content.size.real)
    except UNTRACEABLE:
        return content
    return replace(content, white=made)


def with_body_colour(content: Content, colour: str, margin_mm: float) -> Steps[Content]:
    """Return white lettering for white film: ``colour`` (#rrggbb) all round it, about ``margin_mm`` wide, in a larger
    box.

    What is white stays bare film. Yields progress and may ask for pixels. Raises PictureTrouble.
    """
    if isinstance(content, PictureContent):
        return (yield from _picture_with_body(content, colour, margin_mm))
    return (yield from _outlines_with_body(content, colour, margin_mm))


def _picture_with_body(content: PictureContent, colour: str, margin_mm: float) -> Steps[PictureContent]:
    """Return a picture on the body colour: bare pixels become that, pixels that are wanted white become white."""
    picture = yield from pixels_of(content.picture)
    width, height = picture.size_px
    pixel = content.size.real / width
    margin = round(margin_mm / pixel)
    plane = content.white.plane if isinstance(content.white, Meanings) else None
    levels = bytes.fromhex(colour[1:])
    made = on_colour(picture.pixels, plane, levels)
    side, outside = (levels + b"\xff") * margin, (levels + b"\xff") * margin * (width + 2 * margin)
    rows = (side + made[at : at + 4 * width] + side for at in range(0, len(made), 4 * width))
    rgba = b"".join((outside, *rows, outside))
    wide, high = width + 2 * margin, height + 2 * margin
    data = yield from png_in_steps(wide, high, without_alpha(rgba))
    size = content.size + 2 * margin * complex(pixel, pixel)
    # Its pixels are held: nobody else has this picture.
    own = replace(read_picture(picture.name, data), rgba=rgba)
    return PictureContent(size, own, Meanings(bytes([PRINTED]) * (wide * high), wide, high, complex(pixel, pixel)))


def _outlines_with_body(
    content: OutlineContent, colour: str, margin_mm: float
) -> Generator[Progress, None, OutlineContent]:
    move = complex(margin_mm, margin_mm)
    size = content.size + 2 * move

    def moved(piece: Piece) -> Piece:
        return tuple(point + move for point in piece)

    ground = as_pieces([0j, complex(size.real, 0), size, complex(0, size.imag)])
    shapes = (
        Shape(colour, (tuple(ground),), False),
        *(replace(shape, rings=tuple(tuple(map(moved, ring)) for ring in shape.rings)) for shape in content.shapes),
    )
    made = OutlineContent(size, shapes)
    # Nothing of it is bare, and so whatever is white is wanted.
    width, height = ceil(size.real / MEANT_MM), ceil(size.imag / MEANT_MM)
    whole = Outlines(size.real, size.imag, (0.0, 0.0, size.real, size.imag), shapes)
    try:
        regions = yield from from_outlines(whole, bytes([PRINTED]) * (width * height), (width, height), size.real)
    except TooTangled:
        return made
    return replace(made, white=regions)


def fits(content: Content, size: complex) -> bool:
    """Return whether ``content`` has the size of a piece's box."""
    return all(
        isclose(one, other, abs_tol=SAME_MM)
        for one, other in ((content.size.real, size.real), (content.size.imag, size.imag))
    )


def _edges(meanings: Meanings) -> Generator[Progress, None, CutArtwork | None]:
    """Return the region of what is not bare, of every few pixels of a large picture; None where all or nothing is bare,
    or it cannot be traced.
    """
    if BARE not in meanings.plane:
        return None
    from calculators.cut.traced import UNTRACEABLE, from_picture

    width, height = meanings.width, meanings.height
    step = ceil(sqrt(width * height / TRACED_PX))
    # With a bare band all round, what touches the sides is never taken for a background.
    side = bytes([BARE]) * BAND_PX
    rows = [side + meanings.plane[row * width : (row + 1) * width : step] + side for row in range(0, height, step)]
    band = bytes([BARE]) * len(rows[0])
    plane = b"".join([*[band] * BAND_PX, *rows, *[band] * BAND_PX])
    meant = plane.translate(bytes(BARE if each == BARE else PRINTED for each in range(256)))
    rgba = bytearray(4 * len(plane))
    rgba[3::4] = plane.translate(bytes(0 if each == BARE else 255 for each in range(256)))
    raster = Raster(bytes(rgba), len(rows[0]), len(rows) + 2 * BAND_PX)
    pixel = step * meanings.pixel_mm.real
    try:
        made = yield from from_picture(raster, meant, raster.width * pixel)
    except UNTRACEABLE:
        return None
    off = round(BAND_PX * pixel / made.plane.grid.unit)
    colours = {colour: _moved(flat, off) for colour, flat in made.colours.items()}
    return CutArtwork(complex(width * pixel / step, height * pixel / step), made.plane, colours, [], [])


def _moved(flat: Flat, off: int) -> Flat:
    """Return a region ``off`` units of its grid further up and to the left."""
    return [[(x - off, y - off) for x, y in ring] for ring in flat]


def _meaning(picture: Picture, marks: str, tolerance: float) -> Generator[Progress, None, bytes | None]:
    """Return what each pixel means, or None for a picture too scattered to tell."""
    raster = raster_of(picture)
    operation = ("white areas", raster.width, raster.height, tolerance)
    try:
        found = yield from PICTURES.worked_out(raster.source, operation, lambda: areas(raster, "", tolerance))
    except TooManyRuns:
        return None
    return marked(found, marks).meaning()
