"""Room that is left between rectangles."""

from __future__ import annotations

from collections.abc import Sequence

from calculators.sheets.model import Rectangle

#: With more rectangles than this, corners are looked for beside the last ones only.
_MOST = 40
_TINY = 1e-9


def free_corner(taken: Sequence[Rectangle], room: complex, box: complex, gap: float) -> complex | None:
    """Return where a box of that size lies ``gap`` away from all that is taken, as far down and to the right as it can.

    The corner is its top left, from that of ``room``, within which all lies. None where it finds no place.

    >>> free_corner([(0, 0, 20, 10)], 30 + 10j, 8 + 4j, 1.0)
    (22+6j)
    >>> free_corner([(0, 0, 25, 10)], 30 + 10j, 8 + 4j, 1.0) is None
    True
    """
    far = room - box
    if far.real < -_TINY or far.imag < -_TINY:
        return None
    near = sorted(taken, key=lambda each: each[3], reverse=True)[:_MOST]
    across = {max(0.0, far.real), 0.0, *(each[0] - gap - box.real for each in near), *(each[2] + gap for each in near)}
    along = {max(0.0, far.imag), 0.0, *(each[1] - gap - box.imag for each in near), *(each[3] + gap for each in near)}
    for y in sorted(along, reverse=True):
        if not -_TINY <= y <= far.imag + _TINY:
            continue
        beside = [each for each in taken if each[1] - gap < y + box.imag - _TINY and y < each[3] + gap - _TINY]
        for x in sorted(across, reverse=True):
            if not -_TINY <= x <= far.real + _TINY:
                continue
            if not any(each[0] - gap < x + box.real - _TINY and x < each[2] + gap - _TINY for each in beside):
                return complex(x, y)
    return None
