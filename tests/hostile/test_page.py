"""Pixels in the page equal Pillow's; hostile files are reported beside the field, and the page survives."""

from __future__ import annotations

import base64
import json
from pathlib import Path

import pytest
from playwright.sync_api import expect

from calculators.files.header import read_header
from calculators.files.picture import read_picture
from calculators.messages import display_name
from tests.browser.forms import open_calculator, problem, result_text, visitor
from tests.hostile.made import converted, lossless, lossy, png

SCRIPTS = Path(__file__).resolve().parents[2] / "theme" / "scripts" / "picture"

#: Asks the page's own script for the pixels of a file.
PIXELS = """async ([script, text, media, header]) => {
  const {pixelsOf} = await import(script);
  const bytes = Uint8Array.from(atob(text), character => character.charCodeAt(0)).buffer;
  const pixels = await pixelsOf(bytes, media, header);
  if (!pixels) return null;
  const rgba = new Uint8Array(pixels.rgba);
  let coded = "";
  for (let at = 0; at < rgba.length; at += 8192) coded += String.fromCharCode(...rgba.subarray(at, at + 8192));
  return [pixels.width, pixels.height, btoa(coded)];
}"""


@pytest.fixture(scope="module")
def page(browser, _workbench_server):
    with visitor(browser) as context:
        # The page's bundle exports nothing, so load the script by itself.
        context.route(
            "**/scripts/picture/*.mjs", lambda route: route.fulfill(path=SCRIPTS / route.request.url.rsplit("/", 1)[1])
        )
        yield open_calculator(context, f"{_workbench_server.url}artwork/picture-pixels/")


@pytest.fixture(scope="module")
def decoded(page):
    """Return (width, height, RGBA) as the page's script decodes a file, or None."""

    def decode(media: str, data: bytes):
        header = read_header(data)
        header_facts = {"orientation": header.orientation, "profiled": header.profiled}
        came = page.evaluate(
            PIXELS, ["/scripts/picture/pixels.mjs", base64.b64encode(data).decode(), media, header_facts]
        )
        return came and (came[0], came[1], base64.b64decode(came[2]))

    return decode


def by_pillow(data: bytes):
    picture = read_picture("a", data, wanted=True)
    return picture.width_px, picture.height_px, picture.rgba


def test_lossless_pictures_equal_pillow_exactly(decoded):
    differing = [name for name, media, data in lossless() if decoded(media, data) != by_pillow(data)]
    assert differing == []


def test_profiles_inks_and_16_bits_give_the_same_colours(decoded):
    """Two libraries apply the profiles; their rounding may differ by one level."""
    for name, media, data in converted():
        (*size, ours), (*pillows_size, pillows) = decoded(media, data), by_pillow(data)
        assert size == pillows_size, name
        most = 1 if "profile" in name else 0
        assert max(abs(one - other) for one, other in zip(ours, pillows, strict=True)) <= most, name


def test_photographs_are_within_two_levels_on_average(decoded):
    for name, media, data in lossy():
        (*size, ours), (*pillows_size, pillows) = decoded(media, data), by_pillow(data)
        assert size == pillows_size, name
        assert sum(abs(one - other) for one, other in zip(ours, pillows, strict=True)) / len(ours) <= 2, name


def test_without_webgl_opaque_pixels_are_exact_and_others_close(decoded, page):
    page.evaluate("""() => {
      const real = HTMLCanvasElement.prototype.getContext;
      HTMLCanvasElement.prototype.getContext = function (kind, ...more) {
        return kind === "webgl2" ? null : real.call(this, kind, ...more);
      };
      globalThis.giveWebglBack = () => (HTMLCanvasElement.prototype.getContext = real);
    }""")
    try:
        opaque = png(300, 201, 8, 2)
        assert decoded("image/png", opaque) == by_pillow(opaque)
        clear = png(60, 40, 8, 6)
        ours, pillows = decoded("image/png", clear)[2], by_pillow(clear)[2]
        assert ours[3::4] == pillows[3::4]
        # Colours are premultiplied in whole numbers: half a step of rounding, and one step for dividing back.
        for at in range(0, len(ours), 4):
            if alpha := ours[at + 3]:
                assert max(abs(ours[at + each] - pillows[at + each]) for each in range(3)) <= 255 / alpha / 2 + 1
    finally:
        page.evaluate("void giveWebglBack()")


#: A few of each sort; all of them are read by the engine in test_engine.py.
MESSAGES = (
    "empty.png",
    "one-byte-89.png",
    "page.png",
    "photograph.heic",
    "sheet.pdf",
    "vast-30000.png",
    "hollow.png",
    "hollow.gif",
    "bomb-svg.svgz",
    "scripted.svg",
    "references.svg",
    "no-frame.jpg",
    "no-end.jpg",
    "frame-c3.jpg",
    "no-palette.png",
    "filters-of-nonsense.png",
    "many-chunks.png",
    "small-endian.tif",
    "{name} %s <b>\u202egnp.exe\n.png",
)


def test_an_undecodable_picture_is_reported_beside_its_field(written, page):
    names = json.loads((written / "names.json").read_text("utf-8"))
    files = {name: (written / str(number)).read_bytes() for number, name in enumerate(names) if name in MESSAGES}
    assert len(files) == len(MESSAGES)
    for name, data in files.items():
        chosen = name.replace("\n", "_")
        page.set_input_files("#in-picture", {"name": chosen, "mimeType": "image/png", "buffer": data})
        expect(problem(page, "picture")).to_contain_text(display_name(chosen))
        expect(page.locator(".dw-drop-name").first).to_have_text(display_name(chosen))
    tiff = next(name for name in MESSAGES if name.endswith(".tif"))
    page.set_input_files("#in-picture", {"name": tiff, "mimeType": "image/tiff", "buffer": files[tiff]})
    expect(problem(page, "picture")).to_contain_text("small-endian.tif is a TIFF, and browsers do not decode that")
    expect(problem(page, "picture")).to_contain_text("save it as PNG")
    good = png(12, 9, 8, 6)
    page.set_input_files("#in-picture", {"name": "good.png", "mimeType": "image/png", "buffer": good})
    expect(problem(page, "picture")).to_be_hidden()
    expect(result_text(page, "width_px")).to_have_text("12")
