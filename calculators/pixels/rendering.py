"""The look of a whole picture over paint: every pixel's ink over each of several grounds, all in one pass.

A table of colours fills as pixels come, so a picture of few colours costs little more than reading it. Between the
colours of ``inks`` the table interpolates linearly on sRGB levels in all three channels. For a pixel partly covered by
ink or film, the light mixes with that of the bare paint.
"""

from __future__ import annotations

from array import array
from collections.abc import Generator, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from operator import itemgetter

from calculators.colour import inks, spectra, srgb
from calculators.colour.stack import Scattering
from calculators.messages import RENDERING
from calculators.pixels.raster import Raster
from calculators.sums import sumprod
from calculators.values import Progress

#: The pixels between two reports of progress.
PIECE = 1 << 18
#: One pixel in this many is sampled to count the colours. With more colours than the second, a picture is rendered with
#: every second level of each channel; with still too many, as in pure grain, with every fourth.
LOOKED_AT, MANY_COLOURS = 17, 16_000
COARSER = (127, 63)

#: The sum of the weights in a mean of eight inks.
_PARTS = inks.STEP**3
#: Results stand beside each other in one number, 32 bits each, the level in the top 8: so all are mixed at once.
_TOP, _LANE = 1 << 24, 4
OPAQUE = 255


@dataclass(frozen=True)
class Ground:
    """The ground of ink: a paint (#rrggbb) beneath white of total scattering ``power``, film included."""

    paint: str
    power: float = 0.0


def rendered(
    picture: Raster, covered: bytes | None, grounds: Sequence[Ground]
) -> Generator[Progress, None, list[bytes]]:
    """Yield ``Progress``, and return RGBA pixels, opaque, of the picture's size, for each of ``grounds``.

    ``covered`` holds a byte a pixel, 0 where nothing lies on the paint, whatever the picture has there; None where
    its alpha tells all.
    """
    data = _keys(picture, covered)
    words = memoryview(data).cast("I")
    colours = _Seen(grounds)
    made = [array("I") for _ in grounds]
    for start in range(0, len(words), PIECE):
        piece = array("I", b"".join(_looked_up(colours, words[start : start + PIECE])))
        for place, each in enumerate(made):
            each.extend(piece[place :: len(made)])
        yield Progress(min(1.0, (start + PIECE) / len(words)), RENDERING)
    return [each.tobytes() for each in made]


def _looked_up(colours: Mapping[int, bytes], keys: Sequence[int]) -> Iterable[bytes]:
    """Return the colours of keys. In a browser ``map`` takes half as long again as ``itemgetter``."""
    return itemgetter(*keys)(colours) if len(keys) > 1 else [colours[key] for key in keys]


def _keys(picture: Raster, covered: bytes | None) -> bytearray:
    """Return the picture's pixels with alpha 0 in bare places, and with fewer levels if it has many colours."""
    data = bytearray(picture.rgba)
    if covered is not None:
        held = int.from_bytes(data[3::4]) & int.from_bytes(covered.translate(b"\0" + b"\xff" * 255))
        data[3::4] = held.to_bytes(len(covered))
    for steps in COARSER:
        # Every seventeenth pixel is another column in each row.
        if len(set(memoryview(data).cast("I")[::LOOKED_AT])) <= MANY_COLOURS:
            break
        data = data.translate(bytes(round(round(level * steps / 255) * 255 / steps) for level in range(256)))
    return data


class _Seen(dict[int, bytes]):
    """The visible colours of a pixel value, RGBA as one number, four bytes a ground; each is computed once."""

    def __init__(self, grounds: Sequence[Ground]) -> None:
        self._count = 4 * len(grounds)
        self._inks = _Inks(grounds)
        self._paints = b"".join(bytes.fromhex(each.paint[1:]) + bytes([OPAQUE]) for each in grounds)
        self._mixes: dict[int, list[bytes]] = {}

    def __missing__(self, key: int) -> bytes:
        alpha = key >> 24
        if alpha == 0:
            found = self._paints
        else:
            found = self._inks.mixed(key & 255, key >> 8 & 255, key >> 16 & 255)
            if alpha != OPAQUE:
                mixes = self._mixes.get(alpha) or self._mix(alpha)
                found = bytes([mix[level] for mix, level in zip(mixes, found, strict=True)])
        self[key] = found
        return found

    def _mix(self, alpha: int) -> list[bytes]:
        """Return, for each byte of a result, the levels that ink covering ``alpha`` of 255 makes of its own levels."""
        share = alpha / 255
        made: dict[int, bytes] = {}
        levels, light_of = _steps()
        for paint in {*self._paints}:
            bare = (1 - share) * light_of[paint]
            made[paint] = bytes([levels[int(share * light + bare)] for light in light_of])
        opaque = bytes(range(256))
        self._mixes[alpha] = [opaque if place % 4 == 3 else made[paint] for place, paint in enumerate(self._paints)]
        return self._mixes[alpha]


class _Inks(dict[int, int]):
    """The look of the table's inks on each ground, by place, each packed into one number."""

    def __init__(self, grounds: Sequence[Ground]) -> None:
        self._rows = []
        curves = inks.curves()
        for ground in grounds:
            lit = Scattering(ground.power).over(spectra.reflectance(srgb.light_of(ground.paint)))
            for weights in spectra.WEIGHTS:
                weighted = [each * weight for each, weight in zip(lit, weights, strict=True)]
                self._rows.append([sumprod(curve, weighted) for curve in curves])
        self._half = int.from_bytes(array("I", [_TOP // 2] * (4 * len(grounds))).tobytes(), "little")

    def __missing__(self, place: int) -> int:
        shares = inks.shares(place)
        levels = [_level(sumprod(row, shares)) for row in self._rows]
        lanes = array("I")
        for first in range(0, len(levels), 3):
            lanes.extend(round(level * _TOP / _PARTS) for level in (*levels[first : first + 3], OPAQUE))
        packed = self[place] = int.from_bytes(lanes.tobytes(), "little")
        return packed

    def mixed(self, red: int, green: int, blue: int) -> bytes:
        """Return RGBA on each ground of ink between those of the table."""
        step, side = inks.STEP, inks.SIDE
        (red, more_red), (green, more_green), (blue, more_blue) = (
            divmod(red, step),
            divmod(green, step),
            divmod(blue, step),
        )
        place = (red * side + green) * side + blue
        packed = self._half
        for by_red, weight_red in ((0, step - more_red), (side * side, more_red)):
            if not weight_red:
                continue
            for by_green, weight_green in ((0, step - more_green), (side, more_green)):
                if not weight_green:
                    continue
                weight, at = weight_red * weight_green, place + by_red + by_green
                packed += weight * (step - more_blue) * self[at]
                if more_blue:
                    packed += weight * more_blue * self[at + 1]
        return packed.to_bytes(_LANE * len(self._rows) // 3 * 4, "little")[_LANE - 1 :: _LANE]


def _level(light: float) -> float:
    """Return the level, 0 to 255, of linear light, written out: this is where the time goes before the pixels come."""
    if light < 0.0031308:
        return 3294.6 * light if light > 0 else 0.0
    return 269.025 * light ** (1 / 2.4) - 14.025 if light < 1 else 255.0


_STEPS = 1 << 13


@cache
def _steps() -> tuple[bytes, tuple[float, ...]]:
    """Return the level of each step of light, and the light of each level in steps, plus half a step to round."""
    levels = bytes([round(_level(step / _STEPS)) for step in range(_STEPS + 1)])
    return levels, tuple(_STEPS * srgb.decoded(level) + 0.5 for level in range(256))
