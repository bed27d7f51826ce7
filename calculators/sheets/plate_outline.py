"""The white plate of a coarse picture: its traced outlines in place of the steps of its pixels.

Outlines count only where they lose nothing of the picture: each pixel has to find itself among them, or beside it.
"""

from __future__ import annotations

from collections.abc import Iterator

from calculators.cut.artwork import CutArtwork, Meanings
from calculators.cut.plane import Flat
from calculators.pixels.white_areas import BARE, WHITE
from calculators.shapes.filled import filled
from calculators.sheets.contents import PictureContent, Steps, traced
from calculators.values import in_one_go

#: Steps that are narrower, in mm, nobody sees (estimate: an eye resolves 0.09 mm at 300 mm).
STEPPED_MM = 0.05
#: Larger pictures are not traced for their plate: in the page that would take seconds for each.
MOST_PX = 250_000

#: Pixels that are covered at least by half.
_IS_COVERED = bytes(128) + b"\1" * 128
_IS_THERE = bytes(each != BARE for each in range(256))
_IS_WHITE = bytes(each == WHITE for each in range(256))


def outlined(content: PictureContent) -> Steps[CutArtwork | Meanings | None]:
    """Return the traced regions of a picture whose pixels are coarse, and what its pixels mean where outlines would
    lose some of them. Asks for pixels. Raises PictureTrouble.
    """
    meanings = content.white
    if not isinstance(meanings, Meanings) or not _is_stepped(meanings):
        return meanings
    made = (yield from traced(content)).white
    return made if isinstance(made, CutArtwork) and _has_all(made, meanings) else meanings


def _is_stepped(meanings: Meanings) -> bool:
    return meanings.pixel_mm.real > STEPPED_MM and meanings.width * meanings.height <= MOST_PX


def _has_all(made: CutArtwork, meanings: Meanings) -> bool:
    """Return whether regions show all that pixels mean. Raises TooTangled."""
    lost = made.lost
    if lost.strokes or lost.shapes:
        return False
    there, white = (meanings.plane.translate(table) for table in (_IS_THERE, _IS_WHITE))
    return _agrees(made, made.printed, there, meanings) and _agrees(made, made.white, white, meanings)


def _agrees(made: CutArtwork, flat: Flat, wanted: bytes, meanings: Meanings) -> bool:
    """Return whether a region covers the pixels that are ``wanted`` (1, others 0): each that is covered lies on or
    beside one that is wanted, each wanted one on or beside one that is covered, and so do all others.
    """
    width, height, pixel = meanings.width, meanings.height, meanings.pixel_mm

    def placed(point: complex) -> complex:
        return complex(point.real / pixel.real, point.imag / pixel.imag)

    rings = [[tuple(map(placed, piece)) for piece in ring] for ring in made.plane.rings(flat)]
    rgba = in_one_go(filled([((0, 0, 0), rings, False)], width, height))
    meant, there, whole = (
        int.from_bytes(b"".join(_rows(plane, width)), "little")
        for plane in (wanted, rgba[3::4].translate(_IS_COVERED), b"\1" * len(wanted))
    )
    # All round the picture nothing is wanted or covered.
    everywhere = int.from_bytes(b"\1" * (width + 2) * (height + 2), "little")
    pairs = (meant, there), (everywhere ^ meant, everywhere ^ there)
    return not any(_alone(one, other, 8 * (width + 2)) & whole for pair in pairs for one, other in (pair, pair[::-1]))


def _rows(plane: bytes, width: int) -> Iterator[bytes]:
    """Yield rows with room for a pixel at either end, and a row of them above and below."""
    yield bytes(width + 2)
    for at in range(0, len(plane), width):
        yield b"\0" + plane[at : at + width] + b"\0"
    yield bytes(width + 2)


def _alone(ones: int, others: int, stride: int) -> int:
    """Return those of ``ones`` that are not among ``others`` nor next to one, cornerwise too."""
    wide = others | others << 8 | others >> 8
    near = wide | wide << stride | wide >> stride
    return (ones | near) ^ near
