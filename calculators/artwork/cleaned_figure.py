"""Draw a picture beside the marking taken out of it."""

from __future__ import annotations

from binascii import b2a_base64

from calculators import messages
from calculators.cache import PICTURES
from calculators.declare import Figure
from calculators.figures.losses import alt_of, marks
from calculators.files.picture import Picture, read_picture
from calculators.files.png import png
from calculators.markup import escape
from calculators.pixels.downscaling import worked
from calculators.pixels.lost_parts import NOTHING_LOST, Losses
from calculators.pixels.raster import Raster

#: Sizes in SVG units: the drawing, a panel, the gap, the words beneath, and the greatest height of a panel.
WIDTH, PANEL, GAP, WORDS, MOST_HIGH = 520, 250, 20, 30, 360
#: How far marks may reach over a panel's edge.
EDGE = 4
#: The most pixels that the marking is drawn with.
MOST_DRAWN = 250_000
#: The colour of the card that holds the crest of the worked example.
CARD = (233, 229, 216)


def cleaned_figure(
    picture: Picture,
    marking: Raster | None,
    colours: int,
    *,
    own: bool,
    lost: Losses = NOTHING_LOST,
    places: tuple[int, int, int] = (1, 0, 0),
) -> Figure:
    """Return ``picture`` beside ``marking``, with squares behind its transparent
    parts; ``own``: the reader's own picture.

    Marks in both show what was ``lost``. ``places``: the width of the picture in the pixels of those
    marks, and the left and top of the marking in it.
    """
    source = 'data-picture="picture"' if own else _embedded(picture.data)
    first, first_high = _placed(source, 0, *picture.size_px)
    if marking is None:
        alt, second, high = messages.NOT_CLEANED_ALT, "", first_high - WORDS
    else:
        counted = messages.plural(colours, "colour")
        alt = messages.CLEANED_ALT.format(colours=counted, width_px=marking.width, height_px=marking.height) + alt_of(
            lost
        )
        drawn = worked(marking, MOST_DRAWN)
        source = f'class="dw-loupe" {_embedded(png(drawn.width, drawn.height, drawn.rgba))}'
        second, second_high = _placed(source, PANEL + GAP, marking.width, marking.height)
        high = max(first_high, second_high)
        wide, left, top = places
        scale = min(PANEL, MOST_HIGH * marking.width / marking.height) / marking.width
        picture_wide, picture_high = picture.size_px
        first += marks(lost, min(PANEL, MOST_HIGH * picture_wide / picture_high) / wide, 0, 0)
        if marked := marks(lost, scale, PANEL + GAP - scale * left, -scale * top):
            second += (
                '<clipPath id="clean-picture-marking">'
                f'<path d="M{PANEL + GAP - EDGE} '
                f'{-EDGE}h{PANEL + 2 * EDGE}v{second_high + 2 * EDGE:.1f}H{PANEL + GAP - EDGE}z"/>'
                f'</clipPath><g clip-path="url(#clean-picture-marking)">{marked}</g>'
            )
        second += _words(0, high, messages.BEFORE) + _words(PANEL + GAP, high, messages.AFTER)
    return Figure(
        f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 {WIDTH} '
        f'{high + WORDS:.1f}" role="img">'
        f"<title>{escape(alt)}</title>"
        '<defs><pattern id="clean-picture-squares" width="20" height="20" patternUnits="userSpaceOnUse">'
        '<path fill="#ffffff" d="M0 0h20v20H0z"/><path fill="#d9dcda" d="M0 0h10v10H0zM10 10h10v10H10z"/></pattern>'
        "</defs>"
        f"{first}{second}</svg>",
        alt,
    )


def _placed(source: str, left: float, width_px: int, height_px: int) -> tuple[str, float]:
    """Return a picture on its ground of squares, and its height in the drawing."""
    width = min(PANEL, MOST_HIGH * width_px / height_px)
    height = width * height_px / width_px
    place = f'x="{left}" y="0" width="{width:.2f}" height="{height:.2f}"'
    return (
        f'<rect {place} fill="url(#clean-picture-squares)"/><image {source} {place} preserveAspectRatio="none"/>',
        height,
    )


def _words(left: float, top: float, words: str) -> str:
    return f'<text class="dw-soft" x="{left}" y="{top + 22:.1f}" font-size="16" fill="#586066">{escape(words)}</text>'


def _embedded(data: bytes) -> str:
    # Use the older name of href: the theme's scripts treat every plain one as a link.
    return f'xlink:href="data:image/png;base64,{b2a_base64(data, newline=False).decode()}"'


def on_card(picture: Picture) -> Picture:
    """Return ``picture`` as a scan of a printed card: opaque, with card on all sides."""
    return PICTURES.remembered(picture.digest, ("on card",), lambda: _on_card(picture))


def _on_card(picture: Picture) -> Picture:
    (width, height), rgba = picture.size_px, bytearray(picture.pixels)
    for place in range(0, len(rgba), 4):
        if (alpha := rgba[place + 3]) != 255:
            mixed = (
                round((level * alpha + ground * (255 - alpha)) / 255)
                for level, ground in zip(rgba[place : place + 3], CARD, strict=True)
            )
            rgba[place : place + 4] = bytes((*mixed, 255))
    return read_picture(picture.name, png(width, height, bytes(rgba)), pixels=(width, height, bytes(rgba)), wanted=True)
