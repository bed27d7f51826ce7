"""Where the parts of a piece lie on the sheet: its content, its register crosses, and the lines it is cut by.

A piece's points are mm from the top left corner of its artwork's box, y down.
"""

from __future__ import annotations

from collections.abc import Iterator

from calculators.cut.artwork import CutArtwork
from calculators.cut.openings import beneath, outline
from calculators.cut.plane import Flat
from calculators.shapes.cubics import Piece
from calculators.shapes.cut_pieces import Layer, Run
from calculators.shapes.offsets import as_pieces
from calculators.shapes.register import ARM_MM
from calculators.shapes.snap_rounding import TooTangled
from calculators.shapes.transforms import Matrix, product, scaling, translation
from calculators.shapes.waste import rectangle
from calculators.sheets.bleed import cut_holes
from calculators.sheets.contents import Content, PictureContent
from calculators.sheets.model import Item, Part, Placement

#: A quarter of a circle as a cubic has its handles at this share of the radius (a common approximation; 0.03 % off).
QUARTER = 0.5522847498
#: Lines of register crosses are so wide, in mm.
CROSS_LINE_MM = 0.1


def piece_matrix(placement: Placement) -> Matrix:
    """Return the transform from a piece's points to the sheet.

    >>> from calculators.shapes.transforms import mapped
    >>> placed = Placement(Item("a", "A", Part.COLOUR, 10 + 5j, "a", "clear"), 1, 20 + 30j, turned=True)
    >>> mapped(piece_matrix(placed), (10.0, 0.0))
    (20.0, 30.0)
    """
    corner = placement.corner
    if not placement.turned:
        return translation(corner.real, corner.imag)
    return (0.0, 1.0, corner.real), (-1.0, 0.0, corner.imag + placement.item.size.real), (0.0, 0.0, 1.0)


def content_matrix(placement: Placement) -> Matrix:
    """Return the transform from a content's points to the sheet: what is mirrored lies left for right in its box."""
    if not placement.item.mirrored:
        return piece_matrix(placement)
    return product(piece_matrix(placement), translation(placement.item.size.real, 0.0), scaling(-1.0, 1.0))


def crosses(item: Item) -> list[tuple[complex, complex]]:
    """Return the arms of a piece's own register crosses, each from end to end."""
    return [
        (middle - arm, middle + arm)
        for middle in item.cross_middles
        for arm in (complex(ARM_MM, 0), complex(0, ARM_MM))
    ]


def cut_lines(item: Item, content: Content, backing_choke_mm: float) -> list[tuple[Layer, Run]]:
    """Return the lines that a piece is cut by, in its points: round the marking through the film, through holes that
    would show white film, and through film and backing round the piece with its tab.

    Outlines are those of the marking where its regions are known, or else the box with round corners. A backing piece
    ends ``backing_choke_mm`` inside the edges of colour.
    """
    lines = list(_marking_lines(item, content, backing_choke_mm))
    if item.tab or item.crosses:
        left, top, right, bottom = item.around
        frame = rectangle(complex(-left, -top), item.size + complex(right, bottom))
        lines.append((Layer.FRAME, frame))
    return lines


def on_sheet(run: Run, placement: Placement) -> Run:
    """Return a line of a piece where it lies on the sheet."""
    return tuple(tuple(map(placement.on_sheet, piece)) for piece in run)


def rounded_box(low: complex, high: complex, radius: float) -> Run:
    """Return a rectangle between two corners, with round corners of its own."""
    size = high - low
    radius = min(radius, size.real / 2, size.imag / 2)
    if radius <= 0:
        return rectangle(low, high)
    pieces: list[Piece] = []
    ways = (1 + 0j, 1j, -1 + 0j, -1j)
    corners = (low, complex(high.real, low.imag), high, complex(low.real, high.imag))
    for place, way in enumerate(ways):
        start, end = corners[place] + radius * way, corners[(place + 1) % 4] - radius * way
        after = ways[(place + 1) % 4]
        if start != end:
            pieces.append((start, end))
        handle = QUARTER * radius
        pieces.append(
            (end, end + handle * way, end + radius * (way + after) - handle * after, end + radius * (way + after))
        )
    # Each ends exactly where the next begins.
    return tuple((*piece[:-1], after[0]) for piece, after in zip(pieces, [*pieces[1:], pieces[0]], strict=True))


def _marking_lines(item: Item, content: Content, backing_choke_mm: float) -> Iterator[tuple[Layer, Run]]:
    is_backing = item.part is Part.WHITE_UNDER
    # Colour that is drawn past the cut is cut at its own edge.
    rim = 0.0 if item.bleed else item.rim
    found = False
    artwork = _artwork(content)
    if artwork and item.part is not Part.STRIP:
        for layer, flat in _regions(artwork, item, rim, backing_choke_mm):
            for ring in flat:
                found = True
                yield layer, _mirrored(tuple(as_pieces(artwork.plane.polygon(ring))), item)
    if not found:
        off = -backing_choke_mm if is_backing else rim
        box = rounded_box(complex(-off, -off), item.size + complex(off, off), abs(off))
        yield Layer.BACKING if is_backing else Layer.OUTLINE, box


def _artwork(content: Content) -> CutArtwork | None:
    """Return the regions that a content is cut along, if they are known."""
    if isinstance(content.white, CutArtwork):
        return content.white
    return content.edges if isinstance(content, PictureContent) else None


def _regions(artwork: CutArtwork, item: Item, rim: float, backing_choke_mm: float) -> list[tuple[Layer, Flat]]:
    """Return what is cut of a marking by its layers; nothing where it is too tangled."""
    try:
        if item.part is Part.WHITE_UNDER:
            return [(Layer.BACKING, beneath(artwork, backing_choke_mm).flat)]
        holes = [(Layer.CUT_OUT, cut_holes(artwork, item.bleed)[0])] if item.bleed else []
        return [*holes, (Layer.OUTLINE, outline(artwork, rim).flat)]
    except TooTangled:
        return []


def _mirrored(run: Run, item: Item) -> Run:
    if not item.mirrored:
        return run
    width = item.size.real
    return tuple(tuple(complex(width - point.real, point.imag) for point in piece) for piece in run)
