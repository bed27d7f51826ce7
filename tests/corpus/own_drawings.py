"""Forty drawings by code: shields, roundels, bands, rules, lettering; ten of them with gradients.

All names are invented. White is written as ``WANTED`` (it was drawn there) or ``GROUND`` (nothing was drawn there), so
that what each white area means follows from the drawing. Letters are outlines of
fonts with an open licence (letters.py).
"""

from __future__ import annotations

from collections.abc import Iterator

from tests.corpus.drawings import GROUND, WANTED, Drawing
from tests.corpus.letters import LICENCE, MONO, SANS, SERIF, outlines

NAVY, MAROON, GOLD, RED, GREEN, INK, IVORY = "#1f3b4d", "#7a2232", "#c8993a", "#c4161c", "#2f6b3f", "#1c2226", "#efe4c4"
BLUE, SKY, ORANGE, BLACK, YELLOW, GREY = "#003f87", "#4aa3df", "#e0701a", "#000000", "#f6c800", "#8a8f86"
SHIELD = "M20 20H180V110C180 160 140 185 100 205C60 185 20 160 20 110Z"


def drawings() -> list[Drawing]:
    """Return all forty, the same each time."""
    flat = [
        *_shields(),
        *_roundels(),
        *_bands(),
        *_rules(),
        *_light_lettering(),
        *_dark_lettering(),
        *_outlined(),
        *_shadowed(),
    ]
    return [*flat, *_gradients()]


def _own(name: str, body: str, width: float, height: float, ground: str = GROUND, **more) -> Drawing:
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:g} {height:g}">'
        f'<rect width="{width:g}" height="{height:g}" fill="{ground}"/>{body}</svg>'
    )
    return Drawing(f"own/{name}", "own", f"drawn here; letters {LICENCE}", svg, **more)


def _path(data: str, fill: str, more: str = "") -> str:
    return f'<path d="{data}" fill="{fill}" {more}/>'


def _disc(x: float, y: float, radius: float, fill: str) -> str:
    return f'<circle cx="{x}" cy="{y}" r="{radius}" fill="{fill}"/>'


def _box(x: float, y: float, width: float, height: float, fill: str) -> str:
    return f'<rect x="{x}" y="{y}" width="{width}" height="{height}" fill="{fill}"/>'


def _shields() -> Iterator[Drawing]:
    fields = (
        (RED, BLUE, YELLOW),
        (NAVY, MAROON, GOLD),
        (GREEN, BLACK, YELLOW),
        (BLUE, RED, SKY),
        (MAROON, INK, ORANGE),
    )
    for number, (field, chief, charge) in enumerate(fields):
        body = _path(SHIELD, field, f'stroke="{INK}" stroke-width="4"')
        body += _box(22, 22, 156, 46, chief) + _path(
            outlines("ROWANSKERRY", 100, 52, 14, weight=400 + 100 * (number % 3)), WANTED
        )
        body += _disc(100, 125, 30, charge) + _path(
            "M100 102L107 119H125L110 130L116 148L100 137L84 148L90 130L75 119H93Z", WANTED
        )
        body += _path(outlines(f"R.{12 + number}", 100, 180, 12, family=SERIF), WANTED)
        yield _own(f"shield-{number}", body, 200, 215, lettering=WANTED)


def _roundels() -> Iterator[Drawing]:
    for number, (outer, inner) in enumerate(((NAVY, RED), (RED, BLUE), (GREEN, ORANGE), (BLACK, GOLD))):
        body = _disc(100, 100, 92, outer) + _disc(100, 100, 60, WANTED) + _disc(100, 100, 36, inner)
        if number % 2:
            body += "".join(
                _disc(100, 100, radius, fill) for radius, fill in ((30, WANTED), (27, inner), (24, WANTED), (22, inner))
            )
        body += _path(outlines(("TEASEL", "RAILCAR", "LAUNCH", "HARBOUR")[number], 100, 33, 11, weight=600), WANTED)
        yield _own(f"roundel-{number}", body, 200, 200, lettering=WANTED)


def _bands() -> Iterator[Drawing]:
    for number, (first, second) in enumerate(((YELLOW, BLACK), (RED, WANTED), (NAVY, IVORY))):
        slant = 20 if number < 2 else 0
        body = _box(10, 20, 300, 60, second)
        body += "".join(
            _path(f"M{x} 80L{x + slant} 20H{x + slant + 20}L{x + 20} 80Z", first) for x in range(20, 270, 40)
        )
        yield _own(f"band-{number}", body, 320, 100)


def _rules() -> Iterator[Drawing]:
    for number, (ground, line, second) in enumerate(
        ((MAROON, GOLD, IVORY), (NAVY, WANTED, RED), (IVORY, BLACK, GREEN))
    ):
        body = "".join(_box(16, 14 + 20 * at, 268, 1 + 0.7 * at, line) for at in range(5))
        body += f'<rect x="20" y="120" width="260" height="64" rx="14" fill="none" stroke="{line}" stroke-width="3"/>'
        body += f'<path d="M30 150C90 110 200 190 270 150" fill="none" stroke="{second}" stroke-width="4"/>'
        body += _box(140, 132, 20, 40, second)
        yield _own(f"rules-{number}", body, 300, 200, ground)


def _light_lettering() -> Iterator[Drawing]:
    made = (
        (RED, WANTED, SANS, 400, GOLD),
        (NAVY, IVORY, SERIF, 400, RED),
        (BLACK, YELLOW, SANS, 300, GREEN),
        (GREEN, WANTED, MONO, 400, YELLOW),
        (MAROON, WANTED, SERIF, 600, NAVY),
    )
    for number, (ground, light, family, weight, second) in enumerate(made):
        body = _box(12, 12, 276, 6, second)
        for text, baseline, height in (
            ("ROWANSKERRY", 52, 24),
            ("LIGHT RAILWAY", 84, 17),
            ("RAILCAR 12  TEASEL 35", 108, 12),
        ):
            body += _path(outlines(text, 150, baseline, height, family=family, weight=weight), light)
        yield _own(f"light-lettering-{number}", body + _disc(150, 128, 8, second), 300, 146, ground, lettering=light)


def _dark_lettering() -> Iterator[Drawing]:
    for number, (ground, dark, second, family) in enumerate(
        (
            (GROUND, INK, RED, SANS),
            (YELLOW, BLACK, BLUE, SERIF),
            (IVORY, MAROON, GREEN, MONO),
            (GROUND, NAVY, ORANGE, SERIF),
        )
    ):
        body = "".join(
            _path(outlines(text, 150, baseline, height, family=family), dark)
            for text, baseline, height in (
                ("DOORS OPEN OUTWARD", 40, 16),
                ("Rowanskerry", 78, 24),
                ("Board 68 / depot", 108, 13),
            )
        )
        yield _own(f"dark-lettering-{number}", body + _box(20, 120, 260, 5, second), 300, 140, ground)


def _outlined() -> Iterator[Drawing]:
    for number, (fill, edge, text) in enumerate(
        ((WANTED, RED, "BOARD 68"), (YELLOW, NAVY, "REED 90"), (WANTED, BLACK, "DOGE 46"))
    ):
        letters = outlines(text, 160, 76, 40, weight=800)
        body = _path(letters, edge, f'stroke="{edge}" stroke-width="5" stroke-linejoin="round"') + _path(letters, fill)
        yield _own(f"outlined-{number}", body, 320, 112)


def _shadowed() -> Iterator[Drawing]:
    for number, (fill, shade, text) in enumerate(
        ((GOLD, BLACK, "RAB 80"), (RED, GREY, "DEPOT 6"), (WANTED, NAVY, "ORB 99"))
    ):
        letters = outlines(text, 160, 78, 47, family=SERIF if number else SANS, weight=700)
        body = _path(letters, shade, 'transform="translate(5 5)"')
        if fill == WANTED:
            body += _path(letters, shade, f'stroke="{shade}" stroke-width="4"')
        yield _own(f"shadowed-{number}", body + _path(letters, fill), 320, 112)


def _gradients() -> Iterator[Drawing]:
    pairs = ((RED, YELLOW), (NAVY, SKY), (GREEN, IVORY), (MAROON, ORANGE), (BLACK, GREY))
    for number in range(10):
        first, second = pairs[number % 5]
        kind, ends = (
            ("linearGradient", 'x1="0" y1="0" x2="0.6" y2="1"')
            if number < 5
            else ("radialGradient", 'cx="0.5" cy="0.4" r="0.7"')
        )
        defined = (
            f'<defs><{kind} id="g" {ends}><stop offset="0" stop-color="{first}"/>'
            f'<stop offset="1" stop-color="{second}"/>'
            f"</{kind}></defs>"
        )
        shape = (_path(SHIELD, "url(#g)"), _disc(100, 108, 90, "url(#g)"), _box(10, 60, 180, 90, "url(#g)"))[number % 3]
        body = defined + shape + _path(outlines("TEASEL", 100, 120, 24, weight=600), "#ffffff")
        yield _own(f"gradient-{number}", body, 200, 215, "#ffffff", flat=False)
