"""Register crosses: where they lie round artwork, alike in its print and in every piece that is cut for it."""

from __future__ import annotations

#: How far the middles of crosses lie outside the artwork, and how long their arms are, in mm (estimates).
OFF_MM, ARM_MM = 4.0, 2.5
#: So far from the artwork, in mm, the crosses begin.
CLEAR_MM = OFF_MM - ARM_MM


def cross_arms(size: complex, beyond: float = 0.0) -> list[tuple[complex, complex]]:
    """Return the arms of the crosses round artwork of ``size`` (mm across, and down as the imaginary part) with its
    corner at 0, ``beyond`` mm further out than usual.

    They are at three corners, so that nothing fits on turned or mirrored by mistake.

    >>> cross_arms(10 + 6j)[0]
    ((-6.5-4j), (-1.5-4j))
    """
    off = OFF_MM + beyond
    right, bottom = size.real + off, size.imag + off
    return [
        (middle - arm, middle + arm)
        for middle in (complex(-off, -off), complex(right, -off), complex(-off, bottom))
        for arm in (complex(ARM_MM, 0), complex(0, ARM_MM))
    ]
