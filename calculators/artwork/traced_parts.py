"""Prepare the files of a traced picture: its chosen colours in mm, and the lines between them."""

from __future__ import annotations

import re
from collections.abc import Generator, Iterable
from dataclasses import replace
from functools import partial

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
from calculators.pixels.fidelity import NOTHING_LOST, Losses, losses
from calculators.pixels.raster import Raster
from calculators.pixels.traced_labels import labels_of, rendered
from calculators.pixels.tracing import ONE, TRANSPARENCY, NothingToTrace, Region, Traced
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


def lost_of(found: Traced, raster: Raster, *, by: str) -> Losses:
    """Return what the outlines lose of the picture; traced as one colour, its other colours are no loss."""
    if by == TRANSPARENCY:
        return NOTHING_LOST
    labels, colours = labels_of(found)
    if by == ONE:
        return replace(losses(raster, labels, colours), merged=(), washed=(), gradient=(), near=())
    return losses(raster, labels, colours, rendered=partial(rendered, found))
