"""What lettering asks of a font, as declared fields: shown only where letters come from one."""

from __future__ import annotations

from calculators.declare import NamedFile, any_file, choice, folded, number, yes_no
from calculators.lettering import (
    ARCH,
    BOWL,
    BY_RULE,
    CAPITALS,
    CONDENSED,
    FIGURES,
    FONTS,
    OWN_FONT,
    SANS,
    SLAB,
    STRAIGHT,
)

_IN_FONT = ("letters", FONTS)


def letters() -> str:
    """Declare where the letters come from."""
    made: str = choice(
        "Letters",
        default=BY_RULE,
        options={
            BY_RULE: "Drawn by a rule",
            SANS: "Plain sans",
            SLAB: "Slab serif",
            CONDENSED: "Condensed sans",
            OWN_FONT: "A font of my own",
        },
        help="A rule fixes height, width, stroke and gap. A font has shapes of its own, and you give the height.",
    )
    return made


def font_file() -> NamedFile | None:
    """Declare the reader's own font."""
    made: NamedFile | None = any_file(
        "Your font file",
        accept=".ttf,.otf,.woff,.woff2",
        help="TTF, OTF, WOFF or WOFF2. It stays on your device.",
        only_when=("letters", OWN_FONT),
    )
    return made


def height() -> float:
    """Declare how high the letters are."""
    made: float = number(
        "Height of the letters, on the real thing", unit="mm", low=5, high=5000, default=200, only_when=_IN_FONT
    )
    return made


def height_of() -> str:
    """Declare which letters have that height."""
    made: str = choice(
        "That is the height of",
        default=CAPITALS,
        options={CAPITALS: "The capitals", FIGURES: "The figures"},
        only_when=_IN_FONT,
    )
    return made


def baseline() -> str:
    """Declare the line on which letters stand."""
    made: str = choice(
        "The letters stand on",
        default=STRAIGHT,
        options={
            STRAIGHT: "A straight line",
            ARCH: "An arc, highest in the middle",
            BOWL: "An arc, lowest in the middle",
        },
        only_when=_IN_FONT,
    )
    return made


def radius() -> float:
    """Declare the radius of an arc."""
    made: float = number(
        "Radius of that arc, on the real thing",
        unit="mm",
        low=10,
        high=1_000_000,
        default=2000,
        only_when=("baseline", (ARCH, BOWL)),
    )
    return made


def kerned() -> bool:
    """Declare whether pairs of letters are kerned."""
    made: bool = folded(
        yes_no("Kerning", default=True, help="Pairs such as AV move together as the font has it.", only_when=_IN_FONT)
    )
    return made


def space(between: str, help: str = "") -> float:
    """Declare what is added to the space ``between`` letters or words."""
    label = f"More space between {between}, on the real thing"
    made: float = folded(number(label, unit="mm", low=-500, high=5000, default=0, help=help, only_when=_IN_FONT))
    return made
