"""Markings asked about, for the tests of the ways to get white beneath one."""

from PIL import Image, ImageDraw

from calculators import catalogue, units
from calculators.declare import sentence
from calculators.files.picture import read_picture
from calculators.files.png import png
from calculators.underlay.underlay_fields import UnderlayInputs

UNDERLAY = catalogue.find("underlay")


MAROON, IVORY = "#7a2232", "#efe4c4"


def picture(image: Image.Image):
    made = image.convert("RGBA")
    return read_picture("art.png", png(made.width, made.height, made.tobytes()), wanted=True)


def seen(image=None, **inputs):
    return UNDERLAY.answer(UnderlayInputs(**inputs, **({"picture": picture(image)} if image else {})))


def disc(fill, ground=(0, 0, 0, 0), size=60):
    image = Image.new("RGBA", (size, size), ground)
    ImageDraw.Draw(image).ellipse((5, 5, size - 5, size - 5), fill=fill)
    return image


def sentences(outputs):
    return [sentence(each, units.MM) for each in outputs.reasons]


def by_colour(outputs):
    return {row.colour: row for row in outputs.colours}


def reasons_text(outputs):
    return " ".join(sentence(each, units.MM) for each in outputs.reasons)
