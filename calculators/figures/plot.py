"""A plot with two axes: lines, areas and points in the units of its axes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import groupby

from calculators.declare import Figure
from calculators.markup import escape
from calculators.numbers import plain

INK, SOFT, WATER, ACCENT = "#1c2226", "#586066", "#1d6a73", "#7a2232"
#: Classes of lines and of filled areas, with the colour that each has without a style sheet.
COLOURS = {"dw-ink": INK, "dw-soft-line": SOFT, "dw-water-line": WATER, "dw-accent": ACCENT}

Point = tuple[float, float]


@dataclass
class Plot:
    """A plot of x from ``x[0]`` to ``x[-1]`` and y from ``y[0]`` to ``y[-1]``, which are its ticks.

    A line leaves the plot where it is above it; anything else beyond the ends is drawn at them.
    """

    x: Sequence[float]
    y: Sequence[float]
    x_label: str
    y_label: str
    width: int = 520
    height: int = 320
    room: int = 150
    parts: list[str] = field(default_factory=list)

    @cached_property
    def left(self) -> int:
        return 14 + 9 * max(len(plain(each)) for each in self.y)

    @property
    def right(self) -> int:
        return self.width - self.room

    @property
    def bottom(self) -> int:
        return self.height - 56

    def at(self, point: Point) -> Point:
        """Return where a point is, in SVG units."""
        across, up = (
            (min(max(value, ticks[0]), ticks[-1]) - ticks[0]) / (ticks[-1] - ticks[0])
            for value, ticks in zip(point, (self.x, self.y), strict=True)
        )
        top = 30
        return self.left + (self.right - self.left) * across, self.bottom - (self.bottom - top) * up

    def line(self, points: Iterable[Point], name: str, *, dashes: str = "", wide: float = 2.5) -> None:
        """Draw a line in the colour of the class ``name``."""
        dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
        runs = [list(run) for inside, run in groupby(points, lambda point: point[1] <= self.y[-1]) if inside]
        path = "".join(map(self._path, runs))
        self.parts.append(
            f'<path class="{name}" d="{path}" fill="none" stroke="{COLOURS[name]}" stroke-width="{wide}"{dashed}/>'
        )

    def area(self, points: Iterable[Point]) -> None:
        """Fill an area lightly."""
        self.parts.append(
            f'<path class="dw-accent-fill" fill="{ACCENT}" fill-opacity="0.14" d="{self._path(points)}Z"/>'
        )

    def box(self, low: Point, high: Point) -> None:
        """Draw the outline of a rectangle between two corners."""
        high = high[0], min(high[1], self.y[-1])
        self.line([low, (high[0], low[1]), high, (low[0], high[1]), low], "dw-ink", wide=1.2)

    def dot(self, point: Point) -> None:
        """Mark a point."""
        x, y = self.at(point)
        self.parts.append(
            f'<circle class="dw-ink" cx="{x:.1f}" cy="{y:.1f}" r="4.5" fill="none" stroke="{INK}" stroke-width="2.5"/>'
        )

    def words_beside(self, words: Sequence[tuple[float, str]]) -> None:
        """Write words to the right of the plot, each at the height of its value if there is room."""
        lowest = 0.0
        for place, (y, text) in enumerate(sorted((self.at((self.x[-1], y))[1], text) for y, text in words)):
            lowest = max(min(y, self.bottom - 20 * (len(words) - 1 - place)), lowest)
            self.parts.append(
                f'<path class="dw-soft-line" fill="none" stroke="{SOFT}" stroke-width="1" '
                f'd="M{self.right + 3} {y:.1f}L{self.right + 12} {lowest:.1f}"/>'
            )
            self.text(self.right + 16, lowest + 5, text)
            lowest += 20

    def text(self, x: float, y: float, words: str, *, anchor: str = "start", name: str = "dw-label") -> None:
        """Write words at a place in SVG units."""
        self.parts.append(
            f'<text class="{name}" x="{x:.1f}" y="{y:.1f}" font-size="15" text-anchor="{anchor}" '
            f'fill="{INK if name == "dw-label" else SOFT}">{escape(words)}</text>'
        )

    def figure(self, alt: str) -> Figure:
        """Return the drawing with its axes and its text alternative."""
        self._axes()
        return Figure(
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {self.width} {self.height}" role="img">'
            f"<title>{escape(alt)}</title>{''.join(self.parts)}</svg>",
            alt,
        )

    def _axes(self) -> None:
        marks = "".join(f"M{self.left - 5} {self.at((self.x[0], y))[1]:.1f}H{self.left}" for y in self.y)
        marks += "".join(f"M{self.at((x, self.y[0]))[0]:.1f} {self.bottom}v5" for x in self.x)
        top = self.at((self.x[0], self.y[-1]))[1]
        self.parts.append(
            f'<path class="dw-ink" d="M{self.left} {top:.1f}V{self.bottom}H{self.right}{marks}" fill="none" '
            f'stroke="{INK}" stroke-width="1.5"/>'
        )
        for y in self.y:
            self.text(self.left - 9, self.at((self.x[0], y))[1] + 5, plain(y), anchor="end")
        for x in self.x:
            self.text(self.at((x, self.y[0]))[0], self.bottom + 22, plain(x), anchor="middle")
        self.text((self.left + self.right) / 2, self.bottom + 46, self.x_label, anchor="middle")
        self.text(0, 15, self.y_label)

    def _path(self, points: Iterable[Point]) -> str:
        return "M" + "L".join("{:.1f} {:.1f}".format(*self.at(each)) for each in points)
