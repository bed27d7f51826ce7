"""Each content as a form of a PDF file: drawn once, placed for every copy."""

from __future__ import annotations

from math import ceil

from calculators.colour.srgb import lab_of
from calculators.cut.artwork import CutArtwork, Meanings
from calculators.files.pdf_canvas import Form, Step
from calculators.files.pdf_picture import NotPlaced, embedded, embedded_pixels
from calculators.files.picture import Picture
from calculators.pixels.colour_table import lab, rgb_of, within
from calculators.pixels.white_areas import TOLERANCE
from calculators.sheets.bleed import OVERLAP_MM, carried, draw_bleed, printed_steps, shape_steps
from calculators.sheets.contents import Content, OutlineContent, PictureContent, Steps, pixels_of
from calculators.sheets.masks import plain_meanings

_IS_WHITE = within(lab_of((1.0, 1.0, 1.0)), TOLERANCE)


def colour_form(content: Content, bleed_mm: float, *, whole: bool = False) -> Steps[Form]:
    """Return a content in its colours, which go on for ``bleed_mm`` past its edges. It may ask for pixels.

    ``whole`` as for a form. Raises TooTangled.
    """
    form = Form(content.size.real, content.size.imag, reach_mm=bleed_mm, whole=whole)
    if isinstance(content, OutlineContent):
        _draw_outlines(form, content, bleed_mm)
    else:
        yield from _draw_picture(form, content, bleed_mm)
    return form


def _draw_outlines(form: Form, content: OutlineContent, bleed_mm: float) -> None:
    clip: list[Step] | None = None
    if bleed_mm:
        draw_bleed(form, content, bleed_mm)
        # A white ground of the drawing must not hide what was carried past the edges.
        has_ground = any(_IS_WHITE(lab(rgb_of(shape.fill))) for shape in content.shapes)
        if isinstance(content.white, CutArtwork) and has_ground:
            clip = printed_steps(content.white)
    box = _box(0.0, 0.0, form.width_mm, form.height_mm)
    with form.inside(clip=box), form.inside(clip=clip):
        for shape in content.shapes:
            form.path(shape_steps(shape), fill=shape.fill, even_odd=shape.even_odd)


def _draw_picture(form: Form, content: PictureContent, bleed_mm: float) -> Steps[None]:
    picture = content.picture
    try:
        made = embedded(picture)
    except NotPlaced:
        picture = yield from pixels_of(picture)
        made = embedded(picture)
    form.image(made, 0, 0, form.width_mm, form.height_mm)
    if not bleed_mm:
        return
    if isinstance(content.white, CutArtwork):
        outside = _box(-bleed_mm, -bleed_mm, form.width_mm + bleed_mm, form.height_mm + bleed_mm)
        with form.inside(clip=[*outside, *printed_steps(content.white, OVERLAP_MM)], even_odd=True):
            draw_bleed(form, content, bleed_mm)
        return
    picture = yield from pixels_of(picture)
    _draw_carried(form, picture, content.white, bleed_mm)


def _draw_carried(form: Form, picture: Picture, white: Meanings | None, bleed_mm: float) -> None:
    """Draw the colours at the edges of a picture carried outwards, at its own resolution."""
    width, height = picture.size_px
    pixel = complex(form.width_mm / width, form.height_mm / height)
    meanings = white or plain_meanings(picture.pixels, width, height, pixel)
    reach = ceil(bleed_mm / min(pixel.real, pixel.imag))
    further = complex(reach * pixel.real, reach * pixel.imag)
    rgba = carried(picture.pixels, meanings, reach)
    made = embedded_pixels(rgba, width + 2 * reach, height + 2 * reach)
    edge = complex(form.width_mm, form.height_mm) + 2 * further
    form.image(made, -further.real, -further.imag, edge.real, edge.imag)


def _box(left: float, top: float, right: float, bottom: float) -> list[Step]:
    return [("M", left, top), ("L", right, top), ("L", right, bottom), ("L", left, bottom), ("Z",)]
