"""The proof page: the marking at exact size, with bars to measure and thin lines to judge.

Layout, in mm from the top left corner: words at the top, a bar of 100 mm across, one down the left
side, the marking beside it, and the ladder of lines right of the marking or below it.
"""

from __future__ import annotations

from dataclasses import dataclass

from calculators import tables
from calculators.files.pdf import Sheet
from calculators.files.picture import Picture
from calculators.files.print_checks import BAR_MM, DARK, LADDER_SIZE, bar_across, bar_down, line_ladder, scale_words
from calculators.shapes.register import cross_arms

#: A generous margin that home printers cannot print, in mm (common practice).
MARGIN_MM = 10.0
#: The position of the marking, and the distance of the ladder from it.
MARKING_X, MARKING_Y, GAP = 22.0, 36.0, 8.0
#: The width of the lines of register crosses, in mm. With their arms they lie within the gaps round the marking.
CROSS_LINE_MM = 0.1


class NoRoom(ValueError):
    """The marking does not fit beside its checks; ``widest_mm`` is the widest of its proportions that does."""

    def __init__(self, widest_mm: float) -> None:
        super().__init__(f"fits up to {widest_mm} mm wide")
        self.widest_mm = widest_mm


@dataclass(frozen=True)
class ProofPage:
    """A laid-out page of ``sheet_width_mm`` x ``sheet_height_mm`` and the position of the ladder on it."""

    sheet_width_mm: float
    sheet_height_mm: float
    width_mm: float
    height_mm: float
    ladder_x: float
    ladder_y: float

    @classmethod
    def laid_out(cls, paper: str, width_mm: float, height_mm: float) -> ProofPage:
        """Return the page for a marking of ``width_mm`` x ``height_mm``, upright, or turned where only that fits.

        Raises NoRoom, and KeyError for an unknown paper.
        """
        row = tables.row("papers", paper)
        sides = (row.width.value, row.height.value)
        ways = [page for sheet in (sides, sides[::-1]) for page in _ways(*sheet, width_mm, height_mm)]
        for page in ways:
            if page._fits():
                return page
        raise NoRoom(max(width_mm * page._share_that_fits() for page in ways))

    def written(self, marking: Picture, title: str, *, crosses: bool = False) -> bytes:
        """Return the PDF file with ``marking`` placed, and register crosses beside it if wanted.

        Raises pdf_picture.NotPlaced.
        """
        sheet = Sheet(self.sheet_width_mm, self.sheet_height_mm)
        scale_words(sheet, MARGIN_MM + 2, MARGIN_MM + 4)
        bar_across(sheet, MARKING_X, MARKING_Y - 8)
        bar_down(sheet, MARGIN_MM + 4, MARKING_Y)
        sheet.picture(marking, MARKING_X, MARKING_Y, self.width_mm, self.height_mm)
        for place, size in self.cross_boxes() if crosses else ():
            sheet.rectangle(place.real, place.imag, size.real, size.imag, fill=DARK)
        line_ladder(sheet, self.ladder_x, self.ladder_y)
        return sheet.bytes(title)

    def cross_boxes(self) -> list[tuple[complex, complex]]:
        """Return the corner and the size of each arm of the register crosses round the marking, in mm on the sheet."""
        half = complex(CROSS_LINE_MM, CROSS_LINE_MM) / 2
        corner = complex(MARKING_X, MARKING_Y)
        arms = cross_arms(complex(self.width_mm, self.height_mm))
        return [(corner + start - half, end - start + 2 * half) for start, end in arms]

    def _fits(self) -> bool:
        return self._share_that_fits() >= 1

    def _share_that_fits(self) -> float:
        """Return by how much the marking could grow on this page; below 1 it is too large."""
        right, bottom = self.sheet_width_mm - MARGIN_MM, self.sheet_height_mm - MARGIN_MM
        wide, high = LADDER_SIZE
        across, down = right - MARKING_X, bottom - MARKING_Y
        if min(across, down) < BAR_MM or across < wide or down < high:
            return 0.0
        if self.ladder_x > MARKING_X:
            across -= GAP + wide
        else:
            down -= GAP + high
        return min(across / self.width_mm, down / self.height_mm)


def _ways(sheet_width: float, sheet_height: float, width: float, height: float) -> list[ProofPage]:
    beside = ProofPage(sheet_width, sheet_height, width, height, MARKING_X + width + GAP, MARKING_Y)
    below = ProofPage(sheet_width, sheet_height, width, height, MARKING_X, MARKING_Y + height + GAP)
    return [beside, below]
