"""Pictures in PDF files: as they came, or as their pixels."""

import io
import zlib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageChops, ImageCms, ImageOps, ImageStat

from calculators.files.icc import srgb_profile
from calculators.files.pdf import Sheet
from calculators.files.pdf_picture import NotPlaced
from calculators.files.picture import PictureTrouble, read_picture
from calculators.files.png import chunks
from tests.calculators.files.held import held_for_one_test  # noqa: F401 - a fixture
from tests.calculators.files.pdf_files import (
    art,
    image_of,
    poppler,
    seen_picture,
    sheet_with,
    written,
)


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


#: How a picture comes in, and how far the rendering may be from Pillow's own picture (JPEG and 1 bit: decoders differ).
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
    """Browsers show what there is of such a file; a PDF that held it would be damaged."""
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
