"""The box that a character is drawn on, with its centre lines and the strokes that many characters share."""

from __future__ import annotations

from dataclasses import dataclass, field

from calculators.lettering.pen import Pen


@dataclass(frozen=True)
class Box:
    """What a character is drawn on: its ``width`` and ``height``, its ``stroke``, and the ``radius`` of outer corners
    (0 for square ones), all in one unit; ``pen`` draws it.
    """

    width: float
    height: float
    stroke: float
    radius: float = 0.0
    pen: Pen = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "pen", Pen(self.stroke))

    @property
    def left(self) -> float:
        """The centre line of a stroke along the left edge; so for the others."""
        return self.stroke / 2

    @property
    def right(self) -> float:
        return self.width - self.stroke / 2

    @property
    def top(self) -> float:
        return self.stroke / 2

    @property
    def foot(self) -> float:
        return self.height - self.stroke / 2

    @property
    def centre(self) -> float:
        return self.width / 2

    def at(self, share: float) -> float:
        """Return the level that lies ``share`` of the height below the top."""
        return share * self.height

    @property
    def cut(self) -> float:
        """How much of a corner is cut off a square letter that would be taken for another, along each side."""
        return 0.0 if self.radius else 0.7 * self.stroke

    def stem(self, x: float) -> None:
        """Draw an upright stroke from top to foot, ``x`` its centre line."""
        self.pen.bar(x - self.stroke / 2, 0, x + self.stroke / 2, self.height)

    def beam(self, y: float, left: float = 0.0, right: float | None = None) -> None:
        """Draw a level stroke, ``y`` its centre line."""
        self.pen.bar(left, y - self.stroke / 2, self.width if right is None else right, y + self.stroke / 2)

    def bowl(self, top: float, foot: float) -> None:
        """Draw a bowl on the right of a stem at the left, between two centre lines."""
        left, right, cut = self.left, self.right, self.cut
        corners = [complex(right, top), complex(right, foot)]
        if cut:
            cut = min(cut, (foot - top) / 3)
            corners = [
                complex(right - cut, top),
                complex(right, top + cut),
                complex(right, foot - cut),
                complex(right - cut, foot),
            ]
        self.pen.path([complex(left, top), *corners, complex(left, foot)], self.radius)

    def path(self, *points: complex, sharp: tuple[int, ...] = (), closed: bool = False) -> None:
        """Draw a stroke with the corners of the style."""
        self.pen.path(points, self.radius, sharp=sharp, closed=closed)

    def turn_over(self) -> None:
        """Turn what was drawn upside down."""
        rings = [
            [tuple(complex(p.real, self.height - p.imag) for p in piece[::-1]) for piece in ring[::-1]]
            for ring in self.pen.rings
        ]
        self.pen.rings[:] = rings

    def turn_round(self) -> None:
        """Turn what was drawn by half a turn."""
        corner = complex(self.width, self.height)
        self.pen.rings[:] = [[tuple(corner - point for point in piece) for piece in ring] for ring in self.pen.rings]
