"""Losses of a picture, as marks in drawings and as sentences."""

from __future__ import annotations

from collections.abc import Sequence

from calculators import messages
from calculators.pixels.colour_table import hex_of
from calculators.pixels.lost_parts import Losses, Place
from calculators.values import Message, advice, message

#: Minimum size of a mark, its distance from the loss, and the maximum number of marks (the largest losses).
LEAST, OFF, MOST = 12.0, 3.0, 60
#: Size of a dot relative to the width of a line.
DOT = 2.0
#: How many merged colours are named.
MOST_NAMED = 4
INK, PAPER = "#7a2232", "#fffefb"


def loss_reasons(lost: Losses, cure: str, of_flat: str) -> list[Message]:
    """Return sentences on losses and what to do about them; none if nothing was lost.

    ``of_flat`` is what to do about flat colours that were taken as others near them, ``cure`` about all else.
    """
    reasons = []
    if lost.strokes:
        one = len(lost.strokes) == 1
        reasons.append(
            message(messages.STROKE_LOST, length=str(lost.stroke_px))
            if one
            else message(messages.STROKES_LOST, count=str(len(lost.strokes)), length=str(lost.stroke_px))
        )
    changed = _changes((*lost.merged, *lost.flat))
    if len(changed) == 1:
        [(was, now)] = changed
        reasons.append(message(messages.COLOUR_MERGED, was=was, now=now))
    elif changed:
        changes = _named(changed, messages.ONE_CHANGE)
        reasons.append(message(messages.COLOURS_MERGED, count=str(len(changed)), changes=changes))
    if lost.washed:
        reasons.append(message(messages.WASHED, changes=_named(_changes(lost.washed), messages.PROBABLY_WAS)))
    if lost.shapes:
        one = len(lost.shapes) == 1
        reasons.append(
            message(messages.SHAPE_LOST) if one else message(messages.SHAPES_LOST, count=str(len(lost.shapes)))
        )
    if lost.gradient:
        reasons.append(message(messages.GRADIENT_CUT))
    if lost.unsteady:
        reasons.append(message(messages.COLOURS_MIXED_UP))
    cures = [cure] * lost.has_more + [of_flat] * bool(lost.flat)
    return [*reasons, *map(advice, cures)]


def _changes(places: Sequence[Place]) -> list[tuple[str, str]]:
    """Return the colours that changed and what they became, each pair once."""
    return list(dict.fromkeys((hex_of(each.was), hex_of(each.now)) for each in places))


def _named(changes: Sequence[tuple[str, str]], pattern: str) -> str:
    return "; ".join(pattern.format(was=was, now=now) for was, now in changes[:MOST_NAMED])


def merged_reasons(lost: Losses) -> list[Message]:
    """Return a sentence on colours so near to others that they were taken as one; none where there are none."""
    if not lost.near:
        return []
    return [message(messages.TAKEN_AS_ONE, changes=_named(_changes(lost.near), messages.ONE_CHANGE))]


def alt_of(lost: Losses) -> str:
    """Return what a drawing's alternative text says of its marks, after a space; nothing where there are none."""
    count = (
        len(lost.strokes)
        + len(lost.shapes)
        + len(lost.merged)
        + len(lost.flat)
        + len(lost.washed)
        + bool(lost.gradient)
        + bool(lost.unsteady)
    )
    return f" {messages.LOST_ALT.format(count=count)}" if count else ""


def marks(lost: Losses, scale: float, left: float, top: float) -> str:
    """Return boxes round lost strokes and shapes, and dots on gradients and on
    colours that were merged or washed, in SVG.

    ``scale`` is in units a pixel; the picture's corner is at ``left``, ``top``.
    """
    boxes = "".join(_box(place.box, scale, left, top) for place in (*lost.strokes[:MOST], *lost.shapes[:MOST]))
    points = [point for place in (*lost.merged, *lost.flat, *lost.washed)[: 2 * MOST_NAMED] for point in place.points]
    points += (*lost.gradient, *lost.unsteady)
    dots = "".join(f"M{left + scale * (x + 0.5):.1f} {top + scale * (y + 0.5):.1f}h0" for x, y in points)
    drawn = ""
    for path, more in ((dots, DOT), (boxes, 0.0)):
        if path:
            drawn += "".join(
                f'<path fill="none" stroke="{colour}" stroke-width="{width + more:g}" stroke-linecap="round" '
                f'stroke-linejoin="round" d="{path}"/>'
                for colour, width in ((PAPER, 5), (INK, 2))
            )
    return drawn


def _box(box: tuple[int, int, int, int], scale: float, left: float, top: float) -> str:
    x, to_x = (left + scale * at for at in (box[0], box[2]))
    y, to_y = (top + scale * at for at in (box[1], box[3]))
    more_x, more_y = (max(OFF, (LEAST - size) / 2) for size in (to_x - x, to_y - y))
    return (
        f"M{x - more_x:.1f} "
        f"{y - more_y:.1f}h{to_x - x + 2 * more_x:.1f}v{to_y - y + 2 * more_y:.1f}h-{to_x - x + 2 * more_x:.1f}z"
    )
