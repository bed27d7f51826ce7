"""How a JPEG file was coded: how coarsely its waves were rounded, and how many
pixels share a chroma (ITU-T T.81, B.2).
"""

from __future__ import annotations

import struct
from dataclasses import dataclass

from calculators.files.header import BadHeader, CutShort, jpeg_segments

SIDE = 8
_TABLES, _NOT_FRAMES = 0xDB, (0xC4, 0xC8, 0xCC)
#: The order in which a file lists the waves of a square, as places in rows of eight (T.81, figure A.6).
_ZIGZAG = sorted(
    range(SIDE * SIDE),
    key=lambda at: (sum(divmod(at, SIDE)), at // SIDE if sum(divmod(at, SIDE)) % 2 else at % SIDE),
)

Table = tuple[int, ...]


@dataclass(frozen=True)
class Coding:
    """``luma`` and ``chroma``: the step of each wave in rows of eight; ``wide`` x ``high`` pixels share a chroma.

    ``chroma`` is None in a grey file.
    """

    luma: Table
    chroma: Table | None
    wide: int = 1
    high: int = 1

    @property
    def shares_chroma(self) -> bool:
        """Whether several pixels share a chroma."""
        return self.wide * self.high > 1


def coding_of(data: bytes) -> Coding | None:
    """Return the coding of the JPEG in ``data``, or None where it does not say."""
    tables: dict[int, Table] = {}
    parts: list[tuple[int, int, int]] = []
    try:
        for marker, body in jpeg_segments(data):
            if marker == _TABLES:
                tables |= _tables(body)
            elif 0xC0 <= marker <= 0xCF and marker not in _NOT_FRAMES and not parts:
                parts = [(body[at + 1] >> 4, body[at + 1] & 15, body[at + 2]) for at in range(6, 6 + 3 * body[5], 3)]
        luma, *chroma = parts
        if not chroma:
            return Coding(tables[luma[2]], None)
        wide, high = (max(1, luma[axis] // chroma[0][axis]) for axis in range(2))
        return Coding(tables[luma[2]], tables[chroma[0][2]], wide, high)
    except (BadHeader, CutShort, IndexError, KeyError, ValueError, ZeroDivisionError, struct.error):
        return None


def _tables(body: bytes) -> dict[int, Table]:
    found, at = {}, 0
    while at < len(body):
        size, name = (2 if body[at] >> 4 else 1), body[at] & 15
        steps = struct.unpack_from(">64H" if size == 2 else ">64B", body, at + 1)
        if 0 in steps:
            raise ValueError("a step of a wave is 1 or more (T.81, table B.4)")
        found[name] = tuple(step for _place, step in sorted(zip(_ZIGZAG, steps, strict=True)))
        at += 1 + 64 * size
    return found
