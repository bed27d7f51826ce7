"""Outlines of fonts against FreeType, which draws them without hinting; ours by exact coverage of pixels."""

import io
import unicodedata
from functools import cache
from itertools import accumulate, pairwise

import freetype
import numpy as np
import pytest
from shapely.geometry import Point

from calculators.lettering.fonts.font import Font
from calculators.lettering.fonts.served import FILES, served
from calculators.shapes.areas import enclosed
from calculators.shapes.coverage import add_edge
from calculators.shapes.grid import flattened
from tests.conftest import ROOT

from .. import measured
from . import made

#: Pixels of an em. FreeType rounds points to 1/64 pixel, so small glyphs are drawn larger.
EM, LARGE_EM = 200, 640
#: Glyphs of each font, and how far ours may differ from FreeType's, as a share of a glyph's area.
COUNT, MOST_DIFFERENT = 200, 0.003


@cache
def font(name):
    return Font(name, served(name))


def difference(ours, face, character, em):
    """Return by what share of its area a character differs from FreeType's; None if FreeType draws nothing."""
    face.set_pixel_sizes(0, em)
    face.load_char(character, freetype.FT_LOAD_NO_HINTING)
    if not face.glyph.outline.points:
        return None
    face.load_char(character, freetype.FT_LOAD_NO_HINTING | freetype.FT_LOAD_RENDER)
    glyph, bitmap = face.glyph, face.glyph.bitmap
    theirs = np.array(bitmap.buffer, dtype=float).reshape(bitmap.rows, bitmap.pitch)[:, : bitmap.width] / 255
    theirs = np.pad(theirs, 1)
    high, wide = theirs.shape
    corner = complex(glyph.bitmap_left - 1, -glyph.bitmap_top - 1)
    scale = em / ours.units
    sums = [[0.0] * (wide + 2) for _ in range(high)]
    for ring in ours.rings(character):
        points = [scale * at.conjugate() - corner for at in flattened(ring, 2e-5 * ours.units)]
        for start, end in pairwise([*points, points[0]]):
            add_edge(sums, start, end, wide, high)
    covered = np.abs([list(accumulate(row[:wide])) for row in sums])
    return np.abs(covered - theirs).sum() / theirs.sum()


def differences(ours, data, characters):
    face = freetype.Face(io.BytesIO(data))
    found = {}
    for each in characters:
        share = difference(ours, face, each, EM)
        if share is not None and share > MOST_DIFFERENT:
            share = difference(ours, face, each, LARGE_EM)
        found[each] = share
    return found


@pytest.mark.parametrize("name", FILES)
def test_outlines_of_200_glyphs_are_those_of_freetype(name):
    face = freetype.Face(io.BytesIO(served(name)))
    characters = [chr(code) for code, _glyph in face.get_chars() if unicodedata.category(chr(code))[0] != "C"]
    found = differences(font(name), served(name), characters[: COUNT + 10])
    assert {each for each, share in found.items() if share is None} == {
        each for each in found if not font(name).rings(each)
    }
    drawn = [share for share in found.values() if share is not None]
    assert len(drawn) >= COUNT
    assert max(drawn) < MOST_DIFFERENT


@pytest.mark.parametrize("data", [made.truetype(), made.cff()], ids=["TrueType", "CFF"])
def test_outlines_of_both_kinds_are_those_of_freetype(data):
    found = differences(Font("a", data), data, "HXIO1-")
    assert None not in found.values() and max(found.values()) < MOST_DIFFERENT


@pytest.mark.parametrize("data", [made.truetype(), made.cff()], ids=["TrueType", "CFF"])
def test_overlapping_contours_are_joined_and_counters_are_holes(data):
    opened = Font("a", data)
    # The two bars of the X overlap in a square of 100 units; three bars of the H are one ring.
    assert [len(opened.rings(each)) for each in "XHO"] == [1, 1, 2]
    assert sum(map(enclosed, opened.rings("X"))) == pytest.approx(600 * 100 + 700 * 100 - 100 * 100)
    ring = measured.polygon(opened.rings("O"), 0.5)
    assert ring.is_valid and not ring.contains(Point(300, 350)) and ring.contains(Point(300, 650))


def test_quadratic_curves_are_exactly_cubics():
    # A quarter of the O: control at its corner. Cubic handles lie two thirds of the way (Bézier, degree elevation).
    piece = Font("a", made.truetype()).contours("O")[0][0]
    assert piece == pytest.approx((50 + 350j, 50 + (350 + 350 * 2 / 3) * 1j, (50 + 250 / 3) + 700j, 300 + 700j))


def test_wrapped_files_hold_the_same_outlines():
    plain = Font("a", made.truetype())
    for flavour in ("woff", "woff2"):
        assert Font("a", made.truetype(flavour)).rings("O") == plain.rings("O")
    assert Font("a", made.cff("woff2")).rings("O") == Font("a", made.cff()).rings("O")


def test_parts_of_a_glyph_are_placed_as_freetype_places_them():
    changed = made.opened(made.truetype())
    changed["glyf"]["X"] = part_of("O", transform=[[0.5, 0.25], [-0.25, 0.5]], x=120, y=-40)
    changed["glyf"]["X"].recalcBounds(changed["glyf"])
    changed["hmtx"]["X"] = (600, 33)
    data = made.saved(changed)
    assert max(differences(Font("a", data), data, "X").values()) < MOST_DIFFERENT


def part_of(name, **attributes):
    """Return a glyph that is another one, placed."""
    from fontTools.ttLib.tables._g_l_y_f import ARGS_ARE_XY_VALUES, Glyph, GlyphComponent

    part = GlyphComponent()
    part.glyphName, part.flags = name, ARGS_ARE_XY_VALUES
    for key, value in attributes.items():
        setattr(part, key, value)
    glyph = Glyph()
    glyph.numberOfContours = -1
    glyph.components = [part]
    glyph.xMin = glyph.yMin = glyph.xMax = glyph.yMax = 0
    return glyph


@pytest.mark.parametrize("name", FILES)
def test_served_fonts_are_the_unchanged_files_of_their_packages(name):
    package = FILES[name].partition("-latin-")[0]
    assert served(name) == (ROOT / "node_modules" / "@fontsource" / package / "files" / FILES[name]).read_bytes()
