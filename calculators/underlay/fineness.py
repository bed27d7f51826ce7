"""Whether the printer can print a marking's finest parts at its size, whatever lies beneath."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import hypot

from calculators import messages
from calculators.colour.srgb import lab_of, light_of
from calculators.declare import Figure, Message, advice, message
from calculators.pixels.narrowest import Box, Narrowest
from calculators.tables.declaration import Fact
from calculators.tables.printing_rows import Printer
from calculators.underlay.case import LEAST_SHARE, Part

FINE_ENOUGH, MAY_BE_LOST, TOO_FINE = "fine-enough", "may-be-lost", "too-fine"
#: Black ink alone draws colours up to this lightness and chroma (of 100, estimates).
BLACK_LIGHTNESS, BLACK_CHROMA = 30.0, 12.0
#: The error of a width measured in pixels.
SLACK_PX = 1.0
#: In SVG units: the drawing's width and greatest height, and the distance of a ring from its part.
WIDTH, MOST_HIGH, OFF = 520, 520, 12
INK, PAPER = "#1c2226", "#fffefb"


@dataclass(frozen=True)
class Finest:
    """The deciding part of a marking at its size: its width, and the thinnest line that the printer holds there.

    It may be wider by ``slack_mm``. ``places`` are in pixels of the picture. ``milder`` is the limit of black, if the
    part may be black or not.
    """

    name: str
    has_mm: float
    slack_mm: float
    line: Fact
    places: tuple[Box, ...] = ()
    milder: Fact | None = None

    @property
    def level(self) -> str:
        """Whether it can be printed."""
        if self.has_mm + self.slack_mm < self.line.low:
            return TOO_FINE
        return MAY_BE_LOST if self.has_mm < self.line.high else FINE_ENOUGH


def find_finest(
    parts: Mapping[int, Part], found: Mapping[int, Narrowest], pixel_mm: float, printer: Printer
) -> Finest | None:
    """Return the part nearest to being lost, among those with known narrowest strokes; None without any."""
    every = [
        Finest(parts[label].name, each.px * pixel_mm, SLACK_PX * pixel_mm, _line(parts[label], printer), each.places)
        for label, each in found.items()
        if each.places
    ]
    return min(every, key=lambda each: each.has_mm / each.line.high, default=None)


def finest_typed(parts: Sequence[Part], has_mm: float, printer: Printer) -> Finest:
    """Return the narrowest part that the reader has measured.

    Nobody said in which colour it is, so the strictest limit of the colours that count applies, or of all without any.
    """
    counting = [part for part in parts if part.share >= LEAST_SHARE] or parts
    lines = sorted((_line(part, printer) for part in counting), key=lambda line: (line.low, line.high))
    mildest, strictest = lines[0], lines[-1]
    milder = mildest if mildest.high < strictest.high else None
    return Finest(messages.A_COLOUR, has_mm, 0.0, strictest, milder=milder)


def _line(part: Part, printer: Printer) -> Fact:
    """Return the thinnest line that a printer holds in a part's colour; white is a gap between colours."""
    lightness, a, b = lab_of(light_of(part.colour))
    return (
        printer.thinnest_line
        if lightness <= BLACK_LIGHTNESS and hypot(a, b) <= BLACK_CHROMA
        else printer.thinnest_line_colour
    )


def finest_reasons(finest: Finest | None, printer: Printer, width_mm: float, width: int, height: int) -> list[Message]:
    """Return what is too fine, where, and the cure; an empty list if the printer holds every part."""
    if finest is None or finest.level == FINE_ENOUGH:
        return []
    sentence = messages.FINER_THAN_PRINTED if finest.level == TOO_FINE else messages.FINE_TO_PRINT
    values = {
        "colour": finest.name,
        "printer": printer.label,
        "about_mm": finest.has_mm,
        "low_mm": finest.line.low,
        "high_mm": finest.line.high,
    }
    reasons = [message(sentence, **values)]
    if finest.milder:
        black = {"low_mm": finest.milder.low, "high_mm": finest.milder.high}
        reasons.append(message(messages.FINE_STRICTEST, **black))
    if finest.places:
        left, top, right, bottom = finest.places[0]
        reasons.append(
            message(
                messages.FINE_WHERE,
                across=f"{50 * (left + right) / width:.0f}",
                down=f"{50 * (top + bottom) / height:.0f}",
            )
        )
    wider = width_mm * finest.line.high / finest.has_mm
    reasons.append(advice(messages.FINE_CURES, high_mm=finest.line.high, up_to_mm=wider))
    if finest.level == TOO_FINE and not printer.prints_white:
        reasons.append(message(messages.FINE_SERVICE))
    return reasons


def places_figure(finest: Finest | None, source: str, width: int, height: int) -> Figure | None:
    """Return the picture with rings round its narrowest parts; ``source`` is the attribute that loads it.

    None if the printer holds every part.
    """
    if finest is None or finest.level == FINE_ENOUGH or not finest.places:
        return None
    scale = min((WIDTH - 2 * OFF) / width, MOST_HIGH / height)
    across, down = width * scale, height * scale
    rings = "".join(
        f'<rect x="{OFF + left * scale - OFF:.1f}" y="{top * scale:.1f}" width="{(right - left) * scale + 2 * OFF:.1f}"'
        f' height="{(bottom - top) * scale + 2 * OFF:.1f}" rx="{OFF}"/>'
        for left, top, right, bottom in finest.places
    )
    place = f'x="{OFF}" y="{OFF}" width="{across:.1f}" height="{down:.1f}"'
    alt = messages.FINE_ALT.format(colour=finest.name)
    return Figure(
        f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
        f' viewBox="0 0 {across + 2 * OFF:.1f} {down + 2 * OFF:.1f}" role="img"><title>{alt}</title>'
        f'<rect {place} fill="#f3f1ea"/><image {source} {place} preserveAspectRatio="none"/>'
        f'<g fill="none" stroke="{PAPER}" stroke-width="7">{rings}</g>'
        f'<g fill="none" stroke="{INK}" stroke-width="3">{rings}</g></svg>',
        alt,
    )
