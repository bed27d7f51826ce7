"""What pieces draw: outlines to scale, pictures without their pixels, and where white belongs in both."""

from __future__ import annotations

import io
from dataclasses import replace

import pytest
from PIL import Image
from shapely import Polygon, box, unary_union

from calculators.cache import PICTURES
from calculators.cut.artwork import CutArtwork, Meanings
from calculators.files.picture import read_picture
from calculators.pixels.white_areas import BARE, PRINTED, WHITE
from calculators.shapes.cut_pieces import Layer
from calculators.sheets.contents import (
    OutlineContent,
    content_of,
    pixels_of,
    traced,
    with_body_colour,
)
from calculators.sheets.model import Placement
from calculators.sheets.pieces import cut_lines
from calculators.sheets.print_file import PrintOptions, is_white_film, print_file
from calculators.sheets.trial_strip import LINES_MM, strip_content
from calculators.sheets.white_plate import Plate
from calculators.values import Progress, Wanted, in_one_go
from tests.calculators.cut.cut_artwork import region
from tests.calculators.files.pdf_files import poppler, rendered
from tests.calculators.sheets.printed_sheets import (
    PLATE,
    PLATE_MARKS,
    contents,
    emblem,
    item,
    layout,
    png_of,
)


def rings_of(shape):
    return unary_union([Polygon([(piece[0].real, piece[0].imag) for piece in ring]) for ring in shape.rings])


def test_outlines_are_scaled_to_their_width_and_stay_curves():
    drawing = read_picture("dial.svg", PLATE.encode(), wanted=True, or_outlines=True)
    content = in_one_go(content_of(drawing, 40, marks=PLATE_MARKS))
    assert content.size == pytest.approx(40 + 20j)
    assert rings_of(content.shapes[1]).bounds == pytest.approx((8, 2, 38, 12))
    assert {len(piece) for piece in content.shapes[3].rings[0]} == {4}
    # What is wanted white: the rim, and the disc within the red.
    white = region(content.white.plane, content.white.white)
    assert white.area == pytest.approx(6 * 16 + 3.14159 * 9, abs=0.05)


def test_a_picture_is_held_without_its_pixels_and_decoded_when_they_are_needed():
    content = contents()["emblem"]
    assert content.picture.rgba is None and content.size == pytest.approx(15 + 15j)
    assert isinstance(content.white, Meanings)
    counts = [content.white.plane.count(each) for each in (BARE, WHITE, PRINTED)]
    assert counts == [360 * 360 - 240 * 240, 0, 240 * 240]
    assert in_one_go(pixels_of(content.picture)).pixels == emblem().tobytes()


def test_pixels_of_one_picture_are_asked_for_at_a_time_and_only_where_needed(monkeypatch):
    monkeypatch.setattr("calculators.files.picture.can_decode", lambda: False)
    pieces = [
        Placement(item(key, id=f"{key}{copy}"), copy, complex(20, 20 * copy))
        for key in ("emblem", "photo")
        for copy in (1, 2)
    ]

    def asked(options, *, first: bool = True) -> list[str]:
        """Return the pictures whose pixels are asked for, answered as the page does."""
        if first:
            PICTURES.clear()
        names, answer = [], None
        steps = print_file([layout(*pieces)], contents(), options)
        while True:
            try:
                step = steps.send(answer)
            except StopIteration:
                return names
            answer = None
            if isinstance(step, Wanted):
                names.append(step.name)
                image = Image.open(io.BytesIO(step.data)).convert("RGBA")
                answer = (*image.size, image.tobytes())

    # A JPEG goes in as it came, and its white is its box; the other is asked for once for all of its copies.
    assert asked(PrintOptions("t", "d")) == ["emblem"]
    # The sheet's next file needs the same.
    assert asked(PrintOptions("t", "d"), first=False) == []
    assert asked(PrintOptions("t", "d", plate=Plate("White", 0.1))) == ["emblem"]
    pieces = [replace(each, item=replace(each.item, film="white", bleed=1.0)) for each in pieces]
    assert asked(PrintOptions("t", "d")) == ["emblem", "photo"]


def test_work_says_how_far_it_is_and_can_be_stopped():
    pieces = [Placement(item(key), 1, 20 + 20j) for key in ("plate", "dial", "photo")]
    steps = print_file([layout(*pieces)], contents(), PrintOptions("t", "d"))
    shares = [step.share for step in steps if isinstance(step, Progress)]
    assert len(shares) >= 5 and shares == sorted(shares) and 0 <= shares[0] and shares[-1] < 1
    stopped = print_file([layout(*pieces)], contents(), PrintOptions("t", "d"))
    next(stopped)
    stopped.close()
    with pytest.raises(StopIteration):
        next(stopped)


def test_flat_picture_can_be_traced_and_a_photograph_stays_as_it_is():
    content = in_one_go(traced(contents()["emblem"]))
    assert isinstance(content.white, CutArtwork)
    plane = content.white.plane
    printed = region(plane, content.white.printed)
    # Fields of 40 of 60 pixels on 15 mm.
    assert printed.hausdorff_distance(box(2.5, 2.5, 12.5, 12.5)) < 0.1
    photo = contents()["photo"]
    assert in_one_go(traced(photo)) is photo


@poppler
def test_white_lettering_gets_the_body_colour_round_it_and_past_the_cut(tmp_path):
    letters = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="10mm" height="4mm" viewBox="0 0 10 4">'
        '<path fill="#fff" d="M1 0H3V4H1ZM6 0H8V4H6Z"/></svg>'
    )
    drawing = read_picture("letters.svg", letters.encode(), wanted=True, or_outlines=True)
    plain = in_one_go(content_of(drawing, 10, with_white=False))
    content = in_one_go(with_body_colour(plain, "#7a2232", 1.5))
    assert content.size == pytest.approx(13 + 7j)
    bare = unary_union([box(2.5, 1.5, 4.5, 5.5), box(7.5, 1.5, 9.5, 5.5)])
    assert region(content.white.plane, content.white.white).symmetric_difference(bare).area < 1e-3
    held = {"letters": content}
    piece = item("dial", film="white", bleed=1.0, rim=0.0, tab=0.0)
    piece = replace(piece, content="letters", size=content.size)
    data = in_one_go(print_file([layout(Placement(piece, 1, 20 + 20j), film="white")], held, PrintOptions("t", "d")))
    seen = rendered(data, tmp_path, 254)

    def at(x, y):
        return seen.getpixel((round(x * 10), round(y * 10)))

    body, bare = (122, 34, 50), (255, 255, 255)
    # Round the letters, and 1 mm past the cut on every side; the letters themselves are bare film.
    assert at(21, 23) == at(26, 23) == at(19.2, 23) == at(33.8, 23) == at(26, 19.2) == at(26, 27.8) == body
    assert at(23.5, 23) == at(28.5, 25) == at(18.8, 23) == bare


def test_strip_has_a_heavy_patch_and_every_line_dark_and_reversed_out():
    content = strip_content(30 + 10j)
    heavy, dark, reversed_out = content.shapes
    assert rings_of(heavy).bounds == pytest.approx((0, 0, 9, 10))

    def sides(shape):
        boxes = [Polygon([(piece[0].real, piece[0].imag) for piece in ring]).bounds for ring in shape.rings]
        return [(round(right - left, 6), round(bottom - top, 6)) for left, top, right, bottom in boxes]

    for wide in LINES_MM:
        for shape in (dark, reversed_out):
            assert {wide} <= {high for _wide, high in sides(shape)} and {wide} <= {
                across for across, _high in sides(shape)
            }
    points = [point for shape in content.shapes for ring in shape.rings for piece in ring for point in piece]
    assert all(-1e-9 <= point.real <= 30 + 1e-9 and -1e-9 <= point.imag <= 10 + 1e-9 for point in points)
    assert isinstance(content, OutlineContent)


@pytest.mark.parametrize(
    ("film", "white"),
    [
        ("white", True),
        ("clear", False),
        ("white-laser", True),
        ("backing-white", True),
        ("clear-inkjet", False),
        ("other", False),
    ],
)
def test_films_of_the_tables_are_known_to_be_white(film, white):
    assert is_white_film(film) is white


def test_picture_of_a_sheet_that_was_read_again_is_the_same_file():
    data = png_of(emblem())
    again = in_one_go(content_of(read_picture("emblem", data, wanted=True), 15))
    sheet = layout(Placement(item("emblem"), 1, 20 + 20j))
    first = in_one_go(print_file([sheet], contents(), PrintOptions("t", "d")))
    assert in_one_go(print_file([sheet], {"emblem": again}, PrintOptions("t", "d"))) == first


def test_white_lettering_in_a_picture_gets_the_body_colour_round_it():
    # A white bar and a red one on a transparent ground, 40 x 20 pixels on 10 x 5 mm; the white is wanted.
    image = Image.new("RGBA", (40, 20), (0, 0, 0, 0))
    image.paste((255, 255, 255, 255), (4, 4, 12, 16))
    image.paste((200, 40, 30, 255), (20, 4, 30, 16))
    picture = read_picture("bars.png", png_of(image), wanted=True)
    plain = in_one_go(content_of(picture, 10, with_white=False))
    content = in_one_go(with_body_colour(plain, "#7a2232", 1.5))
    assert content.size == pytest.approx(13 + 8j)
    seen = Image.open(io.BytesIO(content.picture.data))
    assert (seen.mode, seen.size) == ("RGB", (52, 32))
    for place, colour in (
        ((0, 0), (122, 34, 50)),
        ((51, 31), (122, 34, 50)),
        ((22, 16), (122, 34, 50)),
        ((12, 12), (255, 255, 255)),
        ((28, 12), (200, 40, 30)),
    ):
        assert seen.getpixel(place) == colour
    # It goes into the file as it is, and its edges are carried on without another decoder.
    piece = replace(item("photo", film="white", bleed=1.0, rim=0.0, tab=0.0), content="bars", size=content.size)
    data = in_one_go(print_file([layout(Placement(piece, 1, 20 + 20j))], {"bars": content}, PrintOptions("t", "d")))
    assert data.count(b"/Subtype /Image") >= 2


def test_marked_white_ground_becomes_the_body_colour_too():
    # White letters on a white ground that is marked as bare: only the letter stays white.
    image = Image.new("RGB", (20, 20), (255, 255, 255))
    plane = bytes(WHITE if 5 <= x < 10 and 5 <= y < 15 else BARE for y in range(20) for x in range(20))
    picture = read_picture("letter.png", png_of(image), wanted=True)
    plain = replace(in_one_go(content_of(picture, 5, with_white=False)), white=Meanings(plane, 20, 20, 0.25 + 0.25j))
    content = in_one_go(with_body_colour(plain, "#102030", 0.0))
    seen = Image.open(io.BytesIO(content.picture.data))
    assert seen.getpixel((7, 7)) == (255, 255, 255) and seen.getpixel((1, 1)) == seen.getpixel((12, 7)) == (16, 32, 48)


@pytest.mark.parametrize("side", [40, 1200])
def test_picture_is_cut_along_its_edge_even_where_that_touches_its_sides(side):
    # Three quarters of the picture are orange, its upper right quarter is transparent.
    image = Image.new("RGBA", (side, side), (230, 120, 20, 255))
    image.paste((0, 0, 0, 0), (side // 2, 0, side, side // 2))
    content = in_one_go(content_of(read_picture("corner.png", png_of(image), wanted=True), 20))
    piece = replace(item("emblem", film="white", bleed=1.0, rim=0.0, tab=0.0), content="corner", size=content.size)
    (line,) = [run for layer, run in cut_lines(piece, content, 0.2) if layer is Layer.OUTLINE]
    ring = Polygon([(each[0].real, each[0].imag) for each in line])
    meant = Polygon([(0, 0), (10, 0), (10, 10), (20, 10), (20, 20), (0, 20)])
    # Within half of the pixels that it was traced of.
    assert ring.hausdorff_distance(meant) < (0.3 if side == 40 else 0.06)


def test_opaque_picture_is_cut_along_its_box():
    assert contents()["photo"].edges is None
