"""An emblem of six colours, large and full of detail, drawn by the project to measure
the tracing with: rings, stars, petals, discs.
"""

from __future__ import annotations

from math import cos, degrees, pi, sin

import resvg_py

SIZE_PX = 1920
COLOURS = ("#7a2232", "#efe4c4", "#1f3b4d", "#c8993a", "#3d6b45", "#c63f2b")
#: Each wreath's distance from the middle, number of shapes, and their size, in hundredths of the width.
WREATHS = (
    (35, 64, 1.45),
    (31.5, 58, 1.4),
    (28, 52, 1.4),
    (24.5, 46, 1.4),
    (21, 40, 1.4),
    (17.5, 32, 1.4),
    (14, 26, 1.3),
    (10.8, 20, 1.3),
)


def emblem() -> bytes:
    """Return it as a PNG file, on white."""
    shapes = [
        f'<circle cx="50" cy="50" r="{radius}" fill="{COLOURS[place % 6]}"/>'
        for place, radius in enumerate((48, 45, 42, 40, 37))
    ]
    for wreath, (far, count, size) in enumerate(WREATHS):
        for place in range(count):
            turn = 2 * pi * place / count + wreath * 0.1
            x, y, colour = 50 + far * cos(turn), 50 + far * sin(turn), COLOURS[(place + wreath) % 6]
            match (place + wreath) % 3:
                case 0:
                    shapes += [
                        _disc(x, y, 0.9 * size, colour),
                        _disc(x, y, 0.5 * size, COLOURS[(place + wreath + 2) % 6]),
                    ]
                case 1:
                    shapes.append(_star(x, y, 1.05 * size, 5, turn, colour))
                case _:
                    shapes.append(
                        f'<ellipse cx="{x:.3f}" cy="{y:.3f}" rx="{size}" ry="{0.55 * size:.3f}"'
                        f' transform="rotate({degrees(turn):.2f} {x:.3f} {y:.3f})" fill="{colour}"/>'
                    )
    shapes.append(_star(50, 50, 8, 8, 0.2, COLOURS[3]))
    text = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100" width="{SIZE_PX}" height="{SIZE_PX}">'
        f'<rect width="100" height="100" fill="#ffffff"/>{"".join(shapes)}</svg>'
    )
    return bytes(resvg_py.svg_to_bytes(svg_string=text))


def _disc(x: float, y: float, radius: float, colour: str) -> str:
    return f'<circle cx="{x:.3f}" cy="{y:.3f}" r="{radius:.3f}" fill="{colour}"/>'


def _star(x: float, y: float, reach: float, points: int, turn: float, colour: str) -> str:
    corners = ((reach if at % 2 == 0 else 0.43 * reach, turn + pi * at / points) for at in range(2 * points))
    return (
        f'<polygon fill="{colour}" '
        f'points="{" ".join(f"{x + far * cos(a):.3f},{y + far * sin(a):.3f}" for far, a in corners)}"/>'
    )
