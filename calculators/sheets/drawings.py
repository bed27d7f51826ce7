"""Each content as a form of a PDF file: drawn once, placed for every copy."""

from __future__ import annotations

from itertools import chain
from math import ceil

from calculators.cache import PICTURES
from calculators.colour.srgb import lab_of
from calculators.cut.artwork import CutArtwork, Meanings
from calculators.cut.plane import Flat
from calculators.files.outline_files import path_steps
from calculators.files.pdf_canvas import Form, Step
from calculators.files.pdf_picture import Embedded, NotPlaced, embedded, embedded_pixels
from calculators.files.picture import Picture
from calculators.files.svg_shapes import Shape
from calculators.pixels.colour_table import lab, rgb_of, within
from calculators.pixels.white_areas import TOLERANCE
from calculators.shapes.offsets import as_pieces
from calculators.sheets.bleed import (
    BARE_WHITE,
    OVERLAP_MM,
    bleed_strips,
    carried,
    cut_holes,
    without_narrow_holes,
)
from calculators.sheets.contents import Content, OutlineContent, PictureContent, Steps, pixels_of
from calculators.sheets.masks import plain_meanings
from calculators.sheets.white_plate import white_of

_IS_WHITE = within(lab_of((1.0, 1.0, 1.0)), TOLERANCE)


def colour_form(content: Content, bleed_mm: float, *, whole: bool = False) -> Steps[Form]:
    """Return a content in its colours, which go on for ``bleed_mm`` past its edges. It may ask for pixels.

    ``whole`` as for a form. Raises TooTangled, and PictureTrouble for a picture that cannot be decoded.
    """
    form = Form(content.size.real, content.size.imag, reach_mm=bleed_mm, whole=whole)
    if isinstance(content, OutlineContent):
        yield from _draw_outlines(form, content, bleed_mm)
    else:
        yield from _draw_picture(form, content, bleed_mm)
    return form


def _draw_outlines(form: Form, content: OutlineContent, bleed_mm: float) -> Steps[None]:
    clip: list[Step] | None = None
    if bleed_mm:
        white = yield from white_of(content)
        if isinstance(white, CutArtwork):
            _draw_strips(form, white, bleed_mm)
            # A white ground of the drawing must not hide what was carried past the edges.
            if any(_IS_WHITE(lab(rgb_of(shape.fill))) for shape in content.shapes):
                clip = flat_steps(white, white.printed)
    box = _box(0.0, 0.0, form.width_mm, form.height_mm)
    with form.inside(clip=box), form.inside(clip=clip):
        for shape in content.shapes:
            form.path(shape_steps(shape), fill=shape.fill, even_odd=shape.even_odd)


def _draw_strips(form: Form, white: CutArtwork, bleed_mm: float) -> None:
    """Draw colours past the edges, and what stays bare film within them in white, which prints nothing."""
    for colour, polygons in bleed_strips(white, bleed_mm):
        form.path((step for polygon in polygons for step in path_steps(as_pieces(polygon))), fill=colour)
    _wide, narrow = cut_holes(white, bleed_mm)
    for flat in (white.white, narrow):
        if flat:
            form.path(flat_steps(white, flat), fill=BARE_WHITE)


def _draw_picture(form: Form, content: PictureContent, bleed_mm: float) -> Steps[None]:
    picture = content.picture
    made = yield from PICTURES.worked_out(picture.digest, ("for PDF",), lambda: _embedded(picture))
    form.image(made, 0, 0, form.width_mm, form.height_mm)
    if not bleed_mm:
        return
    white = content.white
    if isinstance(white, CutArtwork):
        outside = _box(-bleed_mm, -bleed_mm, form.width_mm + bleed_mm, form.height_mm + bleed_mm)
        inner = white.plane.choked(white.printed, OVERLAP_MM)
        with form.inside(clip=[*outside, *flat_steps(white, inner)], even_odd=True):
            _draw_strips(form, white, bleed_mm)
        return
    picture = yield from pixels_of(picture)
    _draw_carried(form, picture, white, bleed_mm)


def _embedded(picture: Picture) -> Steps[Embedded]:
    """Return a picture as a PDF holds it, decoded only where it has to be. All files of a sheet need the same."""
    try:
        return embedded(picture)
    except NotPlaced:
        return embedded((yield from pixels_of(picture)))


def _draw_carried(form: Form, picture: Picture, white: Meanings | None, bleed_mm: float) -> None:
    """Draw the colours at the edges of a picture carried outwards, at its own resolution."""
    width, height = picture.size_px
    pixel = complex(form.width_mm / width, form.height_mm / height)
    meanings = white or plain_meanings(picture.pixels, width, height, pixel)
    reach = ceil(bleed_mm / min(pixel.real, pixel.imag))
    meanings = without_narrow_holes(meanings, reach)
    further = complex(reach * pixel.real, reach * pixel.imag)
    rgba = carried(picture.pixels, meanings, reach)
    made = embedded_pixels(rgba, width + 2 * reach, height + 2 * reach)
    edge = complex(form.width_mm, form.height_mm) + 2 * further
    form.image(made, -further.real, -further.imag, edge.real, edge.imag)


def _box(left: float, top: float, right: float, bottom: float) -> list[Step]:
    return [("M", left, top), ("L", right, top), ("L", right, bottom), ("L", left, bottom), ("Z",)]


def shape_steps(shape: Shape) -> list[Step]:
    """Return the steps round a shape."""
    return list(chain.from_iterable(path_steps(ring) for ring in shape.rings if ring))


def flat_steps(white: CutArtwork, flat: Flat) -> list[Step]:
    """Return the steps round a region, which is filled by winding or by even-odd."""
    return list(chain.from_iterable(map(path_steps, white.plane.rings(flat))))
