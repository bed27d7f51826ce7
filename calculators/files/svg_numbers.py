"""Numbers, lengths, transforms and view boxes of SVG.

Source: SVG 2, 8.5 (transform), 8.6 and 8.7 (viewBox, preserveAspectRatio), 8.9 (units); CSS Values 4, 6.2 (96 px to the
inch); from memory.
"""

from __future__ import annotations

import re
from math import radians, tan

from calculators.files.unread import broken
from calculators.shapes.transforms import IDENTITY, Matrix, product, rotation, scaling, translation

NUMBER = r"[-+]?+(?:[0-9]++\.?+[0-9]*+|\.[0-9]++)(?:[eE][-+]?+[0-9]++)?"
NUMBERS = re.compile(NUMBER)
_BETWEEN = re.compile(r"[\s,]*+")
_NEXT = re.compile(rf"[\s,]*+{NUMBER}|[\s,]++")
#: Maximum numbers of a drawing: some have coordinates of a million, and make them smaller by a transform.
LARGEST = 1e8
#: Units of the drawing (px) in each unit, and those that are the same on every device's paper.
PX = {"": 1.0, "px": 1.0, "in": 96.0, "cm": 96 / 2.54, "mm": 96 / 25.4, "q": 96 / 101.6, "pt": 96 / 72, "pc": 16.0}
PHYSICAL = frozenset(PX) - {"", "px"}
#: The usual size of letters, of which em and ex are parts.
_LETTERS = {"em": 16.0, "rem": 16.0, "ex": 8.0}
_LENGTH = re.compile(rf"\s*({NUMBER})\s*([a-zA-Z%]*)\s*")
_TRANSFORM = re.compile(r"[\s,]*+(matrix|translate|scale|rotate|skewX|skewY)\s*+\(([^()]*+)\)[\s,]*+")

Box = tuple[float, float, float, float]


def number_of(text: str) -> float:
    """Return a number no larger than LARGEST. Raises Unread."""
    if not re.fullmatch(rf"\s*{NUMBER}\s*", text):
        raise broken(text)
    return bounded(float(text), text)


def bounded(value: float, text: str) -> float:
    """Return ``value``. Raises Unread, which quotes its ``text``, if it is no number or larger than LARGEST."""
    if not abs(value) <= LARGEST:
        raise broken(text)
    return value


def length_of(text: str, whole: float) -> float:
    """Return a length in px; a percentage is one of ``whole``. Raises Unread.

    >>> length_of("1in", 0), length_of("50%", 8)
    (96.0, 4.0)
    """
    found = _LENGTH.fullmatch(text)
    if not found:
        raise broken(text)
    value, unit = float(found[1]), found[2].lower()
    if unit == "%":
        return bounded(value / 100 * whole, text)
    if unit not in PX and unit not in _LETTERS:
        raise broken(text)
    return bounded(value * (PX.get(unit) or _LETTERS[unit]), text)


def is_physical(text: str) -> bool:
    """Return whether a length has a unit that is the same on every paper."""
    found = _LENGTH.fullmatch(text)
    return found is not None and found[2].lower() in PHYSICAL


def numbers_of(text: str) -> list[float]:
    """Return numbers parted by blanks and commas, each no larger than LARGEST. Raises Unread."""
    if not _BETWEEN.fullmatch(NUMBERS.sub("", text)):
        raise broken(text)
    return [bounded(float(each), each) for each in NUMBERS.findall(text)]


def end_of_numbers(text: str, at: int) -> int:
    """Return where numbers parted by blanks and commas end that begin at a place."""
    while found := _NEXT.match(text, at):
        at = found.end()
    return at


def transform_of(text: str) -> Matrix:
    """Return a list of transforms as one. Raises Unread.

    >>> transform_of("translate(2 3) scale(2)")[0]
    (2.0, 0.0, 2.0)
    """
    made, at = IDENTITY, 0
    text = text.strip()
    if text == "none":
        return made
    while at < len(text):
        step = _TRANSFORM.match(text, at)
        if not step:
            raise broken(text[at:])
        at = step.end()
        made = product(made, _one_transform(step[1], numbers_of(step[2]), step[0]))
        for row in made:
            for part in row:
                bounded(part, step[0])
    return made


def _one_transform(kind: str, values: list[float], text: str) -> Matrix:
    match kind, values:
        case "matrix", [a, b, c, d, e, f]:
            return (a, c, e), (b, d, f), (0.0, 0.0, 1.0)
        case "translate", [x]:
            return translation(x, 0.0)
        case "translate", [x, y]:
            return translation(x, y)
        case "scale", [x]:
            return scaling(x, x)
        case "scale", [x, y]:
            return scaling(x, y)
        case "rotate", [degrees]:
            return rotation(degrees)
        case "rotate", [degrees, x, y]:
            return product(translation(x, y), rotation(degrees), translation(-x, -y))
        case "skewX", [degrees]:
            return (1.0, tan(radians(degrees)), 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)
        case "skewY", [degrees]:
            return (1.0, 0.0, 0.0), (tan(radians(degrees)), 1.0, 0.0), (0.0, 0.0, 1.0)
    raise broken(text)


def box_of(text: str) -> Box | None:
    """Return a viewBox (left, top, width, height), or None if there is none. Raises Unread."""
    if not text.strip():
        return None
    values = numbers_of(text)
    if len(values) != 4:
        raise broken(text)
    left, top, width, height = values
    return left, top, width, height


def fitted(box: Box, port: Box, ratio: str) -> Matrix:
    """Return the transform of a viewBox into its viewport, by preserveAspectRatio. Raises Unread.

    >>> fitted((0, 0, 2, 1), (0, 0, 4, 4), "xMidYMid meet")
    ((2.0, 0.0, 0.0), (0.0, 2.0, 1.0), (0.0, 0.0, 1.0))
    """
    across, down = port[2] / box[2], port[3] / box[3]
    words = ratio.split() or ["xMidYMid"]
    align = re.fullmatch(r"x(Min|Mid|Max)Y(Min|Mid|Max)", words[0])
    if not align and words[0] != "none":
        raise broken(ratio)
    x, y = port[0], port[1]
    if align:
        across = down = max(across, down) if words[1:] == ["slice"] else min(across, down)
        share = {"Min": 0.0, "Mid": 0.5, "Max": 1.0}
        x += share[align[1]] * (port[2] - box[2] * across)
        y += share[align[2]] * (port[3] - box[3] * down)
    return (across, 0.0, x - box[0] * across), (0.0, down, y - box[1] * down), (0.0, 0.0, 1.0)
