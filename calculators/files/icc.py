"""The colour profile that files carry: sRGB, made here from the numbers of its standard.

Sources, from memory: IEC 61966-2-1:1999 (primaries, white and tone curve of sRGB); ICC.1:2004-10
(profile version 4.2: header 7.2, tag table 7.3, types 10.5 to 10.22, D50 of the connection space
annex A.1, Bradford adaptation annex E).
"""

from __future__ import annotations

import struct
from functools import cache

from calculators.shapes.transforms import Matrix, inverse, product

#: Chromaticities of red, green and blue, and of white (IEC 61966-2-1, table 1).
PRIMARIES = ((0.64, 0.33), (0.30, 0.60), (0.15, 0.06))
WHITE = (0.3127, 0.3290)
#: Tone curve: Y = ((X + 0.055) / 1.055) ^ 2.4 from 0.04045 up, X / 12.92 below (IEC 61966-2-1, 5.2).
GAMMA, SCALE, OFFSET, SLOPE, BREAK = 2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045
#: White of the profile connection space (ICC.1:2004-10, 6.3.4.3).
D50 = (0.9642, 1.0, 0.8249)
#: Cone responses of the Bradford adaptation (ICC.1:2004-10, annex E).
BRADFORD: Matrix = ((0.8951, 0.2664, -0.1614), (-0.7502, 1.7135, 0.0367), (0.0389, -0.0685, 1.0296))

DESCRIPTION = "sRGB IEC 61966-2-1, made by Decalwright"
RIGHTS = "No rights reserved"


@cache
def srgb_profile() -> bytes:
    """Return an ICC profile of sRGB, version 4.2, the same bytes every time."""
    adaptation, to_d50 = _to_d50()
    columns = list(zip(*to_d50, strict=True))
    curve = b"para\0\0\0\0\0\3\0\0" + b"".join(map(_fixed, (GAMMA, SCALE, OFFSET, SLOPE, BREAK)))
    tags = {
        b"desc": _text(DESCRIPTION),
        b"cprt": _text(RIGHTS),
        b"wtpt": _xyz(D50),
        b"chad": b"sf32\0\0\0\0" + b"".join(_fixed(part) for row in adaptation for part in row),
        b"rXYZ": _xyz(columns[0]),
        b"gXYZ": _xyz(columns[1]),
        b"bXYZ": _xyz(columns[2]),
        b"rTRC": curve,
        b"gTRC": curve,
        b"bTRC": curve,
    }
    at, places, body = 128 + 4 + 12 * len(tags), {}, b""
    table = struct.pack(">I", len(tags))
    for name, data in tags.items():
        if data not in places:
            places[data] = at + len(body)
            body += data + bytes(-len(data) % 4)
        table += name + struct.pack(">II", places[data], len(data))
    header = struct.pack(
        ">I4sI4s4s4s6H4s4sI4s4sQI3I4s16s28s",
        at + len(body),
        b"",
        0x04200000,
        b"mntr",
        b"RGB ",
        b"XYZ ",
        1999,
        10,
        1,
        0,
        0,
        0,
        b"acsp",
        b"",
        0,
        b"",
        b"",
        0,
        0,
        *(round(part * 65536) for part in D50),
        b"",
        b"",
        b"",
    )
    return header + table + body


def channels(profile: bytes) -> int | None:
    """Return how many channels the colours of an ICC ``profile`` have, None where it is none for a picture."""
    if len(profile) < 132 or profile[36:40] != b"acsp":
        return None
    return {b"GRAY": 1, b"RGB ": 3, b"CMYK": 4}.get(bytes(profile[16:20]))


def _to_d50() -> tuple[Matrix, Matrix]:
    """Return the adaptation from the white of sRGB to D50, and the matrix from linear sRGB to XYZ under D50."""
    white = _xyz_of(WHITE)
    x, y, z = zip(*map(_xyz_of, PRIMARIES), strict=True)
    red, green, blue = _applied(inverse((x, y, z)), white)
    to_x, to_y, to_z = ((row[0] * red, row[1] * green, row[2] * blue) for row in (x, y, z))
    long, middle, short = (
        after / before for before, after in zip(_applied(BRADFORD, white), _applied(BRADFORD, D50), strict=True)
    )
    stretch = ((long, 0.0, 0.0), (0.0, middle, 0.0), (0.0, 0.0, short))
    adaptation = product(inverse(BRADFORD), stretch, BRADFORD)
    return adaptation, product(adaptation, (to_x, to_y, to_z))


def _xyz_of(chromaticity: tuple[float, float]) -> tuple[float, float, float]:
    """Return XYZ of luminance 1."""
    x, y = chromaticity
    return x / y, 1.0, (1 - x - y) / y


def _applied(matrix: Matrix, vector: tuple[float, float, float]) -> tuple[float, float, float]:
    first, second, third = (sum(a * b for a, b in zip(row, vector, strict=True)) for row in matrix)
    return first, second, third


def _fixed(value: float) -> bytes:
    """Return an s15Fixed16Number."""
    return struct.pack(">i", round(value * 65536))


def _xyz(parts: tuple[float, float, float]) -> bytes:
    return b"XYZ \0\0\0\0" + b"".join(map(_fixed, parts))


def _text(words: str) -> bytes:
    """Return a multiLocalizedUnicodeType with one record, English."""
    written = words.encode("utf-16-be")
    return b"mluc\0\0\0\0" + struct.pack(">II4sII", 1, 12, b"enUS", len(written), 28) + written
