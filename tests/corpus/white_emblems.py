"""Letters and emblems with white in them."""

from __future__ import annotations

from tests.corpus.white_drawing import (
    BACKGROUND,
    COUNTER,
    CROSS,
    GOLD,
    GREEN,
    GROUND,
    HOLE,
    INK,
    MAROON,
    NAVY,
    O_SHAPE,
    RED,
    SHIELD,
    SIZE,
    STONE,
    WANTED,
    Meant,
    WhitePicture,
    all_mean,
    disc,
    lettered,
    ring,
    svg,
)

LETTERS = (
    WhitePicture(
        "white-o-on-colour", svg(O_SHAPE, MAROON), (Meant(0.3, 0.5, WANTED, "A white letter drawn on colour."),)
    ),
    WhitePicture(
        "white-o-on-panel",
        svg('<rect x="30" y="30" width="180" height="180" fill="#1f3b4d"/>' + O_SHAPE),
        (Meant(0.02, 0.02, BACKGROUND, GROUND), Meant(0.3, 0.5, WANTED, "A white letter on a panel of colour.")),
    ),
    WhitePicture(
        "letter-o",
        svg(O_SHAPE.replace("#ffffff", INK)),
        (Meant(0.02, 0.02, BACKGROUND, GROUND), Meant(0.5, 0.5, HOLE, COUNTER)),
    ),
    WhitePicture(
        "board-68",
        lettered("BOARD 68", INK, "#ffffff"),
        (
            Meant(0.01, 0.02, BACKGROUND, GROUND),
            *all_mean(
                HOLE,
                COUNTER,
                (0.136, 0.38),
                (0.136, 0.6),
                (0.25, 0.5),
                (0.379, 0.5),
                (0.494, 0.4),
                (0.61, 0.5),
                (0.789, 0.58),
                (0.881, 0.38),
                (0.881, 0.6),
            ),
        ),
    ),
    WhitePicture(
        "depot-lower",
        lettered("depot", NAVY, "#ffffff"),
        (
            Meant(0.01, 0.02, BACKGROUND, GROUND),
            *all_mean(HOLE, COUNTER, (0.23, 0.5), (0.366, 0.42), (0.525, 0.5), (0.67, 0.5)),
        ),
    ),
    WhitePicture(
        "white-words-on-panel",
        lettered("MAIL 40", "#ffffff", "#ffffff", panel=MAROON),
        (
            Meant(0.005, 0.02, BACKGROUND, GROUND),
            *all_mean(
                WANTED,
                "White lettering on a panel of colour.",
                (0.113, 0.52),
                (0.297, 0.72),
                (0.453, 0.5),
                (0.51, 0.5),
                (0.723, 0.59),
                (0.801, 0.5),
            ),
        ),
    ),
    WhitePicture(
        "white-7-on-disc",
        svg(disc(120, 120, 100, NAVY) + '<path fill="#ffffff" d="M76 62H168V90L124 182H92L134 92H76Z"/>'),
        (Meant(0.02, 0.02, BACKGROUND, GROUND), Meant(0.4, 0.3, WANTED, "A white figure on a disc of colour.")),
    ),
    WhitePicture(
        "outlined-h",
        svg(
            '<path d="M60 40h40v60h40v-60h40v160h-40v-60h-40v60h-40z" fill="#ffffff" stroke="#c63f2b" '
            'stroke-width="5"/>'
        ),
        (Meant(0.02, 0.02, BACKGROUND, GROUND), Meant(0.33, 0.5, WANTED, "A white letter with an edge of colour.")),
    ),
    WhitePicture(
        "black-o-on-white-plate",
        svg(
            '<rect x="20" y="50" width="200" height="140" fill="#ffffff" stroke="#1f3b4d" stroke-width="8"/>'
            + ring(120, 120, 38, 20, INK)
        ),
        (
            Meant(0.02, 0.02, BACKGROUND, GROUND),
            Meant(0.13, 0.5, WANTED, "A white plate in a frame, lettered."),
            Meant(0.5, 0.5, WANTED, "The counter of a letter on a white plate: the plate goes on beneath it."),
        ),
    ),
    WhitePicture(
        "o-of-gold-on-maroon",
        svg(
            '<rect x="20" y="50" width="200" height="140" fill="#7a2232"/>'
            + ring(120, 120, 44, 18, GOLD)
            + disc(120, 120, 35, "#ffffff")
        ),
        (
            Meant(0.02, 0.02, BACKGROUND, GROUND),
            Meant(0.5, 0.5, WANTED, "White on colour within a second colour: somebody put it there."),
        ),
    ),
)


EMBLEMS = (
    WhitePicture(
        "white-crest-on-white",
        svg(
            f'<path d="{SHIELD}" fill="#ffffff" stroke="#7a2232" stroke-width="5"/>'
            '<path d="M84 150L120 84L156 150Z" fill="#3d6b45"/>' + disc(120, 66, 12, GOLD)
        ),
        (
            Meant(0.02, 0.02, BACKGROUND, GROUND),
            Meant(0.3, 0.3, WANTED, "The white field of a crest, edged and charged."),
        ),
    ),
    WhitePicture(
        "plain-white-shield",
        svg(f'<path d="{SHIELD}" fill="#ffffff" stroke="#1c2226" stroke-width="4"/>'),
        (Meant(0.02, 0.02, BACKGROUND, GROUND), Meant(0.5, 0.5, WANTED, "A white shield drawn by its thin edge.")),
    ),
    WhitePicture(
        "quartered-shield",
        svg(
            f'<clipPath id="c"><path d="{SHIELD}"/></clipPath><g clip-path="url(#c)">'
            '<path fill="#c63f2b" d="M0 0H120V110H0ZM120 110H240V240H120Z"/></g>'
            f'<path d="{SHIELD}" fill="none" stroke="#1c2226" stroke-width="6"/>'
        ),
        (
            Meant(0.02, 0.02, BACKGROUND, GROUND),
            *all_mean(WANTED, "A white quarter, between two of colour.", (0.62, 0.3), (0.38, 0.6)),
        ),
    ),
    WhitePicture(
        "white-cross-on-disc",
        svg(disc(120, 120, 100, GREEN) + f'<path d="{CROSS}" fill="#ffffff"/>'),
        (Meant(0.02, 0.02, BACKGROUND, GROUND), Meant(0.5, 0.5, WANTED, "A white cross on a disc of colour.")),
    ),
    WhitePicture(
        "white-stars-on-flag",
        svg(
            '<rect x="30" y="60" width="180" height="120" fill="#1f3b4d"/>'
            + "".join(
                f'<path fill="#ffffff" transform="translate({x} {y})" d="M0-22L6-7L21-7L9 3L13 18L0 9L-13 18L-9 '
                '3L-21-7L-6-7Z"/>'
                for x, y in ((75, 95), (120, 130), (165, 95))
            )
        ),
        (
            Meant(0.02, 0.02, BACKGROUND, GROUND),
            *all_mean(WANTED, "White stars on colour.", (0.3125, 0.4), (0.5, 0.54), (0.6875, 0.4)),
        ),
    ),
    WhitePicture(
        "white-band-on-disc",
        svg(disc(120, 120, 100, RED) + '<rect x="45" y="104" width="150" height="32" fill="#ffffff"/>'),
        (Meant(0.02, 0.02, BACKGROUND, GROUND), Meant(0.5, 0.5, WANTED, "A white bar on a disc of colour.")),
    ),
    WhitePicture(
        "white-outline-round-colour",
        svg(disc(120, 120, 84, "#ffffff") + disc(120, 120, 70, RED), STONE),
        (Meant(0.5, 0.18, WANTED, "A white outline round a disc, drawn on a ground of another colour."),),
    ),
    WhitePicture(
        "outline-in-outline",
        svg(
            f'<path d="{SHIELD}" fill="#ffffff" stroke="#1f3b4d" stroke-width="8"/>'
            f'<path d="{SHIELD}" fill="#7a2232" transform="translate(24 24) scale(0.8)"/>'
        ),
        (
            Meant(0.02, 0.02, BACKGROUND, GROUND),
            Meant(0.275, 0.4, WANTED, "A white outline between a shield and its edge."),
        ),
    ),
    WhitePicture(
        "chequered-plate",
        svg(
            '<rect x="38" y="68" width="164" height="104" fill="#1c2226"/>'
            + "".join(
                f'<rect x="{40 + 20 * column}" y="{70 + 20 * row}" width="20" height="20" fill="#ffffff"/>'
                for row in range(5)
                for column in range(8)
                if (row + column) % 2
            )
        ),
        (
            Meant(0.02, 0.02, BACKGROUND, GROUND),
            *all_mean(
                WANTED,
                "A white square of a chequered plate.",
                *(
                    ((50 + 20 * column) / SIZE, (80 + 20 * row) / SIZE)
                    for row in range(5)
                    for column in range(8)
                    if (row + column) % 2
                ),
            ),
        ),
    ),
    WhitePicture(
        "key-plate",
        svg(
            '<path fill="#c8993a" d="M70 30H170V210H70Z"/>'
            '<path fill="#ffffff" d="M120 90a16 16 0 0 1 8 30l6 40h-28l6-40a16 16 0 0 1 8-30z"/>'
            + disc(120, 48, 6, INK)
            + disc(120, 192, 6, INK)
        ),
        (Meant(0.02, 0.02, BACKGROUND, GROUND), Meant(0.5, 0.45, WANTED, "A white figure on a plate of colour.")),
    ),
    WhitePicture(
        "arrow-and-bar",
        svg(
            '<path fill="#c63f2b" d="M30 100H140V60L210 120L140 180V140H30Z"/>'
            '<rect x="40" y="200" width="160" height="14" fill="#1c2226"/>'
        ),
        (Meant(0.02, 0.02, BACKGROUND, GROUND),),
    ),
    WhitePicture(
        "eyes-of-a-bird",
        svg(
            '<path fill="#1c2226" d="M40 150C40 60 200 60 200 150L170 200H70Z"/>'
            + disc(90, 130, 20, "#ffffff")
            + disc(150, 130, 20, "#ffffff")
            + disc(94, 134, 8, GOLD)
            + disc(146, 134, 8, GOLD)
        ),
        (
            Meant(0.02, 0.02, BACKGROUND, GROUND),
            *all_mean(WANTED, "The white of an eye, with its iris on it.", (0.32, 0.52), (0.68, 0.52)),
        ),
    ),
)
