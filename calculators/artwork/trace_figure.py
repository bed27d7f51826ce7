"""Draw a traced picture: its outlines, on request with nodes, and a detail as pixels and as outlines."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from calculators import messages
from calculators.declare import Figure
from calculators.figures.losses import alt_of, marks
from calculators.files.outline_files import path_data
from calculators.markup import escape
from calculators.numbers import significant
from calculators.pixels.colour_table import hex_of
from calculators.pixels.lost_parts import Losses
from calculators.pixels.raster import Raster
from calculators.pixels.tracing import Region, Traced
from calculators.shapes.cubics import Piece
from calculators.shapes.regions import Ring

#: In SVG units: the drawing's width and greatest height, and the margin round the marking.
WIDTH, MOST_HIGH, MARGIN = 520, 520, 6
#: The detail: its pixels across and down, the width of a panel, and the words beneath.
ACROSS, DOWN, PANEL, WORDS = 20, 16, 250, 30
PAPER, ACCENT, INK, LINE = "#fffefb", "#7a2232", "#1c2226", "#d8d3c6"
#: Screen pixels in a millimetre of print (CSS: 96 to the inch).
SCREEN_PER_MM = 96 / 25.4


def outlines_figure(traced: Traced, taken: Sequence[Region], lost: Losses, *, nodes: bool) -> Figure:
    """Return the regions ``taken`` in their colours on paper, with marks on what was ``lost``.

    ``nodes`` adds the ends of all curves, and squares at corners.
    """
    scale = min((WIDTH - 2 * MARGIN) / traced.width, (MOST_HIGH - 2 * MARGIN) / traced.height)
    width, height = scale * traced.width + 2 * MARGIN, scale * traced.height + 2 * MARGIN
    left = (WIDTH - width) / 2
    shift = complex(left + MARGIN, MARGIN)
    pieces = sum(len(ring.pieces) for region in taken for ring in region.rings)
    words = {
        "colours": messages.plural(len(taken), "colour"),
        "pieces": messages.plural(pieces, "curve or straight line", "curves and straight lines"),
        "corners": messages.plural(sum(len(line.tips) for line in traced.lines), "corner"),
    }
    alt = (messages.TRACED_ALT_NODES if nodes else messages.TRACED_ALT).format(**words) + alt_of(lost)
    drawn = "".join(
        f'<path fill="{hex_of(region.rgb)}" fill-rule="evenodd" d="{_drawn(region.rings, scale, shift)}"/>'
        for region in taken
    )
    if nodes:
        drawn += _nodes(traced, scale, shift)
    drawn += marks(lost, scale, shift.real, shift.imag)
    return Figure(
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {height:.1f}" role="img"><title>'
        f"{escape(alt)}</title>"
        f'<path fill="{PAPER}" stroke="{LINE}" d="M{left:.1f} 0h{width:.1f}v{height:.1f}h-{width:.1f}z"/>{drawn}</svg>',
        alt,
    )


def _drawn(rings: Sequence[Ring], scale: float, shift: complex) -> str:
    return path_data(([_moved(piece, scale, shift) for piece in ring.pieces] for ring in rings), 2)


def _moved(piece: Piece, scale: float, shift: complex) -> Piece:
    return tuple(point * scale + shift for point in piece)


def _nodes(traced: Traced, scale: float, shift: complex) -> str:
    """Return each end of a piece once: a dot, or a square at a rebuilt corner. Lines of zero length draw them."""
    tips = {tip for line in traced.lines for tip in line.tips}
    ends = {end for line in traced.lines for piece in line.pieces for end in (piece[0], piece[-1])} - tips
    drawn = ""
    for places, cap, size in ((ends, "round", 4.5), (tips, "square", 5)):
        dots = "".join(
            f"M{(at * scale + shift).real:.1f} {(at * scale + shift).imag:.1f}h0" for at in sorted(places, key=abs)
        )
        if dots:
            drawn += (
                f'<path fill="none" stroke="{PAPER}" stroke-width="{size + 2.5}" stroke-linecap="{cap}" d="{dots}"/>'
                f'<path fill="none" stroke="{ACCENT if cap == "square" else INK}" stroke-width="{size}" '
                f'stroke-linecap="{cap}" d="{dots}"/>'
            )
    return drawn


def detail_figure(traced: Traced, taken: Sequence[Region], raster: Raster, pixel_mm: float) -> Figure:
    """Return the part of the picture with the most nodes, as pixels and as outlines at one scale."""
    across, down = min(ACROSS, traced.width), min(DOWN, traced.height)
    left, top = _busiest(traced, across, down)
    scale = min(PANEL / across, PANEL / down)
    width, height = scale * across, scale * down
    times = significant(scale / pixel_mm / SCREEN_PER_MM, 2)
    alt = messages.DETAIL_ALT.format(across=across, down=down, times=times)
    right = WIDTH - width
    shift = complex(right - left * scale, -top * scale)
    outlines = "".join(
        f'<path fill="{hex_of(region.rgb)}" fill-rule="evenodd" d="{_drawn(rings, scale, shift)}"/>'
        for region in taken
        if (rings := [ring for ring in region.rings if _reaches(ring, left, top, left + across, top + down)])
    )
    box = f"M{right:.1f} 0h{width:.1f}v{height:.1f}h-{width:.1f}z"
    words = "".join(
        f'<text class="dw-soft" x="{x:.1f}" y="{height + 22:.1f}" font-size="16" fill="#586066">{escape(word)}</text>'
        for x, word in ((0, messages.DETAIL_PIXELS), (right, messages.DETAIL_OUTLINES))
    )
    return Figure(
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {height + WORDS:.1f}" role="img"><title>'
        f"{escape(alt)}</title>"
        f'<defs><clipPath id="trace-detail"><path d="{box}"/></clipPath></defs>'
        f'<path fill="{PAPER}" d="M0 0h{width:.1f}v{height:.1f}H0z{box}"/>'
        f'<g shape-rendering="crispEdges">{_pixels(raster, left, top, across, down, scale)}</g>'
        f'<g clip-path="url(#trace-detail)">{outlines}</g>'
        f'<path fill="none" stroke="{LINE}" d="M0 0h{width:.1f}v{height:.1f}H0z{box}"/>{words}</svg>',
        alt,
    )


def _busiest(traced: Traced, across: int, down: int) -> tuple[int, int]:
    """Return the top left corner of the box with the most nodes, among boxes half a box apart."""
    step_x, step_y = max(1, across // 2), max(1, down // 2)
    counts: Counter[tuple[int, int]] = Counter()
    for line in traced.lines:
        for piece in line.pieces:
            x, y = int(piece[0].real) // step_x, int(piece[0].imag) // step_y
            counts.update((x - dx, y - dy) for dx in (0, 1) for dy in (0, 1))
    (x, y), _ = max(counts.items(), key=lambda item: (item[1], item[0]))
    return max(0, min(traced.width - across, x * step_x)), max(0, min(traced.height - down, y * step_y))


def _reaches(ring: Ring, left: int, top: int, right: int, bottom: int) -> bool:
    xs = [point.real for piece in ring.pieces for point in piece]
    ys = [point.imag for piece in ring.pieces for point in piece]
    return min(xs) < right and max(xs) > left and min(ys) < bottom and max(ys) > top


def _pixels(raster: Raster, left: int, top: int, across: int, down: int, scale: float) -> str:
    """Return a square for each pixel; neighbours of one colour in a row share one rectangle."""
    drawn = []
    for row in range(down):
        at = 4 * ((top + row) * raster.width + left)
        colours = [raster.rgba[at + 4 * place : at + 4 * place + 4] for place in range(across)]
        start = 0
        for place in range(1, across + 1):
            if place < across and colours[place] == colours[start]:
                continue
            red, green, blue, alpha = colours[start]
            if alpha:
                shade = "" if alpha == 255 else f' fill-opacity="{alpha / 255:.3f}"'
                drawn.append(
                    f'<path fill="{hex_of((red, green, blue))}"{shade} d="M{start * scale:.2f} {row * scale:.2f}'
                    f'h{(place - start) * scale:.2f}v{scale:.2f}h-{(place - start) * scale:.2f}z"/>'
                )
            start = place
    return "".join(drawn)
