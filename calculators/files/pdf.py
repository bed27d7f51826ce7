"""PDF pages in millimetres: placed pictures, outlines and labels at exact size."""

from __future__ import annotations

from calculators import tables
from calculators.files.pdf_canvas import POINTS_PER_MM, Canvas, Form, Layer, Spot, Step
from calculators.files.pdf_document import FONT, document

__all__ = ["FONT", "POINTS_PER_MM", "Form", "Layer", "Sheet", "Spot", "Step", "document"]


class Sheet(Canvas):
    """One page of ``width_mm`` x ``height_mm``. Everything drawn is in mm from its top left corner, y down."""

    @classmethod
    def of(cls, paper: str) -> Sheet:
        """Return an upright page of the size of a row of the table of papers. Raises KeyError."""
        row = tables.row("papers", paper)
        return cls(row.width.value, row.height.value)

    def bytes(self, title: str) -> bytes:
        """Return a PDF file of this page alone."""
        return document([self], title)
