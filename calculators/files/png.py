"""PNG files: written with 8 bits a channel, and taken apart without decoding.

Source: PNG, ISO/IEC 15948:2004 (chunks 5.3, IHDR 11.2.2, pHYs 11.3.5.3, filter types 9), from memory.
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Generator, Iterator

from calculators import messages
from calculators.values import Progress

SIGNATURE = b"\x89PNG\r\n\x1a\n"
#: Colour type by count of channels: grey, grey with alpha, RGB, RGBA.
COLOUR_TYPES = {1: 0, 2: 4, 3: 2, 4: 6}
METRES_PER_INCH = 0.0254
#: In steps, about so many bytes are written at a time, at a level of zlib that is
#: many times quicker than the last on noise.
STEP_BYTES, STEP_LEVEL = 1 << 19, 6


def png(width_px: int, height_px: int, samples: bytes, ppi: float | None = None) -> bytes:
    r"""Return a PNG file of ``samples``: rows from the top, 1 (grey), 2 (grey,
    alpha), 3 (RGB) or 4 (RGBA) bytes a pixel.

    Their number determines which. ``ppi`` is stored in the file, to the nearest pixel per metre.
    The same samples give the same bytes, on one version of zlib. Raises ValueError where the count
    of samples fits no picture of that size.

    >>> png(1, 1, bytes([122, 34, 50]))[:8]
    b'\x89PNG\r\n\x1a\n'
    """
    count = _channels(width_px, height_px, samples)
    data = _chunk(b"IDAT", zlib.compress(filtered(samples, width_px * count), 9))
    return _file(width_px, height_px, count, _resolution(ppi), data)


def png_in_steps(width_px: int, height_px: int, samples: bytes) -> Generator[Progress, None, bytes]:
    """Yield ``Progress``, and return a PNG file as ``png`` does, written a few rows at a time.

    Each step has a chunk of its own. Raises ValueError as ``png`` does.
    """
    count = _channels(width_px, height_px, samples)
    row_length = width_px * count
    rows = max(1, STEP_BYTES // row_length)
    file = PngRows(width_px, height_px, count)
    for row in range(0, height_px, rows):
        yield Progress(row / height_px, messages.WRITING_PICTURE)
        file.add(samples[row * row_length : (row + rows) * row_length])
    return file.written()


class PngRows:
    """A PNG file whose rows come a few at a time, so that a large picture is never in memory as a whole.

    ``channels`` and ``ppi`` as for ``png``.
    """

    def __init__(self, width_px: int, height_px: int, channels: int, ppi: float | None = None) -> None:
        self._size = (width_px, height_px, channels)
        self._resolution = _resolution(ppi)
        self._packing, self._chunks = zlib.compressobj(STEP_LEVEL), [b""]
        self._added = 0

    def add(self, rows: bytes) -> None:
        """Add whole rows."""
        self._added += len(rows)
        if part := self._packing.compress(filtered(rows, self._size[0] * self._size[2])):
            self._chunks.append(_chunk(b"IDAT", part))

    def written(self) -> bytes:
        """Return the file, after the last rows. Raises ValueError where rows are missing or too many."""
        width, height, channels = self._size
        if self._added != width * height * channels:
            raise ValueError(f"{self._added} samples are no picture of {width} x {height}")
        return _file(*self._size, self._resolution, *self._chunks, _chunk(b"IDAT", self._packing.flush()))


def _resolution(ppi: float | None) -> bytes:
    """Return the chunk that stores ``ppi``, if there is one."""
    if ppi is None:
        return b""
    per_metre = round(ppi / METRES_PER_INCH)
    return _chunk(b"pHYs", struct.pack(">IIB", per_metre, per_metre, 1))


def _channels(width_px: int, height_px: int, samples: bytes) -> int:
    """Return how many bytes a pixel has. Raises ValueError."""
    count, rest = divmod(len(samples), width_px * height_px)
    if rest or count not in COLOUR_TYPES:
        raise ValueError(f"{len(samples)} samples are no picture of {width_px} x {height_px}")
    return count


def _file(width_px: int, height_px: int, channels: int, *chunks: bytes) -> bytes:
    header = struct.pack(">IIBBBBB", width_px, height_px, 8, COLOUR_TYPES[channels], 0, 0, 0)
    return b"".join((SIGNATURE, _chunk(b"IHDR", header), *chunks, _chunk(b"IEND", b"")))


def filtered(samples: bytes, row_length: int) -> bytes:
    """Return ``samples`` with the filter byte 0 (none) before every row of ``row_length`` bytes.

    >>> filtered(b"abcd", 2).hex()
    '006162006364'
    """
    rows = range(0, len(samples), row_length)
    return b"".join(part for at in rows for part in (b"\0", samples[at : at + row_length]))


def chunks(data: bytes) -> Iterator[tuple[bytes, bytes]]:
    """Yield (name, data) of the chunks of a PNG file until it ends, also where it ends too soon."""
    at = len(SIGNATURE)
    while at + 8 <= len(data):
        length, name = struct.unpack_from(">I4s", data, at)
        yield name, data[at + 8 : at + 8 + length]
        at += 12 + length


def _chunk(name: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
