"""Converts sRGB to light, CIE XYZ and CIE L*a*b* under D65, and back to #rrggbb."""

from __future__ import annotations

Triple = tuple[float, float, float]
Matrix = tuple[Triple, Triple, Triple]

#: Chromaticities of red, green, blue and white D65 (IEC 61966-2-1, table 1).
PRIMARIES = ((0.64, 0.33), (0.30, 0.60), (0.15, 0.06))
WHITE = (0.3127, 0.3290)

#: The two branches of L*a*b* meet here (CIE 15, (6/29)^3 and (29/3)^3 / 116).
_MEET, _SLOPE, _OFFSET = (6 / 29) ** 3, (29 / 6) ** 2 / 3, 4 / 29


def decoded(level: float) -> float:
    """Return linear light, 0 to 1, of a level of 0 to 255 (IEC 61966-2-1, 4.2).

    >>> round(decoded(10), 8), round(decoded(128), 8)
    (0.00303527, 0.2158605)
    """
    value = level / 255
    return value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4


def encoded(light: float) -> float:
    """Return the sRGB value, 0 to 1, of linear light (IEC 61966-2-1, 4.3); below 0 by the straight branch.

    >>> round(encoded(0.18), 8), round(encoded(0.5), 8)
    (0.46135613, 0.73535698)
    """
    return 12.92 * light if light <= 0.0031308 else 1.055 * light ** (1 / 2.4) - 0.055


def light_of(colour: str) -> Triple:
    """Return the linear light of #rrggbb."""
    red, green, blue = levels_of(colour)
    return decoded(red), decoded(green), decoded(blue)


def levels_of(colour: str) -> tuple[int, int, int]:
    """Return red, green and blue of #rrggbb, 0 to 255."""
    red, green, blue = bytes.fromhex(colour[1:])
    return red, green, blue


def colour_of(light: Triple) -> str:
    """Return #rrggbb of linear light; what no screen can show is shown by the nearest level of each channel.

    >>> colour_of((1.0, 0.21586050, 0.0))
    '#ff8000'
    """
    levels = (round(255 * min(1.0, max(0.0, encoded(part)))) for part in light)
    return "#" + "".join(f"{level:02x}" for level in levels)


def inverse(matrix: Matrix) -> Matrix:
    """Return the inverse of three by three numbers. Raises ``ZeroDivisionError`` where there is none."""
    (a, b, c), (d, e, f), (g, h, i) = matrix
    cofactors = (
        (e * i - f * h, c * h - b * i, b * f - c * e),
        (f * g - d * i, a * i - c * g, c * d - a * f),
        (d * h - e * g, b * g - a * h, a * e - b * d),
    )
    whole = a * cofactors[0][0] + b * cofactors[1][0] + c * cofactors[2][0]
    first, second, third = ((x / whole, y / whole, z / whole) for x, y, z in cofactors)
    return first, second, third


def times(matrix: Matrix, vector: Triple) -> Triple:
    """Return a matrix times a vector."""
    x, y, z = vector
    (a, b, c), (d, e, f), (g, h, i) = matrix
    return a * x + b * y + c * z, d * x + e * y + f * z, g * x + h * y + i * z


def _to_xyz() -> Matrix:
    """Return the matrix from linear light to XYZ, so that light 1, 1, 1 is white
    with Y = 1 (IEC 61966-2-1, annex F).
    """
    red, green, blue = ((x / y, 1.0, (1 - x - y) / y) for x, y in PRIMARIES)
    x, y = WHITE
    across, level, down = zip(red, green, blue, strict=True)
    of_red, of_green, of_blue = times(inverse((across, level, down)), (x / y, 1.0, (1 - x - y) / y))
    first, second, third = ((r * of_red, g * of_green, b * of_blue) for r, g, b in (across, level, down))
    return first, second, third


TO_XYZ = _to_xyz()
FROM_XYZ = inverse(TO_XYZ)
_WHITE_XYZ = tuple(map(sum, TO_XYZ))


def lab_of(light: Triple) -> Triple:
    """Return L*, a*, b* (CIE 15, D65, 2 degrees) of linear light.

    >>> [round(part, 1) for part in lab_of((1.0, 0.0, 0.0))]
    [53.2, 80.1, 67.2]
    """
    x, y, z = times(TO_XYZ, light)
    white_x, white_y, white_z = _WHITE_XYZ
    x, y, z = _cube_root(x / white_x), _cube_root(y / white_y), _cube_root(z / white_z)
    return 116 * y - 16, 500 * (x - y), 200 * (y - z)


def _cube_root(share: float) -> float:
    return share ** (1 / 3) if share > _MEET else _SLOPE * share + _OFFSET
