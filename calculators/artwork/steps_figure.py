"""Draw the pixels of a slanting edge to scale beside the smallest detail that the eye resolves."""

from __future__ import annotations

from math import fsum

from calculators import messages
from calculators.declare import Figure
from calculators.markup import escape
from calculators.numbers import plain, significant

#: The size of the drawing, and of the field that holds the edge, in SVG units.
WIDTH, HEIGHT = 520, 178
EDGE_WIDTH, EDGE_HEIGHT, EDGE_TOP = 336, 126, 6
#: The drawn size of the larger of a pixel and what the eye resolves.
LARGER = 56.0
#: The most pixels drawn across; finer ones are drawn as a smooth edge.
MOST_ACROSS = 84
SLOPE = 0.36


def steps_figure(pixel_mm: float, eye_mm: float, *, soft: bool) -> Figure:
    """Return the edge of a marking in pixels of ``pixel_mm`` beside a disc of ``eye_mm``."""
    per_mm = LARGER / max(pixel_mm, eye_mm)
    side = pixel_mm * per_mm
    across = int(EDGE_WIDTH // side)
    drawn = _smooth() if across > MOST_ACROSS else _pixels(side, soft)
    alt = messages.STEPS_ALT.format(
        times=plain(round(pixel_mm / eye_mm, 2)) if pixel_mm / eye_mm < 10 else significant(pixel_mm / eye_mm, 2)
    )
    return _drawing(drawn, eye_mm * per_mm, per_mm, alt)


def outline_figure(eye_mm: float) -> Figure:
    """Return the smooth edge of an outline beside a disc of ``eye_mm``."""
    per_mm = LARGER / eye_mm
    return _drawing(_smooth(), LARGER, per_mm, messages.OUTLINE_ALT)


def _smooth() -> str:
    bottom = EDGE_TOP + EDGE_HEIGHT
    right = bottom - EDGE_WIDTH * SLOPE
    return f'<path class="dw-accent-fill" fill="#7a2232" d="M0 {bottom}L{EDGE_WIDTH} {right:.2f}V{bottom}Z"/>'


def _pixels(side: float, soft: bool) -> str:
    """Return the pixels of a slanting edge, each shaded by its covered share, or stepped."""
    bottom = EDGE_TOP + EDGE_HEIGHT
    across, up = int(EDGE_WIDTH // side), int(EDGE_HEIGHT // side)
    squares = []
    for column in range(across):
        for row in range(up):
            covered = _coverage(column, row)
            if not soft:
                covered = 1.0 if covered >= 0.5 else 0.0
            if covered < 0.02:
                break
            shade = "" if covered > 0.98 else f' fill-opacity="{covered:.2f}"'
            x, y = column * side, bottom - (row + 1) * side
            squares.append(f'<path d="M{x:.2f} {y:.2f}h{side:.2f}v{side:.2f}h-{side:.2f}z"{shade}/>')
    return f'<g class="dw-accent-fill" fill="#7a2232" shape-rendering="crispEdges">{"".join(squares)}</g>'


def _coverage(column: int, row: int, samples: int = 8) -> float:
    """Return the share of a unit pixel that lies under the line of slope ``SLOPE``."""
    heights = (SLOPE * (column + (sample + 0.5) / samples) - row for sample in range(samples))
    return fsum(min(1.0, max(0.0, height)) for height in heights) / samples


def _drawing(edge: str, eye: float, per_mm: float, alt: str) -> Figure:
    middle_y = EDGE_TOP + 48
    label_x = EDGE_WIDTH + 24
    centre_x = label_x + max(eye, 6) / 2
    times = escape(messages.DRAWN_LARGER.format(times=significant(per_mm * 25.4 / 96, 2)))
    first, second = (escape(line) for line in messages.SMALLEST_SEEN)
    below = middle_y + max(eye, 6) / 2
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" role="img">'
        f"<title>{escape(alt)}</title>{edge}"
        f'<circle class="dw-water-line" cx="{centre_x:.2f}" cy="{middle_y}" r="{eye / 2:.2f}" fill="none"'
        f' stroke="#1d6a73" stroke-width="2"/>'
        f'<g class="dw-label" font-size="15" fill="#1c2226">'
        f'<text x="{label_x}" y="{below + 24:.2f}">{first}</text><text x="{label_x}" y="{below + 44:.2f}">'
        f"{second}</text>"
        f'<text class="dw-soft" x="0" y="{HEIGHT - 14}">{times}</text></g></svg>'
    )
    return Figure(svg, alt)
