"""A table of ink transmittances: eight curves common to all inks, and each ink's shares of them."""

from __future__ import annotations

import struct
from array import array
from functools import cache
from itertools import accumulate

from calculators import packaged
from calculators.colour.spectra import COUNT, Spectrum

#: Made by ``python -m builder.derive_inks``, which documents its format.
FILE = "inks.bin"
#: The table has inks for colours whose levels are multiples of ``STEP``: ``SIDE`` of them along each channel.
SIDE, STEP = 18, 15
CURVES = 8
#: The stored number of the largest share of a curve.
WHOLE = 32767


@cache
def _read() -> tuple[tuple[Spectrum, ...], tuple[tuple[int, ...], ...]]:
    data = packaged.read(f"colour/{FILE}")
    if data is None:
        raise FileNotFoundError(FILE)
    numbers = struct.unpack_from(f"<{CURVES + CURVES * COUNT}f", data)
    most, bands = numbers[:CURVES], numbers[CURVES:]
    curves = tuple(
        tuple(part * most[place] / WHOLE for part in bands[place * COUNT : (place + 1) * COUNT])
        for place in range(CURVES)
    )
    planes = data[4 * len(numbers) :]
    count = SIDE**3
    low, high = planes[: CURVES * count], planes[CURVES * count :]
    shares = []
    for place in range(CURVES):
        here = slice(place * count, (place + 1) * count)
        steps = map(_signed, low[here], high[here])
        shares.append(array("h", (_wrapped(share) for share in accumulate(steps))))
    return curves, tuple(zip(*shares, strict=True))


def _signed(low: int, high: int) -> int:
    return low | high << 8


def _wrapped(share: int) -> int:
    """Return a sum of 16-bit steps as the 16-bit number with a sign that it is."""
    return (share + 0x8000 & 0xFFFF) - 0x8000


def curves() -> tuple[Spectrum, ...]:
    """Return the eight curves, in the order of the shares, scaled to whole-numbered shares."""
    return _read()[0]


def shares(place: int) -> tuple[int, ...]:
    """Return the shares of the ink at a ``place``: (red x SIDE + green) x SIDE + blue, each a count of ``STEP``."""
    return _read()[1][place]
