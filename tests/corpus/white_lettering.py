"""Lettering in many styles with what each pixel of it means: the truth that guesses about counters are held to.

Letters are drawn four times as large as asked, each layer apart, so what shows in the end follows from the layers
alone: where nothing was drawn the paint shows (a counter, or the ground), and where white was drawn white is wanted.
Faces are the one that Pillow brings (Aileron, CC0), the same made bold by a stroke, and DejaVu (its own free licence)
where it is installed. A hash of the name puts a picture into the half to tune on or the half to test.
"""

from __future__ import annotations

import hashlib
import io
from collections.abc import Iterator
from dataclasses import dataclass

import numpy
from PIL import Image, ImageDraw, ImageFont
from skimage.measure import label

#: Values of the plane of truth; ``UNSURE`` is the edge of two.
GROUND, HOLE, WANTED, COLOUR, UNSURE = range(5)
TIMES = 4
#: From line to line, as a share of the size of the letters.
PITCH = 1.2
NAVY, MAROON, GOLD, RED, GREEN, INK, STONE = "#1f3b4d", "#7a2232", "#c8993a", "#c63f2b", "#3d6b45", "#1c2226", "#8a8f86"
WHITE = "#ffffff"


@dataclass(frozen=True)
class Style:
    """How letters are drawn: all lengths are shares of the height of a capital."""

    name: str
    fill: str
    outline: str = ""
    wide: float = 0.0
    shadow: str = ""
    offset: tuple[float, float] = (0.0, 0.0)
    panel: str = ""


STYLES = (
    Style("plain", INK),
    Style("outlined", GOLD, NAVY, 0.07),
    Style("outlined-thick", RED, INK, 0.11),
    Style("white-outlined", WHITE, RED, 0.07),
    Style("white-outlined-thin", WHITE, INK, 0.045),
    Style("white-outlined-thick", WHITE, NAVY, 0.1),
    Style("shadowed", MAROON, shadow=STONE, offset=(0.08, 0.08)),
    Style("shadowed-left", NAVY, shadow=GOLD, offset=(-0.07, 0.09)),
    Style("shadowed-below", GREEN, shadow=INK, offset=(0.0, 0.1)),
    Style("white-outlined-shadowed", WHITE, NAVY, 0.06, STONE, (0.09, 0.09)),
    Style("outlined-shadowed", GOLD, MAROON, 0.06, STONE, (0.1, 0.07)),
    Style("white-on-panel", WHITE, panel=GREEN),
    Style("white-outlined-on-panel", WHITE, INK, 0.06, panel=GOLD),
)
#: Words with counters, the face, and the lines.
WORDS = (
    ("aileron", "BOARD 468"),
    ("bold", "ROAD A9"),
    ("bold", "D"),
    ("aileron", "O"),
    ("bold", "68 PAD\nBOOK 04"),
    ("aileron", "depot"),
    ("DejaVuSans-Bold.ttf", "GRAB 806"),
    ("DejaVuSerif-Bold.ttf", "PORA 94"),
    ("DejaVuSans.ttf", "Board 46"),
)


@dataclass(frozen=True)
class Lettering:
    """One picture of letters; ``drawn`` makes it and its truth so many pixels wide."""

    words: str
    face: str
    style: Style

    @property
    def name(self) -> str:
        """Style, face and words."""
        return f"{self.style.name}/{self.face}/{self.words}"

    @property
    def half(self) -> str:
        """Return "tuning" or "test", by the name alone."""
        return "test" if hashlib.sha256(self.name.encode()).digest()[0] % 2 else "tuning"

    def drawn(self, width: int) -> tuple[Image.Image, numpy.ndarray]:
        """Return the picture, ``width`` pixels wide, and for each pixel what it means."""
        bold = 0.03 if self.face == "bold" else 0.0
        style, trial = self.style, 200
        pad = 0.3
        font = _font(self.face, trial)
        capital = font.getbbox("H")[3] - font.getbbox("H")[1]
        whole = _extent(self.words, font)
        # Letters with their stroke and shadow and a rim of ground fill the width.
        scale = width * TIMES / (whole[2] - whole[0] + 2 * (pad + 0.2) * capital)
        font = _font(self.face, trial * scale)
        capital *= scale
        whole = _extent(self.words, font)
        size = width * TIMES, round((whole[3] - whole[1] + 2 * (pad + 0.2) * capital) / TIMES) * TIMES
        at = size[0] / 2 - (whole[0] + whole[2]) / 2, size[1] / 2 - (whole[1] + whole[3]) / 2
        letters = _mask(size, self.words, font, at, bold * capital)
        rim = _mask(size, self.words, font, at, (bold + style.wide) * capital) if style.outline else letters
        moved = at[0] + style.offset[0] * capital, at[1] + style.offset[1] * capital
        shade = _mask(size, self.words, font, moved, (bold + style.wide) * capital) if style.shadow else letters & False
        return self._layered(size, letters, rim, shade, round(pad * capital / 2))

    def _layered(self, size, letters, rim, shade, inset) -> tuple[Image.Image, numpy.ndarray]:
        style = self.style
        panel = numpy.zeros(letters.shape, bool)
        if style.panel:
            panel[inset:-inset, inset:-inset] = True
        image = Image.new("RGB", size, WHITE)
        truth = numpy.full(letters.shape, GROUND, numpy.uint8)
        for mask, colour in ((panel, style.panel), (shade, style.shadow), (rim, style.outline), (letters, style.fill)):
            if colour:
                image.paste(colour, (0, 0), Image.fromarray((mask * 255).astype(numpy.uint8)))
                truth[mask] = WANTED if colour == WHITE else COLOUR
        bare = label(truth == GROUND, connectivity=1)
        border = numpy.unique(numpy.concatenate([bare[0], bare[-1], bare[:, 0], bare[:, -1]]))
        truth[(truth == GROUND) & ~numpy.isin(bare, border)] = HOLE
        blocks = truth.reshape(size[1] // TIMES, TIMES, size[0] // TIMES, TIMES)
        low, high = blocks.min(axis=(1, 3)), blocks.max(axis=(1, 3))
        return image.reduce(TIMES).convert("RGBA"), numpy.where(low == high, low, UNSURE)


def _font(face: str, size: float) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(face, size) if face.endswith(".ttf") else ImageFont.load_default(size)


def _extent(words: str, font: ImageFont.FreeTypeFont) -> tuple[float, float, float, float]:
    boxes = [font.getbbox(line) for line in words.split("\n")]
    last = PITCH * font.size * (len(boxes) - 1)
    return min(box[0] for box in boxes), boxes[0][1], max(box[2] for box in boxes), boxes[-1][3] + last


def _mask(
    size: tuple[int, int], words: str, font: ImageFont.FreeTypeFont, at: tuple[float, float], stroke: float
) -> numpy.ndarray:
    image = Image.new("L", size)
    # Line by line: Pillow moves lines further apart for a stroke.
    for place, line in enumerate(words.split("\n")):
        ImageDraw.Draw(image).text(
            (at[0], at[1] + place * PITCH * font.size), line, fill=255, font=font, stroke_width=stroke
        )
    return numpy.asarray(image) >= 128


def letterings() -> Iterator[Lettering]:
    """Yield each of the words in each style, in the faces that there are."""
    for face, words in WORDS:
        try:
            _font(face, 20)
        except OSError:
            continue
        for style in STYLES:
            yield Lettering(words, face, style)


def as_jpeg(image: Image.Image, quality: int) -> Image.Image:
    """Return ``image`` as it comes out of a JPEG file with its colours at half resolution."""
    file = io.BytesIO()
    image.convert("RGB").save(file, "JPEG", quality=quality, subsampling="4:2:0")
    return Image.open(file).convert("RGBA")


def right_by_area(truth: numpy.ndarray, meaning: bytes, values: dict[int, int]) -> tuple[int, int]:
    """Return how many enclosed white pixels ``meaning`` has right, and how many there
    are; ``values`` are its own for the truth.
    """
    guessed = numpy.frombuffer(meaning, numpy.uint8).reshape(truth.shape)
    right = sum(int(((truth == what) & (guessed == value)).sum()) for what, value in values.items())
    return right, int(numpy.isin(truth, list(values)).sum())
