"""Flat colours: pictures drawn with known ones, edges by exact coverage, then found again."""

import io
import warnings

import numpy
import pytest
import resvg_py
import skimage
from PIL import Image, ImageDraw

from calculators.colour.difference import delta_e
from calculators.pixels.colour_table import CLEAR, colour_table, hex_of, lab, rgb_of, unpacked, within
from calculators.pixels.flat_colours import NONE, FlatColours, NotFlat, flat_colours
from calculators.pixels.raster import Raster
from tests.conftest import ROOT
from tests.steps import finished

with warnings.catch_warnings():
    # It tells of drawing libraries that it does not find; none are needed here.
    warnings.simplefilter("ignore")
    import colour

DEMO = ROOT / "content" / "demo"
MAROON, IVORY, GREY, RED, YELLOW, ORANGE = "#7a2232", "#efe4c4", "#808080", "#d01f1f", "#f2d13a", "#e17830"


def raster(image: Image.Image) -> Raster:
    image = image.convert("RGBA")
    return Raster(image.tobytes(), *image.size)


def found(image: Image.Image, **options) -> FlatColours:
    return finished(flat_colours(raster(image), **options))


def drawn(
    ground: str, *shapes: tuple[str, str, tuple], size: int = 120, times: int = 8
) -> tuple[Image.Image, Image.Image]:
    """Return a picture smoothed by exact coverage, and the same drawn large and cut: the truth."""
    large = Image.new("RGB", (size * times, size * times), ground)
    pen = ImageDraw.Draw(large)
    for kind, colour, box in shapes:
        getattr(pen, kind)([each * times for each in box], fill=colour)
    return large.reduce(times), large


DISC = drawn("#ffffff", ("ellipse", MAROON, (10.3, 10.6, 90.2, 90.4)))
THREE = drawn(
    "#ffffff", ("ellipse", "#000000", (10.3, 10.6, 70.2, 70.4)), ("rectangle", GREY, (80.5, 20.5, 110.5, 100.5))
)
LINES = drawn(IVORY, *[("rectangle", MAROON, (10.0, 10.4 + 9 * at, 110.0, 11.9 + 9 * at)) for at in range(11)])
RAINBOW = drawn(
    YELLOW,
    ("ellipse", RED, (8, 8, 60, 60)),
    ("rectangle", ORANGE, (70.5, 8.5, 112.5, 60.5)),
    ("ellipse", RED, (40, 66, 110, 112)),
)


@pytest.mark.parametrize(
    ("picture", "colours"),
    [
        (DISC, {"#ffffff", MAROON}),
        (THREE, {"#ffffff", "#000000", GREY}),
        (LINES, {IVORY, MAROON}),
        (RAINBOW, {YELLOW, RED, ORANGE}),
    ],
    ids=["disc", "grey-that-is-real", "thin-lines", "orange-that-is-real"],
)
def test_edges_are_distinguished_from_colours(picture, colours):
    flat = found(picture[0])
    assert {each.hex for each in flat.colours} == colours
    assert sum(each.share for each in flat.colours) == pytest.approx(1)


@pytest.mark.parametrize("picture", [DISC, THREE, RAINBOW], ids=["disc", "grey", "rainbow"])
def test_a_pixel_gets_its_dominant_colour(picture):
    """The truth is the share of each colour in the 64 samples of a pixel; where it is even either will do."""
    small, large = picture
    flat = found(small)
    side = large.width // small.width
    blocks = numpy.asarray(large).reshape(small.height, side, small.width, side, 3).swapaxes(1, 2)
    labels = numpy.frombuffer(flat.labels, numpy.uint8).reshape(small.height, small.width)
    leans = numpy.frombuffer(flat.leans, numpy.uint8).reshape(labels.shape)
    others = numpy.frombuffer(flat.others, numpy.uint8).reshape(labels.shape)
    covered = numpy.stack([(blocks == each.rgb).all(-1).mean((2, 3)) for each in flat.colours])
    own = numpy.take_along_axis(covered, labels[None].astype(int), 0)[0]
    assert (own >= covered.max(0) - 0.02).mean() > 0.999
    edge = (others != NONE) & (covered.max(0) < 1)
    assert edge.sum() > 100
    numpy.testing.assert_allclose(leans[edge] / 255, 1 - own[edge], atol=0.03)


def test_the_crest_has_the_colours_it_was_drawn_with():
    """Those of its SVG that fill more than lines of a pixel."""
    flat = found(Image.open(DEMO / "crest-200px.png"))
    assert {"#ffffff", "#1f3b4d", "#c63f2b", "#3d6b45", "#c8993a", "#5a4632", "#e8836d"} <= {
        each.hex for each in flat.colours
    }
    assert len(flat.colours) <= 10


def test_the_ribs_of_leaves_are_labelled_correctly():
    """The truth is the crest's SVG, 64 samples to a pixel: ribs are 1.4 pixels wide,
    and where they fill a pixel they are ribs.
    """
    flat = found(Image.open(DEMO / "crest-200px.png"))
    rib, white = ([each.hex for each in flat.colours].index(hex) for hex in ("#a9c79b", "#ffffff"))
    text = (
        (DEMO / "crest-left.svg").read_text().replace('width="13.8mm" height="13.8mm"', 'width="1600" height="1600"', 1)
    )
    large = numpy.asarray(Image.open(io.BytesIO(bytes(resvg_py.svg_to_bytes(svg_string=text)))).convert("RGBA"))
    blocks = large.reshape(200, 8, 200, 8, 4).swapaxes(1, 2)
    labels = numpy.frombuffer(flat.labels, numpy.uint8).reshape(200, 200)
    ribs, whites, leaves = (
        (blocks[..., :3] == rgb_of(hex)).all(-1).mean((2, 3)) for hex in ("#a9c79b", "#ffffff", "#3d6b45")
    )
    assert (ribs > 0.8).sum() > 100
    assert (labels[ribs > 0.8] == rib).all()
    inside = (whites == 0) & (ribs + leaves > 0.99)
    assert not (labels[inside] == white).any()


def test_clear_pixels_have_no_colour():
    image = Image.new("RGBA", (40, 30), (9, 9, 9, 0))
    image.paste(rgb_of(MAROON), (10, 10, 20, 20))
    flat = found(image)
    assert [each.hex for each in flat.colours] == [MAROON]
    assert flat.labels.count(0) == 100 and flat.labels.count(NONE) == 1100
    assert found(Image.new("RGBA", (5, 5))).colours == ()


@pytest.mark.parametrize(("quality", "most"), [(60, 22), (85, 16)])
def test_a_jpeg_of_flat_artwork_keeps_its_colours(quality, most, tmp_path):
    drawn = bytes(resvg_py.svg_to_bytes(svg_path=str(DEMO / "railcar-panel.svg"), width=900, background="#ffffff"))
    (tmp_path / "a.png").write_bytes(drawn)
    Image.open(tmp_path / "a.png").convert("RGB").save(tmp_path / "a.jpg", quality=quality)
    flat = found(Image.open(tmp_path / "a.jpg"))
    assert len(flat.colours) <= most
    for hex in (MAROON, "#2c2f31"):
        assert min(delta_e(lab(rgb_of(hex)), lab(each.rgb)) for each in flat.colours) < 3


@pytest.mark.parametrize("name", ["astronaut", "chelsea", "color"])
def test_photographs_are_not_flat(name):
    image = Image.open(f"{skimage.__path__[0]}/data/{name}.png")
    with pytest.raises(NotFlat):
        found(image)
    assert len(found(image, count=6).colours) == 6


def test_noise_is_not_flat():
    noise = numpy.random.default_rng(1).integers(0, 256, (150, 150, 3), numpy.uint8)
    with pytest.raises(NotFlat) as raised:
        found(Image.fromarray(noise))
    assert raised.value.colours > 20_000 and sum(raised.value.table.counts.values()) == 150 * 150


def test_the_table_counts_as_numpy_does():
    pixels = numpy.random.default_rng(2).integers(0, 4, (30, 40, 4), numpy.uint8) * 80
    table = colour_table(Raster(pixels.tobytes(), 40, 30))
    opaque = pixels[pixels[..., 3] >= 128][:, :3]
    colours, counts = numpy.unique(opaque, axis=0, return_counts=True)
    wanted = {hex_of(tuple(map(int, colour))): int(count) for colour, count in zip(colours, counts, strict=True)}
    assert {hex_of((each & 255, each >> 8 & 255, each >> 16 & 255)): n for each, n in table.counts.items()} == wanted


@pytest.mark.parametrize(("levels", "bits"), [(64, 6), (128, 5), (256, 4)])
def test_a_large_colour_table_equals_numpy_s(levels, bits):
    """Colours that are cut are added up from those that were counted, not counted again."""
    pixels = numpy.random.default_rng(levels).integers(0, levels, (400, 300, 4), numpy.uint8)
    pixels[..., 3] = numpy.where(numpy.arange(300) < 280, 255, 0)
    table = colour_table(Raster(pixels.tobytes(), 300, 400))
    assert table.bits == bits
    opaque = pixels[:, :280, :3].reshape(-1, 3)
    assert table.distinct <= len(numpy.unique(opaque, axis=0))
    cut = (opaque >> 8 - bits << 8 - bits) + (1 << 7 - bits)
    colours, counts = numpy.unique(cut, axis=0, return_counts=True)
    wanted = {tuple(map(int, colour)): int(count) for colour, count in zip(colours, counts, strict=True)}
    assert {unpacked(each): count for each, count in table.counts.items()} == wanted


@pytest.mark.parametrize("asked", [0, 1, 8, 9, 30, 80])
def test_the_plane_of_few_colours_is_what_numpy_finds(asked):
    pixels = numpy.random.default_rng(4).integers(0, 6, (50, 40, 4), numpy.uint8) * 51
    table = colour_table(Raster(pixels.tobytes(), 40, 50))
    value_of = {packed: 255 - at for at, packed in enumerate([CLEAR, *sorted(table.counts)][:asked])}
    wanted = numpy.zeros((50, 40), numpy.uint8)
    for packed, value in value_of.items():
        clear = pixels[..., 3] < 128
        wanted[clear if packed == CLEAR else (pixels[..., :3] == unpacked(packed)).all(2) & ~clear] = value
    assert table.plane_of_few(value_of) == wanted.tobytes()


@pytest.mark.parametrize("tolerance", [1.0, 5.0, 15.0])
def test_colours_near_by_delta_e_are_never_missed(tolerance):
    """Held against colour-science over pairs of sRGB colours, among them many that are just near enough."""
    rng = numpy.random.default_rng(5)
    first = rng.integers(0, 256, (4000, 3))
    second = numpy.clip(first + rng.normal(0, 3 * tolerance + 4, (4000, 3)).round(), 0, 255).astype(int)
    pairs = [(lab(tuple(map(int, a))), lab(tuple(map(int, b)))) for a, b in zip(first, second, strict=True)]
    apart = colour.delta_E([a for a, _ in pairs], [b for _, b in pairs], method="CIE 2000")
    assert 200 < (apart <= tolerance).sum() < 3800
    wrong = [
        gap
        for (a, b), gap in zip(pairs, apart, strict=True)
        if within(a, tolerance)(b) != (gap <= tolerance) and abs(gap - tolerance) > 1e-6
    ]
    assert wrong == []


#: Blues along which the rotation term makes the formula small: far apart in a* and b*, near by delta E 2000.
BLUES = [((83, 140, 202), (32, 134, 249)), ((89, 149, 227), (83, 148, 238)), ((27, 150, 255), (49, 151, 245))]


@pytest.mark.parametrize("pair", BLUES)
def test_blues_near_by_delta_e_are_never_missed(pair):
    first, second = map(lab, pair)
    gap = float(colour.delta_E(first, second, method="CIE 2000"))
    assert within(first, gap + 0.001)(second) and within(second, gap + 0.001)(first)
    assert not within(first, gap - 0.001)(second)
