"""Points are put on a picture by mouse, finger, keys and typing, and the answer follows them.

What is expected comes from geometry: where a coloured block lies in a picture that the test made, and
what lengths the points on the demo drawing have (750 px are 1500 mm, so 2 mm a pixel).
"""

from __future__ import annotations

import re
from io import BytesIO
from pathlib import Path
from statistics import median

import pytest
from PIL import Image
from playwright.sync_api import Locator, Page, expect

from tests.browser.forms import answered, open_calculator, problem, result_text, typed, visitor
from tests.browser.screen import choose, green_on, middle, middle_of, touch, with_block
from tests.browser.test_look import axe

PANEL = Path(__file__).resolve().parents[2] / "content" / "demo" / "railcar-panel.png"

#: Records how long the page's thread works on each pointer move, and the time between frames.
WATCH_MOVES = """() => {
  Object.assign(globalThis, { spent: [], gaps: [] });
  let began = 0;
  addEventListener("pointermove", () => (began = performance.now()), true);
  addEventListener("pointermove", () => spent.push(performance.now() - began));
  let last = performance.now();
  const frame = (now) => {
    gaps.push(now - last);
    last = now;
    requestAnimationFrame(frame);
  };
  requestAnimationFrame(frame);
}"""


@pytest.fixture
def drawing(workbench_server):
    return f"{workbench_server.url}size/drawing-size/"


def open_panel(context, address: str) -> Page:
    """The demo drawing with the points of the worked example on it, which fit it."""
    page = open_calculator(context, address)
    choose(page, PANEL.read_bytes())
    expect(page.locator(".dw-points")).to_be_visible()
    typed(page, "points_in_place").select_option("all")
    page.locator(".dw-points-frame").scroll_into_view_if_needed()
    return page


def marker(page: Page, label: str) -> Locator:
    return page.get_by_role("slider", name=label, exact=True)


def drag(page: Page, label: str, to: tuple[float, float]) -> None:
    page.mouse.move(*middle(marker(page, label)))
    page.mouse.down()
    page.mouse.move(*to, steps=5)
    page.mouse.up()


def point(page: Page, field: str) -> tuple[float, float]:
    text = typed(page, field).input_value()
    assert re.fullmatch(r"\d+\.\d, \d+\.\d", text)
    x, y = text.split(", ")
    return float(x), float(y)


def screen_scale(page: Page) -> float:
    """Screen pixels a pixel of the picture: the known length of the worked example is 750 px long."""
    return (middle(marker(page, "Known length, other end"))[0] - middle(marker(page, "Known length, one end"))[0]) / 750


# -- Where a point is ---------------------------------------------------------------------------------


def test_a_dropped_marker_gives_picture_coordinates(context, drawing):
    page = open_calculator(context, drawing)
    choose(page, with_block(1200, 900, 700, 500, 20))
    page.locator(".dw-points-frame").scroll_into_view_if_needed()
    frame = page.locator(".dw-points-frame")
    scale = screen_scale(page)
    drag(page, "Marking, one end", middle_of(green_on(page, frame)))
    assert point(page, "mark_from") == pytest.approx((710, 510), abs=1.5 / scale)
    for _ in range(4):
        page.locator(".dw-points-larger").click()
    closer = screen_scale(page)
    assert closer > 4 * scale
    frame.scroll_into_view_if_needed()
    drag(page, "Marking, one end", tuple(one + 40 for one in middle(marker(page, "Marking, one end"))))
    drag(page, "Marking, one end", middle_of(green_on(page, frame)))
    assert point(page, "mark_from") == pytest.approx((710, 510), abs=1.5 / closer)


def test_points_follow_the_exif_rotation(context, drawing):
    """EXIF 6: stored 900 × 600, to be turned a quarter clockwise; (x, y) is then seen at (600 - y, x)."""
    exif = Image.Exif()
    exif[0x0112] = 6
    page = open_calculator(context, drawing)
    choose(page, with_block(900, 600, 500, 100, 24, "JPEG", exif=exif, quality=95), "turned.jpg", "image/jpeg")
    expect(page.locator("[data-note=points]")).to_be_visible()
    answered(page)  # until then the points of the example are problems, listed above the picture
    frame = page.locator(".dw-points-frame")
    frame.scroll_into_view_if_needed()
    scale = screen_scale(page) * 2  # 600 px wide: the points of the example are half as far apart
    drag(page, "Marking, one end", middle_of(green_on(page, frame)))
    assert point(page, "mark_from") == pytest.approx((600 - 112, 512), abs=1.5 / scale)


# -- Moving it -----------------------------------------------------------------------------------------


def test_dragging_to_twice_the_length_doubles_the_answer(context, drawing):
    page = open_panel(context, drawing)
    expect(result_text(page, "full_size_mm")).to_have_text("600.0")
    scale = screen_scale(page)
    x, y = middle(marker(page, "Marking, other end"))
    drag(page, "Marking, other end", (x + 300 * scale, y))
    # The mouse moves by whole screen pixels, so compare to within one.
    there = point(page, "mark_to")
    assert there == pytest.approx((1065, 430), abs=1 / scale)
    length = ((there[0] - 465) ** 2 + (there[1] - 430) ** 2) ** 0.5
    expect(result_text(page, "full_size_mm")).to_have_text(f"{2 * length:.1f}")
    # Typed, it is exact.
    typed(page, "mark_to").fill("1065, 430")
    expect(result_text(page, "full_size_mm")).to_have_text("1200.0")
    left, top = middle(marker(page, "Known length, one end"))
    right, level = middle(marker(page, "Marking, other end"))
    assert (right - left, level - top) == pytest.approx(((1065 - 240) * scale, (430 - 830) * scale), abs=0.6)


@pytest.mark.parametrize(
    "text",
    [
        "1065;430",
        "1065 430",
        "(1065 px, 430 px)",
        "1065,0 430,0",
        "2130/2; 860/2",
        "１０６５, ４３０",
        "1.065e3 430.",
        "+1065, 430",
    ],
)
def test_a_marker_moves_to_the_parsed_point(context, drawing, text):
    """600 px of the drawing further than 465, 430; 750 px are 1500 mm."""
    page = open_panel(context, drawing)
    scale = screen_scale(page)
    typed(page, "mark_to").fill(text)
    expect(result_text(page, "full_size_mm")).to_have_text("1200.0")
    expect(marker(page, "Marking, other end")).to_have_attribute("aria-valuetext", "x 1065.0, y 430.0")
    # Measure now, since typing scrolls to the field.
    x, y = middle(marker(page, "Marking, one end"))
    assert middle(marker(page, "Marking, other end")) == pytest.approx((x + 600 * scale, y), abs=0.6)
    expect(typed(page, "mark_to")).to_have_value(text)


def test_an_invalid_point_is_reported_without_moving_its_marker(context, drawing):
    """A comma may separate thousands or decimals, so "1,065 430" is asked back."""
    page = open_panel(context, drawing)
    typed(page, "mark_to").fill("1,065 430")
    expect(problem(page, "mark_to")).to_be_visible()
    expect(marker(page, "Marking, other end")).to_have_attribute("aria-valuetext", "x 765.0, y 430.0")


def test_unused_points_are_moved_into_a_smaller_picture(context, drawing):
    page = open_panel(context, drawing)
    typed(page, "way").select_option("four-corners")
    typed(page, "corner_top_right").fill("1000; 140")
    expect(marker(page, "Rectangle, top right corner")).to_have_attribute("aria-valuetext", "x 1000.0, y 140.0")
    typed(page, "way").select_option("straight")
    typed(page, "mark_to").fill("1100, 430")
    expect(result_text(page, "full_size_mm")).to_have_text("1270.0")
    page.reload()
    expect(page.locator(".dw-points-frame")).to_be_visible(timeout=20_000)
    choose(page, with_block(550, 450, 10, 10, 5), "small.png")
    page.locator("[data-note=points] .dw-note-action").click()
    # Half of both, from the farthest point: 1100 of 550 and 830 of 450 px.
    expect(typed(page, "corner_top_right")).to_have_value("500.0, 70.0")


def test_a_marker_grabbed_off_centre_does_not_jump(context, drawing):
    page = open_panel(context, drawing)
    x, y = middle(marker(page, "Marking, other end"))
    page.mouse.move(x + 15, y + 12)
    page.mouse.down()
    page.mouse.move(x + 16, y + 12)
    page.mouse.move(x + 15, y + 12)
    page.mouse.up()
    assert point(page, "mark_to") == pytest.approx((765, 430), abs=0.11)


def test_keys_move_a_marker_by_ten_one_or_a_tenth(context, drawing):
    page = open_panel(context, drawing)
    address = page.url
    end = marker(page, "Marking, other end")
    end.focus()
    for keys, text in (
        ("ArrowRight", "766.0, 430.0"),
        ("Shift+ArrowDown", "766.0, 440.0"),
        ("Alt+ArrowLeft", "765.9, 440.0"),
        ("Alt+ArrowUp", "765.9, 439.9"),
        ("ArrowUp", "765.9, 438.9"),
    ):
        page.keyboard.press(keys)
        expect(typed(page, "mark_to")).to_have_value(text)
        x, y = text.split(", ")
        expect(end).to_have_attribute("aria-valuetext", f"x {x}, y {y}")
    assert page.url == address
    expect(end).to_be_focused()
    for _ in range(50):
        page.keyboard.press("Shift+ArrowRight")
    assert point(page, "mark_to")[0] == 1200  # the edge of the picture, and no further


def test_keys_alone_reach_every_point(context, drawing):
    page = open_panel(context, drawing)
    page.locator(".dw-drop-remove").focus()
    labels = ["Known length, one end", "Known length, other end", "Marking, one end", "Marking, other end"]
    for label in labels:
        page.keyboard.press("Tab")
        expect(marker(page, label)).to_be_focused()
    page.keyboard.press("+")
    assert screen_scale(page) > 0.3
    page.keyboard.press("ArrowLeft")
    expect(page.locator(".dw-points .dw-glass-round")).to_be_visible()
    page.keyboard.press("Escape")
    expect(page.locator(".dw-points .dw-glass-round")).to_be_hidden()


def test_escape_restores_a_dragged_marker(context, drawing):
    page = open_panel(context, drawing)
    x, y = middle(marker(page, "Marking, other end"))
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 20, y + 20)
    expect(typed(page, "mark_to")).not_to_have_value("765, 430")
    page.keyboard.press("Escape")
    page.mouse.up()
    expect(typed(page, "mark_to")).to_have_value("765, 430")


def test_the_loupe_stays_clear_of_a_dragging_finger(tablet, drawing):
    page = open_panel(tablet, drawing)
    session = tablet.new_cdp_session(page)
    scale = screen_scale(page)
    x, y = middle(marker(page, "Marking, other end"))
    before = page.evaluate("scrollY")
    touch(session, "touchStart", (x, y))
    for step in range(1, 6):
        touch(session, "touchMove", (x + 12 * step, y + 6 * step))
    glass = page.locator(".dw-points .dw-glass-round")
    expect(glass).to_be_visible()
    across, down = middle(glass)
    assert ((across - x - 60) ** 2 + (down - y - 30) ** 2) ** 0.5 > 90 + 24
    touch(session, "touchEnd")
    expect(glass).to_be_hidden()
    assert point(page, "mark_to") == pytest.approx((765 + 60 / scale, 430 + 30 / scale), abs=1 / scale)
    assert page.evaluate("scrollY") == before


def test_one_finger_beside_the_markers_scrolls_the_page(tablet, drawing):
    page = open_panel(tablet, drawing)
    session = tablet.new_cdp_session(page)
    frame = page.locator(".dw-points-frame").bounding_box()
    x, y = frame["x"] + 12, frame["y"] + frame["height"] - 12
    before = page.evaluate("scrollY")
    touch(session, "touchStart", (x, y))
    for step in range(1, 9):
        touch(session, "touchMove", (x, y - 20 * step))
    touch(session, "touchEnd")
    page.wait_for_timeout(300)
    assert page.evaluate("scrollY") > before + 50
    assert typed(page, "mark_to").input_value() == "765, 430"


def test_pinching_zooms_the_picture_only(tablet, drawing):
    page = open_panel(tablet, drawing)
    session = tablet.new_cdp_session(page)
    scale = screen_scale(page)
    # Near the middle of the marking, away from its markers.
    (left, y), (right, _) = middle(marker(page, "Marking, one end")), middle(marker(page, "Marking, other end"))
    x = (left + right) / 2
    before = page.evaluate("scrollY")
    touch(session, "touchStart", (x, y - 20), (x, y + 20))
    for step in range(1, 6):
        touch(session, "touchMove", (x, y - 20 - 4 * step), (x, y + 20 + 4 * step))
    touch(session, "touchEnd")
    assert screen_scale(page) == pytest.approx(2 * scale, rel=0.02)
    (left, there), (right, _) = middle(marker(page, "Marking, one end")), middle(marker(page, "Marking, other end"))
    assert ((left + right) / 2, there) == pytest.approx((x, y), abs=3)
    assert page.evaluate("visualViewport.scale") == 1
    assert page.evaluate("scrollY") == before


def test_the_wheel_zooms_with_control_or_a_held_marker(context, drawing):
    page = open_panel(context, drawing)
    scale = screen_scale(page)
    page.mouse.move(*middle(page.locator(".dw-points-frame")))
    page.keyboard.down("Control")
    page.mouse.wheel(0, -400)
    page.keyboard.up("Control")
    page.wait_for_timeout(100)
    assert screen_scale(page) == pytest.approx(2 * scale, rel=0.02)
    page.locator(".dw-points-whole").click()
    assert screen_scale(page) == pytest.approx(scale, rel=0.01)
    before = page.evaluate("scrollY")
    page.mouse.move(*middle(page.locator(".dw-points-frame")))
    page.mouse.wheel(0, 100)
    page.wait_for_timeout(200)
    assert page.evaluate("scrollY") > before
    assert screen_scale(page) == pytest.approx(scale, rel=0.01)


def test_the_loupe_shows_the_pixels_under_the_cross(context, drawing):
    page = open_calculator(context, drawing)
    choose(page, with_block(1200, 900, 700, 500, 20))
    frame = page.locator(".dw-points-frame")
    frame.scroll_into_view_if_needed()
    scale = screen_scale(page)
    to = middle_of(green_on(page, frame))
    page.mouse.move(*middle(marker(page, "Marking, one end")))
    page.mouse.down()
    page.mouse.move(*to, steps=3)
    glass = page.locator(".dw-points .dw-glass-round")
    for times in (4, 8):
        expect(glass).to_contain_text(f"{times} times")
        seen = green_on(page, glass)
        xs, ys = zip(*seen, strict=True)
        assert max(xs) - min(xs) + 1 == pytest.approx(20 * scale * times, abs=2)
        assert max(ys) - min(ys) + 1 == pytest.approx(20 * scale * times, abs=2)
        assert middle_of(seen) == pytest.approx(middle(glass), abs=1.5 * times)
        page.evaluate("document.querySelector('.dw-points .dw-loupe-times').click()")
    page.mouse.up()
    expect(glass).to_be_hidden()
    expect(page.locator(".dw-points .dw-loupe-times")).to_have_text("Loupe 2 times")


# -- Which points -----------------------------------------------------------------------------------------


def labels(page: Page) -> list[str]:
    return [each.get_attribute("aria-label") for each in page.get_by_role("slider").all()]


def test_only_used_points_are_displayed_and_sent(context, drawing):
    page = open_panel(context, drawing)
    ends = ["Known length, one end", "Known length, other end", "Marking, one end", "Marking, other end"]
    assert labels(page) == ends
    expect(typed(page, "corner_top_left")).to_be_hidden()
    typed(page, "way").select_option("four-corners")
    expect(page.get_by_role("slider")).to_have_count(6)
    corners = ("top left", "top right", "bottom right", "bottom left")
    assert labels(page) == [*(f"Rectangle, {corner} corner" for corner in corners), *ends[2:]]
    expect(typed(page, "known_mm")).to_be_hidden()
    numbers = page.locator(".dw-point:visible text")
    assert numbers.all_text_contents() == list("123456")
    assert page.locator("polygon.dw-points-line").get_attribute("points").count(",") == 4
    typed(page, "model_length_mm").fill("34.5")
    expect(page.get_by_role("slider")).to_have_count(8)
    expect(page.locator("[data-field=second_from] .dw-point-sign text")).to_have_text("7")


def test_input_in_an_unused_field_is_saved_unjudged(context, drawing):
    page = open_calculator(context, drawing)
    typed(page, "way").select_option("four-corners")
    typed(page, "corner_top_left").fill("over there")
    expect(problem(page, "corner_top_left")).to_be_visible()
    typed(page, "way").select_option("straight")
    answered(page)
    expect(page.locator(".dw-problems")).to_be_hidden()
    page.reload()
    answered(page)
    typed(page, "way").select_option("four-corners")
    expect(typed(page, "corner_top_left")).to_have_value("over there")
    expect(problem(page, "corner_top_left")).to_be_visible()


def test_groups_of_points_differ_without_colour(context, drawing):
    page = open_panel(context, drawing)
    typed(page, "model_length_mm").fill("34.5")
    expect(page.get_by_role("slider")).to_have_count(6)
    signs = page.locator(".dw-point:visible .dw-point-sign > g:visible")
    signs = signs.evaluate_all("all => all.map(sign => sign.dataset.sign)")
    assert len(signs) == 6 and len(set(signs)) == 3
    lines = page.locator("polyline.dw-points-line")
    dashes = lines.evaluate_all("all => all.map(line => getComputedStyle(line).strokeDasharray)")
    assert len(set(dashes)) == len(dashes) == 3


def test_example_points_are_spread_over_another_picture(context, drawing):
    """Half as wide and a third as high: points lie at half their x and a third of their y."""
    page = open_calculator(context, drawing)
    choose(page, with_block(600, 300, 10, 10, 5))
    expect(page.locator("[data-note=points]")).to_contain_text("spread over your picture")
    assert point(page, "known_from") == pytest.approx((120, 830 / 3), abs=0.06)
    assert point(page, "mark_to") == pytest.approx((382.5, 430 / 3), abs=0.06)
    answered(page)
    expect(page.locator(".dw-problems")).to_be_hidden()


def test_placed_points_stay_until_the_reader_decides(context, drawing):
    page = open_panel(context, drawing)
    typed(page, "mark_to").fill("1100, 430")
    expect(result_text(page, "full_size_mm")).to_have_text("1270.0")
    choose(page, with_block(550, 450, 10, 10, 5), "small.png")
    expect(problem(page, "mark_to")).to_contain_text("outside the picture")
    expect(typed(page, "mark_to")).to_have_value("1100, 430")
    page.locator("[data-note=points] .dw-note-action").click()
    # The farthest to the right was at 1100 of 1200, the farthest down at 830 of 900: half of both fits.
    assert point(page, "mark_to") == (550.0, 215.0)
    expect(page.locator(".dw-verdict h2")).to_have_text("No verdict until every point is in place")
    typed(page, "points_in_place").select_option("all")
    expect(result_text(page, "full_size_mm")).to_have_text("1270.0")


def test_no_verdict_until_every_point_was_moved(context, drawing):
    page = open_calculator(context, drawing)
    choose(page, with_block(600, 300, 10, 10, 5))
    verdict, size = page.locator(".dw-verdict h2"), result_text(page, "full_size_mm")
    expect(page.locator("[data-note=points]")).to_be_visible()
    for label in ("Known length, one end", "Known length, other end", "Marking, one end", "Marking, other end"):
        expect(verdict).to_have_text("No verdict until every point is in place")
        expect(size).to_be_hidden()
        marker(page, label).focus()
        page.keyboard.press("ArrowRight")
    expect(verdict).not_to_contain_text("No verdict")
    expect(size).to_have_text("600.0")


def test_points_of_one_picture_are_unplaced_on_the_next(context, drawing):
    page = open_panel(context, drawing)
    typed(page, "mark_to").fill("1065, 430")
    expect(result_text(page, "full_size_mm")).to_have_text("1200.0")
    choose(page, with_block(1200, 900, 10, 10, 5), "other.png")
    expect(typed(page, "points_in_place")).to_have_value("not-yet")
    expect(page.locator(".dw-verdict h2")).to_have_text("No verdict until every point is in place")
    expect(typed(page, "mark_to")).to_have_value("1065, 430")
    typed(page, "points_in_place").select_option("all")
    expect(result_text(page, "full_size_mm")).to_have_text("1200.0")


def test_points_and_picture_survive_reload_and_navigation(context, drawing):
    page = open_panel(context, drawing)
    marker(page, "Marking, other end").focus()
    page.keyboard.press("Shift+ArrowRight")
    expect(result_text(page, "full_size_mm")).to_have_text("620.0")
    frame = page.locator(".dw-points-frame")

    def away_from(other: Locator) -> list[float]:
        places = middle(marker(page, "Marking, other end")), middle(other)
        return [one - another for one, another in zip(*places, strict=True)]

    away = away_from(frame)
    page.reload()
    expect(frame).to_be_visible(timeout=20_000)
    expect(typed(page, "mark_to")).to_have_value("775.0, 430.0")
    for _ in range(2):
        frame.scroll_into_view_if_needed()
        assert away_from(frame) == pytest.approx(away, abs=1)
        page.locator(".dw-rule a").nth(1).click()
        expect(frame).to_have_count(0)
        page.go_back()
        expect(frame).to_be_visible(timeout=20_000)
    expect(result_text(page, "full_size_mm")).to_have_text("620.0")


def pace(page: Page) -> tuple[float, float]:
    """The median time that a move of a dragged marker takes, and the median time between frames, in ms."""
    page.evaluate("spent.length = gaps.length = 0")
    x, y = middle(marker(page, "Marking, other end"))
    page.mouse.move(x, y)
    page.mouse.down()
    for step in range(60):
        page.mouse.move(x + step % 20, y + step % 20)
    page.mouse.up()
    spent, gaps = page.evaluate("[spent, gaps]")
    assert min(len(spent), len(gaps)) > 20
    return median(spent), median(gaps)


def test_a_12_megapixel_photograph_stays_responsive(context, drawing):
    """A move takes less than a frame at 60 Hz, and frames are as frequent as with a small drawing."""
    page = open_panel(context, drawing)
    page.evaluate(WATCH_MOVES)
    _, small_gap = pace(page)
    file = BytesIO()
    Image.effect_noise((1000, 750), 60).resize((4000, 3000)).convert("RGB").save(file, "JPEG", quality=80)
    choose(page, file.getvalue(), "photograph.jpg", "image/jpeg")
    expect(page.locator(".dw-drop-facts")).to_contain_text("4000 × 3000 px", timeout=20_000)
    expect(page.locator(".dw-points")).to_be_visible(timeout=20_000)
    answered(page)
    page.locator(".dw-points-frame").scroll_into_view_if_needed()
    # First the whole photograph, then zoomed to its own pixels.
    for larger in (0, 6):
        for _ in range(larger):
            page.locator(".dw-points-larger").click()
        spent, gap = pace(page)
        print(
            f"12 megapixels: a move takes {spent:.1f} ms, frames {gap:.1f} ms apart; small drawing {small_gap:.1f} ms"
        )
        assert spent < 1000 / 60
        assert gap < 2 * max(small_gap, 1000 / 60)


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_serious_with_points(browser, drawing, scheme):
    with visitor(browser, color_scheme=scheme) as context:
        page = open_panel(context, drawing)
        typed(page, "model_length_mm").fill("34.5")
        expect(page.get_by_role("slider")).to_have_count(6)
        assert axe(page) == []
        box = marker(page, "Marking, one end").bounding_box()
        assert min(box["width"], box["height"]) >= 48
