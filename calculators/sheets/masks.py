"""Where white is printed, of pixels: masks of one bit a pixel, choked by distances between the middles of pixels.

A mask is one long whole number, so that shifting it moves the picture.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import floor, isqrt

from calculators.cut.artwork import Meanings
from calculators.pixels.white_areas import BARE, PRINTED, WHITE


def plain_meanings(rgba: bytes, width: int, height: int, pixel_mm: complex) -> Meanings:
    """Return meanings by transparency alone: what is at least half opaque is printed, all else is bare."""
    return Meanings(rgba[3::4].translate(bytes([BARE] * 128 + [PRINTED] * 128)), width, height, pixel_mm)


def white_rows(meanings: Meanings, choke_mm: float) -> bytes:
    """Return 1 a pixel where white is printed: rows from the top, each in whole bytes.

    That is wanted white, and what lies beneath colour unless its middle is within ``choke_mm`` of an edge of colour
    towards what is bare. The outside of the picture is bare.
    """
    far = choke_mm / abs(meanings.pixel_mm.real) + 0.5 if choke_mm else 0.0
    margin, packed = (floor(far) // 8 + 1) * 8, (meanings.width + 7) // 8
    stride = 2 * margin + 8 * packed
    printed, white = (_bits(meanings, meant, margin, stride) for meant in (PRINTED, WHITE))
    if choke_mm:
        touched = printed << 1 | printed >> 1 | printed << stride | printed >> stride
        printed &= ~_within(touched & ~(printed | white), far, stride)
    row_bytes, left = stride // 8, margin // 8
    data = (printed | white).to_bytes(row_bytes * (meanings.height + 2 * margin))
    rows = range(margin, margin + meanings.height)
    return b"".join(data[row * row_bytes + left : row * row_bytes + left + packed] for row in rows)


def _bits(meanings: Meanings, meant: int, margin: int, stride: int) -> int:
    """Return 1 a pixel of one meaning, in rows of ``stride`` bits, with ``margin`` on all sides, the first bit of all
    the highest.
    """
    table = bytearray(b"0" * 256)
    table[meant] = ord("1")
    text = meanings.plane.translate(bytes(table))
    left, right = b"0" * margin, b"0" * (stride - margin - meanings.width)
    width, empty = meanings.width, b"0" * (stride * margin)
    rows = (left + text[at : at + width] + right for at in range(0, len(text), width))
    return int(b"".join((empty, *rows, empty)), 2)


def _within(edges: int, far: float, stride: int) -> int:
    """Return all bits whose distance from one of ``edges`` is at most ``far``."""
    near = 0
    rows = floor(far)
    for span, downs in _spans(far, rows):
        wide = _widened(edges, span)
        for down in downs:
            near |= wide >> down * stride | (wide << down * stride if down else 0)
    return near


def _spans(far: float, rows: int) -> Iterator[tuple[int, list[int]]]:
    """Yield how far a disc reaches to either side, with the numbers of the rows up and down where it does."""
    by_span: dict[int, list[int]] = {}
    for down in range(rows + 1):
        by_span.setdefault(isqrt(floor(far * far - down * down)), []).append(down)
    yield from by_span.items()


def _widened(bits: int, span: int) -> int:
    """Return bits with ``span`` more on either side of each."""
    done = 0
    while done < span:
        step = min(span - done, 2 * done + 1)
        bits |= bits << step | bits >> step
        done += step
    return bits
