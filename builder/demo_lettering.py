"""The lettering of the demonstration, drawn by the calculators of lettering and of load lines.

``python -m builder.demo`` writes it into content/demo/.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from calculators import catalogue

#: What the drawings of the launch and of the railcar are at.
TEASEL, RAILCAR = 35.0, 43.5
INK, MAROON, RED, NIGHT, YELLOW, GREEN, WHITE, GOLD = (
    "#1c2226",
    "#7a2232",
    "#c63f2b",
    "#1f3b4d",
    "#f2b61b",
    "#2c5138",
    "#ffffff",
    "#c8993a",
)


@dataclass(frozen=True)
class Drawn:
    """A drawing that one calculator makes of ``inputs``, with what it is and what it says of itself."""

    calculator: str
    inputs: Mapping[str, Any]
    title: str
    says: str


_LOAD_LINE = {"letters": "RK", "lines": "TF 110, F 55, T 55, S 0, W -55", "colour": WHITE, "scale": TEASEL}
#: The drawings by their files.
DRAWN = {
    "fleet-number.svg": Drawn(
        "lettering",
        {
            "text": "12",
            "rule": "own-measure",
            "height_mm": 226.0,
            "colour": GOLD,
            "outline_mm": 0.1,
            "outline_colour": INK,
            "shadow_right_mm": 0.25,
            "shadow_down_mm": 0.25,
            "shadow_colour": INK,
            "scale": RAILCAR,
        },
        "Fleet number 12",
        "Shaded block figures 226 mm high on the real thing. The same on either side: figures are never mirrored.",
    ),
    "teasel-hull-number.svg": Drawn(
        "lettering",
        {
            "text": "T 27",
            "rule": "own-measure",
            "height_mm": 280.0,
            "corners": "square",
            "colour": WHITE,
            "scale": TEASEL,
        },
        "Hull number of the harbour launch Teasel",
        "T 27, block figures 280 mm high on the real thing. The same on either bow.",
    ),
    "teasel-load-line-port.svg": Drawn(
        "load-line",
        {**_LOAD_LINE, "side": "port"},
        "Load line of the harbour launch Teasel, port side",
        "A ring 300 mm across on the real thing with its line, and the load lines forward of it, the bow to the left.",
    ),
    "teasel-load-line-starboard.svg": Drawn(
        "load-line",
        {**_LOAD_LINE, "side": "starboard"},
        "Load line of the harbour launch Teasel, starboard side",
        "A ring 300 mm across on the real thing with its line, and the load lines forward of it, the bow to the right.",
    ),
    "teasel-draught-figures.svg": Drawn(
        "load-line",
        {"draw": "draught-figures-metric", "first_m": 0.4, "last_m": 1.2, "colour": WHITE, "scale": TEASEL},
        "Draught figures of the harbour launch Teasel",
        "4 decimetres to 1.2 metres: figures 100 mm high on the real thing, read at their foot. Either side.",
    ),
}


@dataclass(frozen=True)
class Notice:
    """A notice by the door: left edge and width on the model, ground, and lines with their heights, in mm."""

    left: float
    width: float
    ground: str
    colour: str
    lines: tuple[tuple[str, float], ...]


#: All are so high, with corners of this radius, and have so much room between two lines, in mm on the model.
NOTICE_HIGH, NOTICE_ROUND, BETWEEN = 3.4, 0.3, 0.42
NOTICES = (
    Notice(0, 6.4, WHITE, INK, (("MIND", 0.95), ("THE STEP", 0.8))),
    Notice(8, 5.6, MAROON, WHITE, (("PULL", 1.2),)),
    Notice(15.2, 7.2, WHITE, RED, (("NO", 0.95), ("SMOKING", 0.8))),
    Notice(24, 5.6, NIGHT, WHITE, (("MAIL", 1.2),)),
    Notice(31.2, 7.2, YELLOW, INK, (("SEATS", 0.8), ("48", 1.1))),
    Notice(40, 6.4, WHITE, GREEN, (("WAY", 0.95), ("OUT", 0.95))),
)


def drawings() -> dict[str, str]:
    """Return every drawing of lettering as SVG by its file."""
    made = {name: _titled(_svg(each.calculator, each.inputs), each.title, each.says) for name, each in DRAWN.items()}
    return {**made, "door-notices.svg": _notices()}


def _svg(calculator: str, inputs: Mapping[str, Any]) -> str:
    """Return the SVG file of a calculator."""
    found = catalogue.find(calculator)
    svg: bytes = found.answer(found.inputs(**inputs)).svg.data
    return svg.decode()


def _titled(svg: str, title: str, says: str) -> str:
    head, rest = svg.split(">", 1)
    # A micrometre is fine enough for a size.
    head = re.sub(r"\d+\.\d+", lambda found: f"{float(found[0]):.3f}".rstrip("0").rstrip("."), head)
    return f"{head}>" + re.sub(r"<title>[^<]*</title>", f"<title>{title}</title>\n<desc>{says}</desc>", rest, count=1)


def _notices() -> str:
    """Return the row of notices: grounds with lettering, each line centred."""
    body = "".join(_notice(each) for each in NOTICES)
    width = NOTICES[-1].left + NOTICES[-1].width
    says = (
        "Six notices in a row, each 148 mm high on the real thing; their letters are 0.8 to 1.2 mm high on the model."
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:g}mm" height="{NOTICE_HIGH:g}mm" '
        f'viewBox="0 0 {width:g} {NOTICE_HIGH:g}">\n<title>Door notices</title>\n<desc>{says}</desc>\n{body}</svg>\n'
    )


def _notice(notice: Notice) -> str:
    corner, across, down = NOTICE_ROUND, notice.width - 2 * NOTICE_ROUND, NOTICE_HIGH - 2 * NOTICE_ROUND
    ground = (
        f"M{notice.left + corner:g} 0h{across:g}a{corner} {corner} 0 0 1 {corner} {corner}v{down:g}"
        f"a{corner} {corner} 0 0 1 -{corner} {corner}h-{across:g}a{corner} {corner} 0 0 1 -{corner} -{corner}"
        f"v-{down:g}a{corner} {corner} 0 0 1 {corner} -{corner}z"
    )
    made = f'<path fill="{notice.ground}" d="{ground}"/>\n'
    high = sum(height for _text, height in notice.lines) + BETWEEN * (len(notice.lines) - 1)
    top = (NOTICE_HIGH - high) / 2
    for text, height in notice.lines:
        inputs = {"text": text, "rule": "own-measure", "height_mm": height * RAILCAR, "scale": RAILCAR}
        svg = _svg("lettering", inputs | {"colour": notice.colour})
        found = re.search(r'width="([0-9.]+)mm"', svg)
        assert found
        left = notice.left + (notice.width - float(found[1])) / 2
        made += f'<g transform="translate({left:.4f} {top:.4f})">\n{_paths(svg)}</g>\n'
        top += height + BETWEEN
    return made


def _paths(svg: str) -> str:
    return "".join(f"{each}\n" for each in re.findall(r"<path [^>]*/>", svg))
