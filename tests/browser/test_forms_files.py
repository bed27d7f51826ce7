"""Pictures and files reach a form unchanged by every way, and fill their size into other fields."""

from __future__ import annotations

import base64
import hashlib
import struct
import zlib
from io import BytesIO

import pytest
from PIL import Image, ImageOps
from playwright.sync_api import expect

from tests.browser.forms import answered, open_calculator, problem, result_text, type_again, typed, visitor

#: Puts a file on the clipboard or over a field, as the browser would.
HAND_OVER = """([way, selector, name, media, text]) => {
  const bytes = Uint8Array.from(atob(text), character => character.charCodeAt(0));
  const transfer = new DataTransfer();
  transfer.items.add(new File([bytes], name, {type: media}));
  const target = document.querySelector(selector);
  const options = {bubbles: true, cancelable: true};
  const event = way === "paste"
    ? new ClipboardEvent("paste", {...options, clipboardData: transfer})
    : new DragEvent("drop", {...options, dataTransfer: transfer});
  target.dispatchEvent(event);
}"""

COUNT_DECODING = """() => {
  const make = createImageBitmap;
  globalThis.decoded = 0;
  globalThis.createImageBitmap = (...all) => (decoded += 1, make(...all));
}"""

KEEP_PIXELS = """() => {
  const ask = dwEngine.ask.bind(dwEngine);
  dwEngine.ask = (request, options) => {
    const pixels = request.files?.picture?.pixels;
    if (pixels) globalThis.kept = [...new Uint8Array(pixels.rgba)];
    return ask(request, options);
  };
}"""


def noise(width: int, height: int, seed: bytes = b"film") -> bytes:
    """RGBA bytes in which every value of every channel occurs."""
    return hashlib.shake_256(seed).digest(width * height * 4)


def encoded(rgba: bytes, width: int, height: int, form: str, **options) -> bytes:
    file = BytesIO()
    Image.frombytes("RGBA", (width, height), rgba).save(file, form, **options)
    return file.getvalue()


def png_of_size(width: int, height: int) -> bytes:
    """A PNG that claims a size but holds no data."""

    def chunk(name: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))

    head = chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 6, 0, 0, 0))
    return b"\x89PNG\r\n\x1a\n" + head + chunk(b"IDAT", zlib.compress(b"")) + chunk(b"IEND", b"")


def choose(page, name: str, data: bytes, media: str = "image/png") -> None:
    page.set_input_files("#in-picture", {"name": name, "mimeType": media, "buffer": data})


@pytest.fixture
def pixels(context, workbench_server):
    return open_calculator(context, f"{workbench_server.url}artwork/picture-pixels/")


@pytest.fixture
def resolution(context, workbench_server):
    return open_calculator(context, f"{workbench_server.url}artwork/resolution/")


def test_pixels_under_partial_alpha_are_exact(pixels):
    """PNG and lossless WebP must give back the encoded bytes."""
    for width, height, form, options in (
        (7, 5, "PNG", {}),
        (300, 200, "PNG", {}),
        (64, 33, "WEBP", {"lossless": True, "exact": True}),
    ):
        rgba = noise(width, height, form.encode())
        choose(pixels, f"noise.{form.lower()}", encoded(rgba, width, height, form, **options), f"image/{form.lower()}")
        expect(result_text(pixels, "rgba_sha256")).to_have_text(hashlib.sha256(rgba).hexdigest())
        expect(result_text(pixels, "width_px")).to_have_text(str(width))
        expect(result_text(pixels, "height_px")).to_have_text(str(height))


def test_a_picture_wider_than_a_texture_is_read_in_tiles(pixels):
    """Textures are at most 16384 px wide here; a picture may have 20000."""
    width, height = 19_000, 3
    rgba = noise(width, height)
    choose(pixels, "long.png", encoded(rgba, width, height, "PNG"))
    expect(result_text(pixels, "rgba_sha256")).to_have_text(hashlib.sha256(rgba).hexdigest(), timeout=15_000)


@pytest.mark.parametrize("form", ["PNG", "WEBP"])
def test_exif_rotation_is_exact(pixels, form):
    """The expected pixels come from Pillow's rotation of the same file."""
    for orientation in range(1, 9):
        exif = Image.Exif()
        exif[0x0112] = orientation
        options = {"lossless": True, "exact": True} if form == "WEBP" else {}
        file = encoded(noise(30, 20), 30, 20, form, exif=exif, **options)
        turned = ImageOps.exif_transpose(Image.open(BytesIO(file)))
        choose(pixels, f"turned-{orientation}.{form.lower()}", file, f"image/{form.lower()}")
        expect(result_text(pixels, "rgba_sha256")).to_have_text(hashlib.sha256(turned.tobytes()).hexdigest())
        expect(result_text(pixels, "width_px")).to_have_text(str(turned.width))


def test_a_jpeg_is_rotated_and_close_to_another_decoder(pixels):
    """Within 2 levels on average of Pillow's decoding of the same file."""
    exif = Image.Exif()
    exif[0x0112] = 6
    file = BytesIO()
    Image.effect_mandelbrot((60, 40), (-2, -1.2, 1, 1.2), 60).convert("RGB").save(file, "JPEG", quality=90, exif=exif)
    wanted = ImageOps.exif_transpose(Image.open(BytesIO(file.getvalue()))).convert("RGBA")
    # Intercept the pixels on their way to the engine.
    pixels.evaluate(KEEP_PIXELS)
    choose(pixels, "turned.jpg", file.getvalue(), "image/jpeg")
    expect(result_text(pixels, "width_px")).to_have_text("40")
    expect(result_text(pixels, "height_px")).to_have_text("60")
    got = bytes(pixels.evaluate("kept"))
    assert len(got) == len(wanted.tobytes())
    assert sum(abs(one - other) for one, other in zip(got, wanted.tobytes(), strict=True)) / len(got) <= 2


def test_oversized_headers_are_reported_before_decoding(pixels):
    pixels.evaluate(COUNT_DECODING)
    choose(pixels, "vast.png", png_of_size(30_000, 30_000))
    expect(problem(pixels, "picture")).to_contain_text("30000 × 30000")
    assert pixels.evaluate("decoded") == 0
    assert pixels.locator(".dw-drop-thumb").get_attribute("src") is None


def test_a_file_that_is_no_picture_is_a_problem(pixels):
    choose(pixels, "notes.png", b"not a picture at all")
    expect(problem(pixels, "picture")).to_contain_text("notes.png is not a picture")
    choose(pixels, "broken.png", png_of_size(10, 10))
    expect(problem(pixels, "picture")).to_contain_text("broken.png")
    rgba = noise(4, 4)
    choose(pixels, "good.png", encoded(rgba, 4, 4, "PNG"))
    expect(result_text(pixels, "rgba_sha256")).to_have_text(hashlib.sha256(rgba).hexdigest())
    expect(problem(pixels, "picture")).to_be_hidden()


def test_an_edited_size_contradicting_the_picture_is_reported(resolution):
    typed(resolution, "width_px").fill("640")
    expect(result_text(resolution, "printed_ppi")).not_to_have_text("200")
    choose(resolution, "crest.png", encoded(noise(300, 200), 300, 200, "PNG"))
    expect(typed(resolution, "width_px")).to_have_value("300")
    expect(typed(resolution, "height_px")).to_have_value("200")
    type_again(resolution, "width_mm", "25.4")
    expect(result_text(resolution, "printed_ppi")).to_have_text("300")
    expect(resolution.locator("[data-field=width_px] .dw-filled")).to_be_visible()
    expect(resolution.locator(".dw-drop-name")).to_have_text("crest.png")
    expect(resolution.locator(".dw-drop-facts")).to_contain_text("300 × 200 px")
    expect(resolution.locator(".dw-drop-thumb")).to_be_visible()

    typed(resolution, "width_px").fill("200")
    expect(problem(resolution, "width_px")).to_contain_text("300 in the picture, and you typed 200")
    expect(resolution.locator("[data-field=width_px] .dw-filled")).to_have_count(0)
    expect(typed(resolution, "width_px")).to_have_value("200")
    resolution.locator(".dw-drop-remove").click()
    answered(resolution)
    expect(typed(resolution, "width_px")).to_have_value("200")
    expect(resolution.locator(".dw-filled")).to_have_count(0)
    expect(resolution.locator("#in-picture")).to_be_focused()


def test_a_stored_picture_does_not_overwrite_an_edit(resolution):
    choose(resolution, "crest.png", encoded(noise(300, 200), 300, 200, "PNG"))
    expect(typed(resolution, "width_px")).to_have_value("300")
    typed(resolution, "width_px").fill("200")
    expect(problem(resolution, "width_px")).to_be_visible()
    resolution.reload()
    expect(problem(resolution, "width_px")).to_be_visible(timeout=20_000)
    expect(typed(resolution, "width_px")).to_have_value("200")
    expect(resolution.locator(".dw-drop-name")).to_have_text("crest.png")


@pytest.mark.parametrize(("way", "selector"), [("drop", ".dw-drop"), ("paste", "body")])
def test_a_picture_may_be_dropped_or_pasted(resolution, way, selector):
    file = base64.b64encode(encoded(noise(300, 200), 300, 200, "PNG")).decode()
    resolution.evaluate(HAND_OVER, [way, selector, "crest.png", "image/png", file])
    expect(typed(resolution, "width_px")).to_have_value("300")
    expect(resolution.locator(".dw-drop-name")).to_have_text("crest.png")


def test_pasted_text_goes_into_the_focused_field(resolution):
    typed(resolution, "width_mm").focus()
    resolution.evaluate("document.activeElement.select(); document.execCommand('insertText', false, '50.8')")
    expect(result_text(resolution, "printed_ppi")).to_have_text("100")


def test_an_oversized_file_is_never_read(resolution):
    resolution.evaluate("document.querySelector('[data-field=picture]').dataset.mostBytes = 1000")
    choose(resolution, "crest.png", encoded(noise(300, 200), 300, 200, "PNG"))
    expect(resolution.locator("[data-note=file]")).to_contain_text("crest.png is 240 kB")
    expect(resolution.locator(".dw-drop-remove")).to_be_hidden()


def test_links_leave_out_pictures_and_say_so(resolution, context):
    context.grant_permissions(["clipboard-read", "clipboard-write"])
    choose(resolution, "crest.png", encoded(noise(300, 200), 300, 200, "PNG"))
    expect(typed(resolution, "width_px")).to_have_value("300")
    resolution.locator(".dw-link").click()
    expect(resolution.locator("[data-note=link]")).to_contain_text("does not hold files or pictures")
    assert "crest" not in resolution.evaluate("navigator.clipboard.readText()")


def test_an_outline_drawing_fills_no_pixel_size(resolution):
    svg = b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10"><circle cx="5" cy="5" r="4"/></svg>'
    choose(resolution, "crest.svg", svg, "image/svg+xml")
    type_again(resolution, "width_mm", "25.4")
    expect(resolution.locator(".dw-verdict [data-part=reasons]")).to_contain_text("outlines")
    expect(resolution.locator("[data-result=printed_ppi]")).to_be_hidden()
    expect(typed(resolution, "width_px")).to_have_value("200")


def test_the_camera_is_offered_where_there_is_touch(browser, workbench_server):
    address = f"{workbench_server.url}artwork/resolution/"
    with visitor(browser, has_touch=True) as tablet:
        page = open_calculator(tablet, address)
        expect(page.locator(".dw-camera")).to_be_visible()
        assert page.locator(".dw-camera input").get_attribute("capture") == "environment"
        box = page.locator(".dw-camera").bounding_box()
        assert box["height"] >= 48


#: Types at the moment when the answer to a picture arrives.
TYPE_AS_IT_COMES = """() => {
  const ask = dwEngine.ask.bind(dwEngine);
  dwEngine.ask = async (...all) => {
    const reply = await ask(...all);
    dwEngine.ask = ask;
    const field = document.getElementById("in-width_mm");
    field.value = "2 in";
    field.dispatchEvent(new Event("input", {bubbles: true}));
    return reply;
  };
}"""


def test_input_during_picture_work_is_answered(context, workbench_server):
    """60 pixels on 2 inches are 30 an inch."""
    page = open_calculator(context, f"{workbench_server.url}artwork/resolution/")
    page.evaluate(TYPE_AS_IT_COMES)
    choose(page, "crest.png", encoded(noise(60, 30), 60, 30, "PNG"))
    expect(result_text(page, "printed_ppi")).to_have_text("30.0", timeout=20_000)
    expect(typed(page, "width_px")).to_have_value("60")
