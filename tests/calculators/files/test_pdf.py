"""PDF files: lengths checked in content streams and in another program's rendering, pictures by their bytes."""

import io
import subprocess
import zlib
from decimal import Decimal

import pikepdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageChops, ImageCms, ImageOps, ImageStat

from calculators import messages
from calculators.files import print_checks
from calculators.files.icc import srgb_profile
from calculators.files.pdf import Sheet, document
from calculators.files.pdf_picture import NotPlaced
from calculators.files.picture import PictureTrouble, read_picture
from calculators.files.png import chunks
from tests.tools import needs

MM = Decimal(72) / Decimal("25.4")
PAPERS = {"a4": (210, 297), "letter": (215.9, 279.4), "half-a4": (148.5, 210), "half-letter": (139.7, 215.9)}
poppler = needs("pdftoppm", "poppler-utils")


#: pikepdf frees a file's objects with the file, so keep files open during a test.
held = []


@pytest.fixture(autouse=True)
def _held_for_one_test():
    yield
    held.clear()


def opened(data):
    held.append(pikepdf.open(io.BytesIO(data)))
    return held[-1]


def operations(data, *wanted):
    page = opened(data).pages[0]
    return [
        ([*operands], str(operator))
        for operands, operator in pikepdf.parse_content_stream(page)
        if str(operator) in wanted
    ]


def rendered(data, tmp_path, ppi, *options):
    (tmp_path / "sheet.pdf").write_bytes(data)
    subprocess.run(["pdftoppm", "-r", str(ppi), "-png", *options, "sheet.pdf", "seen"], cwd=tmp_path, check=True)
    return Image.open(next(tmp_path.glob("seen*.png"))).convert("RGB")


def seen_picture(sheet, tmp_path):
    """Return the 60 x 40 pixels of a picture placed at 1, 1 mm with 6 x 4 mm, each from the middle of its patch.

    Rendered at ten times its own resolution, at which poppler neither smooths nor drops pixels.
    """
    seen = rendered(sheet.bytes("t"), tmp_path, 2540)
    return seen.transform((60, 40), Image.Transform.AFFINE, (10, 0, 100, 0, 10, 100), Image.Resampling.NEAREST)


def written(image, kind, **options):
    file = io.BytesIO()
    image.save(file, kind, **options)
    return file.getvalue()


def art(mode="RGBA", size=(60, 40)):
    """Return an asymmetric picture with gradients in every channel, so that a rotation shows."""
    width, height = size
    samples = (
        (255 * x // width, 255 * y // height, 60 if x < y else 200, 255 * (x + y) // (width + height))
        for y in range(height)
        for x in range(width)
    )
    return Image.frombytes("RGBA", size, b"".join(map(bytes, samples))).convert(mode)


def sheet_with(data, *, wanted=True, place=(10, 10, 15, 10), paper=(40, 30)):
    sheet = Sheet(*paper)
    sheet.picture(read_picture("a", data, wanted=wanted), *place)
    return sheet.bytes("test")


def image_of(data):
    return opened(data).pages[0].Resources.XObject.P0


# -- Pages and lengths -------------------------------------------------------------------------------


@pytest.mark.parametrize(("paper", "size"), PAPERS.items())
def test_page_has_the_size_of_the_paper(paper, size):
    box = opened(Sheet.of(paper).bytes("test")).pages[0].MediaBox
    assert [float(Decimal(part) / MM) for part in box] == pytest.approx([0, 0, *size], abs=1e-5)


def full_sheet():
    sheet = Sheet.of("a4")
    print_checks.scale_words(sheet, 20, 20)
    print_checks.bar_across(sheet, 40, 40)
    print_checks.bar_down(sheet, 30, 50)
    print_checks.line_ladder(sheet, 120, 60)
    sheet.picture(read_picture("a.png", written(art(), "PNG"), wanted=True), 50, 130, 30, 20)
    return sheet


def test_bars_are_100_mm_in_the_content_stream():
    sheet = Sheet.of("a4")
    print_checks.bar_across(sheet, 40, 40)
    print_checks.bar_down(sheet, 30, 50)
    boxes = [[float(part / MM) for part in operands] for operands, _ in operations(sheet.bytes("test"), "re")]
    for axis in (2, 3):
        # The bar itself, and its two ticks: all within the same 100 mm.
        (bar,) = [box for box in boxes if box[axis] == pytest.approx(100, abs=0.01)]
        ticks = [
            box
            for box in boxes
            if box[axis] == pytest.approx(0.3, abs=1e-4) and box[5 - axis] == pytest.approx(3, abs=1e-4)
        ]
        start, end = bar[axis - 2], bar[axis - 2] + bar[axis]
        assert sorted(box[axis - 2] for box in ticks) == pytest.approx([start, end - 0.3], abs=1e-4)
        assert end - start == pytest.approx(100, abs=1e-4)
        assert start == pytest.approx({2: 40, 3: 297 - 150}[axis], abs=1e-4)


@poppler
def test_bars_are_100_mm_rendered_at_1200_ppi(tmp_path):
    sheet = Sheet(130, 130)
    print_checks.bar_across(sheet, 15, 10)
    print_checks.bar_down(sheet, 10, 15)
    seen = rendered(sheet.bytes("test"), tmp_path, 1200, "-gray", "-aa", "no", "-aaVector", "no").convert("L")
    dark = seen.point(lambda level: 255 * (level < 128))
    per_mm = 1200 / 25.4
    # Across: the stretch of the bar below its label; down: right of its label.
    across = dark.crop((0, round(9.9 * per_mm), seen.width, round(11.4 * per_mm))).getbbox()
    down = dark.crop((round(9.9 * per_mm), round(12 * per_mm), round(11.4 * per_mm), seen.height)).getbbox()
    assert abs(across[2] - across[0] - 100 * per_mm) <= 1
    assert abs(down[3] - down[1] - 100 * per_mm) <= 1


def test_ladder_has_every_line_in_both_directions():
    data = full_sheet().bytes("test")
    boxes = [[float(part / MM) for part in operands] for operands, _ in operations(data, "re")]
    for wide in (0.05, 0.08, 0.1, 0.12, 0.15, 0.2, 0.25, 0.3):
        assert [
            box for box in boxes if box[2] == pytest.approx(12, abs=1e-4) and box[3] == pytest.approx(wide, abs=1e-4)
        ]
        assert [
            box for box in boxes if box[3] == pytest.approx(3, abs=1e-4) and box[2] == pytest.approx(wide, abs=1e-4)
        ]
    points = [operands for operands, _ in operations(data, "m", "l")]
    outlines = [points[at : at + 4] for at in range(0, len(points), 4)]
    sizes = {
        tuple(round(float((max(axis) - min(axis)) / MM), 3) for axis in zip(*outline, strict=True))
        for outline in outlines
    }
    assert sizes == {(20, 40)} | {(12, wide) for wide in print_checks.LADDER_MM} | {
        (wide, 3) for wide in print_checks.LADDER_MM
    }


@poppler
def test_text_can_be_extracted(tmp_path):
    (tmp_path / "a.pdf").write_bytes(full_sheet().bytes("Größe ≤ 3"))
    text = subprocess.run(["pdftotext", "a.pdf", "-"], cwd=tmp_path, check=True, capture_output=True, text=True).stdout
    for words in (messages.PRINT_AT_TRUE_SIZE, "100 mm", "0.05", "0.3", "reversed out"):
        assert words in text


def test_box_of_the_picture_is_exact():
    data = sheet_with(written(art(), "PNG"), place=(12.345, 6.789, 20.001, 13.334), paper=(80, 60))
    (((a, b, c, d, e, f), _),) = operations(data, "cm")
    assert (b, c) == (0, 0)
    box = [float(part / MM) for part in (e, f, a, d)]
    assert box == pytest.approx([12.345, 60 - 6.789 - 13.334, 20.001, 13.334], abs=1e-5)


def test_outline_is_drawn_as_given():
    sheet = Sheet(100, 100)
    sheet.path(
        [("M", 10, 20), ("L", 30, 20), ("C", 40, 20, 50, 30, 50, 40), ("Z",)],
        fill="#7a2232",
        stroke="#1c2226",
        line_mm=0.5,
    )
    found = [
        ([round(float(part / MM), 4) for part in operands], operator)
        for operands, operator in operations(sheet.bytes("t"), "m", "l", "c", "h", "w", "B")
    ]
    assert found == [
        ([0.5], "w"),
        ([10, 80], "m"),
        ([30, 80], "l"),
        ([40, 80, 50, 70, 50, 60], "c"),
        ([], "h"),
        ([], "B"),
    ]


# -- The file ----------------------------------------------------------------------------------------


def test_same_calls_give_the_same_bytes():
    assert full_sheet().bytes("test") == full_sheet().bytes("test")


def test_file_asks_for_no_scaling_and_has_its_title():
    pdf = opened(full_sheet().bytes("Größe ≤ 3 – crest"))
    assert pdf.docinfo.Title == "Größe ≤ 3 – crest"
    assert pdf.Root.ViewerPreferences.PrintScaling == "/None"
    assert not [key for key in pdf.docinfo if "Date" in str(key)]


def test_two_pages_stay_in_order():
    pages = opened(document([Sheet.of("a4"), Sheet.of("letter")], "test")).pages
    assert [round(float(Decimal(page.MediaBox[2]) / MM), 1) for page in pages] == [210, 215.9]


@needs("qpdf", "qpdf")
@pytest.mark.parametrize("mode", ["RGBA", "RGB", "L", "P"])
def test_qpdf_finds_nothing(mode, tmp_path):
    for kind in ("PNG", "JPEG") if mode in ("RGB", "L") else ("PNG",):
        (tmp_path / "a.pdf").write_bytes(sheet_with(written(art(mode), kind)))
        ran = subprocess.run(["qpdf", "--check", "a.pdf"], cwd=tmp_path, capture_output=True, text=True, check=False)
        assert (ran.returncode, ran.stderr) == (0, "")


def test_profile_is_srgb():
    """Against the sRGB profile of another colour engine: no difference over the whole cube."""
    profile = ImageCms.ImageCmsProfile(io.BytesIO(srgb_profile()))
    levels = range(0, 256, 17)
    cube = Image.frombytes(
        "RGB", (16, 256), bytes(part for r in levels for g in levels for b in levels for part in (r, g, b))
    )
    for intent in range(4):
        seen = ImageCms.profileToProfile(cube, profile, ImageCms.createProfile("sRGB"), renderingIntent=intent)
        assert max(high for _low, high in ImageChops.difference(cube, seen).getextrema()) <= 1
    stream = opened(full_sheet().bytes("t")).Root.OutputIntents[0].DestOutputProfile
    assert stream.read_bytes() == srgb_profile()


# -- Pictures ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(("mode", "options"), [("RGB", {}), ("RGB", {"progressive": True}), ("L", {}), ("CMYK", {})])
def test_jpeg_goes_in_unchanged(mode, options):
    data = written(art("RGB").convert(mode), "JPEG", quality=90, **options)
    image = image_of(sheet_with(data, wanted=False))
    assert image.read_raw_bytes() == data
    assert image.Filter == "/DCTDecode"
    assert (image.Width, image.Height) == (60, 40)


@pytest.mark.parametrize("mode", ["RGB", "L", "P", "1", "I;16"])
def test_opaque_png_goes_in_unchanged(mode):
    image = art("L").convert("I;16") if mode == "I;16" else art("RGB").convert(mode)
    data = written(image, "PNG")
    placed = image_of(sheet_with(data, wanted=False))
    assert placed.read_raw_bytes() == b"".join(part for name, part in chunks(data) if name == b"IDAT")
    assert placed.DecodeParms.Predictor == 15
    if mode != "P":
        bits = {"1": 1, "I;16": 16}.get(mode, 8)
        assert placed.BitsPerComponent == placed.DecodeParms.BitsPerComponent == bits


#: Forms of a picture, and the allowed difference from Pillow's picture (JPEG and 1 bit: decoders differ).
KINDS = {
    "PNG RGB": (lambda: written(art("RGB"), "PNG"), 1),
    "PNG grey": (lambda: written(art("L"), "PNG"), 1),
    "PNG palette": (lambda: written(art("RGB").quantize(64), "PNG"), 1),
    "PNG RGBA": (lambda: written(art(), "PNG"), 2),
    "PNG grey alpha": (lambda: written(art("LA"), "PNG"), 2),
    "PNG palette alpha": (lambda: written(art("RGB").quantize(16), "PNG", transparency=bytes(range(0, 256, 16))), 2),
    "PNG key": (lambda: written(art("RGB"), "PNG", transparency=(0, 0, 200)), 1),
    "PNG 16 bits": (lambda: written(art("L").convert("I;16").point(lambda level: level * 257), "PNG"), 1),
    "GIF": (lambda: written(art("RGB").quantize(64), "GIF"), 1),
    "WebP": (lambda: written(art(), "WebP", lossless=True, exact=True), 2),
    "BMP": (lambda: written(art("RGB"), "BMP"), 1),
    "JPEG": (lambda: written(art("RGB"), "JPEG", quality=95, subsampling=0), 4),
    "JPEG grey": (lambda: written(art("L"), "JPEG", quality=95), 2),
    "JPEG CMYK": (lambda: written(art("RGB").convert("CMYK"), "JPEG", quality=95), None),
}


def mean(image):
    return sum(ImageStat.Stat(image).mean) / 3


@poppler
@pytest.mark.parametrize("kind", KINDS)
def test_picture_matches_pillow_s_compositing(kind, tmp_path):
    """Over a coloured ground."""
    data, within = KINDS[kind][0](), KINDS[kind][1]
    sheet = Sheet(8, 6)
    sheet.rectangle(0, 0, 8, 6, fill="#2a7f9a")
    sheet.picture(read_picture("a", data, wanted=True), 1, 1, 6, 4)
    seen = seen_picture(sheet, tmp_path)
    source = Image.open(io.BytesIO(data))
    if source.mode == "I;16":
        source = art("L")
    source = source.convert("RGBA")
    ground = Image.new("RGBA", source.size, "#2a7f9a")
    expected = Image.alpha_composite(ground, source).convert("RGB")
    differences = ImageChops.difference(seen, expected)
    if within is None:  # CMYK of no stated inks: much nearer to the picture than to its complement
        assert mean(differences) < mean(ImageChops.difference(seen, ImageChops.invert(expected))) / 2
    else:
        assert max(high for _low, high in differences.getextrema()) <= within


@poppler
@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
@pytest.mark.parametrize("turn", range(1, 9))
def test_exif_rotation_is_applied_by_placement(kind, turn, tmp_path):
    exif = Image.Exif()
    exif[0x0112] = turn
    upright = art("RGB")
    undo = {2: 0, 3: 3, 4: 1, 5: 5, 6: 2, 7: 6, 8: 4}  # Pillow's transpositions, inverted
    stored = upright.transpose(undo[turn]) if turn > 1 else upright
    data = written(stored, kind, exif=exif, **({"quality": 97, "subsampling": 0} if kind == "JPEG" else {}))
    sheet = Sheet(8, 6)
    sheet.picture(read_picture("a", data), 1, 1, 6, 4)
    raw = data if kind == "JPEG" else b"".join(part for name, part in chunks(data) if name == b"IDAT")
    assert image_of(sheet.bytes("t")).read_raw_bytes() == raw
    seen = seen_picture(sheet, tmp_path)
    expected = ImageOps.exif_transpose(Image.open(io.BytesIO(data)))
    assert max(high for _low, high in ImageChops.difference(seen, expected).getextrema()) <= 4
    assert mean(ImageChops.difference(seen, upright)) < 2


def test_soft_mask_holds_the_alpha_to_the_bit():
    image = image_of(sheet_with(written(art(), "PNG")))
    assert image.SMask.read_bytes() == art().getchannel("A").tobytes()
    assert image.read_bytes() == Image.merge("RGB", art().split()[:3]).tobytes()


def test_opaque_pixels_have_no_mask_and_grey_ones_one_channel():
    image = image_of(sheet_with(written(art("L").convert("RGBA"), "PNG")))
    assert "/SMask" not in image
    assert image.ColorSpace == "/DeviceGray"


@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_profile_of_the_picture_is_embedded(kind):
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("XYZ")).tobytes()
    wide = profile[:16] + b"RGB " + profile[20:]
    for icc, embedded in ((wide, True), (wide[:16] + b"CMYK" + wide[20:], False), (b"no profile", False)):
        space = image_of(sheet_with(written(art("RGB"), kind, icc_profile=icc), wanted=False)).ColorSpace
        assert (space[1].read_bytes() == icc) is embedded
        assert embedded or space[1].read_bytes() == srgb_profile()


@pytest.mark.parametrize("image", [art(), art("LA")])
def test_missing_pixels_are_reported(image):
    with pytest.raises(NotPlaced):
        sheet_with(written(image, "PNG"), wanted=False)


@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_truncated_picture_is_embedded_from_its_pixels(kind):
    """Browsers show the part that exists; embedding the file would damage the PDF."""
    whole = art("RGB")
    data = written(whole, kind)
    short = data[: len(data) * 3 // 4]
    picture = read_picture("a", short, pixels=(*whole.size, whole.convert("RGBA").tobytes()), wanted=True)
    sheet = Sheet(40, 30)
    sheet.picture(picture, 10, 10, 15, 10)
    assert image_of(sheet.bytes("t")).read_bytes() == whole.tobytes()
    with pytest.raises(NotPlaced):
        sheet_with(short, wanted=False)


def test_damaged_profile_is_ignored():
    data = written(art("RGB"), "PNG", icc_profile=srgb_profile())
    at = data.index(b"iCCP")
    broken = bytearray(data)
    broken[at + 16 : at + 40] = bytes(24)
    (length,) = (int.from_bytes(data[at - 4 : at]),)
    broken[at + 4 + length : at + 8 + length] = zlib.crc32(bytes(broken[at : at + 4 + length])).to_bytes(4)
    assert image_of(sheet_with(bytes(broken), wanted=False)).ColorSpace[1].read_bytes() == srgb_profile()


@settings(max_examples=150, deadline=None)
@given(st.sampled_from(["PNG", "JPEG"]), st.sampled_from(["RGB", "L", "P"]), st.data())
def test_damaged_picture_gives_a_valid_file_or_a_problem(kind, mode, drawn):
    data = bytearray(written(art(mode if kind == "PNG" or mode != "P" else "CMYK"), kind))
    for at, byte in drawn.draw(st.lists(st.tuples(st.integers(2, len(data) - 1), st.integers(0, 255)), max_size=12)):
        data[at] = byte
    data = bytes(data[: drawn.draw(st.integers(8, len(data)))])
    try:
        made = sheet_with(data, wanted=False)
    except (NotPlaced, PictureTrouble):
        return
    image = image_of(made)
    if kind == "PNG":
        row = (int(image.Width) * int(image.DecodeParms.Colors) * int(image.BitsPerComponent) + 7) // 8 + 1
        assert len(zlib.decompress(image.read_raw_bytes())) == row * int(image.Height)
