"""Colours of style sheets against Pillow, which reads the same names, digits and functions."""

import pytest
from PIL import ImageColor

from calculators.files.css_colours import NAMED, colour_of


def test_every_name_is_the_colour_that_pillow_has():
    assert NAMED == {name: "#{:02x}{:02x}{:02x}".format(*ImageColor.getrgb(name)[:3]) for name in ImageColor.colormap}


@pytest.mark.parametrize(
    "text",
    ["#Fa0", "#C02030", "rgb(10, 120, 200)", "rgb(100%,0%,50%)", "hsl(120,60%,40%)", "hsl(340, 100%, 85%)", "Navy"],
)
def test_opaque_colours_are_those_of_pillow(text):
    red, green, blue = ImageColor.getrgb(text)[:3]
    colour, opacity = colour_of(text)
    levels = bytes.fromhex(colour[1:])
    # Pillow cuts where we round.
    assert opacity == 1 and all(abs(one - other) <= 1 for one, other in zip(levels, (red, green, blue), strict=True))


@pytest.mark.parametrize(
    ("text", "opacity"),
    [
        ("#ff000080", 128 / 255),
        ("#f008", 136 / 255),
        ("rgba(1,2,3,.25)", 0.25),
        ("rgb(1 2 3 / 40%)", 0.4),
        ("transparent", 0),
    ],
)
def test_opacity_is_read(text, opacity):
    assert colour_of(text)[1] == pytest.approx(opacity)


@pytest.mark.parametrize("text", ["", "reddish", "#12", "#12345", "rgb(1,2)", "rgb(a,b,c)", "url(#a)", "lab(1 2 3)"])
def test_other_texts_are_no_colour(text):
    assert colour_of(text) is None
