"""The white plate of coarse pictures, against the shapes that they were drawn of (shapely) and their own pixels."""

from __future__ import annotations

import pytest
from PIL import Image, ImageDraw
from shapely import MultiPolygon, Point, Polygon, box
from shapely.affinity import affine_transform, scale

from calculators.cut.artwork import CutArtwork, Meanings
from calculators.cut.openings import beneath
from calculators.files.picture import read_picture
from calculators.sheets import plate_outline
from calculators.sheets.contents import content_of, traced
from calculators.sheets.model import Item, Part, Placement
from calculators.sheets.plate_outline import outlined
from calculators.sheets.print_file import PrintOptions, print_file
from calculators.sheets.white_plate import Plate
from calculators.values import in_one_go
from tests.calculators.sheets.printed_sheets import layout, png_of
from tests.calculators.sheets.test_bleed import plate_region
from tests.noise import noise

#: 120 ppi.
PIXEL_MM = 25.4 / 120
SIZE = 120, 60
#: Each pixel is drawn as the mean of so many across and down.
FINER = 16
RED = (160, 30, 40)
#: A slanted stroke and a disc, in pixels.
DRAWN = MultiPolygon([Polygon([(8.3, 52), (31.6, 7), (41.2, 7), (17.9, 52)]), Point(80.4, 30.2).buffer(22.7, 64)])


def soft(shape) -> Image.Image:
    """Return how much of each pixel lies in a shape."""
    large = Image.new("L", (SIZE[0] * FINER, SIZE[1] * FINER))
    for part in scale(shape, FINER, FINER, origin=(0, 0)).geoms:
        ImageDraw.Draw(large).polygon(list(part.exterior.coords), fill=255)
    return large.resize(SIZE, Image.Resampling.BOX)


def on_white(mask):
    return Image.composite(Image.new("RGB", SIZE, RED), Image.new("RGB", SIZE, "white"), mask)


def on_nothing(mask):
    image = Image.new("RGBA", SIZE, RED)
    image.putalpha(mask)
    return image


def content(image, pixel_mm=PIXEL_MM, marks=""):
    picture = read_picture("lettering", png_of(image), wanted=True)
    return in_one_go(content_of(picture, image.width * pixel_mm, marks=marks))


def plate_of(made, choke_mm):
    """Return the white plate as the print file has it, from the corner of its piece."""
    item = Item("l", "Lettering", Part.COLOUR, made.size, "l", "clear")
    options = PrintOptions("t", "d", plate=Plate("White", choke_mm))
    region = plate_region(in_one_go(print_file([layout(Placement(item, 1, 20 + 20j))], {"l": made}, options)))
    return affine_transform(region, [1, 0, 0, 1, -20, -20])


@pytest.mark.parametrize("ground", [on_nothing, on_white])
def test_plate_of_coarse_lettering_follows_what_was_drawn(ground):
    made = content(ground(soft(DRAWN)))
    whole, choked = plate_of(made, 0.0), plate_of(made, 0.2)
    truth = scale(DRAWN, PIXEL_MM, PIXEL_MM, origin=(0, 0))
    # Steps would be half a pixel off along most of the edge.
    assert whole.symmetric_difference(truth).area <= 0.1 * PIXEL_MM * truth.length
    assert whole.hausdorff_distance(truth) <= PIXEL_MM
    assert choked.hausdorff_distance(whole.buffer(-0.2, quad_segs=64)) <= 0.005


def test_visible_white_of_a_coarse_picture_is_not_choked():
    image = Image.new("RGBA", SIZE, (0, 0, 0, 0))
    image.paste((255, 255, 255, 255), (20, 10, 100, 50))
    image.paste((*RED, 255), (60, 10, 100, 50))
    made = in_one_go(outlined(content(image)))
    assert isinstance(made, CutArtwork)
    (ring,) = beneath(made, 0.2).flat
    region = Polygon([(each.real, each.imag) for each in made.plane.polygon(ring)])
    white, colour = (
        scale(box(*each), PIXEL_MM, PIXEL_MM, origin=(0, 0)) for each in ((20, 10, 60, 50), (60, 10, 100, 50))
    )
    edge = colour.boundary.difference(white.buffer(1e-6))
    expected = white.union(colour).difference(edge.buffer(0.2, quad_segs=64)).union(white)
    assert region.symmetric_difference(expected).area <= 0.01 * expected.area
    assert region.bounds[0] == pytest.approx(20 * PIXEL_MM, abs=0.02)


def with_more(mask, box, level):
    made = mask.copy()
    made.paste(level, box)
    return made


#: What outlines may lose: a dot and a hair one pixel wide, a hole, a gap one pixel wide, and the tip of a line.
DETAILS = [
    ((4, 4, 5, 5), 255),
    ((46, 5, 47, 50), 255),
    ((80, 30, 83, 33), 0),
    ((80, 0, 81, 60), 0),
    ((103, 30, 107, 31), 255),
]


def test_outlines_that_lose_a_detail_leave_the_plate_its_pixels(monkeypatch):
    plain = soft(DRAWN)
    less = content(on_nothing(plain))
    found = in_one_go(traced(less))

    def traced_of(other):
        def stand_in(_content):
            yield from ()
            return other

        monkeypatch.setattr(plate_outline, "traced", stand_in)

    for where, level in DETAILS:
        more = content(on_nothing(with_more(plain, where, level)))
        traced_of(found)
        assert isinstance(in_one_go(outlined(less)), CutArtwork)
        assert in_one_go(outlined(more)) is more.white, where
        # And so is what regions would add.
        traced_of(in_one_go(traced(more)))
        assert in_one_go(outlined(less)) is less.white, where


def test_specks_that_tracing_leaves_out_stay_in_the_plate():
    # 0.06 mm: less than the area from which regions are cut.
    made = content(on_nothing(with_more(soft(DRAWN), (4, 4, 5, 5), 255)), pixel_mm=0.06)
    assert in_one_go(outlined(made)) is made.white
    assert isinstance(in_one_go(outlined(content(on_nothing(soft(DRAWN)), pixel_mm=0.06))), CutArtwork)


def test_fine_pixels_and_photographs_are_not_outlined():
    fine = content(on_nothing(soft(DRAWN)), pixel_mm=0.04)
    grain = content(noise(SIZE, 80).convert("RGB"))
    for made in (fine, grain):
        assert isinstance(made.white, Meanings)
        assert in_one_go(outlined(made)) is made.white
