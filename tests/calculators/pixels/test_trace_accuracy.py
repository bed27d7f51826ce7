"""Outlines against the truth and against potrace: shapes drawn by exact coverage at known places below the pixel.

Every shape, offset and resolution is measured by ``make bench``; by default fewer offsets.
"""

from __future__ import annotations

from math import radians

import numpy
import pytest
from scipy.spatial import cKDTree

from calculators.artwork.trace import TOLERANCE_MM, TOLERANCE_PX
from calculators.pixels.tracing import TRANSPARENCY, traced
from tests.calculators.pixels.test_flat_colours import finished
from tests.calculators.pixels.truth import MM_PER_INCH, along, apart, clear_raster, placed, potrace, round_rings, shapes

OFFSETS = 16
#: By default.
FEWER = 3


def measured(name: str, ppi: int, offsets: int) -> dict[str, float]:
    """Return what is found of a shape, as means and worst cases over ``offsets`` places below the pixel."""
    shape = shapes()[name]
    scale = ppi / MM_PER_INCH
    lot = numpy.random.default_rng([ppi, *name.encode()])
    rows = []
    for offset in lot.random((offsets, 2)):
        rings, corners, levels = placed(shape, ppi, offset)
        found = finished(
            traced(
                clear_raster(levels),
                by=TRANSPARENCY,
                count=None,
                keep_ground=False,
                tolerance=min(TOLERANCE_PX, TOLERANCE_MM * scale),
                angle=radians(30),
                smallest=1.0,
            )
        )
        pieces = [piece for line in found.lines for piece in line.pieces]
        other = potrace(levels >= 128)
        truth = round_rings(rings)
        ends = numpy.array([(piece[0].real, piece[0].imag) for piece in pieces])
        tip = cKDTree(ends).query(corners)[0].max() if len(corners) else 0.0
        rows.append((apart(along(pieces), truth), apart(along(other), truth), tip, len(pieces), len(other)))
    ours, theirs, tips, pieces, their_pieces = numpy.array(rows).T
    return {
        "rms_px": ours.mean(),
        "rms_mm": ours.mean() / scale,
        "ratio": ours.mean() / theirs.mean(),
        "tip_mm": tips.max() / scale,
        "pieces": pieces.mean(),
        "their_pieces": their_pieces.mean(),
    }


def check(name: str, ppi: int, found: dict[str, float]) -> None:
    assert found["ratio"] <= 0.45
    assert found["pieces"] <= 2 * found["their_pieces"]
    if ppi == 300:
        assert found["rms_mm"] <= 0.006
    if ppi >= 300:
        assert found["tip_mm"] <= 0.03


@pytest.mark.parametrize("name", shapes())
def test_outlines_lie_on_the_truth(name):
    ratios = []
    for ppi, offsets in ((150, FEWER), (300, FEWER), (600, FEWER)):
        found = measured(name, ppi, offsets)
        check(name, ppi, found)
        ratios.append(found["ratio"])
    # The mean over all shapes is at most a third; each shape alone holds it too.
    assert numpy.mean(ratios) <= 1 / 3


@pytest.mark.bench
def test_outlines_lie_on_the_truth_everywhere():
    ratios, more_pieces = [], []
    print(
        f"\n{'shape':12}{'ppi':>5}{'rms px':>9}{'rms mm':>9}{'of potrace':>11}{'tip mm':>9}{'pieces':>8}{'potrace':>8}"
    )
    for name in shapes():
        for ppi in (150, 300, 600):
            found = measured(name, ppi, OFFSETS)
            print(
                f"{name:12}{ppi:5}{found['rms_px']:9.4f}{found['rms_mm']:9.5f}{found['ratio']:11.3f}{found['tip_mm']:9.4f}"
                f"{found['pieces']:8.1f}{found['their_pieces']:8.1f}"
            )
            check(name, ppi, found)
            ratios.append(found["ratio"])
            more_pieces.append(found["pieces"] / found["their_pieces"])
    print(
        f"mean of potrace {numpy.mean(ratios):.3f}, greatest {max(ratios):.3f}; {numpy.mean(more_pieces):.2f} "
        f"times its pieces, at most {max(more_pieces):.2f}"
    )
    assert numpy.mean(ratios) <= 1 / 3
