"""Tables in the browser: found by words, put in order by their headings, by key and
by thumb, unfolded, within the screen.
"""

from __future__ import annotations

import re
import subprocess

import pytest
from playwright.sync_api import Route, expect

from builder.table_pages import pages_of_tables, url_of
from calculators import tables
from tests.browser.misfits import settled
from tests.browser.test_look import ROOT, SIZES, axe, open_page  # noqa: F401 - a fixture

PAGES = {table: url_of(page) for table, page in pages_of_tables(ROOT / "content").items()}
PAGES |= {"values": "reference/values/", "row": "reference/coats/clear-lacquer/"}


@pytest.fixture
def waits(open_page):  # noqa: F811 - a fixture
    page = open_page(PAGES["drying-times"], size="portrait")
    page.wait_for_selector(".dw-data-tools:not([hidden])")
    return page


def names(page) -> list[str]:
    return [each.strip() for each in page.locator("table.dw-data tbody tr:visible > th").all_inner_texts()]


def count(page):
    return page.locator(".dw-data-count")


@pytest.mark.parametrize(
    ("path", "scheme"),
    [*((path, "light") for path in PAGES.values()), *((PAGES[name], "dark") for name in ("drying-times", "row"))],
)
def test_tables_pass_axe_and_fit_the_screen(open_page, path: str, scheme: str):  # noqa: F811 - a fixture
    """Upright, and no table is cut off when the tablet is turned."""
    page = open_page(path, size="portrait", scheme=scheme)
    page.locator(".dw-data-tools:not([hidden]), .dw-parts, .dw-entry-list").first.wait_for()
    assert page.evaluate("document.documentElement.scrollWidth") <= 820
    assert axe(page) == []
    for size in ("portrait", "landscape"):
        page.set_viewport_size(dict(zip(("width", "height"), SIZES[size], strict=True)))
        settled(page)
        frames = page.locator(".dw-table-frame")
        over = frames.evaluate_all("all => all.map(each => each.scrollWidth - each.clientWidth)")
        assert all(each <= 0 for each in over), size


def test_filter_words_leave_only_matching_rows(waits):
    every = [row.label for row in tables.load("drying-times")]
    assert names(waits) == every
    expect(count(waits)).to_have_text(f"{len(every)} rows")
    waits.get_by_role("searchbox", name="Show only rows with these words").fill("SOFTENING fluid")
    left = names(waits)
    assert 0 < len(left) < len(every)
    expect(count(waits)).to_have_text(f"{len(left)} of {len(every)} rows")
    waits.get_by_role("searchbox").fill("")
    assert names(waits) == every


def test_waits_sort_by_duration(waits):
    button = waits.get_by_role("button", name="Shortest")
    heading = waits.get_by_role("columnheader", name="Shortest")
    hours = {row.label: row.shortest.hours[0] for row in tables.load("drying-times")}
    button.tap()
    assert [hours[name] for name in names(waits)] == sorted(hours.values())
    expect(heading).to_have_attribute("aria-sort", "ascending")
    expect(count(waits)).to_have_text(f"{len(hours)} rows, sorted by Shortest")
    button.tap()
    assert [hours[name] for name in names(waits)] == sorted(hours.values(), reverse=True)
    expect(heading).to_have_attribute("aria-sort", "descending")
    button.tap()
    assert names(waits) == list(hours)
    assert heading.get_attribute("aria-sort") is None


def test_headings_work_by_keyboard(waits):
    waits.get_by_role("searchbox").focus()
    # Tab past the table's frame, which scrolls by keyboard, to its first heading.
    for _ in range(2):
        waits.keyboard.press("Tab")
    assert waits.evaluate("document.activeElement.classList.contains('dw-sort')")
    waits.keyboard.press("Enter")
    assert names(waits) == sorted(names(waits), key=str.casefold)


def test_controls_are_large_enough_for_a_thumb(waits):
    for place in (".dw-sort", ".dw-data-tools input", ".dw-data-files a"):
        for box in (each.bounding_box() for each in waits.locator(f"{place}:visible").all()):
            assert box["height"] >= 48, place


def test_a_row_unfolds_what_its_table_has_no_room_for(waits):
    row = waits.locator("table.dw-data tbody tr").first
    expect(row.locator("[data-rest]").first).to_be_hidden()
    row.locator(".dw-unfold").tap()
    more = waits.locator("tr.dw-more")
    expect(more).to_have_count(1)
    longest = tables.load("drying-times")[0].longest
    expect(more.locator("dt", has_text="Longest")).to_be_visible()
    expect(more.locator("div", has=waits.locator("dt", has_text="Longest")).locator(".dw-shown")).to_have_text(
        longest.shown
    )
    row.locator(".dw-unfold").tap()
    expect(more).to_have_count(0)
    # A row that is open when others are hidden or sorted is folded first.
    row.locator(".dw-unfold").tap()
    waits.get_by_role("button", name="Shortest").tap()
    expect(more).to_have_count(0)
    expect(waits.locator(".dw-unfold[aria-expanded=true]")).to_have_count(0)


def test_without_scripts_a_table_has_no_dead_field(open_page):  # noqa: F811 - a fixture
    page = open_page(PAGES["coats"], java_script_enabled=False)
    assert len(names(page)) == len(tables.load("coats"))
    assert not page.locator(".dw-data-tools").is_visible()


def test_without_scripts_each_cell_has_the_width_of_a_phone(open_page):  # noqa: F811 - a fixture
    page = open_page(PAGES["coats"], viewport={"width": 360, "height": 740}, java_script_enabled=False)
    frame = page.locator(".dw-table-frame")
    across = frame.evaluate("each => each.clientWidth")
    cells = frame.locator("tbody :is(th, td):visible").evaluate_all("all => all.map(each => each.offsetWidth)")
    assert len(cells) > 5 * len(tables.load("coats"))
    assert across >= 300 and min(cells) >= across - 4  # the border of the table


def test_a_table_that_arrives_in_pieces_shows_once_it_is_complete(open_page):  # noqa: F811 - a fixture
    """Each row that arrives may change the widths of all columns, and so move what is read already."""
    page = open_page(PAGES["coats"], java_script_enabled=False)
    html = page.request.get(page.url).text()
    frame = page.locator(".dw-table-frame")
    pieces = [html[: html.rindex('<tr id="')], html[html.rindex('<tr id="') :]]
    page.evaluate("piece => { document.open(); document.write(piece); }", pieces[0])
    frame.locator("tbody tr").first.wait_for(state="attached")
    page.wait_for_function("getComputedStyle(document.body).fontFamily.includes('Atkinson')")
    assert frame.locator("tbody tr").count() == len(tables.load("coats")) - 1
    expect(frame).to_have_css("visibility", "hidden")
    page.evaluate("piece => { document.write(piece); document.close(); }", pieces[1])
    expect(frame).to_have_css("visibility", "visible")
    assert names(page) == [row.label for row in tables.load("coats")]


@pytest.mark.parametrize("width", [320, 820, 1180])
def test_a_table_does_not_move_when_its_headings_become_buttons(open_page, width: int):  # noqa: F811 - a fixture
    page = open_page(PAGES["coats"], viewport={"width": width, "height": 820})
    held: list[Route] = []

    def hold(route: Route) -> None:
        held.append(route)

    page.route("**/scripts/tables.mjs", hold)
    page.reload(wait_until="domcontentloaded")
    page.evaluate("document.fonts.ready")
    places = "all => all.map(each => Object.values(each.getBoundingClientRect().toJSON()))"
    cells = page.locator(".dw-data :is(th, td)")
    before = cells.evaluate_all(places)
    expect(page.locator(".dw-data button.dw-sort")).to_have_count(0)
    for each in held:
        each.continue_()
    expect(page.locator(".dw-data button.dw-sort").first).to_be_attached()
    assert cells.evaluate_all(places) == before


def test_tables_work_after_returning_to_the_page(waits):
    waits.get_by_role("link", name=tables.load("drying-times")[0].label, exact=True).tap()
    waits.wait_for_selector(".dw-parts")
    waits.get_by_role("link", name="Back to the table").tap()
    waits.wait_for_selector(".dw-data-tools:not([hidden])")
    waits.get_by_role("searchbox", name="Show only rows").fill("softening")
    assert 0 < len(names(waits)) < len(tables.load("drying-times"))


@pytest.mark.parametrize("table", ["drying-times", "ways", "solvents", "coats", "substrates", "print-settings"])
def test_printed_tables_break_no_word_and_fit(open_page, table: str):  # noqa: F811 - a fixture
    page = open_page(PAGES[table])
    page.wait_for_selector(".dw-data-tools:not([hidden])", state="attached")
    page.emulate_media(media="print")
    page.set_viewport_size({"width": 1009, "height": 680})  # A4 on its side less 15 mm each side, at 96 px to the inch
    shown = page.locator("table.dw-data")
    assert shown.evaluate("each => each.getBoundingClientRect().right") <= 1009
    breaks = shown.evaluate("""each => [...each.querySelectorAll("th, td, a, span, small")].map((one) => {
        const { overflowWrap, wordBreak, hyphens } = getComputedStyle(one)
        return [overflowWrap, wordBreak, hyphens].join()
    })""")
    assert set(breaks) <= {"normal,normal,manual", "normal,normal,none"}


@pytest.mark.parametrize("kind", ["CSV", "JSON"])
def test_a_table_can_be_downloaded(waits, kind: str):
    with waits.expect_download() as download:
        waits.get_by_role("link", name=kind, exact=True).tap()
    assert download.value.suggested_filename == f"drying-times.{kind.lower()}"


def test_printed_tables_repeat_headings_and_fit(open_page, tmp_path):  # noqa: F811 - a fixture
    page = open_page(PAGES["coats"])
    page.wait_for_selector(".dw-data-tools:not([hidden])", state="attached")
    page.pdf(path=tmp_path / "coats.pdf", format="A4", prefer_css_page_size=True)
    info = subprocess.run(["pdfinfo", "coats.pdf"], cwd=tmp_path, check=True, capture_output=True, text=True).stdout
    sheets = int(re.search(r"Pages: +(\d+)", info)[1])
    texts = [
        subprocess.run(
            ["pdftotext", "-f", str(number), "-l", str(number), "coats.pdf", "-"],
            cwd=tmp_path,
            check=True,
            capture_output=True,
            text=True,
        ).stdout
        for number in range(1, sheets + 1)
    ]
    # The first sheet has the title and the first rows, and every sheet with rows has the headings.
    assert "Coats" in texts[0] and "Primer" in texts[0]
    with_rows = [text for text in texts if text.count("estimate") > 5]
    assert len(with_rows) >= 2 and all("Carrier" in text and "Humidity" in text for text in with_rows)
    # The last column, whole: it once ran over the edge of the sheet. Its two words are on
    # two lines, between those of its neighbour.
    extracted = [row for row in tables.load("coats") if row.bench == "with extraction"]
    assert sum(text.count("extraction") for text in texts) == len(extracted) > 5
