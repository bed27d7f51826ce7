"""Pictures with white areas, and what each area means: the truth that the first guess is held to.

Each picture is drawn here, or comes with the demonstration or with scikit-image. The meaning of every area
was written down by hand, with the reason, before anything was tuned; what two people of the trade would mark
differently (an outlined star, a trellis, a spoked wheel) is left out. A point stands for the area it lies in, as shares
of the picture's width and height. A hash of the name puts a picture into the half to tune on or the half to test.
"""

from __future__ import annotations

from collections.abc import Iterator

from tests.corpus.white_drawing import (
    BACKGROUND,
    CROSS,
    DEMO,
    GROUND,
    HOLE,
    INK,
    MAROON,
    NAVY,
    RED,
    SAMPLES,
    WANTED,
    Meant,
    WhitePicture,
    all_mean,
    as_jpeg,
    demo,
    disc,
    of_file,
    ring,
    svg,
)
from tests.corpus.white_emblems import EMBLEMS, LETTERS


def pictures() -> Iterator[WhitePicture]:
    """Yield every picture."""
    yield from _rings()
    yield from LETTERS
    yield from EMBLEMS
    yield from TO_THE_BORDER
    yield from CLEAR
    yield from FOUND


def _rings() -> Iterator[WhitePicture]:
    inside = "A ring alone: nothing is drawn inside, so the paint shows there."
    for name, radius, wide in (("ring", 80, 24), ("ring-heavy", 70, 50), ("ring-light", 90, 12)):
        yield WhitePicture(
            name,
            svg(ring(120, 120, radius, wide, MAROON)),
            (Meant(0.02, 0.02, BACKGROUND, GROUND), Meant(0.5, 0.5, HOLE, inside)),
        )
    yield WhitePicture(
        "ring-as-jpeg",
        as_jpeg(svg(ring(120, 120, 80, 24, NAVY)), 80),
        (Meant(0.02, 0.02, BACKGROUND, GROUND), Meant(0.5, 0.5, HOLE, inside)),
    )
    yield WhitePicture(
        "two-rings-linked",
        svg(ring(85, 120, 60, 16, NAVY) + ring(155, 120, 60, 16, NAVY)),
        (
            Meant(0.02, 0.02, BACKGROUND, GROUND),
            *all_mean(HOLE, "Rings: the paint shows through them.", (0.2, 0.5), (0.5, 0.5), (0.8, 0.5)),
        ),
    )
    yield WhitePicture(
        "roundel",
        svg(disc(120, 120, 100, NAVY) + disc(120, 120, 66, "#ffffff") + disc(120, 120, 32, RED)),
        (
            Meant(0.02, 0.02, BACKGROUND, GROUND),
            Meant(0.5, 0.28, WANTED, "The white ring of a roundel, between two colours."),
        ),
    )
    yield WhitePicture(
        "roundel-edged",
        svg(ring(120, 120, 104, 3, INK) + disc(120, 120, 60, RED)),
        (
            Meant(0.02, 0.02, BACKGROUND, GROUND),
            Meant(0.5, 0.15, WANTED, "White field of a roundel: its thin edge and its disc stand on it."),
        ),
    )


OUTER_CORNER = "A corner outside the marking, which reaches the border of the picture."
TO_THE_BORDER = (
    WhitePicture(
        "disc-cut-close",
        svg(disc(120, 120, 120, MAROON)),
        all_mean(BACKGROUND, OUTER_CORNER, (0.03, 0.03), (0.97, 0.03), (0.03, 0.97), (0.97, 0.97)),
    ),
    WhitePicture(
        "band-across",
        svg(
            '<path fill="#1f3b4d" d="M0 90H240V150H0Z"/>'
            f'<path d="{CROSS}" fill="#ffffff" transform="translate(84 84) scale(0.3)"/>'
        ),
        (
            *all_mean(BACKGROUND, "White above and below a band that runs across the picture.", (0.5, 0.1), (0.5, 0.9)),
            Meant(0.5, 0.5, WANTED, "A white cross on a band of colour."),
        ),
    ),
    WhitePicture(
        "stripes",
        svg('<path fill="#ffffff" d="M0 60H240V100H0ZM0 140H240V180H0Z"/>', RED),
        all_mean(WANTED, "A white stripe of a marking that fills its picture.", (0.5, 0.33), (0.5, 0.66)),
    ),
    WhitePicture(
        "slanting-bars",
        svg(
            "".join(f'<path fill="#ffffff" d="M{x} 60L{x + 60} 0h40L{x + 40} 60Z"/>' for x in (20, 100, 180)),
            INK,
            320,
            60,
        ),
        all_mean(
            WANTED, "A white bar of a warning band that fills its picture.", (0.22, 0.5), (0.47, 0.5), (0.72, 0.5)
        ),
    ),
    WhitePicture(
        "letters-cut-close",
        svg(
            '<path fill="#1c2226" d="M0 0h30v45h40v-45h30v120h-30v-47h-40v47h-30zM130 0h30v120h-30zM190 '
            '0h30v120h-30z"/>',
            "#ffffff",
            220,
            120,
        ),
        all_mean(
            BACKGROUND,
            "White between letters that reach the border of the picture.",
            (0.22, 0.1),
            (0.22, 0.9),
            (0.52, 0.5),
            (0.8, 0.5),
        ),
    ),
    WhitePicture(
        "crest-on-grey-card",
        svg(
            disc(120, 120, 90, NAVY)
            + disc(120, 120, 70, "#ffffff")
            + '<path d="M84 150L120 84L156 150Z" fill="#3d6b45"/>',
            "#d5d2ca",
        ),
        (Meant(0.5, 0.27, WANTED, "The white field of a crest, on a card that is not white."),),
    ),
)


CLEAR_GROUND = "The picture is clear round the marking."
CLEAR = (
    WhitePicture(
        "clear-ring",
        svg(ring(120, 120, 80, 24, MAROON), None),
        (Meant(0.02, 0.02, BACKGROUND, CLEAR_GROUND), Meant(0.5, 0.5, HOLE, "Clear inside a ring.")),
    ),
    WhitePicture(
        "clear-white-disc",
        svg(ring(120, 120, 80, 24, MAROON) + disc(120, 120, 69, "#ffffff"), None),
        (
            Meant(0.02, 0.02, BACKGROUND, CLEAR_GROUND),
            Meant(0.5, 0.5, WANTED, "White was drawn there, where it could have been left clear."),
        ),
    ),
    WhitePicture(
        "clear-white-outline",
        svg(disc(120, 120, 84, "#ffffff") + disc(120, 120, 70, RED), None),
        (Meant(0.02, 0.02, BACKGROUND, CLEAR_GROUND), Meant(0.5, 0.18, WANTED, "A white outline, drawn on nothing.")),
    ),
    WhitePicture(
        "hull-number-clear",
        demo("teasel-hull-number.svg", 240, None),
        (
            *all_mean(
                BACKGROUND,
                "Clear between letters that reach the border of the picture.",
                (0.03, 0.63),
                (0.31, 0.52),
                (0.73, 0.5),
                (0.97, 0.74),
            ),
            *all_mean(WANTED, "White lettering on nothing.", (0.12, 0.6), (0.5, 0.95), (0.9, 0.05)),
        ),
    ),
    WhitePicture(
        "load-line-clear",
        demo("teasel-load-line-port.svg", 420, None),
        (
            Meant(0.45, 0.85, BACKGROUND, CLEAR_GROUND),
            *all_mean(HOLE, "Inside the ring of a load line the hull shows.", (0.771, 0.279), (0.771, 0.713)),
            Meant(0.586, 0.172, HOLE, "The counter of a letter."),
            Meant(0.01, 0.533, BACKGROUND, "Clear between a letter and the border."),
            *all_mean(
                WANTED,
                "White lines and letters on nothing.",
                (0.7702, 0.4795),
                (0.5821, 0.1189),
                (0.9464, 0.291),
                (0.5083, 0.127),
                (0.5321, 0.127),
                (0.2607, 0.3074),
                (0.0131, 0.2828),
                (0.5083, 0.2992),
                (0.0107, 0.4713),
                (0.0131, 0.6844),
            ),
        ),
    ),
    WhitePicture(
        "draught-figures-on-navy",
        demo("teasel-draught-figures.svg", 120, NAVY),
        all_mean(
            WANTED,
            "White figures on colour.",
            (0.25, 0.103),
            (0.288, 0.29),
            (0.546, 0.3),
            (0.26, 0.498),
            (0.26, 0.714),
            (0.3, 0.969),
        ),
    ),
)


CREST_CORNER, CREST_FIELD = "A corner round the crest.", "The white field of the crest, with the sprig on it."
CREST_SPRIG = (WANTED, "The white field seen between leaves and berries.")
FOUND = (
    WhitePicture(
        "demo-crest",
        demo("crest-left.svg", 300, "#ffffff"),
        (*all_mean(BACKGROUND, CREST_CORNER, (0.02, 0.02), (0.98, 0.98)), Meant(0.5, 0.87, WANTED, CREST_FIELD)),
        CREST_SPRIG,
    ),
    WhitePicture(
        "demo-crest-clear",
        of_file(DEMO / "crest-200px.png"),
        (
            *all_mean(BACKGROUND, CREST_CORNER, (0.02, 0.02), (0.98, 0.02), (0.02, 0.98), (0.98, 0.98)),
            Meant(0.5, 0.87, WANTED, CREST_FIELD),
        ),
        CREST_SPRIG,
    ),
    WhitePicture(
        "demo-crest-enlarged",
        of_file(DEMO / "crest-600px-enlarged.png"),
        (
            *all_mean(BACKGROUND, CREST_CORNER, (0.02, 0.02), (0.98, 0.02), (0.02, 0.98), (0.98, 0.98)),
            Meant(0.5, 0.87, WANTED, CREST_FIELD),
        ),
        CREST_SPRIG,
    ),
    WhitePicture(
        "fleet-number",
        demo("fleet-number.svg", 240, "#ffffff"),
        all_mean(BACKGROUND, GROUND, (0.11, 0.005), (0.498, 0.944), (0.902, 0.005), (0.919, 0.716)),
    ),
    WhitePicture(
        "sample-horse",
        of_file(SAMPLES / "horse.png"),
        (Meant(0.02, 0.02, BACKGROUND, GROUND),),
    ),
    WhitePicture(
        "sample-logo",
        of_file(SAMPLES / "logo.png"),
        (Meant(0.02, 0.02, BACKGROUND, "White round the disc, one with the white line through it."),),
        (WANTED, "A light in the picture that the disc shows."),
    ),
    WhitePicture(
        "sample-phantom",
        of_file(SAMPLES / "phantom.png"),
        (Meant(0.5, 0.05, WANTED, "A white ring drawn on black, with grey inside."),),
    ),
    WhitePicture(
        "sample-chessboard",
        of_file(SAMPLES / "chessboard_GRAY.png"),
        all_mean(
            WANTED,
            "A white square of a board that fills its picture.",
            *(
                ((column + 0.5) / 8, (row + 0.5) / 8)
                for row in range(8)
                for column in range(8)
                if (row + column) % 2 == 0
            ),
        ),
    ),
)
