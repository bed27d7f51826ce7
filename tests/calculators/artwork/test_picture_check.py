"""What a picture really holds: how each was made is the truth that the answer is held to."""

import io
import json

import pikepdf
import pytest
from PIL import Image

from calculators import example
from calculators.answer import answer
from tests.conftest import ROOT

DEMO = ROOT / "content" / "demo"


def checked(name: str = "", data: bytes = b"", **inputs: str) -> tuple[dict, list[bytes]]:
    files = {"picture": {"name": name, "bytes": 0}} if name else {}
    asked = {"do": "answer", "calculator": "picture-check", "inputs": inputs, "files": files}
    *_, (text, buffers) = answer(json.dumps(asked), [data])
    return json.loads(text), buffers


def saved(image: Image.Image, kind: str, **options) -> bytes:
    file = io.BytesIO()
    image.save(file, kind, **options)
    return file.getvalue()


def crest() -> Image.Image:
    return Image.open(DEMO / "crest-200px.png")


def test_without_a_picture_the_crest_is_analysed():
    reply, _ = checked()
    result = reply["result"]
    assert (result["width_px"], result["true_detail_width_px"], result["enlarged"]) == (200, 200, "no")
    assert (result["edges"], result["transparency"], result["jpeg_damage"]) == ("soft", "partial", "no")


@pytest.mark.parametrize(
    ("how", "enlarged"),
    [
        (Image.Resampling.NEAREST, "nearest"),
        (Image.Resampling.BILINEAR, "smooth"),
        (Image.Resampling.BICUBIC, "smooth"),
    ],
)
@pytest.mark.parametrize("times", [2, 3, 4])
def test_the_enlarged_crest_has_the_detail_of_the_small_one(how, enlarged, times):
    large = crest().resize((200 * times, 200 * times), how)
    result = checked("crest.png", saved(large, "PNG"))[0]["result"]
    assert result["enlarged"] == enlarged
    assert result["true_detail_width_px"] == pytest.approx(200, rel=0.15)
    assert result["printed_ppi"] == pytest.approx(times * 200 / 14 * 25.4)
    assert result["true_detail_ppi"] == pytest.approx(200 / 14 * 25.4, rel=0.15)


def test_the_verdict_goes_by_the_detail():
    """200 px over 50.8 mm show their steps (common practice), however many pixels they were blown up to."""
    large = saved(crest().resize((800, 800), Image.Resampling.BICUBIC), "PNG")
    assert checked("crest.png", large, width_mm="50.8")[0]["result"]["verdict"] == "steps-show"


def test_strong_jpeg_compression_is_reported():
    flat = Image.new("RGB", (240, 240), "#fffefb")
    flat.paste(crest().convert("RGB"), (20, 20), crest())
    assert checked("a.jpg", saved(flat, "JPEG", quality=30))[0]["result"]["jpeg_damage"] == "yes"
    assert checked("a.png", saved(flat, "PNG"))[0]["result"]["jpeg_damage"] == "no"


def test_the_page_contains_the_unchanged_jpeg_at_its_size():
    data = saved(Image.linear_gradient("L").convert("RGB"), "JPEG", quality=90)
    reply, buffers = checked("slope.jpg", data, width_mm="40")
    assert reply["files"][0]["name"] == "slope.pdf"
    with pikepdf.open(io.BytesIO(buffers[0])) as pdf:
        (image,) = pdf.pages[0].get_images().values()
        assert image.read_raw_bytes() == data


def test_a_marking_too_large_for_the_sheet_is_still_judged():
    reply, buffers = checked(width_mm="300", sheet="half-a4")
    assert reply["outcome"] == "result"
    assert (reply["result"]["page"], reply["files"], buffers) == (None, [], [])
    assert "No page was made" in reply["result"]["reasons"][-1]


def test_outlines_are_refused_with_what_to_do():
    (problem,) = checked("crest.svg", (DEMO / "crest-left.svg").read_bytes())[0]["problems"]
    assert problem["text"] == "crest.svg is a drawing of outlines and has no pixels"


def test_the_packed_example_equals_the_crest(tmp_path):
    packed = Image.open(io.BytesIO(example.compiled()))
    assert packed.convert("RGBA").tobytes() == crest().convert("RGBA").tobytes() == example.picture().rgba
