"""Which points a picture shows, when they count as placed, and how fast they follow."""

from __future__ import annotations

from io import BytesIO
from statistics import median

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.forms import answered, open_calculator, problem, result_text, type_again, typed, visitor
from tests.browser.pointing import WATCH_MOVES, choose_first, marker, open_panel, point
from tests.browser.screen import choose, middle, with_block
from tests.browser.test_look import axe
from tests.noise import noise


@pytest.fixture
def drawing(workbench_server):
    return f"{workbench_server.url}size/drawing-size/"


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
    choose_first(page, with_block(600, 300, 10, 10, 5))
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
    type_again(page, "known_mm", "1500")
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
    choose_first(page, with_block(600, 300, 10, 10, 5))
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
    type_again(page, "known_mm", "1500")
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
    """A move takes less than a frame at 60 Hz or twice that of a small drawing, and frames are as frequent."""
    page = open_panel(context, drawing)
    page.evaluate(WATCH_MOVES)
    small_spent, small_gap = pace(page)
    file = BytesIO()
    noise((1000, 750), 60).resize((4000, 3000)).convert("RGB").save(file, "JPEG", quality=80)
    choose(page, file.getvalue(), "photograph.jpg", "image/jpeg")
    expect(page.locator(".dw-drop-facts")).to_contain_text("4000 × 3000 px", timeout=20_000)
    expect(page.locator(".dw-points")).to_be_visible(timeout=20_000)
    type_again(page, "known_mm", "1500")
    answered(page)
    page.locator(".dw-points-frame").scroll_into_view_if_needed()
    # First the whole photograph, then zoomed to its own pixels.
    for larger in (0, 6):
        for _ in range(larger):
            page.locator(".dw-points-larger").click()
        spent, gap = pace(page)
        print(
            f"12 megapixels: a move takes {spent:.1f} ms, frames {gap:.1f} ms apart; "
            f"small drawing {small_spent:.1f} ms, {small_gap:.1f} ms"
        )
        # A busy machine makes every move longer.
        assert spent < max(1000 / 60, 2 * small_spent)
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
