"""Openings of stencils, backing pieces and outlines of a marking, made from artwork.

White beneath a colour ends inside the colour's outer edge, so that none looks out where it lies a little off: a choke.
Where wanted white is itself the visible edge it keeps its size. Colours painted one over another are the opposite: the
lower one goes on beneath the next.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence, Set
from dataclasses import dataclass

from calculators.cut.artwork import CutArtwork
from calculators.cut.plane import Flat, Line, Plane, lies_in
from calculators.pixels.colour_table import lab, rgb_of
from calculators.shapes.nesting import Part
from calculators.shapes.snap_rounding import Node

#: How wanted white is named among the colours that are painted.
WHITE = "#ffffff"
#: Points within this many mm of the line between their neighbours are left out of what is cut.
NEEDLESS = 1e-3
#: So closely, in mm, a colour is spread beneath the next one.
BENEATH = 2e-3
#: A part that encloses less, in mm², is left of rounding: nothing that a blade could follow.
NOTHING_MM2 = 1e-3


@dataclass(frozen=True)
class Opening:
    """What is cut, and the parts of the artwork of which nothing is left in it."""

    flat: Flat
    vanished: list[Part]


def beneath(artwork: CutArtwork, choke_mm: float) -> Opening:
    """Return white beneath the artwork: wanted white at its size, and colour up to ``choke_mm`` inside its edges
    towards what is bare. Raises TooTangled.
    """
    plane, white = artwork.plane, artwork.white
    coloured = artwork.coloured
    if not white:
        inner = plane.choked(_rough(plane, coloured), choke_mm)
    else:
        inner = plane.minus(coloured, plane.within(edges_of_colour(artwork), choke_mm))
    inner = _whole(plane, inner)
    vanished = [part for part in plane.parts(coloured) if not _holds_any(plane, part, inner)]
    return Opening(_tidy(plane, plane.join(white, inner) if white else inner), vanished)


def edges_of_colour(artwork: CutArtwork) -> list[Line]:
    """Return the lines along which colour ends towards what is bare. Raises TooTangled."""
    return artwork.plane.edges_towards_nothing(artwork.coloured, artwork.white)


def light_to_dark(colours: Sequence[str]) -> list[str]:
    """Return colours (#rrggbb) in the order in which they are painted.

    >>> light_to_dark(["#000000", "#ffff00", "#7a2232"])
    ['#ffff00', '#7a2232', '#000000']
    """
    return sorted(colours, key=lambda colour: (-lab(rgb_of(colour))[0], colour))


def painted(artwork: CutArtwork, spread_mm: float) -> Iterator[tuple[str, Opening]]:
    """Yield for each colour, wanted white among them, light to dark, where it is painted: its own region, and
    ``spread_mm`` further beneath the colours that follow. Raises TooTangled.
    """
    plane = artwork.plane
    regions = dict(artwork.colours)
    if artwork.white:
        regions[WHITE] = plane.join(artwork.white, regions[WHITE]) if WHITE in regions else artwork.white
    order = light_to_dark(list(regions))
    parts = [plane.parts(regions[colour]) for colour in order]
    for place, colour in enumerate(order):
        own = regions[colour]
        if spread_mm and any(parts[place + 1 :]):
            own = _spread(plane, own, parts[place], spread_mm, parts[place + 1 :])
        yield colour, Opening(_tidy(plane, own), [])


def _spread(plane: Plane, own: Flat, parts: Sequence[Part], spread_mm: float, later: Sequence[Sequence[Part]]) -> Flat:
    """Return ``own``, of these ``parts``, and what lies within ``spread_mm`` of it in the parts of ``later`` regions,
    where that touches it.

    Across a narrow gap it would come out beneath a colour that does not touch it.
    """
    nodes = {node for each in later for part in each for ring in (part.outer, *part.holes) for node in ring}
    beside, apart = _by_nodes(parts, nodes)
    if not beside:
        return own
    nodes = {node for ring in beside for node in ring}
    near = [_by_nodes(each, nodes)[0] for each in later]
    # Nobody sees how closely it ends beneath another colour.
    wide = plane.spread(plane.without_needless(beside, BENEATH), spread_mm, BENEATH)
    return [*_touching(plane, plane.common(wide, beside, *near), beside), *apart]


def _by_nodes(parts: Iterable[Part], nodes: Set[Node]) -> tuple[Flat, Flat]:
    """Return the rings of parts with any of ``nodes`` on their outlines, and of those without."""
    sorted_out: tuple[Flat, Flat] = ([], [])
    for part in parts:
        rings = [part.outer, *part.holes]
        sorted_out[all(map(nodes.isdisjoint, rings))].extend(rings)
    return sorted_out


def outline(artwork: CutArtwork, rim_mm: float) -> Opening:
    """Return the outline of the whole marking with a rim of film round it; holes stay covered. Raises TooTangled."""
    plane = artwork.plane
    whole = plane.spread(_rough(plane, artwork.printed), rim_mm) if rim_mm else artwork.printed
    filled = plane.join(*([part.outer] for part in plane.parts(whole)))
    return Opening(_tidy(plane, filled), [])


def cut_outs(artwork: CutArtwork, rim_mm: float) -> Opening:
    """Return the holes in the marking, ``rim_mm`` within their edges. Raises TooTangled."""
    plane = artwork.plane
    holes = [hole[::-1] for part in plane.parts(artwork.printed) for hole in part.holes]
    whole = plane.join(*([hole] for hole in holes)) if holes else []
    # What stands within a hole is cut out with it: it has nothing to hang on.
    whole = plane.join(*([part.outer] for part in plane.parts(whole))) if whole else []
    moved = _whole(plane, plane.choked(whole, rim_mm))
    vanished = [part for part in plane.parts(whole) if not _holds_any(plane, part, moved)]
    return Opening(_tidy(plane, moved), vanished)


def _whole(plane: Plane, flat: Flat) -> Flat:
    """Return the parts that enclose something."""
    return [
        ring
        for part in plane.parts(flat)
        if plane.area([part.outer]) >= NOTHING_MM2
        for ring in (part.outer, *part.holes)
    ]


def _rough(plane: Plane, flat: Flat) -> Flat:
    """Return a region with fewer points, which is moved faster."""
    return plane.without_needless(flat, NEEDLESS)


def _tidy(plane: Plane, flat: Flat) -> Flat:
    """Return what a blade follows, without needless points, specks and holes that enclose nothing."""
    made = plane.without_needless(flat, NEEDLESS)
    return [ring for ring in made if abs(plane.area([ring])) >= NOTHING_MM2]


def _touching(plane: Plane, flat: Flat, own: Flat) -> Flat:
    """Return the parts of ``flat`` that have points of ``own`` on their outlines or within."""
    nodes: set[Node] = {node for ring in own for node in ring}
    places = [plane.grid.place(ring[0]) for ring in own]

    def touches(part: Part) -> bool:
        if any(node in nodes for each in (part.outer, *part.holes) for node in each):
            return True
        boundaries = plane.boundaries(part)
        return any(lies_in(place, boundaries) for place in places)

    return [ring for part in plane.parts(flat) if touches(part) for ring in (part.outer, *part.holes)]


def _holds_any(plane: Plane, part: Part, flat: Flat) -> bool:
    """Return whether anything of ``flat`` lies within ``part``, none of its rings crossing those of the part."""
    boundaries = plane.boundaries(part)
    polygons = map(plane.polygon, flat)
    return any(lies_in((polygon[0] + polygon[1]) / 2, boundaries) for polygon in polygons)
