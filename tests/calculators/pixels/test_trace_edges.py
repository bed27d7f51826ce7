"""Edges that hold more than two colours, and edges that a JPEG made noisy, against the shapes that were drawn."""

from __future__ import annotations

import io
from math import radians

import cairosvg
import numpy
import pytest
import resvg_py
from PIL import Image

from calculators.artwork.traced_parts import stated_px
from calculators.files.picture import read_picture
from calculators.pixels.raster import raster_of
from calculators.pixels.tracing import SEVERAL, Traced, traced
from tests.calculators.pixels.truth import along
from tests.steps import finished

SIZE = 90
RED, BLUE, GREEN = "#d52b1e", "#0039a6", "#009a00"
#: resvg has four rows of samples in a pixel, so a level edge may lie an eighth of a pixel off.
WITHIN_PX = {"cairo": 0.03, "resvg": 0.14}


def picture_of(drawn: str, renderer: str) -> bytes:
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" width="{SIZE}" height="{SIZE}">{drawn}</svg>'
    if renderer == "cairo":
        return cairosvg.svg2png(svg.encode())
    return bytes(resvg_py.svg_to_bytes(svg_string=svg))


def outlines_of(data: bytes, name: str = "a.png", **wanted) -> Traced:
    picture = read_picture(name, data, wanted=True)
    options = {"by": SEVERAL, "count": None, "keep_ground": True, "tolerance": 0.1, "angle": radians(30), "smallest": 1}
    return finished(traced(raster_of(picture), **options | wanted))


@pytest.mark.parametrize("renderer", WITHIN_PX)
@pytest.mark.parametrize("at", [40.2, 40.35, 40.5, 40.65, 40.8])
@pytest.mark.parametrize("upright", [False, True])
def test_shapes_that_meet_over_a_third_colour_keep_their_edge(upright, at, renderer):
    """Each shape lets the white below it through in their common edge, where neither covers a pixel."""
    one, two = f'<path fill="{BLUE}" d="M0 0H{SIZE}V{at}H0z"/>', f'<path fill="{RED}" d="M0 {at}H{SIZE}V{SIZE}H0z"/>'
    if upright:
        one, two = (
            f'<path fill="{GREEN}" d="M0 0H{at}V{SIZE}H0z"/>',
            f'<path fill="#ffff00" d="M{at} 0H{SIZE}V{SIZE}H{at}z"/>',
        )
    found = outlines_of(picture_of(f'<path fill="#fff" d="M0 0H{SIZE}V{SIZE}H0z"/>{one}{two}', renderer))
    between = [line for line in found.lines if 255 not in (line.arc.left, line.arc.right)]
    assert len(found.regions) == 2 and len(between) == 1
    points = along(between[0].pieces, 0.5)
    inner = points[(points.min(axis=1) > 1) & (points.max(axis=1) < SIZE - 1)]
    assert len(inner) and numpy.abs(inner[:, 0 if upright else 1] - at).max() <= WITHIN_PX[renderer]


def disc(quality: int, chroma: int, radius: float) -> bytes:
    drawn = f'<path fill="#fff" d="M0 0H{SIZE}V{SIZE}H0z"/><circle cx="45.3" cy="44.6" r="{radius}" fill="{RED}"/>'
    file = io.BytesIO()
    image = Image.open(io.BytesIO(picture_of(drawn, "cairo"))).convert("RGB")
    image.save(file, "JPEG", quality=quality, subsampling=chroma)
    return file.getvalue()


def off_circle(found: Traced, radius: float) -> tuple[numpy.ndarray, int]:
    """Return how far the outline of the disc lies from the circle, and of how many curves it is."""
    (line,) = (line for line in found.lines if line.arc.ring and 255 not in (line.arc.left, line.arc.right))
    points = along(line.pieces, 0.1)
    return numpy.abs(numpy.hypot(*(points - (45.3, 44.6)).T) - radius), len(line.pieces)


@pytest.mark.parametrize("quality", [70, 80])
def test_outlines_of_a_small_jpeg_follow_the_shape_and_not_the_noise(quality):
    """Without smoothing each ripple becomes a bend; the circle is the truth, in four sizes."""
    smooth, ragged = [], []
    for radius in (27.4, 31.7, 35.2, 38.9):
        data = disc(quality, 2, radius)
        for rows, closely in ((smooth, False), (ragged, True)):
            apart, curves = off_circle(outlines_of(data, "a.jpg", closely=closely, keep_ground=False), radius)
            rows.append((float((apart**2).mean()), curves))
    of_smooth, of_ragged = numpy.array(smooth), numpy.array(ragged)
    assert of_smooth[:, 0].mean() <= of_ragged[:, 0].mean()
    assert of_smooth[:, 1].sum() <= 0.6 * of_ragged[:, 1].sum()


@pytest.mark.parametrize("quality", [None, 70, 85])
def test_stated_deviation_holds_for_a_disc_and_is_no_excuse(quality):
    radius = 35.2
    if quality is None:
        data, name = picture_of(f'<circle cx="45.3" cy="44.6" r="{radius}" fill="{RED}"/>', "resvg"), "a.png"
    else:
        data, name = disc(quality, 0, radius), "a.jpg"
    found = outlines_of(data, name, keep_ground=False)
    assert numpy.quantile(off_circle(found, radius)[0] if quality else off_clear(found, radius), 0.95) <= stated_px(
        found
    )
    assert stated_px(found) <= 0.6


def off_clear(found: Traced, radius: float) -> numpy.ndarray:
    """Return how far the only outline lies from the circle."""
    (line,) = found.lines
    return numpy.abs(numpy.hypot(*(along(line.pieces, 0.1) - (45.3, 44.6)).T) - radius)
