"""Drawings in SVG, as we read them, against librsvg at 2000 px and resvg at 1000 px, by pixels and by colours.

Thirty-six are written for this, thirty are of a package with an open licence (flag-icons, MIT).
"""

import hashlib
import re
from collections.abc import Callable
from functools import cache
from pathlib import Path

import cv2
import numpy
import pytest
import resvg_py

from calculators.colour.srgb import levels_of
from calculators.files.outline_pixels import fills
from calculators.files.outline_reader import Outlines, read_outlines
from calculators.shapes.filled import filled
from tests import librsvg
from tests.calculators.files.svg_drawings import DRAWINGS
from tests.steps import finished

#: resvg takes most of the time. At 1000 px an edge has twice the share of the picture: its bound is the narrower one.
LIBRSVG_PX, RESVG_PX, MOST_SHARE = 2000, 1000, 0.003
PACKAGE = Path(__file__).resolve().parents[3] / "node_modules/flag-icons/flags/4x3"
#: What is reported, not drawn.
REPORTED = re.compile(r"gradient|<pattern|opacity|<mask|<filter|marker|<image|<text", re.IGNORECASE)
#: What librsvg (2.54) draws otherwise than SVG 1.1 says: it does not clip symbols to their view box (14.3.3), and takes
#: no clip path of a clip path (14.3.5).
NOT_IN_LIBRSVG = {"symbols", "clip-paths-within-clip-paths"}
COLOURS = re.compile(r"#[0-9a-fA-F]{3,6}\b|fill=\"[a-z]+\"")


Renderer = Callable[[str, Outlines, int, int], numpy.ndarray]


@cache
def package_drawings() -> list[str]:
    """Return the first thirty flat drawings of two or more colours, in the order of a hash of their names."""
    stems = sorted(
        (each.stem for each in PACKAGE.glob("*.svg")), key=lambda stem: hashlib.sha256(stem.encode()).digest()
    )
    texts = {stem: (PACKAGE / f"{stem}.svg").read_text("utf-8") for stem in stems}
    return [stem for stem in stems if not REPORTED.search(texts[stem]) and len(set(COLOURS.findall(texts[stem]))) > 1][
        :30
    ]


def ours(outlines: Outlines, width: int, height: int) -> numpy.ndarray:
    rgba = finished(filled(fills(outlines, width, height), width, height))
    return numpy.frombuffer(rgba, "u1").reshape(height, width, 4)


def by_resvg(svg: str, outlines: Outlines, width: int, _height: int) -> numpy.ndarray:
    zoom = width / (outlines.width_mm * 96 / 25.4)
    data = resvg_py.svg_to_bytes(svg_string=svg, dpi=96, zoom=zoom, skip_system_fonts=True)
    return cv2.cvtColor(cv2.imdecode(numpy.frombuffer(data, "u1"), cv2.IMREAD_UNCHANGED), cv2.COLOR_BGRA2RGBA)


def by_librsvg(svg: str, _outlines: Outlines, width: int, height: int) -> numpy.ndarray:
    return librsvg.drawn(svg, width, height)


def premultiplied(rgba: numpy.ndarray) -> numpy.ndarray:
    whole = rgba.astype(numpy.float32) / 255
    whole[..., :3] *= whole[..., 3:]
    return whole


def wholly(pixels: numpy.ndarray, colour: str) -> int:
    """Return how many of some pixels are wholly of a colour, but for rounding."""
    level = numpy.array([*levels_of(colour), 255], numpy.float32) / 255
    return int((numpy.abs(pixels - level).max(-1) < 2.5 / 255).sum())


def compare(svg: str, *, in_both: bool = True) -> None:
    outlines = read_outlines(svg.encode())
    if in_both:
        compare_at(LIBRSVG_PX, by_librsvg, svg, outlines)
    compare_at(RESVG_PX, by_resvg, svg, outlines)


def compare_at(long_px: int, render: Renderer, svg: str, outlines: Outlines) -> None:
    scale = long_px / max(outlines.width_mm, outlines.height_mm)
    width, height = round(outlines.width_mm * scale), round(outlines.height_mm * scale)
    drawn, seen = ours(outlines, width, height), render(svg, outlines, width, height)
    most = MOST_SHARE * width * height
    assert drawn.shape == seen.shape
    # Most pixels are equal: they add nothing to any difference.
    differ = (drawn.view("<u4") != seen.view("<u4"))[..., 0]
    one, other = premultiplied(drawn[differ]), premultiplied(seen[differ])
    assert numpy.abs(one - other).max(-1, initial=0).sum() < most, render.__name__
    for colour in {shape.fill for shape in outlines.shapes}:
        assert abs(wholly(one, colour) - wholly(other, colour)) < most, (render.__name__, colour)


@pytest.mark.slow
@pytest.mark.parametrize("name", DRAWINGS)
def test_each_feature_is_drawn_as_other_renderers_draw_it(name):
    compare(DRAWINGS[name], in_both=name not in NOT_IN_LIBRSVG)


@pytest.mark.slow
@pytest.mark.parametrize("stem", package_drawings())
def test_drawings_of_a_package_are_drawn_as_other_renderers_draw_them(stem):
    svg = (PACKAGE / f"{stem}.svg").read_text("utf-8")
    box = [float(each) for each in re.search(r'viewBox="([^"]*)"', svg)[1].split()]
    sized = re.sub(r'\s(width|height)="[^"]*"', "", re.search(r"<svg[^>]*>", svg)[0])
    sized = sized.replace("<svg", f'<svg width="{box[2]:g}" height="{box[3]:g}"', 1)
    compare(svg.replace(re.search(r"<svg[^>]*>", svg)[0], sized, 1))


def test_sixty_drawings_are_compared():
    assert len(DRAWINGS) >= 30 and len(package_drawings()) == 30
