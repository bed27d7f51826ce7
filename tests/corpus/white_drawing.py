"""What a picture with white in it is made of, and what its white means."""

from __future__ import annotations

import hashlib
import io
import re
from collections.abc import Callable
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


def svg(body: str, ground: str | None = "#ffffff", width: int = SIZE, height: int = SIZE) -> Callable[[], Image.Image]:
    filled = f'<rect width="{width}" height="{height}" fill="{ground}"/>' if ground else ""
    text = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}">{filled}{body}</svg>'
    return lambda: _opened(resvg_py.svg_to_bytes(svg_string=text, width=width))


def demo(name: str, width: int, ground: str | None) -> Callable[[], Image.Image]:
    def draw() -> Image.Image:
        text = re.sub(r' (width|height)="[\d.]+mm"', "", (DEMO / name).read_text(), count=2)
        return _opened(
            resvg_py.svg_to_bytes(svg_string=text, width=width, **({"background": ground} if ground else {}))
        )

    return draw


def of_file(path: Path) -> Callable[[], Image.Image]:
    return lambda: Image.open(path).convert("RGBA")


def _opened(data: object) -> Image.Image:
    return Image.open(io.BytesIO(bytes(data))).convert("RGBA")


def lettered(
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


def as_jpeg(draw: Callable[[], Image.Image], quality: int) -> Callable[[], Image.Image]:
    def made() -> Image.Image:
        file = io.BytesIO()
        draw().convert("RGB").save(file, "JPEG", quality=quality)
        return Image.open(file).convert("RGBA")

    return made


GROUND = "White of the paper round the marking."


COUNTER = "The counter of a letter: the paint shows through it."


def all_mean(meaning: str, reason: str, *points: tuple[float, float]) -> tuple[Meant, ...]:
    return tuple(Meant(x, y, meaning, reason) for x, y in points)


def disc(x: float, y: float, radius: float, colour: str) -> str:
    return f'<circle cx="{x}" cy="{y}" r="{radius}" fill="{colour}"/>'


def ring(x: float, y: float, radius: float, wide: float, colour: str) -> str:
    return f'<circle cx="{x}" cy="{y}" r="{radius}" fill="none" stroke="{colour}" stroke-width="{wide}"/>'


SHIELD = "M60 40H180V120C180 170 150 200 120 214C90 200 60 170 60 120Z"


O_SHAPE = '<ellipse cx="120" cy="120" rx="48" ry="62" fill="none" stroke="#ffffff" stroke-width="28"/>'


CROSS = "M104 60h32v44h44v32h-44v44h-32v-44h-44v-32h44z"
