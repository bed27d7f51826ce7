"""Shades that are no colours of the artwork: mixes of adjacent colours from smooth edges and compression.

A renderer covers each pixel of an edge in part. A pixel at the seam of two shapes also shows their background, so it
holds three colours. JPEG stores colour at half the resolution of brightness: across an edge, brightness changes within
a pixel and colour within four, independently, and both overshoot a little. A thin line may cover no pixel wholly.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from itertools import combinations
from math import hypot

from calculators.pixels.colour_table import ColourTable, Rgb

#: An edge shade lies within this distance (in levels of 255 a channel) of the line between its two sides.
BESIDE_LINE = 26.0
#: The same distance for the mean of a whole group of shades, and for a mix of three colours from their triangle.
BESIDE_LINE_GROUP, BESIDE_TRIANGLE = 18.0, 12.0
#: The same distance for the shade of a thin line that covers no pixel wholly.
BESIDE_COVERED = 6.0
#: Along such a line the share of its colour varies: somewhere nearby it is greater by this part of the missing share.
FURTHER = 0.4
#: A part that covers this much of its pixels has that colour, however thin it is.
NEARLY_COVERED = 0.8
#: The greatest share of the background at the seam of two shapes, and the least and
#: greatest share of a hairline in front of them.
MOST_BEHIND = 0.4
HAIRLINE = 0.08, 0.85
#: The most frequent colour behind a drawing, besides its own colours.
PAGE: Rgb = (255, 255, 255)
#: The most frequent colour of its hairlines.
INK: Rgb = (0, 0, 0)
#: In a compressed picture: beyond the brightest and the darkest colour nearby by this share of their difference and so
#: many levels more, and so far from what their colours mix to.
LIGHT_SWING, COLOUR_SWING, LIGHT_NOISE, COLOUR_NOISE = 0.06, 0.12, 6.0, 10.0
#: Pixels that are alike all round and yet not of the most frequent level: so many of them to those that are not alike
#: are a sign of compression. They are looked for in a sample, and a few levels are left out that may have been drawn.
NOISY_FROM, NOISE_SAMPLE, LEVELS_DRAWN = 0.1, 10_000, 3


def is_noisy(table: ColourTable, rough: bytes, middles: bytes, seeds: Sequence[int], uneven: int) -> bool:
    """Return whether a picture has the noise that compression leaves: it is not even where its colours lie at rest.

    ``middles``: 1 where a pixel is of the same group, in ``rough``, as all around it; ``seeds``: the most frequent
    colour of each group; ``uneven``: how many pixels are not so.
    """
    step = max(1, len(middles) // NOISE_SAMPLE)
    off: dict[int, int] = {}
    for at in range(step // 2, len(middles), step):
        if middles[at] and rough[at] < len(seeds) and (packed := table.packed[at]) != seeds[rough[at]]:
            off[packed] = off.get(packed, 0) + 1
    left = sorted(off.values())[: -LEVELS_DRAWN or None]
    return sum(left) * step > NOISY_FROM * uneven


def light_and_colour(rgb: Rgb) -> tuple[float, float, float]:
    """Return brightness and the two colour differences that JPEG separates (ITU-T T.871, 7)."""
    red, green, blue = rgb
    return (
        0.299 * red + 0.587 * green + 0.114 * blue,
        -0.1687 * red - 0.3313 * green + 0.5 * blue,
        0.5 * red - 0.4187 * green - 0.0813 * blue,
    )


_PAGE = light_and_colour(PAGE)


class Mixes:
    """Decides whether a colour is a mix of some of the ``colours``, which are named by their places."""

    def __init__(self, colours: Sequence[Rgb], noisy: bool) -> None:
        self.colours, self.noisy = list(colours), noisy
        self._lights = [light_and_colour(each) for each in colours]
        self.behind = [*colours, PAGE]
        self._reached: dict[tuple[int, ...], tuple[float, float, Sequence[Sequence[float]], float]] = {}

    def set(self, place: int, colour: Rgb) -> None:
        """Replace the colour at ``place``."""
        self.colours[place] = self.behind[place] = colour
        self._lights[place] = light_and_colour(colour)
        self._reached.clear()

    def alike(self, one: int, two: int) -> bool:
        """Return whether compression alone could explain the difference of two colours."""
        first, second = self._lights[one], self._lights[two]
        return (
            abs(first[0] - second[0]) <= 2 * LIGHT_NOISE
            and hypot(first[1] - second[1], first[2] - second[2]) <= 2 * COLOUR_NOISE
        )

    def covered(self, colour: Rgb, near: Collection[int], every: Iterable[int], around: Collection[int]) -> bool:
        """Return whether ``colour`` is any of the ``every`` colours where that covers one ``near`` in part.

        Elsewhere it covers more, so a stronger shade must lie ``around``. Without one, it may be a colour of its own.
        """
        for ground in near:
            for far in every:
                share = self._part(colour, ground, far) if far != ground else None
                if share is not None and not self.noisy and share >= NEARLY_COVERED:
                    return True
                if share is not None and any(
                    (self._part(self.colours[each], ground, far, BESIDE_LINE_GROUP) or 0.0)
                    >= share + FURTHER * (1 - share)
                    for each in around
                ):
                    return True
        return False

    def seam(self, colour: Rgb, near: Collection[int], every: Iterable[int]) -> bool:
        """Return whether ``colour`` is one that is ``near`` it with a little of another:
        what lies behind two shapes of that colour.
        """
        return not self.noisy and any(
            (found := between(colour, self.colours[one], self.colours[behind], BESIDE_COVERED))
            and found[1] <= MOST_BEHIND
            for one in near
            for behind in every
            if one != behind
        )

    def hairline(self, colour: Rgb, near: Collection[int], line: Rgb) -> Collection[int]:
        """Return which of the colours ``near`` lie behind, where a hairline of the colour
        ``line`` covers them in part; none if it does not.
        """
        low, high = HAIRLINE
        for ground in near:
            found = between(colour, self.colours[ground], line, BESIDE_COVERED)
            if found and low <= found[1] <= high:
                return (ground,)
        for one, two in combinations(near, 2):
            if _in_triangle(colour, self.colours[one], self.colours[two], line, high):
                return one, two
        return ()

    def _part(self, colour: Rgb, ground: int, far: int, beside: float = BESIDE_COVERED) -> float | None:
        """Return the share of ``far`` on ``ground`` in a colour, None if it is no mix of them."""
        if self.noisy:
            return self._lags(light_and_colour(colour), self._lights[ground], self._lights[far])
        if colour == self.colours[far]:
            return 1.0
        found = between(colour, self.colours[ground], self.colours[far], beside)
        return found[1] if found else None

    def between_lights(self, shade: tuple[float, float, float], near: Collection[int]) -> bool:
        """Return whether in a compressed picture a shade is a mix of colours that are
        ``near``, brightness and colour each by itself.
        """
        if not near:
            return False
        key = tuple(near)
        if key not in self._reached:
            self._reached[key] = self._reach_of(key)
        low, high, corners, swing = self._reached[key]
        return low <= shade[0] <= high and _from_hull(shade[1:], corners) <= swing

    def _reach_of(self, near: Sequence[int]) -> tuple[float, float, Sequence[Sequence[float]], float]:
        """Return the least and greatest brightness, the corners and the swing of colour
        that mixes of some colours may have.
        """
        points: list[Sequence[float]] = [self._lights[each] for each in near]
        points += [
            tuple((1 - MOST_BEHIND) * (a + b) / 2 + MOST_BEHIND * c for a, b, c in zip(one, two, _PAGE, strict=True))
            for one, two in combinations(points, 2)
        ]
        lights = [each[0] for each in points]
        swing = LIGHT_NOISE + LIGHT_SWING * (max(lights) - min(lights))
        corners = _hull([each[1:] for each in points])
        wide = max((hypot(a[0] - b[0], a[1] - b[1]) for a, b in combinations(corners, 2)), default=0.0)
        return min(lights) - swing, max(lights) + swing, corners, COLOUR_NOISE + COLOUR_SWING * wide

    def _lags(self, shade: tuple[float, ...], ground: tuple[float, ...], far: tuple[float, ...]) -> float | None:
        """Return the share of ``far`` on ``ground`` in a thin line, by its brightness.

        Its colour may lag behind.
        """
        whole = far[0] - ground[0]
        if abs(whole) < 2 * LIGHT_NOISE:
            return None
        share = (shade[0] - ground[0]) / whole
        mixed = 0.25 <= share <= 1 + LIGHT_SWING and from_stretch(shade[1:], ground[1:], far[1:]) <= COLOUR_NOISE
        return share if mixed else None


class Explained:
    """Whether one colour is a mix of colours that are near it, and a little of any
    of ``every`` that may lie behind them.

    Different surroundings share many colours, so findings about two or three of them are cached.
    """

    def __init__(self, mixes: Mixes, colour: Rgb, every: Collection[int]) -> None:
        self.mixes, self.colour = mixes, colour
        self._light = light_and_colour(colour)
        self._behind = [*every, len(mixes.colours)]
        self._pairs: dict[tuple[int, int], bool] = {}
        self._threes: dict[tuple[int, int, int], bool] = {}

    def by(self, near: Sequence[int]) -> bool:
        """Return whether the colours ``near``, in order, explain it."""
        if self.mixes.noisy:
            return self.mixes.between_lights(self._light, near)
        return any(map(self._by_two, combinations(near, 2))) or any(map(self._by_three, combinations(near, 3)))

    def _by_two(self, pair: tuple[int, int]) -> bool:
        found = self._pairs.get(pair)
        if found is None:
            (one, two), colours, behind = pair, self.mixes.colours, self.mixes.behind
            found = self._pairs[pair] = bool(
                between(self.colour, colours[one], colours[two], BESIDE_LINE_GROUP)
            ) or any(
                _in_triangle(self.colour, colours[one], colours[two], behind[back], MOST_BEHIND)
                for back in self._behind
                if back not in pair
            )
        return found

    def _by_three(self, three: tuple[int, int, int]) -> bool:
        found = self._threes.get(three)
        if found is None:
            one, two, back = (self.mixes.colours[each] for each in three)
            found = self._threes[three] = _in_triangle(self.colour, one, two, back, 1.0)
        return found


def between(colour: Rgb, first: Rgb, second: Rgb, beside: float = BESIDE_LINE) -> tuple[float, float] | None:
    """Return (distance from the line, share of ``second``) of a colour on the line between two, or None."""
    # Written out by channel: grainy pictures call this some million times.
    red, green, blue = colour[0] - first[0], colour[1] - first[1], colour[2] - first[2]
    along_red, along_green, along_blue = second[0] - first[0], second[1] - first[1], second[2] - first[2]
    length = along_red * along_red + along_green * along_green + along_blue * along_blue
    along = along_red * red + along_green * green + along_blue * blue
    if not 0 < along < length:
        return None
    share = along / length
    off_red, off_green, off_blue = red - share * along_red, green - share * along_green, blue - share * along_blue
    distance = (off_red * off_red + off_green * off_green + off_blue * off_blue) ** 0.5
    return (distance, share) if distance <= beside else None


def _in_triangle(colour: Rgb, one: Rgb, two: Rgb, behind: Rgb, most_behind: float) -> bool:
    """Return whether a colour is a mix of three, with no more than ``most_behind`` of the third."""
    # Written out by channel: grainy pictures call this some hundred thousand times.
    (red, green, blue), (red1, green1, blue1), (red2, green2, blue2), (red3, green3, blue3) = colour, one, two, behind
    if not (
        min(red1, red2, red3) - BESIDE_TRIANGLE <= red <= max(red1, red2, red3) + BESIDE_TRIANGLE
        and min(green1, green2, green3) - BESIDE_TRIANGLE <= green <= max(green1, green2, green3) + BESIDE_TRIANGLE
        and min(blue1, blue2, blue3) - BESIDE_TRIANGLE <= blue <= max(blue1, blue2, blue3) + BESIDE_TRIANGLE
    ):
        return False
    red1, green1, blue1, red2, green2, blue2 = (
        red1 - red3,
        green1 - green3,
        blue1 - blue3,
        red2 - red3,
        green2 - green3,
        blue2 - blue3,
    )
    red, green, blue = red - red3, green - green3, blue - blue3
    first = red1 * red1 + green1 * green1 + blue1 * blue1
    both = red1 * red2 + green1 * green2 + blue1 * blue2
    second = red2 * red2 + green2 * green2 + blue2 * blue2
    area = first * second - both * both
    # Three colours on a line make no triangle.
    if area <= 0.02 * first * second:
        return False
    by_one, by_two = red * red1 + green * green1 + blue * blue1, red * red2 + green * green2 + blue * blue2
    of_one, of_two = (second * by_one - both * by_two) / area, (first * by_two - both * by_one) / area
    if min(of_one, of_two) < 0 or not 0 <= 1 - of_one - of_two <= most_behind:
        return False
    off_red, off_green, off_blue = (
        red - of_one * red1 - of_two * red2,
        green - of_one * green1 - of_two * green2,
        blue - of_one * blue1 - of_two * blue2,
    )
    return off_red * off_red + off_green * off_green + off_blue * off_blue <= BESIDE_TRIANGLE**2


def _hull(points: Sequence[Sequence[float]]) -> Sequence[Sequence[float]]:
    """Return the corners of the hull of points in a plane, in their order round it (Andrew's monotone chain)."""
    every = sorted(set(map(tuple, points)))
    if len(every) < 3:
        return every
    sides = []
    for way in (every, every[::-1]):
        side: list[Sequence[float]] = []
        for point in way:
            while len(side) > 1 and _turn(side[-2], side[-1], point) <= 0:
                side.pop()
            side.append(point)
        sides += side[:-1]
    return sides


def _turn(one: Sequence[float], two: Sequence[float], three: Sequence[float]) -> float:
    return (two[0] - one[0]) * (three[1] - one[1]) - (two[1] - one[1]) * (three[0] - one[0])


def _from_hull(point: Sequence[float], corners: Sequence[Sequence[float]]) -> float:
    """Return how far a point lies outside the hull with such ``corners``, in their order."""
    sides = list(zip(corners, [*corners[1:], corners[0]], strict=True))
    if len(corners) > 2 and all(_turn(one, two, point) >= 0 for one, two in sides):
        return 0.0
    return min(from_stretch(point, *two) for two in sides)


def from_stretch(point: Sequence[float], start: Sequence[float], end: Sequence[float]) -> float:
    along, across = end[0] - start[0], end[1] - start[1]
    length = along * along + across * across
    share = ((point[0] - start[0]) * along + (point[1] - start[1]) * across) / length if length else 0.0
    share = max(0.0, min(1.0, share))
    return hypot(point[0] - start[0] - share * along, point[1] - start[1] - share * across)
