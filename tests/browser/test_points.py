"""Points are put on a picture by mouse, finger, keys and typing, and the answer follows them.

What is expected comes from geometry: where a coloured block lies in a picture that the test made, and
what lengths the points on the demo drawing have (750 px are 1500 mm, so 2 mm a pixel).
"""

from __future__ import annotations

import pytest
from PIL import Image
from playwright.sync_api import expect

from tests.browser.forms import answered, open_calculator, problem, result_text, typed
from tests.browser.pointing import choose_first, drag, marker, open_panel, point, screen_scale
from tests.browser.screen import choose, green_on, middle, middle_of, touch, with_block


@pytest.fixture
def drawing(workbench_server):
    return f"{workbench_server.url}size/drawing-size/"


# -- Where a point is ---------------------------------------------------------------------------------


def test_a_dropped_marker_gives_picture_coordinates(context, drawing):
    page = open_calculator(context, drawing)
    choose_first(page, with_block(1200, 900, 700, 500, 20))
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
    choose_first(page, with_block(900, 600, 500, 100, 24, "JPEG", exif=exif, quality=95), "turned.jpg", "image/jpeg")
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


#: Ways to type one point.
WAYS = (
    "1065;430",
    "1065 430",
    "(1065 px, 430 px)",
    "1065,0 430,0",
    "2130/2; 860/2",
    "１０６５, ４３０",
    "1.065e3 430.",
    "+1065, 430",
)


def test_a_marker_moves_to_the_parsed_point(context, drawing, subtests):
    """600 px of the drawing further than 465, 430; 750 px are 1500 mm."""
    page = open_panel(context, drawing)
    scale = screen_scale(page)
    before = typed(page, "mark_to").input_value()
    for text in WAYS:
        with subtests.test(text):
            typed(page, "mark_to").fill(before)
            expect(result_text(page, "full_size_mm")).to_have_text("600.0")
            expect(marker(page, "Marking, other end")).to_have_attribute("aria-valuetext", "x 765.0, y 430.0")
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
    # The fields beside the picture come first.
    for _ in range(40):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.matches('.dw-point')"):
            break
    expect(marker(page, labels[0])).to_be_focused()
    for label in labels[1:]:
        page.keyboard.press("Tab")
        expect(marker(page, label)).to_be_focused()
    page.keyboard.press("+")
    assert screen_scale(page) > 0.3
    page.keyboard.press("ArrowLeft")
    expect(page.locator(".dw-points .dw-glass-round")).to_be_visible()
    page.keyboard.press("Escape")
    expect(page.locator(".dw-points .dw-glass-round")).to_be_hidden()


@pytest.mark.parametrize("size", [(1180, 820), (820, 1180)], ids=["landscape", "portrait"])
def test_the_picture_keeps_its_size_when_numbers_come(tablet, drawing, size):
    """The last point may still be under the finger when the first answer arrives."""
    page = open_calculator(tablet, drawing)
    page.set_viewport_size({"width": size[0], "height": size[1]})
    choose_first(page, with_block(1200, 900, 10, 10, 5))
    expect(page.locator(".dw-verdict h2")).to_have_text("No verdict until every point is in place", timeout=20_000)
    typed(page, "points_in_place")
    expect(result_text(page, "full_size_mm")).to_be_hidden()
    frame = page.locator(".dw-points-frame")
    before = frame.bounding_box()["height"]
    typed(page, "points_in_place").select_option("all")
    expect(result_text(page, "full_size_mm")).to_be_visible()
    assert frame.bounding_box()["height"] == pytest.approx(before, abs=0.5)


def test_a_choice_stays_that_was_made_before_the_picture_came(context, drawing, workbench_server):
    """While the engine still starts, a picture is chosen but not yet shown."""
    workbench_server.delays["^/engine/"] = 1.5
    page = context.new_page()
    page.goto(drawing)
    expect(page.locator(".dw-answer")).to_have_attribute("data-engine", "loading")
    choose_first(page, with_block(1200, 900, 10, 10, 5))
    expect(page.locator(".dw-drop-name")).to_have_text("panel.png")
    typed(page, "points_in_place").select_option("all")
    expect(page.locator(".dw-drop-facts")).to_contain_text("1200 × 900 px", timeout=20_000)
    answered(page)
    expect(typed(page, "points_in_place")).to_have_value("all")


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
    choose_first(page, with_block(1200, 900, 700, 500, 20))
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
        side = pytest.approx(20 * scale * times, abs=2)
        # The glass is drawn a little after its words.
        for _ in range(50):
            seen = green_on(page, glass)
            across, down = ({place[axis] for place in seen} or {0} for axis in (0, 1))
            sides = max(across) - min(across) + 1, max(down) - min(down) + 1
            if sides == (side, side):
                break
            page.wait_for_timeout(100)
        assert sides == (side, side)
        assert middle_of(seen) == pytest.approx(middle(glass), abs=1.5 * times)
        page.evaluate("document.querySelector('.dw-points .dw-loupe-times').click()")
    page.mouse.up()
    expect(glass).to_be_hidden()
    expect(page.locator(".dw-points .dw-loupe-times")).to_have_text("Loupe 2 times")
