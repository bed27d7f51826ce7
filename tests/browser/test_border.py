"""The border of two paints is dragged, rotated, moved by keys and typed, and the picture follows without the engine."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from io import BytesIO

import pytest
from PIL import Image
from playwright.sync_api import Locator, Page, expect

from tests.browser.forms import answered, open_calculator, problem, typed, visitor
from tests.browser.screen import middle, touch
from tests.browser.test_look import axe

IVORY, MAROON = (0xEF, 0xE4, 0xC4), (0x7A, 0x22, 0x32)
#: Counts requests to the engine from now on.
COUNT = (
    "() => { const ask = dwEngine.ask.bind(dwEngine); window.asked = 0; dwEngine.ask = (...all) => "
    "(window.asked++, ask(...all)); }"
)


@pytest.fixture(scope="module", params=[(1180, 820), (820, 1180)], ids=["landscape", "portrait"])
def opened(request, browser, _workbench_server) -> Iterator[Page]:
    """The page with its first answer, which takes longer than any of the tests; each puts it back first (``page``)."""
    with visitor(browser, has_touch=True) as device:
        page = open_calculator(device, f"{_workbench_server.url}underlay/underlay/")
        page.set_viewport_size(dict(zip(("width", "height"), request.param, strict=True)))
        yield page


@pytest.fixture
def page(opened) -> Page:
    """The page with a level border at half height, without marks, its sheet closed."""
    opened.emulate_media(color_scheme="light")
    for field, text in (("border_percent", "50"), ("border_degrees", "0")):
        if opened.locator(f'[id="in-{field}"]').input_value() != text:
            typed(opened, field).fill(text)
            expect(problem(opened, field)).to_be_hidden()
    if (handle := opened.locator(".dw-sheet-handle[aria-expanded=true]")).count():
        handle.click()
        expect(handle).to_have_count(0)
    answered(opened)
    frame(opened).scroll_into_view_if_needed()
    opened.locator(".dw-scenes-wipe").fill("50")
    opened.locator(".dw-scenes-marks").uncheck()
    opened.locator("select[data-side=left]").select_option("2")
    steady(opened)
    return opened


def frame(page: Page) -> Locator:
    return page.locator(".dw-scenes-frame")


def grip(page: Page, moves: str) -> Locator:
    return page.locator(f".dw-border-grip[data-moves={moves}]")


def steady(page: Page) -> None:
    """Wait until the pictures are drawn."""
    page.evaluate(
        "() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(done, 150))))"
    )


def maroon_comes(page: Page, is_there: Callable[[float], bool]) -> None:
    """Wait until the maroon begins where it shall. The pictures are drawn some time after what moves them."""
    for _ in range(40):
        if is_there(found := maroon_from(page)):
            return
        page.wait_for_timeout(100)
    pytest.fail(f"the maroon begins at {found:.3f}")


def near(share: float, within: float) -> Callable[[float], bool]:
    return lambda found: found == pytest.approx(share, abs=within)


def maroon_from(page: Page, across: float = 0.03) -> float:
    """How far down the frame the maroon begins, as a share of its height, at a place left of the marking."""
    steady(page)
    seen = Image.open(BytesIO(frame(page).screenshot())).convert("RGB")
    column = int(seen.width * across)
    paints = [seen.getpixel((column, row)) for row in range(4, seen.height - 4)]
    nearer = [
        sum((a - b) ** 2 for a, b in zip(paint, MAROON, strict=True))
        < sum((a - b) ** 2 for a, b in zip(paint, IVORY, strict=True))
        for paint in paints
    ]
    return (nearer.index(True) + 4) / seen.height if True in nearer else 1.0


def drag(page: Page, moves: str, by: tuple[float, float]) -> None:
    grip(page, moves).scroll_into_view_if_needed()
    grip(page, moves).evaluate("(each) => each.scrollIntoView({ block: 'center' })")
    x, y = middle(grip(page, moves))
    session = page.context.new_cdp_session(page)
    touch(session, "touchStart", (x, y))
    for step in range(1, 6):
        touch(session, "touchMove", (x + by[0] * step / 5, y + by[1] * step / 5))
    touch(session, "touchEnd")


def test_a_finger_drags_the_border_and_the_fields_follow(page):
    maroon_comes(page, near(0.5, 0.02))
    height = frame(page).bounding_box()["height"]
    drag(page, "percent", (0, height / 6))
    expect(typed(page, "border_percent")).not_to_have_value("50")
    answered(page)
    # A sixth of the frame, which is 1.2 times as high as the picture.
    moved = float(typed(page, "border_percent").input_value())
    assert moved == pytest.approx(50 + 100 * 1.2 / 6, abs=1)
    maroon_comes(page, near(0.5 + 1 / 6, 0.02))
    assert grip(page, "percent").get_attribute("aria-valuenow") == typed(page, "border_percent").input_value()


def test_the_other_grip_rotates_the_border(page):
    drag(page, "degrees", (-40, 120))
    expect(typed(page, "border_degrees")).not_to_have_value("0")
    answered(page)
    turned = float(typed(page, "border_degrees").input_value())
    assert 10 < turned < 90
    # Clockwise: maroon rises at the left.
    maroon_comes(page, lambda found: found < 0.45)


def test_keys_move_the_border_in_small_and_large_steps(page):
    grip(page, "percent").focus()
    for keys, value in (
        ("ArrowDown", "51"),
        ("Shift+ArrowDown", "61"),
        ("Alt+ArrowUp", "60.9"),
        ("Home", "0"),
        ("End", "100"),
        ("ArrowRight", "100"),
    ):
        page.keyboard.press(keys)
        expect(typed(page, "border_percent")).to_have_value(value)
        assert grip(page, "percent").get_attribute("aria-valuenow") == value
    assert grip(page, "percent").get_attribute("aria-valuetext") == "100 %"
    answered(page)
    grip(page, "degrees").focus()
    for keys, value in (("ArrowRight", "1"), ("Shift+ArrowLeft", "-14"), ("Alt+ArrowLeft", "-14.1")):
        page.keyboard.press(keys)
        expect(typed(page, "border_degrees")).to_have_value(value)


def test_typed_numbers_move_the_border_and_other_text_does_not(page):
    typed(page, "border_percent").fill("25,5")
    expect(grip(page, "percent")).to_have_attribute("aria-valuenow", "25.5")
    maroon_comes(page, near((0.1 + 0.255) / 1.2, 0.03))
    typed(page, "border_percent").fill("a bit")
    expect(page.locator('[id="problem-border_percent"]')).to_be_visible()
    # The answer is outdated while there is a problem, so check the grip.
    assert grip(page, "percent").get_attribute("aria-valuenow") == "25.5"


def test_the_drawing_accepts_every_number_the_answer_accepts(page, subtests):
    for text, percent in (("80 %", 80), ("80,5", 80.5), ("½", 0.5), ("1/4 %", 0.25), (" ８０ ", 80)):
        with subtests.test(text):
            typed(page, "border_degrees").fill("0")
            expect(grip(page, "degrees")).to_have_attribute("aria-valuetext", "0°")
            typed(page, "border_percent").fill(text)
            expect(grip(page, "percent")).to_have_attribute("aria-valuenow", str(percent))
            if percent > 5:  # nearer to the edge the grip covers it
                maroon_comes(page, near((0.1 + percent / 100) / 1.2, 0.02))
            expect(problem(page, "border_percent")).to_be_hidden()
            expect(typed(page, "border_percent")).to_have_value(text)
            typed(page, "border_degrees").fill("90 °")
            expect(grip(page, "degrees")).to_have_attribute("aria-valuetext", "90°")


def test_an_out_of_range_number_does_not_move_the_border(page):
    typed(page, "border_percent").fill("150")
    expect(problem(page, "border_percent")).to_contain_text("from 0 to 100")
    assert grip(page, "percent").get_attribute("aria-valuenow") == "50"


def test_the_engine_is_asked_only_after_dragging(page):
    page.evaluate(COUNT)
    grip(page, "percent").evaluate("(each) => each.scrollIntoView({ block: 'center' })")
    x, y = middle(grip(page, "percent"))
    page.mouse.move(x, y)
    page.mouse.down()
    for step in range(1, 20):
        page.mouse.move(x, y + 3 * step)
    maroon_comes(page, lambda found: found > 0.55)
    page.wait_for_timeout(400)
    assert page.evaluate("window.asked") == 0
    page.mouse.up()
    # It is asked a moment after the last move; the answer is outdated from then on at the latest.
    for _ in range(100):
        if page.evaluate("window.asked"):
            break
        page.wait_for_timeout(50)
    answered(page)
    page.wait_for_timeout(300)
    assert page.evaluate("window.asked") == 1


def test_escape_restores_the_border(page):
    grip(page, "percent").evaluate("(each) => each.scrollIntoView({ block: 'center' })")
    x, y = middle(grip(page, "percent"))
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x, y + 60)
    expect(typed(page, "border_percent")).not_to_have_value("50")
    page.keyboard.press("Escape")
    expect(typed(page, "border_percent")).to_have_value("50")
    page.mouse.up()


def test_marks_and_their_legend_toggle_together(page):
    paths = page.locator(".dw-scenes-drawn path[fill]")
    expect(paths).to_have_count(0)
    page.locator("select[data-side=left]").select_option("0")
    page.locator(".dw-scenes-marks").check()
    expect(paths.nth(1)).to_be_attached()
    expect(page.locator('.dw-scenes-key > li[data-kind="bare"]')).to_be_visible()
    page.locator("select[data-side=left]").select_option("2")
    expect(paths).to_have_count(0)
    expect(page.locator('.dw-scenes-key > li[data-kind="bare"]')).to_be_hidden()


def test_the_slider_shows_more_of_one_or_the_other(page):
    page.locator("select[data-side=left]").select_option("0")

    def white(across: float) -> bool:
        seen = Image.open(
            BytesIO(frame(page).screenshot(style=".dw-verdict-line, .dw-border-grip { display: none !important }"))
        ).convert("RGB")
        red, green, blue = seen.getpixel((int(seen.width * across), int(seen.height * 0.68)))
        return min(red, green, blue) > 200

    def comes(*places: tuple[float, bool]) -> None:
        for _ in range(40):
            steady(page)
            if found := [across for across, is_white in places if white(across) is not is_white]:
                page.wait_for_timeout(100)
                continue
            return
        pytest.fail(f"wrong at {found}")

    # In the disc, below the border: maroon where bare, white over four layers.
    comes((0.3, False), (0.7, True))
    page.locator(".dw-scenes-wipe").fill("100")
    comes((0.7, False))
    page.locator(".dw-scenes-wipe").fill("0")
    comes((0.3, True))


def test_axe_finds_nothing_at_the_border(page, subtests):
    for scheme in ("light", "dark"):
        with subtests.test(scheme):
            page.emulate_media(color_scheme=scheme)
            assert axe(page) == []
