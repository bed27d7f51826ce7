"""Shades of edges and of compression, separated from colours: drawings by two renderers
and JPEGs, whose colours are known beforehand.
"""

import io
from functools import cache

import numpy
import pytest
import resvg_py
import shapely
from PIL import Image
from scipy.ndimage import maximum_filter, minimum_filter

from calculators.colour.difference import delta_e
from calculators.pixels.colour_table import lab, rgb_of
from calculators.pixels.flat_colours import flat_colours
from calculators.pixels.planes import Planes
from calculators.pixels.raster import Raster
from calculators.pixels.shades import Explained, Mixes, _from_hull, _hull
from tests.steps import finished

RED, NAVY, GOLD, GREEN, INK, WHITE = "#c4161c", "#1f3b4d", "#f6c800", "#2f6b3f", "#1c2226", "#ffffff"


def svg(body: str, width: int = 200, height: int = 200) -> str:
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" viewBox="0 0 200 200">'
        f'<rect width="200" height="200" fill="#ffffff"/>{body}</svg>'
    )


@cache
def drawn(body: str, size: int, renderer: str) -> Image.Image:
    text = svg(body, size, size)
    if renderer == "resvg":
        data = bytes(resvg_py.svg_to_bytes(svg_string=text, skip_system_fonts=True))
    else:
        import cairosvg  # needs libcairo2, which make setup installs

        data = cairosvg.svg2png(bytestring=text.encode())
    return Image.open(io.BytesIO(data)).convert("RGB")


def compressed(image: Image.Image, quality: int, chroma: str) -> Image.Image:
    file = io.BytesIO()
    image.save(file, "JPEG", quality=quality, subsampling={"4:4:4": 0, "4:2:0": 2}[chroma])
    return Image.open(file)


def found(image: Image.Image):
    image = image.convert("RGBA")
    return finished(flat_colours(Raster(image.tobytes(), *image.size)))


def apart(one: str, other: str) -> float:
    return delta_e(lab(rgb_of(one)), lab(rgb_of(other)))


#: Shapes that touch along slanted edges: each edge pixel holds both and what lies behind them.
TOUCHING = "".join(
    f'<path d="M{20 + 40 * at} 17L{60 + 40 * at} 17L{71 + 40 * at} 183L{31 + 40 * at} 183Z" fill="{fill}"/>'
    for at, fill in enumerate((NAVY, RED, GOLD, GREEN))
)
ROUNDEL = (
    f'<circle cx="100" cy="100" r="92" fill="{NAVY}"/><circle cx="100" cy="100" r="64" fill="{WHITE}"/>'
    f'<circle cx="100" cy="100" r="40" fill="{RED}"/><circle cx="100" cy="100" r="20" fill="{GOLD}"/>'
)


@pytest.mark.parametrize("renderer", ["cairo", "resvg"])
@pytest.mark.parametrize("size", [150, 233, 420])
def test_touching_shapes_have_only_their_own_colours(size, renderer):
    assert {each.hex for each in found(drawn(TOUCHING, size, renderer)).colours} == {WHITE, NAVY, RED, GOLD, GREEN}


@pytest.mark.parametrize("chroma", ["4:4:4", "4:2:0"])
@pytest.mark.parametrize("quality", [60, 70, 80, 90])
@pytest.mark.parametrize("size", [180, 354])
def test_a_compressed_roundel_has_four_colours_as_drawn(size, quality, chroma):
    colours = found(compressed(drawn(ROUNDEL, size, "resvg"), quality, chroma)).colours
    assert len(colours) == 4
    for hex in (WHITE, NAVY, RED, GOLD):
        assert min(apart(hex, each.hex) for each in colours) < 3, hex


@pytest.mark.parametrize("fill", [RED, GREEN, "#0057b8"])
def test_a_thin_half_covered_ring_gets_its_full_colour(fill):
    """The ring is two pixels wide, as wide as a square of 4:2:0 is: its pixels show a duller colour."""
    ring = drawn(f'<circle cx="100" cy="100" r="70" fill="none" stroke="{fill}" stroke-width="2"/>', 200, "resvg")
    picture = compressed(ring, 85, "4:2:0")
    whole = (numpy.asarray(ring) == rgb_of(fill)).all(2)
    visible = "#{:02x}{:02x}{:02x}".format(*map(int, numpy.median(numpy.asarray(picture)[whole], axis=0)))
    (estimate,) = (each.hex for each in found(picture).colours if apart(each.hex, WHITE) > 10)
    assert apart(estimate, fill) < 0.85 * apart(visible, fill)


def test_an_intermediate_colour_survives_compression():
    """Grey lies on the line between black and white, and is no edge where it fills a field."""
    body = (
        '<rect x="20" y="20" width="80" height="160" fill="#000000"/>'
        '<rect x="100" y="20" width="80" height="160" fill="#808080"/>'
    )
    colours = found(compressed(drawn(body, 200, "resvg"), 70, "4:2:0")).colours
    assert len(colours) == 3
    assert min(apart("#808080", each.hex) for each in colours) < 2


def test_overlapping_shapes_mix_by_porter_and_duff():
    """Porter and Duff, "Compositing digital images", 1984: a over b, each covering a
    part of the pixel, over what was there.
    """
    mixes = Mixes([rgb_of(NAVY), rgb_of(RED), rgb_of(GOLD)], noisy=False)
    navy, red, white = (numpy.array(rgb_of(each), float) for each in (NAVY, RED, WHITE))
    for share in numpy.linspace(0.05, 0.95, 19):
        under = (1 - share) * navy + share * white
        pixel = tuple(round(each) for each in share * red + (1 - share) * under)
        assert Explained(mixes, pixel, [0, 1, 2]).by([0, 1]), share
    assert not Explained(mixes, rgb_of(GREEN), [0, 1, 2]).by([0, 1])


def test_the_middles_of_a_plane_are_those_that_scipy_finds():
    pixels = numpy.kron(numpy.random.default_rng(3).integers(0, 3, (12, 15)), numpy.ones((4, 5))).astype(numpy.uint8)
    alike = minimum_filter(pixels, 3) == maximum_filter(pixels, 3)
    alike[[0, -1]] = alike[:, [0, -1]] = False
    height, width = pixels.shape
    planes = Planes(width, height)
    assert planes.in_bands(Planes.middles, pixels.tobytes(), margin=2) == alike.astype(numpy.uint8).tobytes()


@pytest.mark.parametrize("quality", [None, 85, 70])
@pytest.mark.parametrize("width", [1.3, 2, 3])
@pytest.mark.parametrize(("ground", "thin"), [(RED, "#e18b8e"), (RED, "#e8a5a5"), (NAVY, "#8f9da6")])
def test_thin_lines_halfway_to_white_are_not_taken_for_white(ground, thin, width, quality):
    """Nothing of these curves is nearer to white than they are, so nothing says that they are white half covered."""
    lines = "".join(f'<path d="M25 {35 + 25 * at}Q100 {8 + 25 * at} 140 {40 + 25 * at}"/>' for at in range(5))
    body = (
        f'<rect x="16" y="16" width="168" height="168" fill="{ground}"/>'
        '<circle cx="155" cy="155" r="20" fill="#ffffff"/>'
        f'<g fill="none" stroke="{thin}" stroke-width="{width}">{lines}</g>'
    )
    picture = drawn(body, 240, "resvg")
    colours = found(compressed(picture, quality, "4:2:0") if quality else picture).colours
    assert len(colours) == 3
    assert min(apart(thin, each.hex) for each in colours) < (12 if quality else 1)


@pytest.mark.parametrize("renderer", ["cairo", "resvg"])
@pytest.mark.parametrize("size", [180, 300])
def test_hairlines_round_several_fields_are_no_colours_of_their_own(size, renderer):
    """Half a pixel of black round each of four fields: no pixel is black, and each field has a darker shade."""
    fills = (NAVY, RED, GOLD, GREEN)
    width = 0.5 * 200 / size
    body = "".join(
        f'<ellipse cx="{55 + 90 * (at % 2)}" cy="{55 + 90 * (at // 2)}" rx="38" ry="30" fill="{fill}" '
        f'stroke="#000" stroke-width="{width}"/>'
        for at, fill in enumerate(fills)
    )
    colours = [each.hex for each in found(drawn(body, size, renderer)).colours]
    meant = (*fills, WHITE, "#000000")
    assert all(min(apart(each, other) for other in meant) < 6 for each in colours)
    assert all(min(apart(each, other) for other in colours) < 1 for each in (*fills, WHITE))


@pytest.mark.parametrize("renderer", ["cairo", "resvg"])
def test_a_seam_between_two_shapes_of_one_colour_is_no_colour(renderer):
    """What lies behind shows through a seam in which each shape covers half of a pixel."""
    body = (
        f'<rect x="10" y="10" width="180" height="180" fill="{RED}"/>'
        f'<rect x="30" y="30" width="70.25" height="100" fill="{INK}"/>'
        f'<rect x="100.25" y="30" width="60" height="100" fill="{INK}"/>'
    )
    colours = [each.hex for each in found(drawn(body, 300, renderer)).colours]
    assert sorted(colours) == sorted((WHITE, RED, INK))


def test_distances_from_a_hull_are_those_of_shapely():
    chance = numpy.random.default_rng(7)
    for count in (1, 2, 3, 12):
        points = chance.integers(-60, 60, (count, 2)).tolist()
        hull = shapely.MultiPoint(points).convex_hull
        for point in chance.uniform(-90, 90, (40, 2)).tolist():
            assert _from_hull(point, _hull(points)) == pytest.approx(hull.distance(shapely.Point(point)), abs=1e-9)
