"""Pictures with white areas, and what each area means: the truth that the first guess is held to.

Each picture is drawn here, or comes with the demonstration or with scikit-image. The meaning of every area
was written down by hand, with the reason, before anything was tuned; what two people of the trade would mark
differently (an outlined star, a trellis, a spoked wheel) is left out. A point stands for the area it lies in, as shares
of the picture's width and height. A hash of the name puts a picture into the half to tune on or the half to test.
"""

from __future__ import annotations

import hashlib
import io
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import resvg_py
import skimage
from PIL import Image, ImageDraw, ImageFont

DEMO = Path(__file__).resolve().parents[2] / "content" / "demo"
SAMPLES = Path(skimage.__file__).parent / "data"

BACKGROUND, WANTED, HOLE = "background", "wanted", "hole"
SIZE = 240
NAVY, MAROON, GOLD, RED, GREEN, INK, STONE = "#1f3b4d", "#7a2232", "#c8993a", "#c63f2b", "#3d6b45", "#1c2226", "#8a8f86"


@dataclass(frozen=True)
class Meant:
    """What the area under a point means, and why."""

    x: float
    y: float
    meaning: str
    reason: str


@dataclass(frozen=True)
class WhitePicture:
    """A picture and what each of its white areas means; ``rest``: meaning and reason of those under no point."""

    name: str
    draw: Callable[[], Image.Image]
    meant: tuple[Meant, ...]
    rest: tuple[str, str] | None = None

    @property
    def half(self) -> str:
        """Return "tuning" or "test", by the name alone."""
        return "test" if hashlib.sha256(self.name.encode()).digest()[0] % 2 else "tuning"


def _svg(body: str, ground: str | None = "#ffffff", width: int = SIZE, height: int = SIZE) -> Callable[[], Image.Image]:
    filled = f'<rect width="{width}" height="{height}" fill="{ground}"/>' if ground else ""
    text = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}">{filled}{body}</svg>'
    return lambda: _opened(resvg_py.svg_to_bytes(svg_string=text, width=width))


def _demo(name: str, width: int, ground: str | None) -> Callable[[], Image.Image]:
    def draw() -> Image.Image:
        text = re.sub(r' (width|height)="[\d.]+mm"', "", (DEMO / name).read_text(), count=2)
        return _opened(
            resvg_py.svg_to_bytes(svg_string=text, width=width, **({"background": ground} if ground else {}))
        )

    return draw


def _file(path: Path) -> Callable[[], Image.Image]:
    return lambda: Image.open(path).convert("RGBA")


def _opened(data: object) -> Image.Image:
    return Image.open(io.BytesIO(bytes(data))).convert("RGBA")


def _words(
    words: str, ink: str, ground: str, *, size: int = 64, panel: str | None = None, pad: int = 24
) -> Callable[[], Image.Image]:
    """Lettering in the font that Pillow brings, on a ground or on a panel with a rim of ground."""

    def draw() -> Image.Image:
        font = ImageFont.load_default(size * 4)
        left, top, right, bottom = font.getbbox(words)
        image = Image.new("RGB", (right - left + 8 * pad, bottom - top + 8 * pad), ground)
        pen = ImageDraw.Draw(image)
        if panel:
            pen.rectangle((2 * pad, 2 * pad, image.width - 2 * pad, image.height - 2 * pad), panel)
        pen.text((4 * pad - left, 4 * pad - top), words, fill=ink, font=font)
        return image.reduce(4).convert("RGBA")

    return draw


def _as_jpeg(draw: Callable[[], Image.Image], quality: int) -> Callable[[], Image.Image]:
    def made() -> Image.Image:
        file = io.BytesIO()
        draw().convert("RGB").save(file, "JPEG", quality=quality)
        return Image.open(file).convert("RGBA")

    return made


GROUND = "White of the paper round the marking."
COUNTER = "The counter of a letter: the paint shows through it."


def _all(meaning: str, reason: str, *points: tuple[float, float]) -> tuple[Meant, ...]:
    return tuple(Meant(x, y, meaning, reason) for x, y in points)


def _disc(x: float, y: float, radius: float, colour: str) -> str:
    return f'<circle cx="{x}" cy="{y}" r="{radius}" fill="{colour}"/>'


def _ring(x: float, y: float, radius: float, wide: float, colour: str) -> str:
    return f'<circle cx="{x}" cy="{y}" r="{radius}" fill="none" stroke="{colour}" stroke-width="{wide}"/>'


SHIELD = "M60 40H180V120C180 170 150 200 120 214C90 200 60 170 60 120Z"
O_SHAPE = '<ellipse cx="120" cy="120" rx="48" ry="62" fill="none" stroke="#ffffff" stroke-width="28"/>'
CROSS = "M104 60h32v44h44v32h-44v44h-32v-44h-44v-32h44z"


def pictures() -> Iterator[WhitePicture]:
    """Yield every picture."""
    yield from _rings()
    yield from _letters()
    yield from _emblems()
    yield from _to_the_border()
    yield from _clear()
    yield from _found()


def _rings() -> Iterator[WhitePicture]:
    inside = "A ring alone: nothing is drawn inside, so the paint shows there."
    for name, radius, wide in (("ring", 80, 24), ("ring-heavy", 70, 50), ("ring-light", 90, 12)):
        yield WhitePicture(
            name,
            _svg(_ring(120, 120, radius, wide, MAROON)),
            (Meant(0.02, 0.02, BACKGROUND, GROUND), Meant(0.5, 0.5, HOLE, inside)),
        )
    yield WhitePicture(
        "ring-as-jpeg",
        _as_jpeg(_svg(_ring(120, 120, 80, 24, NAVY)), 80),
        (Meant(0.02, 0.02, BACKGROUND, GROUND), Meant(0.5, 0.5, HOLE, inside)),
    )
    yield WhitePicture(
        "two-rings-linked",
        _svg(_ring(85, 120, 60, 16, NAVY) + _ring(155, 120, 60, 16, NAVY)),
        (
            Meant(0.02, 0.02, BACKGROUND, GROUND),
            *_all(HOLE, "Rings: the paint shows through them.", (0.2, 0.5), (0.5, 0.5), (0.8, 0.5)),
        ),
    )
    yield WhitePicture(
        "roundel",
        _svg(_disc(120, 120, 100, NAVY) + _disc(120, 120, 66, "#ffffff") + _disc(120, 120, 32, RED)),
        (
            Meant(0.02, 0.02, BACKGROUND, GROUND),
            Meant(0.5, 0.28, WANTED, "The white ring of a roundel, between two colours."),
        ),
    )
    yield WhitePicture(
        "roundel-edged",
        _svg(_ring(120, 120, 104, 3, INK) + _disc(120, 120, 60, RED)),
        (
            Meant(0.02, 0.02, BACKGROUND, GROUND),
            Meant(0.5, 0.15, WANTED, "White field of a roundel: its thin edge and its disc stand on it."),
        ),
    )


def _letters() -> Iterator[WhitePicture]:
    yield WhitePicture(
        "white-o-on-colour", _svg(O_SHAPE, MAROON), (Meant(0.3, 0.5, WANTED, "A white letter drawn on colour."),)
    )
    yield WhitePicture(
        "white-o-on-panel",
        _svg('<rect x="30" y="30" width="180" height="180" fill="#1f3b4d"/>' + O_SHAPE),
        (Meant(0.02, 0.02, BACKGROUND, GROUND), Meant(0.3, 0.5, WANTED, "A white letter on a panel of colour.")),
    )
    yield WhitePicture(
        "letter-o",
        _svg(O_SHAPE.replace("#ffffff", INK)),
        (Meant(0.02, 0.02, BACKGROUND, GROUND), Meant(0.5, 0.5, HOLE, COUNTER)),
    )
    yield WhitePicture(
        "board-68",
        _words("BOARD 68", INK, "#ffffff"),
        (
            Meant(0.01, 0.02, BACKGROUND, GROUND),
            *_all(
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
    )
    yield WhitePicture(
        "depot-lower",
        _words("depot", NAVY, "#ffffff"),
        (
            Meant(0.01, 0.02, BACKGROUND, GROUND),
            *_all(HOLE, COUNTER, (0.23, 0.5), (0.366, 0.42), (0.525, 0.5), (0.67, 0.5)),
        ),
    )
    yield WhitePicture(
        "white-words-on-panel",
        _words("MAIL 40", "#ffffff", "#ffffff", panel=MAROON),
        (
            Meant(0.005, 0.02, BACKGROUND, GROUND),
            *_all(
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
    )
    yield WhitePicture(
        "white-7-on-disc",
        _svg(_disc(120, 120, 100, NAVY) + '<path fill="#ffffff" d="M76 62H168V90L124 182H92L134 92H76Z"/>'),
        (Meant(0.02, 0.02, BACKGROUND, GROUND), Meant(0.4, 0.3, WANTED, "A white figure on a disc of colour.")),
    )
    yield WhitePicture(
        "outlined-h",
        _svg(
            '<path d="M60 40h40v60h40v-60h40v160h-40v-60h-40v60h-40z" fill="#ffffff" stroke="#c63f2b" '
            'stroke-width="5"/>'
        ),
        (Meant(0.02, 0.02, BACKGROUND, GROUND), Meant(0.33, 0.5, WANTED, "A white letter with an edge of colour.")),
    )
    yield WhitePicture(
        "black-o-on-white-plate",
        _svg(
            '<rect x="20" y="50" width="200" height="140" fill="#ffffff" stroke="#1f3b4d" stroke-width="8"/>'
            + _ring(120, 120, 38, 20, INK)
        ),
        (
            Meant(0.02, 0.02, BACKGROUND, GROUND),
            Meant(0.13, 0.5, WANTED, "A white plate in a frame, lettered."),
            Meant(0.5, 0.5, WANTED, "The counter of a letter on a white plate: the plate goes on beneath it."),
        ),
    )
    yield WhitePicture(
        "o-of-gold-on-maroon",
        _svg(
            '<rect x="20" y="50" width="200" height="140" fill="#7a2232"/>'
            + _ring(120, 120, 44, 18, GOLD)
            + _disc(120, 120, 35, "#ffffff")
        ),
        (
            Meant(0.02, 0.02, BACKGROUND, GROUND),
            Meant(0.5, 0.5, WANTED, "White on colour within a second colour: somebody put it there."),
        ),
    )


def _emblems() -> Iterator[WhitePicture]:
    yield WhitePicture(
        "white-crest-on-white",
        _svg(
            f'<path d="{SHIELD}" fill="#ffffff" stroke="#7a2232" stroke-width="5"/>'
            '<path d="M84 150L120 84L156 150Z" fill="#3d6b45"/>' + _disc(120, 66, 12, GOLD)
        ),
        (
            Meant(0.02, 0.02, BACKGROUND, GROUND),
            Meant(0.3, 0.3, WANTED, "The white field of a crest, edged and charged."),
        ),
    )
    yield WhitePicture(
        "plain-white-shield",
        _svg(f'<path d="{SHIELD}" fill="#ffffff" stroke="#1c2226" stroke-width="4"/>'),
        (Meant(0.02, 0.02, BACKGROUND, GROUND), Meant(0.5, 0.5, WANTED, "A white shield drawn by its thin edge.")),
    )
    yield WhitePicture(
        "quartered-shield",
        _svg(
            f'<clipPath id="c"><path d="{SHIELD}"/></clipPath><g clip-path="url(#c)">'
            '<path fill="#c63f2b" d="M0 0H120V110H0ZM120 110H240V240H120Z"/></g>'
            f'<path d="{SHIELD}" fill="none" stroke="#1c2226" stroke-width="6"/>'
        ),
        (
            Meant(0.02, 0.02, BACKGROUND, GROUND),
            *_all(WANTED, "A white quarter, between two of colour.", (0.62, 0.3), (0.38, 0.6)),
        ),
    )
    yield WhitePicture(
        "white-cross-on-disc",
        _svg(_disc(120, 120, 100, GREEN) + f'<path d="{CROSS}" fill="#ffffff"/>'),
        (Meant(0.02, 0.02, BACKGROUND, GROUND), Meant(0.5, 0.5, WANTED, "A white cross on a disc of colour.")),
    )
    yield WhitePicture(
        "white-stars-on-flag",
        _svg(
            '<rect x="30" y="60" width="180" height="120" fill="#1f3b4d"/>'
            + "".join(
                f'<path fill="#ffffff" transform="translate({x} {y})" d="M0-22L6-7L21-7L9 3L13 18L0 9L-13 18L-9 '
                '3L-21-7L-6-7Z"/>'
                for x, y in ((75, 95), (120, 130), (165, 95))
            )
        ),
        (
            Meant(0.02, 0.02, BACKGROUND, GROUND),
            *_all(WANTED, "White stars on colour.", (0.3125, 0.4), (0.5, 0.54), (0.6875, 0.4)),
        ),
    )
    yield WhitePicture(
        "white-band-on-disc",
        _svg(_disc(120, 120, 100, RED) + '<rect x="45" y="104" width="150" height="32" fill="#ffffff"/>'),
        (Meant(0.02, 0.02, BACKGROUND, GROUND), Meant(0.5, 0.5, WANTED, "A white bar on a disc of colour.")),
    )
    yield WhitePicture(
        "white-outline-round-colour",
        _svg(_disc(120, 120, 84, "#ffffff") + _disc(120, 120, 70, RED), STONE),
        (Meant(0.5, 0.18, WANTED, "A white outline round a disc, drawn on a ground of another colour."),),
    )
    yield WhitePicture(
        "outline-in-outline",
        _svg(
            f'<path d="{SHIELD}" fill="#ffffff" stroke="#1f3b4d" stroke-width="8"/>'
            f'<path d="{SHIELD}" fill="#7a2232" transform="translate(24 24) scale(0.8)"/>'
        ),
        (
            Meant(0.02, 0.02, BACKGROUND, GROUND),
            Meant(0.275, 0.4, WANTED, "A white outline between a shield and its edge."),
        ),
    )
    yield WhitePicture(
        "chequered-plate",
        _svg(
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
            *_all(
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
    )
    yield WhitePicture(
        "key-plate",
        _svg(
            '<path fill="#c8993a" d="M70 30H170V210H70Z"/>'
            '<path fill="#ffffff" d="M120 90a16 16 0 0 1 8 30l6 40h-28l6-40a16 16 0 0 1 8-30z"/>'
            + _disc(120, 48, 6, INK)
            + _disc(120, 192, 6, INK)
        ),
        (Meant(0.02, 0.02, BACKGROUND, GROUND), Meant(0.5, 0.45, WANTED, "A white figure on a plate of colour.")),
    )
    yield WhitePicture(
        "arrow-and-bar",
        _svg(
            '<path fill="#c63f2b" d="M30 100H140V60L210 120L140 180V140H30Z"/>'
            '<rect x="40" y="200" width="160" height="14" fill="#1c2226"/>'
        ),
        (Meant(0.02, 0.02, BACKGROUND, GROUND),),
    )
    yield WhitePicture(
        "eyes-of-a-bird",
        _svg(
            '<path fill="#1c2226" d="M40 150C40 60 200 60 200 150L170 200H70Z"/>'
            + _disc(90, 130, 20, "#ffffff")
            + _disc(150, 130, 20, "#ffffff")
            + _disc(94, 134, 8, GOLD)
            + _disc(146, 134, 8, GOLD)
        ),
        (
            Meant(0.02, 0.02, BACKGROUND, GROUND),
            *_all(WANTED, "The white of an eye, with its iris on it.", (0.32, 0.52), (0.68, 0.52)),
        ),
    )


def _to_the_border() -> Iterator[WhitePicture]:
    corner = "A corner outside the marking, which reaches the border of the picture."
    yield WhitePicture(
        "disc-cut-close",
        _svg(_disc(120, 120, 120, MAROON)),
        _all(BACKGROUND, corner, (0.03, 0.03), (0.97, 0.03), (0.03, 0.97), (0.97, 0.97)),
    )
    yield WhitePicture(
        "band-across",
        _svg(
            '<path fill="#1f3b4d" d="M0 90H240V150H0Z"/>'
            f'<path d="{CROSS}" fill="#ffffff" transform="translate(84 84) scale(0.3)"/>'
        ),
        (
            *_all(BACKGROUND, "White above and below a band that runs across the picture.", (0.5, 0.1), (0.5, 0.9)),
            Meant(0.5, 0.5, WANTED, "A white cross on a band of colour."),
        ),
    )
    yield WhitePicture(
        "stripes",
        _svg('<path fill="#ffffff" d="M0 60H240V100H0ZM0 140H240V180H0Z"/>', RED),
        _all(WANTED, "A white stripe of a marking that fills its picture.", (0.5, 0.33), (0.5, 0.66)),
    )
    yield WhitePicture(
        "slanting-bars",
        _svg(
            "".join(f'<path fill="#ffffff" d="M{x} 60L{x + 60} 0h40L{x + 40} 60Z"/>' for x in (20, 100, 180)),
            INK,
            320,
            60,
        ),
        _all(WANTED, "A white bar of a warning band that fills its picture.", (0.22, 0.5), (0.47, 0.5), (0.72, 0.5)),
    )
    yield WhitePicture(
        "letters-cut-close",
        _svg(
            '<path fill="#1c2226" d="M0 0h30v45h40v-45h30v120h-30v-47h-40v47h-30zM130 0h30v120h-30zM190 '
            '0h30v120h-30z"/>',
            "#ffffff",
            220,
            120,
        ),
        _all(
            BACKGROUND,
            "White between letters that reach the border of the picture.",
            (0.22, 0.1),
            (0.22, 0.9),
            (0.52, 0.5),
            (0.8, 0.5),
        ),
    )
    yield WhitePicture(
        "crest-on-grey-card",
        _svg(
            _disc(120, 120, 90, NAVY)
            + _disc(120, 120, 70, "#ffffff")
            + '<path d="M84 150L120 84L156 150Z" fill="#3d6b45"/>',
            "#d5d2ca",
        ),
        (Meant(0.5, 0.27, WANTED, "The white field of a crest, on a card that is not white."),),
    )


def _clear() -> Iterator[WhitePicture]:
    ground = "The picture is clear round the marking."
    yield WhitePicture(
        "clear-ring",
        _svg(_ring(120, 120, 80, 24, MAROON), None),
        (Meant(0.02, 0.02, BACKGROUND, ground), Meant(0.5, 0.5, HOLE, "Clear inside a ring.")),
    )
    yield WhitePicture(
        "clear-white-disc",
        _svg(_ring(120, 120, 80, 24, MAROON) + _disc(120, 120, 69, "#ffffff"), None),
        (
            Meant(0.02, 0.02, BACKGROUND, ground),
            Meant(0.5, 0.5, WANTED, "White was drawn there, where it could have been left clear."),
        ),
    )
    yield WhitePicture(
        "clear-white-outline",
        _svg(_disc(120, 120, 84, "#ffffff") + _disc(120, 120, 70, RED), None),
        (Meant(0.02, 0.02, BACKGROUND, ground), Meant(0.5, 0.18, WANTED, "A white outline, drawn on nothing.")),
    )
    yield WhitePicture(
        "hull-number-clear",
        _demo("teasel-hull-number.svg", 240, None),
        (
            *_all(
                BACKGROUND,
                "Clear between letters that reach the border of the picture.",
                (0.03, 0.63),
                (0.31, 0.52),
                (0.73, 0.5),
                (0.97, 0.74),
            ),
            *_all(WANTED, "White lettering on nothing.", (0.12, 0.6), (0.5, 0.95), (0.9, 0.05)),
        ),
    )
    yield WhitePicture(
        "load-line-clear",
        _demo("teasel-load-line.svg", 300, None),
        (
            Meant(0.63, 0.1, BACKGROUND, ground),
            *_all(HOLE, "Inside the ring of a load line the hull shows.", (0.2, 0.25), (0.2, 0.75)),
            *_all(BACKGROUND, "Clear at the border, cut off by the lines.", (0.01, 0.01), (0.95, 0.76)),
            *_all(WANTED, "White lines on nothing.", (0.2, 0.5), (0.84, 0.5)),
        ),
    )
    yield WhitePicture(
        "draught-figures-on-navy",
        _demo("teasel-draught-figures.svg", 120, NAVY),
        _all(
            WANTED,
            "White figures and lines on colour.",
            (0.18, 0.068),
            (0.79, 0.135),
            (0.1, 0.35),
            (0.79, 0.421),
            (0.29, 0.673),
            (0.79, 0.707),
            (0.2, 0.99),
            (0.79, 0.993),
        ),
    )


def _found() -> Iterator[WhitePicture]:
    corner, field = "A corner round the crest.", "The white field of the crest, with the sprig on it."
    sprig = (WANTED, "The white field seen between leaves and berries.")
    yield WhitePicture(
        "demo-crest",
        _demo("crest-left.svg", 300, "#ffffff"),
        (*_all(BACKGROUND, corner, (0.02, 0.02), (0.98, 0.98)), Meant(0.5, 0.87, WANTED, field)),
        sprig,
    )
    yield WhitePicture(
        "demo-crest-clear",
        _file(DEMO / "crest-200px.png"),
        (
            *_all(BACKGROUND, corner, (0.02, 0.02), (0.98, 0.02), (0.02, 0.98), (0.98, 0.98)),
            Meant(0.5, 0.87, WANTED, field),
        ),
        sprig,
    )
    yield WhitePicture(
        "demo-crest-enlarged",
        _file(DEMO / "crest-600px-enlarged.png"),
        (
            *_all(BACKGROUND, corner, (0.02, 0.02), (0.98, 0.02), (0.02, 0.98), (0.98, 0.98)),
            Meant(0.5, 0.87, WANTED, field),
        ),
        sprig,
    )
    yield WhitePicture(
        "fleet-number",
        _demo("fleet-number.svg", 240, "#ffffff"),
        (Meant(0.02, 0.02, BACKGROUND, GROUND),),
    )
    yield WhitePicture(
        "sample-horse",
        _file(SAMPLES / "horse.png"),
        (Meant(0.02, 0.02, BACKGROUND, GROUND),),
    )
    yield WhitePicture(
        "sample-logo",
        _file(SAMPLES / "logo.png"),
        (Meant(0.02, 0.02, BACKGROUND, "White round the disc, one with the white line through it."),),
        (WANTED, "A light in the picture that the disc shows."),
    )
    yield WhitePicture(
        "sample-phantom",
        _file(SAMPLES / "phantom.png"),
        (Meant(0.5, 0.05, WANTED, "A white ring drawn on black, with grey inside."),),
    )
    yield WhitePicture(
        "sample-chessboard",
        _file(SAMPLES / "chessboard_GRAY.png"),
        _all(
            WANTED,
            "A white square of a board that fills its picture.",
            *(
                ((column + 0.5) / 8, (row + 0.5) / 8)
                for row in range(8)
                for column in range(8)
                if (row + column) % 2 == 0
            ),
        ),
    )
