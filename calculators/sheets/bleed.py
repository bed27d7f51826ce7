"""Colour past the cut: the nearest colour at an edge is carried outwards, so that no white film shows where the knife
strays.

Outlines are stroked in their own colours, wide lines before narrow ones, so that the nearest colour lies on top. Pixels
are carried on across, up and down, in jumps that double.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain
from math import ceil

from calculators.cut.artwork import CutArtwork, Meanings
from calculators.files.outline_files import path_steps
from calculators.files.pdf_canvas import Form, Step
from calculators.files.svg_shapes import Shape
from calculators.pixels.white_areas import BARE, WHITE
from calculators.shapes.offsets import as_pieces
from calculators.sheets.contents import Content, OutlineContent

#: Where two colours meet at an edge, their bleed meets within so many mm of the line between them. It is waste.
MEETS_MM = 0.125
#: Pixels are carried in bands of about so many, which a processor has at hand.
BAND_PX = 1 << 18
BARE_WHITE = "#ffffff"
#: What is carried outwards begins so many pixels, or mm, within the edge.
OVERLAP_PX, OVERLAP_MM = 2, 0.05


def draw_bleed(form: Form, content: Content, reach_mm: float) -> None:
    """Draw the colours of outlines, or of a picture's regions, up to ``reach_mm`` past their edges.

    Wanted white is carried outwards like a colour: nothing is printed there.
    """
    lines: list[tuple[str, Form]] = []
    for colour, steps in _edges(content):
        line = Form(form.width_mm, form.height_mm, reach_mm=reach_mm)
        line.line(steps)
        lines.append((colour, line))
    count = max(1, ceil(reach_mm / MEETS_MM))
    for step in range(count, 0, -1):
        for colour, line in lines:
            form.form(line, stroke=colour, line_mm=2 * reach_mm * step / count)


def _edges(content: Content) -> Iterator[tuple[str, list[Step]]]:
    """Yield the colours of a content with the steps round them."""
    white = content.white
    if not isinstance(white, CutArtwork):
        for shape in content.shapes if isinstance(content, OutlineContent) else ():
            yield shape.fill, shape_steps(shape)
        return
    for colour, flat in [*white.colours.items(), (BARE_WHITE, white.white)]:
        rings = [as_pieces(white.plane.polygon(ring)) for ring in flat]
        if rings:
            yield colour, list(chain.from_iterable(map(path_steps, rings)))


def shape_steps(shape: Shape) -> list[Step]:
    """Return the steps round a shape."""
    return list(chain.from_iterable(path_steps(ring) for ring in shape.rings if ring))


def printed_steps(white: CutArtwork, within_mm: float = 0.0) -> list[Step]:
    """Return the steps round all that is not bare, ``within_mm`` inside its edges, to be filled by winding.

    Raises TooTangled.
    """
    flat = white.plane.choked(white.printed, within_mm)
    return list(chain.from_iterable(path_steps(as_pieces(white.plane.polygon(ring))) for ring in flat))


def carried(rgba: bytes, meanings: Meanings, reach: int) -> bytes:
    """Return pixels, ``reach`` wider on every side, that are transparent except near what is printed: there they have
    the nearest colour, or white near wanted white. Of what is not bare only the pixels at its edges are in them, so
    that no light line shows between the two.
    """
    width, height = meanings.width + 2 * reach, meanings.height + 2 * reach
    row_bytes = 4 * width
    pixels = _padded(_seeds(rgba, meanings), meanings.width, reach)
    rows = max(BAND_PX // width, 2 * reach)
    made: list[bytes] = []
    for top in range(0, height, rows):
        bottom = min(height, top + rows)
        low, high = max(0, top - reach - OVERLAP_PX), min(height, bottom + reach + OVERLAP_PX)
        band = pixels[low * row_bytes : high * row_bytes]
        there = band[3::4].count(255)
        if not there or there == len(band) // 4:
            made.append(bytes((bottom - top) * row_bytes))
            continue
        done = _carried_in(band, width, reach)
        made.append(done[(top - low) * row_bytes : (bottom - low) * row_bytes])
    return b"".join(made)


def _carried_in(band: bytes, width: int, reach: int) -> bytes:
    """Return a band of pixels, opaque or transparent, with opaque ones carried into the others, without the inner ones.

    At the sides there is room for all jumps, so that nothing is carried off the end of a row.
    """
    all_bits = (1 << 8 * len(band)) - 1
    colours = int.from_bytes(band, "little")
    ones = colours >> 24 & int.from_bytes(b"\1\0\0\0" * (len(band) // 4), "little")
    seeds = filled = (ones << 32) - ones
    for jump in _jumps(reach):
        # Across, then up and down from what came of that: all within a square.
        for step in (32 * jump, 32 * jump * width):
            for shift in (step, -step):
                new = _shifted(filled, shift) & all_bits & ~filled
                if new:
                    colours |= _shifted(colours, shift) & new
                    filled |= new
    bare = near = filled & ~seeds
    for off in range(1, OVERLAP_PX + 1):
        for step in (32 * off, 32 * off * width):
            near |= bare << step | bare >> step
    return (colours & near & all_bits).to_bytes(len(band), "little")


def _seeds(rgba: bytes, meanings: Meanings) -> bytearray:
    """Return the colours of what is printed, opaque, white of what is wanted white, and all else transparent."""
    made = bytearray(rgba)
    plane = meanings.plane
    is_white = int.from_bytes(plane.translate(bytes(255 if each == WHITE else 0 for each in range(256))), "little")
    is_there = plane.translate(bytes(0 if each == BARE else 255 for each in range(256)))
    there = int.from_bytes(is_there, "little")
    for channel in range(3):
        levels = (int.from_bytes(rgba[channel::4], "little") | is_white) & there
        made[channel::4] = levels.to_bytes(len(plane), "little")
    made[3::4] = is_there
    return made


def _padded(pixels: bytearray, width: int, reach: int) -> bytes:
    side, outside = b"\0" * 4 * reach, b"\0" * 4 * (width + 2 * reach) * reach
    rows = (side + pixels[at : at + 4 * width] + side for at in range(0, len(pixels), 4 * width))
    return b"".join((outside, *rows, outside))


def _shifted(number: int, by: int) -> int:
    return number << by if by > 0 else number >> -by


def _jumps(reach: int) -> Iterator[int]:
    """Yield jumps that add up to ``reach``, each at most one more than all before it."""
    done = 0
    while done < reach:
        jump = min(reach - done, done + 1)
        yield jump
        done += jump
