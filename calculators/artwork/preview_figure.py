"""Draw a marking to scale on its proof page."""

from __future__ import annotations

from binascii import b2a_base64

from calculators import example, messages
from calculators.declare import Figure
from calculators.files.print_checks import BAR_MM, DARK, LADDER_MM, LADDER_SIZE
from calculators.files.proof_page import MARGIN_MM, MARKING_X, MARKING_Y, ProofPage
from calculators.markup import escape
from calculators.numbers import significant

#: The height of labels in mm of the sheet, legible when the sheet fills a card.
LABEL_MM = 6.0


def preview_figure(page: ProofPage, field: str | None, *, crosses: bool = False) -> Figure:
    """Return the used part of ``page`` drawn in mm, on paper that stays white in every palette.

    The web page fills in the picture of ``field``; None stands for the example's own.
    """
    width = page.sheet_width_mm
    used = max(MARKING_Y + BAR_MM, MARKING_Y + page.height_mm, page.ladder_y + LADDER_SIZE[1]) + MARGIN_MM
    height = min(used, page.sheet_height_mm)
    # The web page also draws what overflows a drawing, so a sheet that goes on ends there without an edge.
    sheet = f"M0 {height:g}V0H{width:g}V{height:g}{'z' if height == page.sheet_height_mm else ''}"
    alt = messages.PREVIEW_ALT.format(
        width_mm=f"{significant(page.width_mm)} mm", height_mm=f"{significant(page.height_mm)} mm"
    )
    # Use the older name of href: the theme's scripts treat every plain one as a link.
    source = f'data-picture="{escape(field)}"' if field else f'xlink:href="data:image/png;base64,{_example()}"'
    return Figure(
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="-1 -1 '
        f'{width + 2:g} {height + 2:g}" role="img">'
        f"<title>{escape(alt)}</title>"
        f'<path d="{sheet}" fill="#fffefb" stroke="#a9a595" stroke-width="0.6"/>'
        f'<g fill="{DARK}">{_bars()}{_ladder(page)}{_crosses(page) if crosses else ""}</g>'
        f'<image class="dw-loupe" {source} x="{MARKING_X}" y="{MARKING_Y}" width="{page.width_mm:.3f}"'
        f' height="{page.height_mm:.3f}" preserveAspectRatio="none"/>'
        f'<g font-size="{LABEL_MM}" fill="{DARK}">'
        f'<text x="{MARKING_X + 3}" y="{MARKING_Y - 10}">{BAR_MM:g} mm</text></g></svg>',
        alt,
    )


def _bars() -> str:
    across, down = MARKING_Y - 8, MARGIN_MM + 4
    return (
        f'<path d="M{MARKING_X} {across - 1.5}h.5v1.2h{BAR_MM - 1}v-1.2h.5v3h-.5v-1.2h-{BAR_MM - 1}v1.2h-.5z"/>'
        f'<path d="M{down - 1.5} {MARKING_Y}v.5h1.2v{BAR_MM - 1}h-1.2v.5h3v-.5h-1.2v-{BAR_MM - 1}h1.2v-.5z"/>'
    )


def _crosses(page: ProofPage) -> str:
    return "".join(
        f'<path d="M{place.real:.2f} {place.imag:.2f}h{size.real:.2f}v{size.imag:.2f}h-{size.real:.2f}z"/>'
        for place, size in page.cross_boxes()
    )


def _ladder(page: ProofPage) -> str:
    """Return the ladder in outline: its lines are too thin for a screen to show them at their true width."""
    wide, high = LADDER_SIZE
    step = (high - 10) / len(LADDER_MM)
    lines = "".join(
        f'<path d="M{page.ladder_x + 9:.2f} {page.ladder_y + 10 + (place + 0.5) * step:.2f}h12v{line}h-12z"/>'
        for place, line in enumerate(LADDER_MM)
    )
    return lines + (
        f'<rect x="{page.ladder_x + wide - 20:.2f}" y="{page.ladder_y + 10:.2f}" width="20" height="{high - 10:.2f}"/>'
    )


def _example() -> str:
    return b2a_base64(example.picture().data, newline=False).decode()
