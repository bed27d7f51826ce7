"""Prepare the files of a traced picture: its chosen colours in mm, and the lines between them."""

from __future__ import annotations

import re
from collections.abc import Generator, Iterable, Iterator
from math import ceil, hypot

from calculators import messages
from calculators.declare import (
    Message,
    NamedFile,
    Problem,
    Progress,
    Refused,
    message,
)
from calculators.files.outline_files import Coloured, pdf_of_outlines, svg_of_outlines
from calculators.messages import quoted
from calculators.pixels.colour_table import hex_of
from calculators.pixels.flat_colours import NONE
from calculators.pixels.planes import OF_THREE, Planes
from calculators.pixels.raster import Raster
from calculators.pixels.small_parts import Box
from calculators.pixels.traced_labels import labels_of, rendered
from calculators.pixels.tracing import NothingToTrace, Region, Traced
from calculators.pixels.washed import off, seen
from calculators.shapes.cubics import Piece

#: The curves lie further from the edges of the drawing than from those found in the pixels. So the stated deviation is
#: that of 95 % of the curves times the first, the noise of the edges times the second, and the third, in pixels, which
#: is what renderers with few levels of coverage lose. Set on the tuning half of the web pictures at 300 px, so that
#: 95 % of an outline lies within the result.
STATED_TIMES, STATED_TIMES_NOISE, STATED_MORE_PX = 0.7, 2.0, 0.11
#: Without a single in-between shade an edge may run anywhere within a pixel.
UNSOFTENED_PX = 0.5
#: The share of the outlines of which the stated deviation holds.
STATED_SHARE = 0.95


#: Of the pixels of parts thinner than two pixels, so many are looked at, each with those around it. Their width is
#: certain where outlines and picture differ there by at most so much of the contrast: a fifth of a pixel in width.
THIN_SAMPLE, CERTAIN = 150, 0.067


def left_out_of(typed: str) -> frozenset[int]:
    """Return the typed numbers of colours. Raises Refused."""
    parts = [part for part in re.split(r"[,;\s]+", typed) if part]
    if not all(part.isascii() and part.isdigit() for part in parts):
        raise Refused(
            Problem("leave_out", messages.COLOUR_NUMBERS, messages.COLOUR_NUMBERS_HINT.format(typed=quoted(typed)))
        )
    return frozenset(map(int, parts))


def taken_of(found: Traced, left_out: frozenset[int]) -> list[Region]:
    """Return the regions for the files. Raises Refused if a number matches none, or if all are left out."""
    count = len(found.regions)
    hint = messages.TRACED_COLOURS_ARE.format(colours=messages.plural(count, "colour"))
    beyond = sorted(number for number in left_out if not 1 <= number <= count)
    if beyond:
        raise Refused(Problem("leave_out", messages.NO_SUCH_COLOUR.format(number=beyond[0]), hint))
    if len(left_out) == count:
        raise Refused(Problem("leave_out", messages.NO_COLOUR_LEFT, hint))
    return [region for number, region in enumerate(found.regions, 1) if number not in left_out]


def sized(pieces: Iterable[Piece], pixel_mm: float) -> list[Piece]:
    """Return the pieces scaled to mm."""
    return [tuple(point * pixel_mm for point in piece) for piece in pieces]


def seams_of(found: Traced, taken: list[Region], pixel_mm: float) -> list[Coloured]:
    """Return the lines between two regions in the files, in the colour of the larger, so that no other edge changes."""
    place_of = {region.place: at for at, region in enumerate(taken)}
    runs: dict[int, list[list[Piece]]] = {}
    for line in found.lines:
        if {line.arc.left, line.arc.right} <= place_of.keys():
            runs.setdefault(min(place_of[line.arc.left], place_of[line.arc.right]), []).append(
                sized(line.pieces, pixel_mm)
            )
    return [(hex_of(taken[at].rgb), lines) for at, lines in sorted(runs.items())]


def why_not(trouble: NothingToTrace) -> Message:
    if trouble.colour:
        return message(messages.NOT_TRACED_ONE, colour=hex_of(trouble.colour))
    return message(
        {
            "clear": messages.NOT_TRACED_CLEAR,
            "opaque": messages.NOT_TRACED_OPAQUE,
            "specks": messages.NOT_TRACED_SPECKS,
        }[trouble.why]
    )


def further_reasons(found: Traced, joined: int | None) -> list[Message]:
    """Return the messages about colours (``joined`` to that many), the ground, specks and empty outlines."""
    reasons = [message(messages.TRACED_JOINED, count=str(joined))] if joined else []
    if found.ground:
        reasons.append(message(messages.TRACED_GROUND, colour=hex_of(found.ground)))
    if found.specks:
        sentence = messages.TRACED_SPECK if found.specks == 1 else messages.TRACED_SPECKS
        reasons.append(message(sentence, count=str(found.specks)))
    if found.empty:
        reasons.append(message(messages.TRACED_EMPTY, outlines=messages.plural(found.empty, "outline")))
    return reasons


def files_of(
    taken: list[Region], seams: list[Coloured], pixel_mm: float, size_mm: tuple[float, float], title: str
) -> Generator[Progress, None, tuple[NamedFile, NamedFile]]:
    """Return the outlines as SVG and as PDF."""
    coloured: list[Coloured] = [
        (hex_of(region.rgb), [sized(ring.pieces, pixel_mm) for ring in region.rings]) for region in taken
    ]
    svg = svg_of_outlines(coloured, *size_mm, title, seams)
    yield Progress(0.96, messages.WRITING_OUTLINES)
    pdf = pdf_of_outlines(coloured, *size_mm, title, seams)
    yield Progress(0.98, messages.WRITING_OUTLINES)
    return NamedFile(f"{title}.svg", "image/svg+xml", svg), NamedFile(f"{title}.pdf", "application/pdf", pdf)


def stated_px(found: Traced) -> float:
    """Return how far 95 % of the outlines are from the drawing's edges at most, in pixels."""
    lines = sorted(found.lines, key=lambda line: line.worst)
    length = sum(len(line.arc.corners) for line in lines)
    passed, off = 0, 0.0
    for line in lines:
        passed, off = passed + len(line.arc.corners), line.worst
        if passed >= STATED_SHARE * length:
            break
    stated = STATED_TIMES * off + STATED_TIMES_NOISE * found.noise + STATED_MORE_PX
    return stated if found.soft else max(stated, UNSOFTENED_PX)


def uncertain_thin(found: Traced, raster: Raster) -> float:
    """Return the share of the traced ink, 0 to 1, that is thinner than two pixels and that the outlines show wider or
    narrower than the picture.
    """
    labels, colours = labels_of(found)
    squares = Planes(found.width, found.height).in_bands(Planes.squares, labels, margin=2)
    places = _thin_places(found, labels, squares)
    if not places:
        return found.thin
    places = places[:: ceil(len(places) / THIN_SAMPLE)]
    boxes = [(x - 1, y - 1, x + 2, y + 2) for y, x in (divmod(at, found.width) for at in places)]
    broad = {label for label, has in set(zip(labels, squares, strict=True)) if has & OF_THREE}
    differ = 0
    for at, box, result in zip(places, boxes, rendered(found, boxes), strict=True):
        around = _around(labels, at, found.width)
        contrast = max(
            hypot(*off(seen(colours[labels[at]]), seen(colours[other]))) for other in around if other != NONE
        )
        picture = [seen(raster.rgba[4 * place : 4 * place + 3]) for place in _within(box, found.width)]
        # Towards what is clear there is no colour to compare; a colour without a broad part may be a lighter shade.
        if None in result or not contrast or labels[at] not in broad:
            differ += 1
            continue
        less = [off(seen(two), one) for one, two in zip(picture, result, strict=True) if two]
        differ += hypot(*(sum(each) / len(less) for each in zip(*less, strict=True))) > CERTAIN * contrast
    return found.thin * differ / len(places)


def _thin_places(found: Traced, labels: bytes, squares: bytes) -> list[int]:
    """Return the pixels within the picture that lie in no square of two by two of their region."""
    ground = len(found.regions)
    inside = re.finditer(rb"\0+", squares)
    width, last = found.width, found.height - 1
    return [
        at
        for run in inside
        for at in range(*run.span())
        if labels[at] < ground and 0 < at % width < width - 1 and 0 < at // width < last
    ]


def _around(labels: bytes, at: int, width: int) -> set[int]:
    return set(b"".join(labels[row - 1 : row + 2] for row in (at - width, at, at + width)))


def _within(box: Box, width: int) -> Iterator[int]:
    left, top, right, bottom = box
    return (row * width + column for row in range(top, bottom) for column in range(left, right))
