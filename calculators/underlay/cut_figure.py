"""Draw the pieces that are cut: their lines, the places to look at and the bridges, which a reader may touch."""

from __future__ import annotations

import json
from cmath import rect
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import pi

from calculators import messages
from calculators.cut.bridges import Bridge
from calculators.cut.layout import Format, crosses
from calculators.cut.plane import Flat, Plane
from calculators.declare import Figure
from calculators.files.outline_files import path_data
from calculators.markup import escape
from calculators.shapes.offsets import as_pieces
from calculators.underlay import cut_sentences as sentences
from calculators.underlay.cut_making import Cutting

#: In SVG units: the width of the drawing, the most height of a single piece, the gap between two, letters, and the
#: line of words above each piece.
WIDTH, MOST_HIGH, GAP, LETTERS, LINE = 520.0, 470.0, 14.0, 15, 22.0
#: The most height of several pieces in all, in the same units.
MOST_OF_ALL = 600.0
#: Lines of the drawing are followed within this.
FOLLOWED = 0.15
#: The circle round a place, how far its letter is from it at first, and the room that a letter takes.
AROUND, AWAY, ROOM = 9.0, 22.0, 17.0
#: The share of those, and of the width of lines, where several pieces share the drawing.
SMALLER = 0.65
#: More letters than this are named by the first and the last.
MOST_LISTED = 6
#: More bridges in one piece have no numbers: a touch names each.
MOST_NUMBERED = 16
#: What a finger hits of a bridge: a circle of this radius.
TOUCHED = 17.0
PAPER, INK, ACCENT, FILM, LINE_COLOUR = "#fffefb", "#1c2226", "#7a2232", "#d9ecec", "#a9b0ad"
_HATCH = (
    '<defs><pattern id="cut-file-white" width="7" height="7" patternUnits="userSpaceOnUse" '
    'patternTransform="rotate(45)"><path fill="#ffffff" d="M0 0h7v7H0z"/>'
    '<path stroke="#a9b0ad" stroke-width="1.2" d="M0 0V7"/></pattern></defs>'
)


@dataclass(frozen=True)
class _Panel:
    """Where a piece is drawn: the artwork's corner, SVG units to the mm, and the size of ``signs`` on it."""

    corner: complex
    scale: float
    form: Format
    signs: float

    def at(self, place: complex) -> complex:
        """Return where a place of the artwork is drawn."""
        x = self.form.size.real - place.real if self.form.mirrored else place.real
        return self.corner + self.scale * complex(x, place.imag)


def pieces_figure(plane: Plane, cuttings: Sequence[Cutting], form: Format, letters: Sequence[Sequence[str]]) -> Figure:
    """Return all pieces at one scale, each with the ``letters`` of its places."""
    low, high = form.upright
    size = high - low
    columns = _columns(len(cuttings), size)
    wide = (WIDTH - GAP * (columns - 1)) / columns
    rows = -(-len(cuttings) // columns)
    scale = min(wide / size.real, (MOST_HIGH if rows == 1 else MOST_OF_ALL / rows) / size.imag)
    heading = LINE if len(cuttings) > 1 else 0.0
    body = ""
    bridges = [each for cutting in cuttings if cutting.held for each in cutting.held.bridges]
    # The number of the first one that the reader added.
    added = min((each.number for each in bridges if each.is_new), default=0)
    for place, cutting in enumerate(cuttings):
        left = place % columns * (wide + GAP) + (wide - scale * size.real) / 2
        top = place // columns * (scale * size.imag + GAP + heading) + heading
        panel = _Panel(complex(left, top) - scale * low, scale, form, SMALLER if heading else 1.0)
        if heading:
            body += _heading(cutting, place + 1, place % columns * (wide + GAP), top)
        body += _piece(plane, cutting, panel, (complex(left, top), scale * size), letters[place], added)
    height = rows * (scale * size.imag + heading) + (rows - 1) * GAP
    alt = _alt(cuttings, form, letters)
    words = escape(json.dumps(sentences.BRIDGE_WORDS), quote=True)
    touched = f' data-bridges="{words}"' if any(each.held for each in cuttings) else ""
    return Figure(
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH:.0f} {height:.1f}" role="img"{touched}><title>'
        f"{escape(alt)}</title>{_HATCH}{body}</svg>",
        alt,
    )


def _columns(count: int, size: complex) -> int:
    """Return how many pieces lie side by side, so that all are drawn as large as can be."""
    every = range(1, min(count, 4) + 1)
    return max(every, key=lambda each: min(WIDTH / each / size.real, MOST_OF_ALL / (-(-count // each)) / size.imag))


def _heading(cutting: Cutting, number: int, left: float, top: float) -> str:
    x = left + 10 + 9 * len(str(number))
    square = f"M{x:.1f} {top - 17:.1f}h14v14h-14z"
    swatch = f'<path d="{square}" fill="{cutting.colour}" stroke="{LINE_COLOUR}"/>' if cutting.colour else ""
    return (
        f'<text class="dw-label" x="{left:.1f}" y="{top - 5:.1f}" font-size="{LETTERS}" fill="{INK}">{number}</text>'
        f"{swatch}"
    )


def _piece(
    plane: Plane,
    cutting: Cutting,
    panel: _Panel,
    frame: tuple[complex, complex],
    letters: Sequence[str],
    added: int,
) -> str:
    corner, size = frame
    box = f"M{corner.real:.1f} {corner.imag:.1f}h{size.real:.1f}v{size.imag:.1f}h-{size.real:.1f}z"
    is_stencil = cutting.held or cutting.is_mask
    ground, filled = (FILM, cutting.colour or PAPER) if is_stencil else (PAPER, FILM)
    if cutting.colour.startswith("#ffffff"):
        filled = "url(#cut-file-white)"
    edge = f'stroke="{LINE_COLOUR}"' if not panel.form.has_frame else f'stroke="{ACCENT}" stroke-dasharray="5 3"'
    drawn = f'<path fill="{ground}" {edge} d="{box}"/>'
    data = _data(plane, cutting.flat, panel)
    drawn += (
        f'<path class="dw-opening" fill="{filled}" fill-rule="evenodd" stroke="{ACCENT}" '
        f'stroke-width="{1.4 * panel.signs:.1f}" '
        f'stroke-dasharray="{4 * panel.signs:.1f} {2 * panel.signs:.1f}" pointer-events="all" d="{data}"/>'
    )
    for run in crosses(panel.form):
        start, end = panel.at(run[0][0]), panel.at(run[0][1])
        drawn += f'<path stroke="{INK}" d="{_line(start, end)}"/>'
    labels = _Labels(corner, size)
    if cutting.held:
        drawn += "".join(_bridge(each, panel, "", added) for each in cutting.held.bridges)
        drawn += "".join(_bridge(each, panel, " dw-off", added) for each in cutting.held.off)
    for letter, place in zip(letters, cutting.places, strict=False):
        drawn += _place(letter, panel.at(place.middle), panel.signs, labels)
    if cutting.held and len(cutting.held.bridges) <= MOST_NUMBERED:
        for each in (*cutting.held.bridges, *cutting.held.off):
            drawn += labels.beside(str(each.number), panel.at(each.middle), 10.0)
    scale = -panel.scale if panel.form.mirrored else panel.scale
    origin = panel.at(0j)
    carried = f'data-left="{origin.real:.3f}" data-top="{origin.imag:.3f}" data-across="{scale:.5f}"'
    return f'<g class="dw-cut-piece" {carried} data-down="{panel.scale:.5f}">{drawn}</g>'


def _data(plane: Plane, flat: Flat, panel: _Panel) -> str:
    coarse = plane.without_needless(flat, FOLLOWED / panel.scale)
    return path_data([as_pieces([panel.at(point) for point in plane.polygon(ring)]) for ring in coarse], 1)


def _bridge(bridge: Bridge, panel: _Panel, kind: str, added: int) -> str:
    """Return a bridge with what a finger hits of it; dashed if it was taken away."""
    line, middle = _line(panel.at(bridge.start), panel.at(bridge.end)), panel.at(bridge.middle)
    dashed = ' stroke-dasharray="3 3"' if kind else ""
    new = f' data-new="{bridge.number - added}"' if bridge.is_new else ""
    return (
        f'<g class="dw-bridge{kind}" data-bridge="{bridge.number}"{new}>'
        f'<circle cx="{middle.real:.1f}" cy="{middle.imag:.1f}" r="{TOUCHED * panel.signs:.0f}" fill="#ffffff" '
        f'fill-opacity="0"/>'
        f'<path stroke="{INK}" stroke-width="2.5"{dashed} d="{line}"/></g>'
    )


def _line(start: complex, end: complex) -> str:
    return f"M{start.real:.1f} {start.imag:.1f}L{end.real:.1f} {end.imag:.1f}"


def _place(letter: str, at: complex, signs: float, labels: _Labels) -> str:
    ring = f'cx="{at.real:.1f}" cy="{at.imag:.1f}" r="{AROUND * signs:.1f}" fill="none"'
    return (
        f'<circle {ring} stroke="{PAPER}" stroke-width="4" stroke-opacity="0.8"/>'
        f'<circle {ring} stroke="{ACCENT}" stroke-width="2"/>{labels.beside(letter, at, AWAY * signs)}'
    )


class _Labels:
    """Letters and numbers beside what they name, each where none is yet."""

    def __init__(self, corner: complex, size: complex) -> None:
        self._corner, self._size = corner, size
        self._taken: list[complex] = []

    def beside(self, words: str, at: complex, away: float) -> str:
        """Return words near a place, with a line to it where they are not right beside it."""
        spot = next((each for each in _spots(at, away) if self._is_free(each)), at + complex(away, -away))
        self._taken.append(spot)
        leader = ""
        if abs(spot - at) > away + 1:
            way = (spot - at) / abs(spot - at)
            start, end = at + way * min(AROUND, away), spot - way * ROOM / 2
            leader = f'<path stroke="{INK}" stroke-width="1" d="{_line(start, end)}"/>'
        return (
            f'{leader}<text x="{spot.real:.1f}" y="{spot.imag + 5.5:.1f}" font-size="{LETTERS}" font-weight="700" '
            f'text-anchor="middle" fill="{INK}" stroke="{PAPER}" stroke-width="3.5" paint-order="stroke" '
            f'pointer-events="none">{escape(words)}</text>'
        )

    def _is_free(self, spot: complex) -> bool:
        inside = spot - self._corner
        edge = ROOM / 2
        if not (edge <= inside.real <= self._size.real - edge and edge <= inside.imag <= self._size.imag - edge):
            return False
        return all(abs(spot - each) >= ROOM for each in self._taken)


def _spots(at: complex, away: float) -> Iterator[complex]:
    """Yield places round one, near ones first."""
    for step in range(7):
        for turn in range(12):
            yield at + rect(away + step * ROOM * 0.8, -pi / 4 + turn * pi / 6)


def _alt(cuttings: Sequence[Cutting], form: Format, letters: Sequence[Sequence[str]]) -> str:
    every = sorted(letter for some in letters for letter in some)
    many = messages.NUMBERS_FROM_TO.format(first=every[0], last=every[-1]) if len(every) > MOST_LISTED else ""
    marked = sentences.ALT_PLACES.format(places=many or ", ".join(every)) if every else sentences.ALT_CLEAN
    bridges = sum(len(each.held.bridges) for each in cuttings if each.held)
    if bridges:
        marked += " " + sentences.ALT_BRIDGES.format(count=bridges)
    return sentences.ALT.format(
        pieces=messages.plural(len(cuttings), "piece"),
        frame=sentences.ALT_FRAME if form.has_frame else "",
        marked=marked,
    )
