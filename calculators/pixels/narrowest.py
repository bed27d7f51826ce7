"""How narrow the narrowest part of an area is, in pixels: an estimate, by what vanishes when squares are fitted in.

An area is a whole number with a bit a pixel, rows below each other with empty room between, so that fitting in a
square is a few shifts of the whole.
"""

from __future__ import annotations

#: Parts count as lost once so many pixels vanish, and such a share of the area. Of a single colour, the pixels along
#: soft edges that go by its name are not to decide.
LOST_PX, OF_OUTLINE, OF_COLOUR = 4, 0.004, 0.03


def narrowest_px(plane: bytes, width: int, height: int, most: int, lost_share: float = OF_OUTLINE) -> int:
    """Return the width in pixels of the narrowest part of where ``plane``, a byte a pixel, is not 0; ``most`` if none is narrower.

    A part is narrower than a square that does not fit into it, once ``lost_share`` of the whole lies in such parts.
    Corners are no parts. Right to about one pixel for level and upright parts; slanted ones come out narrower, by
    three tenths at most.

    >>> narrowest_px((bytes(3) + b"\\1\\1\\1" + bytes(3)) * 20, 9, 20, 8)
    3
    """
    room = 3 * most
    row = width + room
    area = _number(plane, width, height, room)
    least = max(LOST_PX, lost_share * area.bit_count())
    for side in range(2, most + 1):
        # What is left is grown again by the square, and by half of it more: what is still missing is no corner.
        more = side // 2 + 1
        left = _fits(_fits(area, side, 1), side, row)
        grown = _grown(_grown(left, side + 2 * more, 1), side + 2 * more, row)
        shift = more * (row + 1)
        if (area & ~(grown >> shift)).bit_count() >= least:
            return side - 1
    return most


def _number(plane: bytes, width: int, height: int, room: int) -> int:
    """Return the area as a number, with ``room`` empty pixels round each row and above the first."""
    digits = plane.translate(b"0" + b"1" * 255)
    # The first pixel is the lowest bit, so rows and pixels are written backwards.
    rows = (digits[at : at + width][::-1] for at in range((height - 1) * width, -1, -width))
    between = b"0" * room
    return int(between + between.join(rows) + b"0" * (room * (width + room + 1)), 2) if plane else 0


def _fits(area: int, side: int, step: int) -> int:
    """Return where ``side`` pixels, each ``step`` after the one before, all lie in the area."""
    done = 1
    while done < side:
        by = min(done, side - done)
        area &= area >> by * step
        done += by
    return area


def _grown(area: int, side: int, step: int) -> int:
    """Return the area with ``side`` pixels, each ``step`` after the one before, for each of its own."""
    done = 1
    while done < side:
        by = min(done, side - done)
        area |= area << by * step
        done += by
    return area
