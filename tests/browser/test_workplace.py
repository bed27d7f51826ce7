"""On picture pages the picture is worked on by a finger, at both sizes of a tablet: what is dragged
and its number stay in sight, and the page stays still.

Where things lie comes from pictures drawn here, and from the matrix that the
demonstration's slanted photograph was drawn with.
"""

from __future__ import annotations

import re
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image, ImageDraw
from playwright.sync_api import Locator, Page, expect

from builder.demo import DRAWING_CORNERS, SLANTED_CORNERS
from calculators.shapes.homography import homography
from calculators.shapes.transforms import mapped
from tests.browser.forms import answered, open_calculator, result_text, type_again, typed, visitor
from tests.browser.screen import choose, middle, touch

DEMO = Path(__file__).resolve().parents[2] / "content" / "demo"
SIZES = {"landscape": (1180, 820), "portrait": (820, 1180)}


@pytest.fixture(params=SIZES)
def tablet(request, browser, workbench_server):
    with visitor(browser, has_touch=True) as context:
        context.screen = dict(zip(("width", "height"), SIZES[request.param], strict=True))
        yield context


def opened(tablet, workbench_server, path: str) -> Page:
    page = open_calculator(tablet, workbench_server.url + path)
    page.set_viewport_size(tablet.screen)
    return page


def at_work(page: Page) -> None:
    """Put the sheet away and scroll to the picture, as a reader does who begins to work on it."""
    handle = page.locator(".dw-sheet-handle[aria-expanded=true]")
    if handle.is_visible():
        handle.tap()
    while page.locator(".dw-note-close").count():
        page.locator(".dw-note-close").first.tap()
    page.evaluate("() => document.querySelector('.dw-workplace').scrollIntoView({ behavior: 'instant' })")
    expect(page.locator(".dw-verdict-line")).to_be_visible()


#: The lower edge of the verdict's line; where its title is itself on the screen, there is no line, and nothing hides
#: the rest. Null between the two.
BELOW_VERDICT = """() => {
  const line = document.querySelector(".dw-verdict-line").getBoundingClientRect();
  if (line.height) return line.bottom;
  const title = document.querySelector(".dw-verdict [data-part=title]").getBoundingClientRect();
  return title.height && title.top >= 0 && title.bottom <= innerHeight ? title.bottom : null;
}"""


def in_sight(page: Page, *what: Locator) -> None:
    """All of each lies on the screen, below the verdict or its line and above the handle of the sheet."""
    top = page.wait_for_function(BELOW_VERDICT).json_value()
    handle = page.locator(".dw-sheet-handle")
    bottom = handle.bounding_box()["y"] if handle.is_visible() else page.viewport_size["height"]
    for each in what:
        box = each.bounding_box()
        assert box["y"] >= top - 1, each
        assert box["y"] + box["height"] <= bottom + 1, each
        assert box["x"] >= 0 and box["x"] + box["width"] <= page.viewport_size["width"], each


def drag(page: Page, start: tuple[float, float], end: tuple[float, float], held: Locator, *number: Locator) -> None:
    """Drag by one finger; at each step the picture is where it was on the screen, and what is held and its number are
    in sight.
    """
    session = page.context.new_cdp_session(page)
    before = place_of_work(page)
    touch(session, "touchStart", start)
    for step in range(1, 6):
        touch(session, "touchMove", tuple(a + (b - a) * step / 5 for a, b in zip(start, end, strict=True)))
        assert place_of_work(page) == before
        in_sight(page, held, *number)
    touch(session, "touchEnd")
    assert place_of_work(page) == before


def place_of_work(page: Page) -> float:
    """Return how far down the screen the picture's card begins: the verdict above it may change its length."""
    return round(page.locator(".dw-workplace").bounding_box()["y"])


def test_the_slanted_door_is_measured_by_finger(tablet, workbench_server):
    """The crest on it is 600 mm across: the demonstration was drawn so."""
    page = opened(tablet, workbench_server, "size/drawing-size/")
    typed(page, "way").select_option("four-corners")
    choose(page, (DEMO / "railcar-slanted.jpg").read_bytes(), "slanted.jpg", "image/jpeg")
    type_again(page, "rectangle_width_mm", "1500")
    type_again(page, "rectangle_height_mm", "1200")
    expect(page.locator("[data-note=points]")).to_be_visible()
    expect(page.locator("[data-note=again]")).to_have_count(0)
    at_work(page)
    frame, told = page.locator(".dw-points-frame"), page.locator(".dw-points-status")
    size = page.locator("[data-result=full_size_mm]")
    seen = homography(DRAWING_CORNERS, SLANTED_CORNERS)
    places = {
        "Rectangle, top left corner": (240, 130),
        "Rectangle, top right corner": (990, 130),
        "Rectangle, bottom right corner": (990, 730),
        "Rectangle, bottom left corner": (240, 730),
        "Marking, one end": (465, 430),
        "Marking, other end": (765, 430),
    }
    with Image.open(DEMO / "railcar-slanted.jpg") as image:
        width, height = image.size
    box = frame.bounding_box()
    scale = min((box["width"] - 88) / width, (box["height"] - 88) / height)
    left, top = box["x"] + (box["width"] - width * scale) / 2, box["y"] + (box["height"] - height * scale) / 2
    for name, place in places.items():
        x, y = mapped(seen, place)
        marker = page.get_by_role("slider", name=name, exact=True)
        drag(page, middle(marker), (left + x * scale, top + y * scale), marker, told)
        expect(told).to_contain_text(name)
    expect(size).to_be_visible()
    # A finger is right to a pixel of the screen at each of six points: 575 to 624 mm.
    expect(result_text(page, "full_size_mm")).to_have_text(re.compile(r"^(57[5-9]|5[89]\d|6[01]\d|62[0-4])(\.\d)?$"))
    answered(page)
    in_sight(page, size)
    assert page.locator("[data-result=full_size_mm] [data-part=plus_minus]").inner_text().startswith("± ")


def test_the_labels_of_points_stand_off_what_they_mark(tablet, workbench_server):
    page = opened(tablet, workbench_server, "size/drawing-size/")
    at_work(page)
    markers = [middle(each) for each in page.locator(".dw-point:visible").all()]
    signs = [middle(each) for each in page.locator(".dw-point:visible .dw-point-sign").all()]
    assert len(markers) == len(signs) == 4
    for sign in signs:
        assert min(((sign[0] - x) ** 2 + (sign[1] - y) ** 2) ** 0.5 for x, y in markers) > 40
    # Ends of a level length have their labels beyond them, not on the length.
    (first, second), (one, other) = markers[2:], signs[2:]
    assert one[0] < first[0] < second[0] < other[0]


def squares() -> bytes:
    """Three white squares with a dot each on maroon, on white: area 1 is the ground, 2 to 4 are wanted white."""
    image = Image.new("RGB", (400, 200), "#ffffff")
    pen = ImageDraw.Draw(image)
    pen.rectangle((20, 40, 379, 159), "#7a2232")
    for left in (50, 165, 280):
        pen.rectangle((left, 70, left + 59, 129), "#ffffff")
        pen.rectangle((left + 24, 94, left + 35, 105), "#c8993a")
    file = BytesIO()
    image.save(file, "PNG")
    return file.getvalue()


def test_three_white_areas_are_marked_by_finger(tablet, workbench_server):
    page = opened(tablet, workbench_server, "artwork/white-areas/")
    choose(page, squares())
    type_again(page, "width_mm", "14")
    # The example has more than four areas, so these are those of the new picture.
    expect(page.locator("path.dw-area")).to_have_count(4)
    answered(page)
    at_work(page)
    # Three alike are a group, which one touch would mark.
    page.locator(".dw-marks-single").tap()
    told, wanted = page.locator(".dw-marks-status"), page.locator("[data-result=wanted_mm2]")
    before = place_of_work(page)
    for area in (2, 3, 4):
        shape = page.locator(f"path.dw-area[data-area='{area}']")
        shape.tap(position={"x": 12, "y": 12})  # off the dot in its middle
        expect(told).to_contain_text(f"Area {area}: ")
        expect(page.locator(f"path.dw-area[data-area='{area}']")).to_have_attribute("data-meant", "hole")
        in_sight(page, page.locator(f"path.dw-area[data-area='{area}']"), told, wanted)
        assert place_of_work(page) == before
    assert result_text(page, "wanted_mm2").inner_text() == "0.0"


def test_border_and_slider_keep_picture_and_verdict_visible(tablet, workbench_server):
    page = opened(tablet, workbench_server, "underlay/underlay/")
    at_work(page)
    told, wipe = page.locator(".dw-scenes-status"), page.locator(".dw-scenes-wipe")
    in_sight(page, page.locator(".dw-scenes-frame"), told)
    grip = page.locator(".dw-border-grip[data-moves=percent]")
    x, y = middle(grip)
    drag(page, (x, y), (x, y + 60), grip, told)
    expect(told).not_to_contain_text("50 %")
    x, y = middle(wipe)
    drag(page, (x, y), (x + 80, y - 30), page.locator(".dw-scenes-frame"), told)
    assert float(wipe.input_value()) > 55
    assert page.locator(".dw-verdict-line").bounding_box()["height"] <= 64


def test_a_way_is_chosen_by_two_taps(tablet, workbench_server):
    page = opened(tablet, workbench_server, "underlay/underlay/")
    second = page.locator(".dw-ways > li").nth(1)
    second.locator("summary").tap()
    second.get_by_role("button", name="Choose this way").tap()
    chosen = page.locator(".dw-ways button[aria-pressed=true]")
    expect(chosen).to_have_count(1)
    expect(typed(page, "way")).not_to_have_value("undecided")
    assert chosen.get_attribute("data-value") == typed(page, "way").input_value()


def test_the_line_of_the_verdict_opens_by_a_tap(tablet, workbench_server):
    page = opened(tablet, workbench_server, "underlay/seen-colour/")
    line = page.locator(".dw-verdict-line")
    expect(line).to_be_hidden()
    page.locator(".dw-sources").scroll_into_view_if_needed()
    expect(line).to_be_visible()
    assert line.bounding_box()["height"] <= 64
    title = page.locator(".dw-verdict h2").inner_text()
    line.get_by_role("button", name=title).tap()
    expect(page.locator(".dw-verdict-all p").first).to_be_visible()
    line.get_by_role("button", name=title).tap()
    expect(page.locator(".dw-verdict-all")).to_be_hidden()


def test_above_an_open_sheet_the_picture_is_whole(browser, workbench_server):
    with visitor(browser, has_touch=True) as context:
        page = open_calculator(context, f"{workbench_server.url}artwork/trace/")
        page.set_viewport_size({"width": 820, "height": 1180})
        expect(typed_box(page)).to_be_hidden()
        page.locator(".dw-sheet-handle").tap()
        expect(typed_box(page)).to_be_visible()
        drawing = page.locator(".dw-work-picture svg[viewBox]").first.bounding_box()
        assert drawing["height"] > 200
        assert drawing["y"] + drawing["height"] <= page.locator(".dw-form").bounding_box()["y"]
        page.keyboard.press("Escape")
        expect(typed_box(page)).to_be_hidden()


def typed_box(page: Page) -> Locator:
    return page.locator('[id="in-colours"]')


def test_underlay_with_its_example_takes_at_most_3500_px(browser, workbench_server):
    with visitor(browser, has_touch=True) as context:
        page = open_calculator(context, f"{workbench_server.url}underlay/underlay/")
        assert page.evaluate("document.scrollingElement.scrollHeight") <= 3500
        picture, first = (page.locator(each).first.bounding_box() for each in (".dw-scenes-frame", ".dw-ways > li"))
        assert picture["y"] < first["y"]
        assert page.locator(".dw-ways > li").count() == 11
        for way in page.locator(".dw-ways > li").all():
            assert way.locator("> p:not(.dw-way-name)").count() == 1


def test_the_state_of_an_answer_lies_below_the_lead(browser, workbench_server):
    page = browser.new_page(java_script_enabled=False)
    page.goto(f"{workbench_server.url}underlay/cut-file/")
    for width, height in ((1180, 820), (820, 1180), (1440, 900), (390, 844)):
        page.set_viewport_size({"width": width, "height": height})
        lead, state = (page.locator(each).bounding_box() for each in (".dw-lead", ".dw-state"))
        assert lead["y"] + lead["height"] <= state["y"] + 0.5
    page.close()


def test_long_work_is_reported_and_stopped_over_the_picture(tablet, workbench_server, tmp_path):
    page = opened(tablet, workbench_server, "artwork/trace/")
    # Many shapes keep the tracer busy for longer than it takes to reach Stop.
    many = Image.new("RGB", (2400, 2400), "white")
    pen = ImageDraw.Draw(many)
    for row in range(40):
        for column in range(40):
            pen.ellipse([60 * column + 5, 60 * row + 5, 60 * column + 50, 60 * row + 50], fill="#205080")
    many.save(tmp_path / "many.png")
    # Typed before, so that the picture does not ask for it.
    typed(page, "width_mm").fill("14")
    at_work(page)
    page.locator("input[type=file]").first.set_input_files(tmp_path / "many.png")
    progress = page.locator(".dw-progress")
    expect(progress).to_be_visible(timeout=20_000)
    box = progress.bounding_box()
    assert box["y"] >= 0 and box["y"] + box["height"] <= page.viewport_size["height"]
    progress.get_by_role("button").tap()
    expect(progress).to_be_hidden()


def test_a_wide_picture_leaves_nothing_blank_above_it(browser, workbench_server):
    """Upright the card is as high as its picture; a high one fits between the line and the sheet's handle."""
    with visitor(browser, has_touch=True) as context:
        page = open_calculator(context, f"{workbench_server.url}artwork/trace/")
        page.set_viewport_size({"width": 820, "height": 1180})
        # Of different widths, so that the answer shown is that to this picture.
        for size, width in (((600, 150), "20"), ((150, 600), "10")):
            image = Image.new("RGB", size, "#205080")
            ImageDraw.Draw(image).rectangle((20, 20, size[0] - 21, size[1] - 21), "#ffffff")
            file = BytesIO()
            image.save(file, "PNG")
            choose(page, file.getvalue(), f"{size[0]}.png")
            type_again(page, "width_mm", width)
            expect(page.locator("[data-result=width_mm] [data-part=shown]")).to_have_text(f"{width}.00")
            answered(page)
            at_work(page)
            card, drawing = (page.locator(each).first.bounding_box() for each in (".dw-workplace", WORKED_ON))
            assert drawing["y"] - card["y"] < 40
            if size[0] > size[1]:
                # 820 px less the margins of page and card: 150 / 600 of that high.
                assert drawing["width"] > 700 and abs(drawing["height"] - drawing["width"] / 4) < 40
            else:
                assert drawing["height"] > 600
                in_sight(page, page.locator(WORKED_ON).first)


def test_beside_the_panel_a_pair_of_pictures_begins_at_the_top(browser, workbench_server):
    with visitor(browser) as context:
        page = open_calculator(context, f"{workbench_server.url}artwork/clean-picture/")
        tools, drawing, words = (
            page.locator(f".dw-workplace {each}").first.bounding_box()
            for each in (".dw-loupe-tools", "svg[viewBox]", "figcaption")
        )
        assert 0 <= drawing["y"] - (tools["y"] + tools["height"]) < 20
        assert 0 <= words["y"] - (drawing["y"] + drawing["height"]) < 20
        # Two squares with a gap, and a line of words below: 250 of 520 wide, 280 high.
        assert drawing["height"] == pytest.approx(drawing["width"] * 280 / 520, abs=2)


#: The drawing that a finger works on.
WORKED_ON = ".dw-work-picture svg[viewBox]"


def test_on_a_phone_picture_slider_and_verdict_are_seen_together(browser, workbench_server):
    with visitor(browser, has_touch=True) as context:
        page = open_calculator(context, f"{workbench_server.url}underlay/underlay/")
        page.set_viewport_size({"width": 390, "height": 844})
        at_work(page)
        frame = page.locator(".dw-scenes-frame")
        in_sight(page, frame, page.locator(".dw-scenes-status"))
        assert frame.bounding_box()["width"] > 290
        x, y = middle(page.locator(".dw-scenes-wipe"))
        drag(page, (x, y), (x + 60, y), frame, page.locator(".dw-scenes-status"))
        for path in ("artwork/white-areas/", "artwork/trace/", "size/drawing-size/"):
            page.goto(workbench_server.url + path)
            answered(page)
            at_work(page)
            work = page.locator(".dw-points-frame" if "size" in path else WORKED_ON).first
            in_sight(page, work)
            assert work.bounding_box()["width"] > 290


def test_numbers_lie_below_the_picture_while_the_sheet_is_open(tablet, workbench_server):
    page = opened(tablet, workbench_server, "underlay/underlay/")
    answered(page)
    handle = page.locator(".dw-sheet-handle")
    if handle.is_visible():
        handle.tap()
        expect(handle).to_have_attribute("aria-expanded", "true")
    above, numbers = (page.locator(each) for each in (".dw-scenes", ".dw-work-numbers"))
    inside = above.evaluate(
        "(each) => Math.max(...[...each.children].map((one) => one.getBoundingClientRect().bottom))"
    )
    assert inside <= numbers.bounding_box()["y"] + 1


def test_the_offer_to_save_the_book_lies_above_the_sheet(tablet, workbench_server):
    page = opened(tablet, workbench_server, "artwork/white-areas/")
    if page.locator(".dw-saving").is_hidden():
        page.locator(".dw-offline").tap()
    for button in (".dw-saving-begin", ".dw-saving-close"):
        page.locator(button).tap(trial=True)
    page.locator(".dw-saving-close").tap()
    expect(page.locator(".dw-saving")).to_be_hidden()
