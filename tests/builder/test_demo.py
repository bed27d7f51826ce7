"""The demonstration artwork: clean outlines at model size, and rasters equal to those of its script."""

import json
import re
from xml.etree import ElementTree

import pytest
from PIL import Image, ImageChops, ImageOps, ImageStat

from builder.demo import DEMO, DRAWING_CORNERS, RASTERS, SLANTED_CORNERS, drawn
from builder.demo_lettering import drawings
from calculators.answer import answer
from calculators.files.header import read_header
from calculators.shapes.homography import homography
from calculators.shapes.transforms import mapped

OUTLINES = sorted(DEMO.glob("*.svg"))
MARKINGS = [path for path in OUTLINES if path.name != "railcar-panel.svg"]
BY_NAME = pytest.mark.parametrize("path", OUTLINES, ids=lambda path: path.stem)


def difference(one, other):
    """Return the mean and the largest difference of two pictures in their visible pixels, in levels."""
    flat = [
        Image.alpha_composite(Image.new("RGBA", each.size, "#808080"), each.convert("RGBA")) for each in (one, other)
    ]
    seen = ImageChops.difference(*flat)
    return max(ImageStat.Stat(seen).mean), max(high for _low, high in seen.getextrema())


@pytest.mark.parametrize("name", RASTERS)
def test_raster_is_what_the_script_makes(name):
    stored, made = Image.open(DEMO / name), RASTERS[name]()
    assert stored.size == made.size
    mean, largest = difference(stored, made)
    # Drawing differs by one level between machines; JPEG loses a few levels along edges.
    assert (mean, largest) <= (0.2, 3) if name.endswith(".png") else mean < 2


@BY_NAME
def test_outlines_are_plain_shapes(path):
    """No text (so no font), picture, style or script, so that every SVG reader can handle them."""
    root = ElementTree.parse(path).getroot()
    names = {element.tag.partition("}")[2] for element in root.iter()}
    assert names <= {"svg", "title", "desc", "g", "path"}
    assert {"title", "desc"} <= names
    assert read_header(path.read_bytes()).kind == "SVG"


@pytest.mark.parametrize("path", MARKINGS, ids=lambda path: path.stem)
def test_marking_is_at_model_size(path):
    """Width and height are in mm, and one unit of the drawing is 1 mm."""
    root = ElementTree.parse(path).getroot()
    left, top, width, height = map(float, root.get("viewBox").split())
    assert (left, top) == (0, 0)
    assert (root.get("width"), root.get("height")) == (f"{width:g}mm", f"{height:g}mm")


@pytest.mark.parametrize(
    ("name", "ratio", "full_mm", "along"),
    [
        ("crest-left", 43.5, 600, 0),
        ("warning-band-left", 43.5, 2784, 0),
        ("door-notices", 43.5, 148, 1),
        ("teasel-hull-number", 35, 280, 1),
    ],
)
def test_marking_has_the_size_that_it_states(name, ratio, full_mm, along):
    """Size on the model times the ratio, against the millimetres in the drawing's own description."""
    root = ElementTree.parse(DEMO / f"{name}.svg").getroot()
    described = next(root.iter("{http://www.w3.org/2000/svg}desc")).text
    assert str(full_mm) in described
    assert float(root.get("viewBox").split()[2 + along]) * ratio == pytest.approx(full_mm, rel=0.002)


@pytest.mark.parametrize("name", ["crest", "lining", "warning-band"])
def test_handed_pairs_mirror(name):
    left, right = (drawn((DEMO / f"{name}-{side}.svg").read_text("utf-8"), 480) for side in ("left", "right"))
    # Edges are softened a little differently from either side.
    assert difference(ImageOps.mirror(left), right)[0] < difference(left, right)[0] / 10


def test_figures_and_words_have_no_mirrored_twin():
    assert not [path for path in MARKINGS if re.search(r"(number|notices|figures|load-line)-(left|right)", path.stem)]


def test_lettering_is_what_the_calculators_draw():
    for name, svg in drawings().items():
        assert (DEMO / name).read_text("utf-8") == svg, f"{name}: run python -m builder.demo"


def test_small_crest_is_soft_and_transparent():
    alpha = Image.open(DEMO / "crest-200px.png").getchannel("A")
    assert alpha.size == (200, 200)
    assert alpha.getpixel((0, 0)) == 0
    assert alpha.getpixel((100, 100)) == 255
    assert sum(alpha.histogram()[1:255]) > 400  # the rim of a disc 200 px across is 628 px long


@pytest.mark.parametrize(
    ("picture", "way"),
    [("railcar-panel.png", "straight"), ("railcar-panel.png", "four-corners"), ("railcar-slanted.jpg", "four-corners")],
)
def test_crest_is_measured_in_its_own_pictures(picture, way):
    """The worked example: the points on the drawing are the defaults; on the photograph they are on whole pixels."""
    inputs = {"way": way, "points_in_place": "all"}
    if "slanted" in picture:
        seen = homography(DRAWING_CORNERS, SLANTED_CORNERS)
        places = {
            "corner_top_left": (240, 130),
            "corner_top_right": (990, 130),
            "corner_bottom_right": (990, 730),
            "corner_bottom_left": (240, 730),
            "mark_from": (465, 430),
            "mark_to": (765, 430),
        }
        inputs |= {name: "{}, {}".format(*map(round, mapped(seen, place))) for name, place in places.items()}
    envelope = {
        "do": "answer",
        "calculator": "drawing-size",
        "inputs": inputs,
        "files": {"picture": {"name": picture, "bytes": 0}},
    }
    *_, (text, _buffers) = answer(json.dumps(envelope), [(DEMO / picture).read_bytes()])
    result = json.loads(text)["result"]
    assert abs(result["full_size_mm"] - 600) <= min(3, result["full_size_plus_minus_mm"])


def test_the_crest_is_where_the_worked_example_says():
    """The white ground of the crest begins and ends within its ring, left and right of x = 465 and 765."""
    row = Image.open(DEMO / "railcar-panel.png").convert("RGB").crop((0, 431, 1200, 432)).tobytes()
    colours = [tuple(row[at : at + 3]) for at in range(0, len(row), 3)]
    night = [x for x, (r, g, b) in enumerate(colours) if (r, g, b) == (31, 59, 77)]
    assert (min(night), max(night)) == pytest.approx((465, 764), abs=1)
