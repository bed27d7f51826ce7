"""The white plate: where a print service prints white, as a spot colour of its own.

Beneath a colour it ends inside the colour's edge, by the choke that the service asks for. Where white itself is the
visible edge it keeps its size.
"""

from __future__ import annotations

from dataclasses import dataclass

from calculators.cut.artwork import CutArtwork, Meanings, from_outlines
from calculators.cut.openings import beneath
from calculators.files.outline_files import path_steps
from calculators.files.outline_reader import Outlines
from calculators.files.pdf_canvas import Form, Spot
from calculators.files.pdf_picture import mask_of
from calculators.files.svg_shapes import Shape
from calculators.pixels.white_areas import PRINTED
from calculators.shapes.cubics import Piece
from calculators.shapes.offsets import as_pieces
from calculators.sheets import sentences
from calculators.sheets.contents import Content, OutlineContent, PictureContent, Steps, pixels_of
from calculators.sheets.masks import plain_meanings, white_rows
from calculators.sheets.plate_outline import outlined
from calculators.values import Message, message

#: Names of spot colours have at most so many bytes (ISO 32000-1:2008, annex C, from memory).
MOST_BYTES = 127
#: Names that mean other plates (8.6.6.4, from memory).
RESERVED = ("all", "none", "cyan", "magenta", "yellow", "black")
#: What screens and proofs show where the plate lies, since white cannot be seen on white.
SHOWN = "#8fc7ff"
#: The colour of a box of which only the shape counts.
BOX = "#000000"


class BadPlate(ValueError):
    """A name that cannot be that of a plate; ``sentence`` says why."""

    def __init__(self, sentence: Message) -> None:
        super().__init__(sentence.sentence)
        self.sentence = sentence


@dataclass(frozen=True)
class Plate:
    """The white plate: its name at the print service, and how far it ends inside the edges of colour, in mm.

    ``in_place`` puts it onto the page of the colours, ``own_page`` onto a page behind that. Raises BadPlate.
    """

    name: str
    choke_mm: float
    in_place: bool = True
    own_page: bool = True

    def __post_init__(self) -> None:
        """Raise BadPlate."""
        if not self.name.strip():
            raise BadPlate(message(sentences.PLATE_UNNAMED))
        if not self.name.isprintable():
            raise BadPlate(message(sentences.PLATE_BAD_CHARACTER))
        if len(self.name.encode()) > MOST_BYTES:
            raise BadPlate(message(sentences.PLATE_TOO_LONG, most=str(MOST_BYTES)))
        if self.name.strip().lower() in RESERVED:
            raise BadPlate(message(sentences.PLATE_RESERVED, name=self.name.strip()))

    @property
    def spot(self) -> Spot:
        """Return the spot colour."""
        return Spot(self.name.strip(), SHOWN)


def white_form(content: Content, choke_mm: float, fill: str | Spot) -> Steps[Form]:
    """Return white beneath and in a content, painted with ``fill``. Yields progress and asks for pixels.

    Raises TooTangled.
    """
    form = Form(content.size.real, content.size.imag)
    white = yield from white_of(content)
    if isinstance(white, CutArtwork):
        rings = [as_pieces(white.plane.polygon(ring)) for ring in beneath(white, choke_mm).flat]
        if rings:
            form.path((step for ring in rings for step in path_steps(ring)), fill=fill)
        return form
    mask = mask_of(white.width, white.height, white_rows(white, choke_mm))
    form.image(mask, 0, 0, content.size.real, content.size.imag, fill=fill)
    return form


def white_of(content: Content) -> Steps[CutArtwork | Meanings]:
    """Return what a content says of its white, or that all of it is colour, as outlines where pixels are coarse.

    Raises TooTangled.
    """
    white = (yield from outlined(content)) if isinstance(content, PictureContent) else content.white
    if white is not None:
        return white
    if isinstance(content, OutlineContent):
        return (yield from _all_printed(content))
    if content.picture.header.alpha:
        return (yield from _by_alpha(content))
    # Nothing of it is transparent, so its box is enough and its pixels are not needed.
    return (yield from _all_printed(OutlineContent(content.size, (Shape(BOX, (_box(content.size),), False),))))


def _all_printed(content: OutlineContent) -> Steps[CutArtwork]:
    size = content.size
    whole = Outlines(size.real, size.imag, (0.0, 0.0, size.real, size.imag), content.shapes)
    return (yield from from_outlines(whole, bytes([PRINTED]), (1, 1), size.real))


def _box(size: complex) -> tuple[Piece, ...]:
    return tuple(as_pieces([0j, complex(size.real, 0), size, complex(0, size.imag)]))


def _by_alpha(content: PictureContent) -> Steps[Meanings]:
    picture = yield from pixels_of(content.picture)
    width, height = picture.size_px
    return plain_meanings(picture.pixels, width, height, complex(content.size.real / width, content.size.imag / height))
