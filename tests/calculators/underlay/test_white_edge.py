"""The share of the outline where white itself is the visible edge, on drawings whose share follows from geometry."""

import re
from math import hypot, pi

import pytest
from PIL import Image, ImageDraw, ImageFont

from calculators import units
from calculators.declare.prose import html
from tests.calculators.underlay.underlays import seen

BLUE, WHITE, FINE = "#204060", "#ffffff", 8
#: The outline is followed in eight directions: one at 22.5 degrees counts 8 % too long, so a share is off by a little.
WITHIN = 3.0


def drawn(draw, size=(160, 160)):
    """A drawing on nothing with soft edges; ``draw`` takes a pen and a scale."""
    image = Image.new("RGBA", (size[0] * FINE, size[1] * FINE), (0, 0, 0, 0))
    draw(ImageDraw.Draw(image), FINE)
    # Transparent pixels take the colour beside them, as drawing programs save them.
    return image.convert("RGBa").resize(size, Image.Resampling.BOX).convert("RGBA")


def white_edge(image, **inputs):
    """The stated share in per cent, 0 where white is nowhere the edge; without white there is no answer."""
    text = html(seen(image, way="backing-piece", **inputs).reasoning, units.MM)
    if "White is nowhere the visible edge" in text:
        return 0
    return int(re.search(r"along ([0-9]+) % of the outline", text)[1])


def letters(pen, k):
    pen.rounded_rectangle((10 * k, 30 * k, 150 * k, 130 * k), 20 * k, fill=BLUE)
    pen.text((80 * k, 80 * k), "ROAD", fill=WHITE, anchor="mm", font=ImageFont.load_default(40 * k))


def half_bordered_disc(pen, k):
    """White of radius 50, and half round it a ring of blue, 12 wide."""
    pen.pieslice((18 * k, 18 * k, 142 * k, 142 * k), 90, 270, fill=BLUE)
    pen.ellipse((30 * k, 30 * k, 130 * k, 130 * k), fill=WHITE)


def triangle(pen, k):
    """White with a blue band of 20 along both legs, so that the slope alone is white but for its ends."""
    pen.polygon([(10 * k, 10 * k), (10 * k, 150 * k), (150 * k, 150 * k)], fill=WHITE)
    pen.polygon([(10 * k, 10 * k), (10 * k, 150 * k), (30 * k, 150 * k), (30 * k, 30 * k)], fill=BLUE)
    pen.polygon([(10 * k, 150 * k), (150 * k, 150 * k), (130 * k, 130 * k), (10 * k, 130 * k)], fill=BLUE)


def steep_flag(pen, k):
    """A slanted band whose long sides are white and blue, 2 along to 1 across."""
    pen.polygon([(20 * k, 10 * k), (60 * k, 10 * k), (130 * k, 150 * k), (90 * k, 150 * k)], fill=WHITE)
    pen.polygon(
        [(60 * k, 10 * k), (100 * k, 10 * k), (150 * k, 110 * k), (150 * k, 150 * k), (130 * k, 150 * k)], fill=BLUE
    )


def holed(pen, k):
    """Blue with a white ring round its open middle: there white is the edge too."""
    pen.ellipse((10 * k, 10 * k, 150 * k, 150 * k), fill=BLUE)
    pen.ellipse((40 * k, 40 * k, 120 * k, 120 * k), fill=WHITE)
    pen.ellipse((60 * k, 60 * k, 100 * k, 100 * k), fill=(0, 0, 0, 0))


def quarter(pen, k):
    """A square, a quarter of it white and in a corner: two half sides of eight."""
    pen.rectangle((10 * k, 10 * k, 150 * k - 1, 150 * k - 1), fill=BLUE)
    pen.rectangle((10 * k, 10 * k, 80 * k - 1, 80 * k - 1), fill=WHITE)


SLOPE = hypot(140, 140)
SHARES = {
    "white letters within colour": (letters, 0),
    "a disc with half a border": (half_bordered_disc, pi * 50 / (pi * 50 + pi * 62 + 2 * 12)),
    "a triangle with a white slope": (triangle, SLOPE * 100 / 140 / (280 + SLOPE)),
    "a slanted band, one side white": (
        steep_flag,
        (hypot(70, 140) + 80) / (hypot(70, 140) + 80 + 40 + hypot(50, 100) + 40 + 20),
    ),
    "a white ring round an open middle": (holed, 20 / (20 + 70)),
    "a white quarter": (quarter, 0.25),
}


@pytest.mark.parametrize("name", SHARES)
def test_the_share_of_white_edges_follows_from_geometry(name):
    draw, share = SHARES[name]
    found = white_edge(drawn(draw))
    assert found == pytest.approx(100 * share, abs=WITHIN if share else 0)
