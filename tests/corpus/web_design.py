"""Which pictures are made of which drawings: about 3,000, by a fixed balanced design.

Every drawing gives a PNG of each size and renderer, a JPEG of each quality and chroma at sizes and renderers that take
turns from drawing to drawing, one JPEG saved again, two decoded to PNG, five enlarged beforehand and one reduced. The
photographs, scans and soft originals of pictures.py come in as originals that nobody enlarged.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import gcd

from tests.corpus.drawings import RENDERERS, Drawing, half_of

SIZES_PX = (120, 180, 300, 600)
QUALITIES, CHROMAS = (30, 50, 70, 85, 95), ("4:2:0", "4:4:4")
FACTORS, KERNELS = (1.5, 2.0, 2.5, 3.0, 4.0), ("nearest", "bilinear", "bicubic", "lanczos")
REDUCTIONS = (0.4, 0.5, 0.75)
AGAIN_QUALITY = 90
PNG, JPEG = "PNG", "JPEG"


@dataclass(frozen=True)
class Case:
    """One picture: a drawing (or an original) at ``size_px``, then resized by ``factor``, then saved.

    ``quality`` is 0 where it never was a JPEG; ``again``: a JPEG saved once more at 90; ``file``:
    what it is in the end. ``blur`` is for originals.
    """

    drawing: str
    size_px: int
    renderer: str = ""
    clear: bool = False
    factor: float = 1.0
    kernel: str = ""
    quality: int = 0
    chroma: str = ""
    again: bool = False
    file: str = PNG
    blur: float = 0.0

    @property
    def id(self) -> str:
        """Return what it is called in the records."""
        resized = f" x{self.factor:g} {self.kernel}" if self.kernel else ""
        saved = f" q{self.quality} {self.chroma}{' again' * self.again}" if self.quality else ""
        soft = f" blur {self.blur:g}" if self.blur else ""
        return (
            f"{self.drawing} {self.size_px}px {self.renderer}{' clear' * self.clear}{resized}{soft}{saved} {self.file}"
        )

    @property
    def half(self) -> str:
        """Return the half of its drawing."""
        return half_of(self.drawing)

    @property
    def is_plain(self) -> bool:
        """Return whether it is as it was drawn but for how it was saved."""
        return not self.kernel and not self.blur


def cases(drawings: Sequence[Drawing], originals: Sequence[str] = ()) -> list[Case]:
    """Return the whole design for drawings, in their order, and for the names of originals."""
    made = [case for number, drawing in enumerate(drawings) for case in _of_drawing(number, drawing)]
    return made + [case for name in originals for case in _of_original(name)]


def sampled(every: Sequence[Case], count: int, seed: str = "sample") -> list[Case]:
    """Return ``count`` of the cases by a hash of their ids, those of a drawing beside each other."""

    def order(case: Case) -> bytes:
        return hashlib.sha256(f"{seed} {case.id}".encode()).digest()

    return sorted(sorted(every, key=order)[:count], key=lambda case: (case.drawing, case.clear, case.id))


def _of_drawing(number: int, drawing: Drawing) -> Iterator[Case]:
    places = [(size, renderer) for size in SIZES_PX for renderer in RENDERERS]
    for turn, (size, renderer) in enumerate(places):
        yield Case(drawing.name, size, renderer, clear=drawing.on_nothing and (number + turn) % 2 == 0)
    formats = [(quality, chroma) for quality in QUALITIES for chroma in CHROMAS]
    for turn, (quality, chroma) in enumerate(formats):
        yield Case(drawing.name, *places[(3 * turn + number) % len(places)], quality=quality, chroma=chroma, file=JPEG)
    for turn, (again, file) in enumerate(((True, JPEG), (False, PNG), (False, PNG))):
        quality, chroma = formats[(3 * turn + number) % len(formats)]
        yield Case(
            drawing.name,
            *places[(5 * turn + 3 * number) % len(places)],
            quality=quality,
            chroma=chroma,
            again=again,
            file=file,
        )
    yield from _enlarged(number, drawing)
    reduction, kernel = REDUCTIONS[number % 3], KERNELS[1 + number // 3 % 3]
    before = {"quality": 85, "chroma": CHROMAS[number // 2 % 2]} if number % 2 else {}
    # What was a JPEG is made smaller after that.
    yield Case(drawing.name, 600, RENDERERS[number // 2 % 2], factor=reduction, kernel=kernel, **before)


def _enlarged(number: int, drawing: Drawing) -> Iterator[Case]:
    """Yield five enlarged cases; twelve drawings after each other have every factor,
    kernel and way of saving together once.
    """
    saved = (0, 85, 70)
    ways = [(factor, kernel, quality) for quality in saved for factor in FACTORS for kernel in KERNELS]
    step = 7
    assert gcd(step, len(ways)) == 1
    for turn in range(5):
        at = 5 * number + turn
        factor, kernel, quality = ways[at * step % len(ways)]
        jpeg = {"quality": quality, "chroma": CHROMAS[at // 2 % 2], "file": JPEG} if quality else {}
        yield Case(drawing.name, SIZES_PX[(at + at // 60) % 3], RENDERERS[at % 2], factor=factor, kernel=kernel, **jpeg)


def _of_original(name: str) -> Iterator[Case]:
    yield Case(name, 300)
    yield Case(name, 300, blur=1.5)
    yield Case(name, 300, quality=85, chroma="4:2:0", file=JPEG)
