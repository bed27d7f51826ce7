"""Drawings of a colour over paint: swatches side by side, and a section through the layers."""

from __future__ import annotations

from calculators import messages
from calculators.colour.seen import Seen
from calculators.declare import Figure
from calculators.markup import escape

INK_LINE, WATER, PAPER = "#1c2226", "#1d6a73", "#fffefb"
#: The width of both drawings, in SVG units.
WIDTH = 520

#: The swatches: a card of white paper, and a panel of both paints.
SWATCH_HEIGHT, CARD_WIDTH, PANEL_LEFT = 120, 170, 190
#: The section: the most layers of white that are drawn apart; more become one block.
DRAWN_APART = 6
LAYER, BLOCK, FILM_HEIGHT, INK_HEIGHT, PAINT_HEIGHT, CUT_RIGHT = 12, 84, 16, 10, 44, 340


def swatches_figure(meant: str, seen: Seen, base_a: str, base_b: str) -> Figure:
    """Return the colour on white paper beside its look over both paints."""
    first, second = (side.colour for side in seen.sides)
    half = (WIDTH - PANEL_LEFT) / 2
    middle = PANEL_LEFT + half
    top, height = 28, SWATCH_HEIGHT - 56
    frame = f'fill="none" class="dw-ink" stroke="{INK_LINE}" stroke-width="2"'
    parts = [
        _block(0, 0, CARD_WIDTH, SWATCH_HEIGHT, "#ffffff"),
        _block(28, top, CARD_WIDTH - 56, height, meant),
        _block(PANEL_LEFT, 0, half, SWATCH_HEIGHT, base_a),
        _block(middle, 0, half, SWATCH_HEIGHT, base_b),
        _block(PANEL_LEFT + 40, top, half - 40, height, first),
        _block(middle, top, half - 40, height, second),
        f'<path d="M1 1H{CARD_WIDTH - 1}V{SWATCH_HEIGHT - 1}H1z" {frame}/>',
        f'<path d="M{PANEL_LEFT + 1} 1H{WIDTH - 1}V{SWATCH_HEIGHT - 1}H{PANEL_LEFT + 1}z" {frame}/>',
        _text(0, SWATCH_HEIGHT + 22, messages.AS_IT_IS_MEANT),
        _text(PANEL_LEFT, SWATCH_HEIGHT + 22, messages.AS_IT_IS_SEEN),
        _text(0, SWATCH_HEIGHT + 44, meant, soft=True),
        _text(PANEL_LEFT, SWATCH_HEIGHT + 44, first, soft=True),
        _text(middle, SWATCH_HEIGHT + 44, second, soft=True),
    ]
    alt = messages.SWATCHES_ALT.format(meant=meant, seen_a=first, seen_b=second, base_a=base_a, base_b=base_b)
    return Figure(_svg(SWATCH_HEIGHT + 52, "".join(parts), alt), alt)


def section_figure(artwork: str, film: str, film_is_white: bool, white_layers: int, base_a: str, base_b: str) -> Figure:
    """Return a section through the layers at the border of the two paints; heights are not to scale."""
    line = f'class="dw-ink" fill="none" stroke="{INK_LINE}" stroke-width="2"'
    apart = white_layers <= DRAWN_APART
    white_height = white_layers * LAYER if apart else BLOCK
    layers = messages.ONE_LAYER if white_layers == 1 else messages.LAYERS.format(count=white_layers)
    y, parts = (
        4.0,
        [
            (
                '<defs><pattern id="seen-colour-hatch" width="8" height="8" patternUnits="userSpaceOnUse"'
                ' patternTransform="rotate(45)"><path class="dw-hatch" stroke="#1c2226" stroke-width="1.5"'
                ' d="M0 0V8"/></pattern></defs>'
            )
        ],
    )
    labels = []

    def layer(left: float, height: float, words: str, *fills: str) -> None:
        nonlocal y
        right = CUT_RIGHT - left
        parts.extend(f'<path d="M{left} {y}H{right}v{height}H{left}z" {fill}/>' for fill in (*fills, line))
        labels.append((y + height / 2, right, words))
        y += height

    hatched = 'fill="url(#seen-colour-hatch)"'
    layer(40, INK_HEIGHT, messages.INK, f'fill="{artwork}"')
    if film_is_white:
        layer(24, FILM_HEIGHT, film.lower(), f'class="dw-white" fill="{PAPER}"', hatched)
    else:
        layer(24, FILM_HEIGHT, film.lower(), f'class="dw-film" fill="{WATER}" fill-opacity="0.25"')
    if white_layers:
        words = messages.WHITE_BENEATH.format(layers=layers)
        layer(48, white_height, words, f'class="dw-white" fill="{PAPER}"', hatched)
        if apart:
            lines = "".join(f"M48 {y - count * LAYER}H{CUT_RIGHT - 48}" for count in range(1, white_layers))
            parts.append(
                f'<path class="dw-printed" fill="none" stroke="{INK_LINE}" stroke-width="2" d="{lines}"/>'
                if lines
                else ""
            )
    middle = CUT_RIGHT / 2
    parts += [_block(4, y, middle - 4, PAINT_HEIGHT, base_a), _block(middle, y, middle - 4, PAINT_HEIGHT, base_b)]
    layer(4, PAINT_HEIGHT, messages.THE_PAINT.removeprefix("the "))
    parts.append(f'<path d="M{middle} {y - PAINT_HEIGHT}V{y}" {line}/>')
    parts += _beside(labels)
    alt = messages.SECTION_ALT.format(layers=layers, film=film.lower())
    return Figure(_svg(y + 12, "".join(parts), alt), alt)


def _beside(labels: list[tuple[float, float, str]]) -> list[str]:
    """Return the words beside their layers, each at least one line below the last, with a line to its layer."""
    parts, lowest = [], 0.0
    for middle, right, words in labels:
        text_y = max(middle, lowest)
        lowest = text_y + 22
        parts.append(
            f'<path class="dw-soft-line" fill="none" stroke="#586066" stroke-width="2" d="M{right + 4} '
            f'{middle}L{CUT_RIGHT + 14} {text_y}"/>'
        )
        parts.append(_text(CUT_RIGHT + 20, text_y + 6, words))
    return parts


def _block(x: float, y: float, width: float, height: float, colour: str) -> str:
    return f'<path d="M{x} {y}h{width}v{height}h-{width}z" fill="{colour}"/>'


def _text(x: float, y: float, words: str, *, soft: bool = False) -> str:
    classes, fill = ("dw-soft", "#586066") if soft else ("dw-label", INK_LINE)
    return f'<text class="{classes}" x="{x}" y="{y}" font-size="16" fill="{fill}">{escape(words)}</text>'


def _svg(height: float, body: str, alt: str) -> str:
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {height:g}" role="img">'
        f"<title>{escape(alt)}</title>{body}</svg>"
    )
