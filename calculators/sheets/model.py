"""What lies where on a sheet of film, however it was found.

All lengths are mm. Points are complex: x to the right, y downwards. A piece's own points start at the top left of its
artwork's box, a sheet's at the top left of the sheet, whose upper edge goes into the printer first. So y is the feed.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from calculators.shapes.register import ARM_MM, OFF_MM

#: A rectangle: left, top, right, bottom.
Rectangle = tuple[float, float, float, float]


class Part(Enum):
    """What a piece is for."""

    COLOUR = "colour"  # the marking itself
    WHITE_UNDER = "white"  # the backing piece that goes beneath it, cut of white film
    TRIAL = "trial"  # a whole small marking with its tab, to take through the whole chain first
    STRIP = "strip"  # the test strip: heavy ink, and lines at the printer's limits; `content` is `TEST_STRIP`


#: The key under which the contents hold the test strip.
TEST_STRIP = "test-strip"


@dataclass(frozen=True)
class Item:
    """One kind of piece: all its copies look alike. ``size`` is the box of its artwork as it lies unturned.

    ``content`` is the key of what is drawn, which several items may share. ``film`` is an id of the table of films.
    Items with the same ``set_id`` lie side by side and alike: partners, series and two-part sets. ``fixed_turn`` keeps
    it as it is drawn, since a printer stretches feed and width differently.
    ``mirrored``: the content is drawn mirrored, left for right, in the same box. ``face_down``: the print is seen
    through its film, or goes face down onto the model, so that white lies over the print and not below it; such a piece
    is mirrored too, unless it is the mirrored partner.
    ``crosses``: register crosses stand on tabs of its own, in both parts of its set.

    Where film is white, colour is drawn ``bleed`` past the cut, which is the artwork's box. Where it is clear, the cut
    leaves a ``rim`` of bare film round the box. ``tab`` is the width of the holding tab beyond that, at its left.
    """

    id: str
    name: str
    part: Part
    size: complex
    content: str
    film: str
    copies: int = 1
    spares: int = 0
    set_id: str = ""
    fixed_turn: bool = False
    crosses: bool = False
    mirrored: bool = False
    face_down: bool = False
    bleed: float = 0.0
    rim: float = 0.0
    tab: float = 0.0

    @property
    def pieces(self) -> int:
        """Return how many lie on the sheets, spares among them."""
        return self.copies + self.spares

    @property
    def reach(self) -> float:
        """Return how far the piece reaches past the box of its artwork on every side."""
        return max(self.bleed, self.rim)

    @property
    def around(self) -> Rectangle:
        """Return how far the piece with its tabs and crosses reaches past the box at the left, top, right and bottom.

        >>> Item("a", "A", Part.COLOUR, 10 + 5j, "a", "clear", rim=0.5, tab=6).around
        (6.5, 0.5, 0.5, 0.5)
        """
        reach = self.reach
        left, top, right = reach + self.tab, reach, reach
        if self.crosses:
            far = OFF_MM + self.crosses_beyond + ARM_MM
            left, top, right = max(left, far), max(top, far), max(right, far)
        return left, top, right, reach

    @property
    def crosses_beyond(self) -> float:
        """Return how much further out than usual register crosses lie, so that they stay clear of rim and bleed."""
        return max(0.0, self.reach - (OFF_MM - ARM_MM))

    @property
    def cross_middles(self) -> tuple[complex, ...]:
        """Return the middles of its register crosses from the corner of its box; none where it has none.

        They are the upper two of `shapes.register`, so that pieces cut by other files fit too.
        """
        if not self.crosses:
            return ()
        off = OFF_MM + self.crosses_beyond
        return complex(-off, -off), complex(self.size.real + off, -off)

    @property
    def tab_box(self) -> Rectangle | None:
        """Return the holding tab in points of the piece, whose waste may carry the piece's name; None without a tab."""
        if not self.tab:
            return None
        reach = self.reach
        return -reach - self.tab, -reach, -reach, self.size.imag + reach

    @property
    def footprint(self) -> complex:
        """Return width and height of the whole piece, unturned, knife gap not included."""
        left, top, right, bottom = self.around
        return self.size + complex(left + right, top + bottom)


@dataclass(frozen=True)
class Placement:
    """One piece on a sheet: ``copy`` counts from 1, ``corner`` is the top left of its artwork's box as it lies.

    ``turned``: by a quarter to the left, so that its top edge lies at the left and its tab at the bottom.
    """

    item: Item
    copy: int
    corner: complex
    turned: bool = False

    @property
    def size(self) -> complex:
        """Return the size of the artwork's box as it lies."""
        size = self.item.size
        return complex(size.imag, size.real) if self.turned else size

    @property
    def footprint(self) -> Rectangle:
        """Return the rectangle on the sheet that the whole piece takes, knife gap not included."""
        left, top, right, bottom = self.item.around
        if self.turned:
            left, top, right, bottom = top, right, bottom, left
        far = self.corner + self.size
        return self.corner.real - left, self.corner.imag - top, far.real + right, far.imag + bottom

    def on_sheet(self, point: complex) -> complex:
        """Return where a point of the piece lies on the sheet. Mirroring is up to whoever draws the content.

        >>> Placement(Item("a", "A", Part.COLOUR, 10 + 5j, "a", "clear"), 1, 20 + 30j, turned=True).on_sheet(0j)
        (20+40j)
        """
        if not self.turned:
            return self.corner + point
        return self.corner + complex(point.imag, self.item.size.real - point.real)


@dataclass(frozen=True)
class SheetLayout:
    """One sheet of one film. A part-used sheet is given as what is left of it, its whole edge leading.

    ``margins`` is what the printer cannot reach at the left, top, right and bottom; ``marks`` is a further band inside
    them that stays empty for the marks of a cutter's own program (0: none). ``placements`` lie in the order of the
    items. ``used_length`` is what has to be cut off across the full width, from the leading edge; ``remainder`` is the
    useful rectangle below that, None where nothing useful is left. ``bars`` are the check bars that find room, each
    from end to end: along x first, then along y.
    """

    paper: str
    size: complex
    margins: Rectangle
    film: str
    placements: tuple[Placement, ...]
    used_length: float
    remainder: Rectangle | None = None
    knife_gap: float = 0.0
    bars: tuple[tuple[complex, complex], ...] = ()
    marks: float = 0.0
    number: int = 1

    @property
    def printable(self) -> Rectangle:
        """Return the rectangle in which pieces, bars and texts may lie."""
        left, top, right, bottom = self.margins
        width, height = self.size.real, self.size.imag
        return left + self.marks, top + self.marks, width - right - self.marks, height - bottom - self.marks

    @property
    def used_share(self) -> float:
        """Return the share of the used film, across the full width, that pieces cover: 0 to 1."""
        used = self.size.real * self.used_length
        covered = sum((right - left) * (bottom - top) for left, top, right, bottom in map(_footprint, self.placements))
        return min(1.0, covered / used) if used else 0.0


def _footprint(placement: Placement) -> Rectangle:
    return placement.footprint
