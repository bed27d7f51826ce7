"""Sheets as pixels: everything where the layout has it, pictures as another library resamples them."""

import io
from dataclasses import replace

import pytest
from PIL import Image, ImageChops

from calculators.files.png import PngRows
from calculators.sheets.correction import Correction, PrinterError
from calculators.sheets.model import Part, Placement
from calculators.sheets.pixel_sheet import pixel_sheet
from calculators.sheets.print_file import NotPrintable, PrintOptions, print_file
from calculators.sheets.resampled import Axis, over_white, resampled
from calculators.sheets.white_plate import Plate
from calculators.values import in_one_go
from tests.calculators.files.pdf_files import poppler, rendered
from tests.calculators.sheets.printed_sheets import contents, everything, item, layout
from tests.noise import noise

OPTIONS = PrintOptions("Railcar 12", "2026-11-29")
#: 20 pixels a millimetre.
PPI, PER_MM = 508, 20
RED, ORANGE, GREEN = (198, 63, 43), (230, 120, 20), (20, 120, 60)


def opened(data):
    return Image.open(io.BytesIO(data))


def drawn(sheet, options=OPTIONS, ppi=PPI, **more):
    return opened(in_one_go(pixel_sheet(sheet, contents(), options, ppi, **more)))


def box_of(image, colour, part, least=33):
    """Return the box of a colour, and what is at most ``least`` levels off it, in a part of the sheet in mm."""
    crop = image.crop(tuple(round(each * PER_MM) for each in part))
    same = Image.eval(
        ImageChops.difference(crop, Image.new("RGB", crop.size, colour)).convert("L"),
        lambda level: 255 * (level < least),
    )
    return [each / PER_MM + part[place % 2] for place, each in enumerate(same.getbbox())]


@pytest.fixture(scope="module")
def seen():
    return drawn(everything())


def test_sheet_has_its_size_and_resolution(seen):
    assert (seen.size, seen.mode) == ((3000, 2800), "RGB")
    assert seen.info["dpi"] == pytest.approx((508, 508), abs=0.02)


def test_pieces_lie_where_they_were_laid_out_within_a_pixel(seen):
    pixel = 1 / PER_MM
    # The red field, upright, mirrored and turned, and the fields of the emblem: the same places as in the print file.
    for colour, part, meant in (
        (RED, (18, 18, 42, 32), (24, 21, 39, 26)),
        (RED, (18, 43, 42, 57), (21, 46, 36, 51)),
        (RED, (58, 18, 72, 42), (61, 21, 66, 36)),
        (ORANGE, (18, 68, 38, 88), (22.5, 72.5, 32.5, 82.5)),
        (GREEN, (18, 68, 38, 88), (22.5, 77.5, 27.5, 82.5)),
        # Mirrored, then turned to the left: the lower left quarter comes to the upper right.
        (GREEN, (58, 68, 78, 88), (67.5, 72.5, 72.5, 77.5)),
    ):
        # Edges of the enlarged picture are as soft as its pixels.
        assert box_of(seen, colour, part) == pytest.approx(meant, abs=pixel if colour == RED else 0.125), colour


def test_bar_is_100_mm(seen):
    # A row through the bar, below its words.
    row = seen.convert("L").crop((0, 132 * PER_MM, seen.width, 132 * PER_MM + 1))
    left, _top, right, _bottom = row.point(lambda level: 255 * (level < 128)).getbbox()
    assert abs(right - left - 100 * PER_MM) <= 1 and abs(left - 20 * PER_MM) <= 1


@poppler
def test_pixels_of_a_corrected_sheet_agree_with_its_print_file(tmp_path):
    options = replace(OPTIONS, correction=Correction.of(PrinterError(0.993, 1.004, 0.8)))
    own = drawn(everything(), options, 254)
    pdf = rendered(in_one_go(print_file([everything()], contents(), options)), tmp_path, 254)
    # Without the words, which are letters of our own, and the photograph, which poppler smooths otherwise.
    part = (0, 0, 870, 1280)
    off = ImageChops.difference(own.crop(part), pdf.crop(part)).convert("L")
    counts = off.histogram()
    # Edges of the same place: no run of wholly different pixels, as a shift by one would make (some 3,000 of them).
    assert sum(counts[128:]) < 60


def test_resampling_agrees_with_another_library():
    photo = noise((160, 120), 90).resize((320, 240), Image.Resampling.BICUBIC)
    photo = Image.merge("RGB", (photo, Image.linear_gradient("L").resize((320, 240)), photo.rotate(180)))
    source = over_white(photo.convert("RGBA").tobytes(), 320, 240)
    for width, height in ((111, 97), (320, 240), (501, 399)):
        made = resampled(source, Axis(width / 320, 0, width), Axis(height / 240, 0, height))
        seen = Image.frombytes("RGB", (width, height), made.interleaved())
        other = photo.resize((width, height), Image.Resampling.BILINEAR)
        inner = (3, 3, width - 3, height - 3)
        off = ImageChops.difference(seen.crop(inner), other.crop(inner))
        assert max(high for _low, high in off.getextrema()) <= 2


def test_partly_transparent_pixels_are_mixed_with_white():
    rgba = bytes((200, 40, 30, 255, 200, 40, 30, 128, 9, 9, 9, 0))
    assert over_white(rgba, 3, 1).interleaved() == bytes((200, 40, 30, 227, 147, 142, 255, 255, 255))


def test_white_is_black_where_it_is_printed_and_choked_like_the_plate():
    sheet = layout(Placement(item("plate"), 1, 20 + 20j), Placement(item("emblem"), 1, 60 + 20j))
    white = drawn(sheet, replace(OPTIONS, plate=Plate("White", 0.25)), white=True)
    box = (18, 18, 42, 32)
    assert box_of(white, (0, 0, 0), box, 128) == pytest.approx((21, 21, 38.75, 29), abs=1 / PER_MM)
    # Of pixels: those whose middles lie within 0.25 mm of the edge at 62.5 are left out.
    assert box_of(white, (0, 0, 0), (58, 18, 78, 38), 128)[0] == pytest.approx(62.75, abs=0.06)


def test_white_film_gets_colour_past_the_cut():
    sheet = layout(
        Placement(item("plate", film="white", bleed=1.0, rim=0.0, tab=0.0), 1, 20 + 20j),
        Placement(item("emblem", film="white", bleed=1.0, rim=0.0, tab=0.0), 1, 60 + 20j),
        film="white",
    )
    seen = drawn(sheet)

    def at(x, y):
        return seen.getpixel((round(x * PER_MM), round(y * PER_MM)))

    assert at(39.8, 23) == at(30, 20.2) == RED and at(61.7, 25) == ORANGE and at(61.7, 31) == GREEN
    for place in ((40.2, 23), (32, 24), (22, 25), (20.5, 25), (61.2, 25)):
        assert at(*place) == (255, 255, 255), place


def test_backing_piece_on_white_film_is_a_thin_outline():
    back = item("plate", Part.WHITE_UNDER, film="white", tab=0.0)
    seen = drawn(layout(Placement(back, 1, 20 + 20j), film="white", bars=False)).convert("L")
    assert seen.getpixel((30 * PER_MM, 25 * PER_MM)) == 255
    assert min(seen.getpixel((x, 25 * PER_MM)) for x in range(415, 426)) < 200


def test_resolutions_that_no_driver_takes_are_refused():
    for ppi in (71, 1201, float("nan")):
        with pytest.raises(NotPrintable, match="ppi"):
            in_one_go(pixel_sheet(layout(), contents(), OPTIONS, ppi))
    large = replace(layout(), size=500 + 400j)
    with pytest.raises(NotPrintable, match="Use fewer ppi"):
        in_one_go(pixel_sheet(large, contents(), OPTIONS, 1200))


def test_rows_that_are_missing_are_noticed():
    file = PngRows(2, 2, 3)
    file.add(b"\0" * 6)
    with pytest.raises(ValueError, match="no picture"):
        file.written()
    file.add(b"\xff" * 6)
    assert opened(file.written()).tobytes() == b"\0" * 6 + b"\xff" * 6
