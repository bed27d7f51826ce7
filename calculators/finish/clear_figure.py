"""The edge of a film under its clear, in section: heights to one scale, lengths not."""

from __future__ import annotations

from calculators import messages
from calculators.declare import Figure
from calculators.markup import escape

WIDTH, HEIGHT = 520, 236
#: The paint begins here, and the clear over the film may rise so far above it.
GROUND, ROOM = 196, 160
LEFT, EDGE, RIGHT, WORDS = 0, 180, 340, 356
#: The slope with which the clear rises over the edge.
SLOPE = 26


def clear_figure(edge_um: float, dry_um: float, cover_um: float, alt: str) -> Figure:
    """Return the section at the edge of a film ``edge_um`` high under ``dry_um`` of clear, sanded to ``cover_um``."""
    scale = ROOM / (edge_um + dry_um)
    edge, dry = edge_um * scale, dry_um * scale
    flat = (edge_um + cover_um) * scale
    low, high, film, level = GROUND - dry, GROUND - edge - dry, GROUND - edge, GROUND - flat
    rising = f"M{LEFT} {low:.1f}H{EDGE - SLOPE}L{EDGE + SLOPE} {high:.1f}H{RIGHT}"
    shape = f"{rising}V{GROUND}H{LEFT}Z"
    parts = [
        f'<path class="dw-glass" fill="#d5e6e8" d="{shape}"/>',
        f'<path class="dw-accent-fill" fill="#7a2232" d="M{EDGE} {GROUND}V{film:.1f}H{RIGHT}V{GROUND}Z"/>',
        f'<path class="dw-water-line" stroke="#1d6a73" stroke-width="2.5" fill="none" d="{rising}"/>',
        f'<path class="dw-ink" stroke="#1c2226" stroke-dasharray="7 5" fill="none" d="M{LEFT} {level:.1f}H{RIGHT}"/>',
        f'<path class="dw-ink" stroke="#1c2226" stroke-width="3" fill="none" d="M{LEFT} {GROUND}H{RIGHT}"/>',
    ]
    at = 0.0
    for y, words in sorted(
        [
            ((high + level) / 2, messages.CLEAR_SANDED),
            ((level + film) / 2, messages.CLEAR_COVER),
            ((film + GROUND) / 2, messages.CLEAR_FILM),
            (GROUND + 12.0, messages.CLEAR_PAINT),
        ]
    ):
        at = max(at + 20, y + 5)
        parts.append(
            f'<text class="dw-label" x="{WORDS}" y="{at:.1f}" font-size="15" fill="#1c2226">{escape(words)}</text>'
        )
    return Figure(
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" role="img">'
        f"<title>{escape(alt)}</title>{''.join(parts)}</svg>",
        alt,
    )
