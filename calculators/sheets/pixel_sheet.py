"""A sheet as a PNG file at a chosen resolution, for drivers that only take pictures.

Rows are made from the top and packed as they come. A piece is drawn when its first row is reached and let go after its
last, so that a sheet is never in memory as a whole. Where two pieces share a pixel the darker level stays.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from calculators.cut.artwork import CutArtwork
from calculators.files.png import PngRows
from calculators.files.print_checks import DARK
from calculators.numbers import plain
from calculators.shapes.transforms import Matrix, product, scaling
from calculators.sheets import sentences
from calculators.sheets.contents import Content, OutlineContent, Steps
from calculators.sheets.model import Part, Placement, SheetLayout
from calculators.sheets.pieces import content_matrix, cut_lines, on_sheet
from calculators.sheets.print_file import (
    CUT_LINE,
    CUT_LINE_MM,
    NotPrintable,
    PrintOptions,
    check,
    has_plate,
    is_white_film,
)
from calculators.sheets.sheet_marks import OFF_BAR_MM, bar_boxes, cross_boxes, is_level
from calculators.sheets.stamps import (
    Coloured,
    Extent,
    Maker,
    Stamp,
    box_shape,
    corners_of,
    extent_of,
    line_shapes,
    outline_shapes,
    picture_pixels,
    pixels_stamp,
    points_of,
    shapes_stamp,
    white_pixels,
    white_shapes,
    words_length,
    words_shapes,
)
from calculators.sheets.white_plate import white_of
from calculators.units import MM_PER_INCH
from calculators.values import Progress, message

#: Resolutions that drivers take, and the most megapixels: an A4 sheet at 1200 ppi has 139.
LOWEST_PPI, HIGHEST_PPI, MOST_MEGAPIXELS = 72, 1200, 150
#: Rows that are packed at a time, and the height of letters, in mm.
ROWS, LETTERS_MM = 64, 1.5


@dataclass(frozen=True)
class _Pending:
    """Something that will be drawn: where it may lie, and what makes it."""

    extent: Extent
    make: Maker


def pixel_sheet(
    layout: SheetLayout, contents: Mapping[str, Content], options: PrintOptions, ppi: float, *, white: bool = False
) -> Steps[bytes]:
    """Return a sheet as a PNG file of RGB at ``ppi``, or with ``white`` its white plate, black where white is printed.

    The plate's choke is that of ``options.plate``, or that of backing pieces. Yields progress and asks for pixels.
    Raises NotPrintable.
    """
    check([layout], contents, options.plate)
    width, height = _size_px(layout, ppi)
    sheet = _Sheet(layout, contents, options, ppi, (width, height))
    pending = sorted(sheet.white() if white else sheet.colours(), key=lambda each: each.extent.top, reverse=True)
    file = PngRows(width, height, 3, ppi)
    active: list[Stamp] = []
    for first in range(0, height, ROWS):
        yield Progress(first / height, sentences.DRAWING_ROWS)
        last = min(height, first + ROWS)
        while pending and pending[-1].extent.top < last:
            made = yield from pending.pop().make()
            if made:
                active.append(made)
        file.add(_rows(active, width, first, last))
        active = [each for each in active if each.top + each.height > last]
    return file.written()


def _size_px(layout: SheetLayout, ppi: float) -> tuple[int, int]:
    if not LOWEST_PPI <= ppi <= HIGHEST_PPI:
        raise NotPrintable(message(sentences.PPI_OUTSIDE, low=str(LOWEST_PPI), high=str(HIGHEST_PPI)))
    width, height = (max(1, round(side * ppi / MM_PER_INCH)) for side in (layout.size.real, layout.size.imag))
    if width * height > MOST_MEGAPIXELS * 1_000_000:
        megapixels = str(round(width * height / 1_000_000))
        raise NotPrintable(
            message(sentences.PICTURE_TOO_LARGE, ppi=plain(ppi), megapixels=megapixels, most=str(MOST_MEGAPIXELS))
        )
    return width, height


def _rows(active: list[Stamp], width: int, first: int, last: int) -> bytes:
    """Return rows of the sheet with all that lies in them."""
    rows = bytearray(b"\xff" * (3 * width * (last - first)))
    for stamp in active:
        length = 3 * stamp.width
        for row in range(max(first, stamp.top), min(last, stamp.top + stamp.height)):
            start = 3 * (width * (row - first) + stamp.left)
            own = stamp.rgb[length * (row - stamp.top) : length * (row - stamp.top + 1)]
            there = rows[start : start + length]
            if there.count(255) == length:
                rows[start : start + length] = own
            else:
                both = int.from_bytes(there, "little") & int.from_bytes(own, "little")
                rows[start : start + length] = both.to_bytes(length, "little")
    return bytes(rows)


class _Sheet:
    """All that is drawn on one page of pixels."""

    def __init__(
        self,
        layout: SheetLayout,
        contents: Mapping[str, Content],
        options: PrintOptions,
        ppi: float,
        page: tuple[int, int],
    ) -> None:
        self.layout, self.contents, self.options, self.page = layout, contents, options, page
        scale = ppi / MM_PER_INCH
        #: From mm on the sheet to pixels, the printer's error taken out.
        self.matrix: Matrix = product(scaling(scale, scale), options.correction.about(layout.size / 2))

    def colours(self) -> Iterator[_Pending]:
        """Yield what is printed in colour, with the marks of the sheet."""
        for each in self.layout.placements:
            content = self.contents[each.item.content]
            if each.item.part is not Part.WHITE_UNDER:
                yield from self._piece(each, content)
            elif is_white_film(each.item.film):
                runs = [on_sheet(run, each) for _layer, run in cut_lines(each.item, content, self._backing)]
                yield from self._marks(line_shapes(runs, CUT_LINE_MM, CUT_LINE))
            else:
                yield self._white_piece(each, content, self._backing)
            for box in cross_boxes(each):
                yield from self._marks([box_shape(*box, DARK)])
        yield from self._bars()

    def white(self) -> Iterator[_Pending]:
        """Yield where white is printed, in register with the colours."""
        choke = self.options.plate.choke_mm if self.options.plate else self._backing
        for each in self.layout.placements:
            if has_plate(each.item):
                yield self._white_piece(each, self.contents[each.item.content], choke)

    @property
    def _backing(self) -> float:
        return self.options.backing_choke_mm

    def _piece(self, placement: Placement, content: Content) -> Iterator[_Pending]:
        bleed = placement.item.bleed
        matrix = product(self.matrix, content_matrix(placement))
        extent = extent_of(corners_of(content.size, bleed), matrix, self.page)
        if extent.is_empty:
            return

        def make() -> Steps[Stamp | None]:
            if isinstance(content, OutlineContent):
                shapes = yield from outline_shapes(content, bleed)
                return shapes_stamp(shapes, matrix, extent)
            pixels, further = yield from picture_pixels(content, bleed)
            return pixels_stamp(pixels, content.size, further, matrix, self.page)

        yield _Pending(extent, make)

    def _white_piece(self, placement: Placement, content: Content, choke_mm: float) -> _Pending:
        matrix = product(self.matrix, content_matrix(placement))
        extent = extent_of(corners_of(content.size), matrix, self.page)

        def make() -> Steps[Stamp | None]:
            white = yield from white_of(content)
            if isinstance(white, CutArtwork):
                return None if extent.is_empty else shapes_stamp(white_shapes(white, choke_mm), matrix, extent)
            pixels = white_pixels(white, choke_mm)
            return pixels_stamp(pixels, content.size, 0j, matrix, self.page)

        return _Pending(extent, make)

    def _marks(self, shapes: list[Coloured]) -> Iterator[_Pending]:
        points = points_of(shapes)
        if not points:
            return
        extent = extent_of(points, self.matrix, self.page)

        def make() -> Steps[Stamp | None]:
            yield from ()
            return shapes_stamp(shapes, self.matrix, extent)

        if not extent.is_empty:
            yield _Pending(extent, make)

    def _bars(self) -> Iterator[_Pending]:
        """Yield check bars with their lengths, and words about the sheet along the first, in capitals."""
        options = self.options
        name = sentences.PIXEL_NAME.format(title=options.title, number=self.layout.number, date=options.date)
        beside = [name, options.correction.words()]
        for start, end in self.layout.bars:
            for box in bar_boxes(start, end):
                yield from self._marks([box_shape(*box, DARK)])
            length = abs(end - start)
            label = sentences.BAR_LENGTH.format(length=plain(round(length, 3)))
            if is_level(start, end):
                corner = complex(min(start.real, end.real) + 1, start.imag)
                above, below = [f"{label}  {beside[0]}", beside[1]] if beside else [label, ""]
                yield from self._words(above, corner - OFF_BAR_MM * 1j, length)
                yield from self._words(below, corner + (OFF_BAR_MM + LETTERS_MM) * 1j, length)
                beside = []
            else:
                yield from self._words(label, complex(start.real - OFF_BAR_MM, end.imag - 2), length, upward=True)

    def _words(self, words: str, start: complex, length_mm: float, *, upward: bool = False) -> Iterator[_Pending]:
        """Yield words as far as they fit along a bar."""
        while words_length(words, LETTERS_MM) > length_mm - 2:
            words = words[:-1]
        yield from self._marks(words_shapes(words, start, LETTERS_MM, DARK, upward=upward))
