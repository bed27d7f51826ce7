"""The look: readable, usable by thumb and keyboard, within the screen, in light, dark and print."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path

import pytest
from playwright.sync_api import expect

from builder.pages import calculators
from tests.browser.devices import lent
from tests.browser.forms import WITHOUT_SAVING

ROOT = Path(__file__).resolve().parents[2]
AXE = ROOT / "node_modules" / "axe-core" / "axe.min.js"

SIZES = {"landscape": (1180, 820), "portrait": (820, 1180), "desk": (1440, 900)}
PAGES = {
    "home": "",
    "how-to": "artwork/check-a-picture/",
    "resolution": "artwork/resolution/",
    "scale-size": "size/scale-size/",
    "table": "size/scales/",
}

# -- Colours, from the stylesheet itself -----------------------------------------------------------


def palettes() -> dict[str, dict[str, str]]:
    """Return the colours of colours.css by palette and name."""
    text = (ROOT / "theme" / "styles" / "colours.css").read_text("utf-8")
    light, dark = text.split("@media screen", 1)
    found = {
        name: dict(re.findall(r"--dw-([a-z-]+): (#[0-9a-f]{6});", part))
        for name, part in (("light", light), ("dark", dark))
    }
    assert found["light"].keys() == found["dark"].keys() and len(found["light"]) > 10
    return found


def luminance(colour: str) -> float:
    """Return the relative luminance of #rrggbb, as WCAG 2.2 defines it."""
    channels = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [each / 12.92 if each <= 0.04045 else ((each + 0.055) / 1.055) ** 2.4 for each in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio of two colours, as WCAG 2.2 defines it: 1 to 21."""
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


#: Text colours and their backgrounds. WCAG 2.2, 1.4.3: at least 4.5.
READ = [
    *((text, behind) for text in ("ink", "soft", "accent", "water") for behind in ("sheet", "film")),
    *((text, "water-tint") for text in ("ink", "soft", "water")),
    *((text, f"{level}-tint") for level in ("pass", "watch", "fail") for text in (level, "ink")),
    ("fail", "film"),
    ("soft", "fail-tint"),
]
#: Signs, borders of fields, drawings. WCAG 2.2, 1.4.11: at least 3.
SEEN = [
    *((level, behind) for level in ("pass", "watch", "fail") for behind in ("film", f"{level}-tint")),
    *((mark, behind) for mark in ("soft", "accent", "water", "paint") for behind in ("film", "sheet")),
    ("water", "water-tint"),
]


def test_contrast_follows_its_definition():
    # WCAG 2.2, "contrast ratio": white on black is 21:1, a colour on itself 1:1.
    assert contrast("#ffffff", "#000000") == pytest.approx(21)
    assert contrast("#7a2232", "#7a2232") == 1


@pytest.mark.parametrize("palette", ["light", "dark"])
@pytest.mark.parametrize(("pairs", "least"), [(READ, 4.5), (SEEN, 3.0)], ids=["read", "seen"])
def test_colours_contrast(palette: str, pairs: list[tuple[str, str]], least: float):
    colours = palettes()[palette]
    weak = {f"{a} on {b}": round(contrast(colours[a], colours[b]), 2) for a, b in pairs}
    assert {pair: ratio for pair, ratio in weak.items() if ratio < least} == {}


# -- Pages in the browser --------------------------------------------------------------------------


@pytest.fixture
def open_page(browser, server) -> Iterator:
    """Open a page of the site in a profile with nothing in it."""
    devices = ExitStack()

    def opened(path: str, size: str = "landscape", scheme: str = "light", **options):
        width, height = SIZES[size]
        options = {
            "viewport": {"width": width, "height": height},
            "has_touch": size != "desk",
            "color_scheme": scheme,
            **options,
        }
        page = devices.enter_context(lent(browser, options, WITHOUT_SAVING)).new_page()
        page.goto(server.url + path)
        page.wait_for_load_state("load")
        return page

    with devices:
        yield opened


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("path", PAGES.values(), ids=PAGES)
def test_nothing_serious_for_axe(open_page, path: str, scheme: str):
    page = open_page(path, scheme=scheme)
    assert page.evaluate("document.body.dataset.mdColorScheme") == {"light": "default", "dark": "slate"}[scheme]
    assert axe(page) == []


def test_axe_finds_nothing_serious_while_searching(open_page):
    page = open_page("")
    page.click(".dw-find")
    page.keyboard.type("picture")
    page.wait_for_selector(".md-search-result__link")
    assert axe(page) == []


def axe(page) -> list[str]:
    """Return everything that axe-core finds, each with the elements concerned."""
    page.evaluate(AXE.read_text("utf-8"))
    found = page.evaluate("axe.run(document, {resultTypes: ['violations']})")
    assert found["passes"]
    return [
        f"{rule['id']} ({rule['impact']}): {[node['html'][:160] for node in rule['nodes']]}"
        for rule in found["violations"]
    ]


@pytest.mark.parametrize("size", SIZES)
def test_no_page_is_wider_than_the_screen(open_page, server, size: str):
    page = open_page("", size)
    for path in PAGES.values():
        page.goto(server.url + path)
        assert page.evaluate("document.scrollingElement.scrollWidth") <= SIZES[size][0], path


def test_text_at_twice_its_size_still_fits(open_page, server):
    page = open_page("")
    for path in PAGES.values():
        page.goto(server.url + path)
        page.evaluate("document.documentElement.style.fontSize = '225%'")
        assert page.evaluate("document.scrollingElement.scrollWidth") <= SIZES["landscape"][0], path
        cut = page.evaluate("""
            [...document.querySelectorAll("h1, h2, .dw-label, .dw-tool, .dw-measures td, .dw-to-calculator")]
            .filter(each => each.offsetParent && each.scrollWidth > each.clientWidth + 1)
            .filter(each => getComputedStyle(each).display !== "inline")
            .map(each => each.outerHTML.slice(0, 120))""")
        assert cut == [], path


#: All that is touched, except links within a sentence and the result links of the search (taller by far).
TOUCHED = """button, select, summary, .dw-tool, .dw-box, .dw-check, .dw-drop, .dw-camera, .dw-home, .dw-rule a,
    .dw-beside a, .dw-stage a, .dw-footer a, .dw-save"""


@pytest.mark.parametrize("size", ["landscape", "portrait"])
def test_touch_targets_are_48_px(open_page, server, size: str):
    page = open_page("", size)
    for path in PAGES.values():
        page.goto(server.url + path)
        small = page.evaluate(
            """touched => [...document.querySelectorAll(touched)]
                .map(each => [each, each.getBoundingClientRect()])
                .filter(([each]) => each.checkVisibility({visibilityProperty: true}))
                .filter(([, box]) => box.width < 48 || box.height < 48)
                .map(([each, box]) => [Math.round(box.width), Math.round(box.height), each.outerHTML.slice(0, 120)])
                .map(([wide, high, html]) => `${wide} x ${high}: ${html}`)""",
            TOUCHED,
        )
        assert small == [], path


def test_fields_are_52_px_high(open_page):
    page = open_page(PAGES["resolution"], "portrait")
    heights = page.evaluate(
        "[...document.querySelectorAll('.dw-box')].filter(each => each.checkVisibility()).map(each => "
        "each.getBoundingClientRect().height)"
    )
    assert heights and min(heights) >= 52


# -- The rule of stages ----------------------------------------------------------------------------

STAGES = ["size", "artwork", "underlay", "sheet", "print", "seal", "apply", "finish", "rescue"]


@pytest.mark.parametrize("size", SIZES)
def test_all_nine_stages_are_visible(open_page, size: str):
    page = open_page("seal/", size)
    links = page.locator(".dw-rule a")
    assert links.all_inner_texts() == STAGES
    boxes = [link.bounding_box() for link in links.all()]
    assert all(box["x"] >= 0 and box["x"] + box["width"] <= SIZES[size][0] for box in boxes)
    assert page.locator(".dw-rule [aria-current]").all_inner_texts() == ["seal"]


def test_the_rule_follows_instant_navigation(open_page):
    page = open_page("size/")
    page.wait_for_load_state("networkidle")  # the list of pages has come, without which a link loads its page
    page.evaluate("globalThis.sameVisit = true")
    for stage in ("artwork", "rescue", "size"):
        page.click(f".dw-rule >> text={stage}")
        page.wait_for_selector(f".dw-rule [aria-current]:text-is('{stage}')")
        assert page.locator(".dw-rule [aria-current]").count() == 1
    assert page.evaluate("globalThis.sameVisit") is True


def test_a_small_screen_scrolls_to_the_current_stage(open_page):
    page = open_page("finish/")
    page.set_viewport_size({"width": 400, "height": 800})
    page.reload()
    expect(page.locator(".dw-rule [aria-current]")).to_be_in_viewport(ratio=1)
    assert page.evaluate("document.querySelector('.dw-rule ol').scrollLeft") > 0


# -- The calculator page ---------------------------------------------------------------------------


def test_form_and_answer_are_side_by_side_in_landscape(open_page):
    page = open_page(PAGES["resolution"])
    form, answer = (page.locator(each).bounding_box() for each in (".dw-form", ".dw-answer"))
    assert form["x"] + form["width"] <= answer["x"] and abs(form["y"] - answer["y"]) < 1


def test_the_verdict_stays_visible_in_portrait(open_page):
    page = open_page(PAGES["resolution"], "portrait")
    verdict, last = page.locator(".dw-verdict"), page.locator(".dw-form .dw-box:visible").last
    line = page.locator(".dw-verdict-line")
    expect(line).to_be_attached()
    assert verdict.bounding_box()["y"] < page.locator(".dw-form").bounding_box()["y"]
    last.scroll_into_view_if_needed()
    page.evaluate("scrollBy(0, 300)")
    expect(line).to_be_visible()
    box = line.bounding_box()
    assert box["y"] == 0 and box["height"] <= 64
    assert last.bounding_box()["y"] > box["height"]


@pytest.mark.parametrize("path", ["underlay/underlay/", "artwork/trace/"])
def test_the_verdict_covers_no_focusable_element_in_portrait(open_page, path: str):
    page = open_page(path, "portrait")
    page.locator(".dw-sheet-handle").click()
    page.locator(".dw-tools button:visible").last.focus()
    reached, covered = 0, []
    while page.evaluate("Boolean(document.activeElement.closest('.dw-form'))"):
        line = page.locator(".dw-verdict-line")
        below = line.bounding_box()["height"] if line.is_visible() else 0
        box = page.locator(":focus").bounding_box()
        if box["y"] < below or box["y"] + box["height"] > SIZES["portrait"][1]:
            covered.append(page.evaluate("document.activeElement.id"))
        reached += 1
        page.keyboard.press("Shift+Tab")
    assert reached > 8
    assert covered == []


@pytest.mark.parametrize("level", ["pass", "watch", "fail"])
def test_each_verdict_has_its_own_sign(open_page, level: str):
    page = open_page(PAGES["resolution"])
    # Set and check in one step, since the engine's answer may reset the level at any time.
    levels = page.evaluate(
        """level => {
        const verdict = document.querySelector('.dw-verdict');
        verdict.dataset.level = level;
        return [...verdict.querySelectorAll('svg')]
            .filter(sign => sign.checkVisibility()).map(sign => sign.dataset.sign);
    }""",
        level,
    )
    assert levels == [level]


# -- Find, palette, paper, weight ------------------------------------------------------------------


def test_search_by_keyboard_lists_the_calculator_first(open_page):
    page = open_page("")
    page.focus(".dw-find")
    page.keyboard.press("Enter")
    page.wait_for_timeout(100)  # after the theme read the field, as when pasting: there is no keyup event
    page.keyboard.insert_text("picture")
    first = page.wait_for_selector(".md-search-result__link")
    address = first.get_attribute("href").split("?")[0]
    assert any(address.endswith(each["url"]) for each in calculators())
    page.keyboard.press("Escape")
    assert not page.locator(".dw-search").is_visible()
    assert page.evaluate("document.activeElement.className").startswith("dw-find")
    page.keyboard.press("/")
    assert page.evaluate("document.activeElement.name") == "query"
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    page.wait_for_url(f"{address}*")
    assert page.locator(".dw-rule [aria-current]").inner_text() == "artwork"


def test_the_palette_follows_the_device_until_a_choice(open_page):
    page = open_page("", scheme="dark")
    scheme = "document.body.dataset.mdColorScheme"
    assert page.evaluate(scheme) == "slate"
    page.emulate_media(color_scheme="light")
    page.reload()
    assert page.evaluate(scheme) == "default"
    for _ in range(2):  # as on the device, then light, then dark
        page.click(".dw-palette label:not([hidden])")
    assert page.evaluate(scheme) == "slate"
    page.reload()
    assert page.evaluate(scheme) == "slate"


def test_paper_shows_the_answer_first_and_uncut(open_page):
    page = open_page(PAGES["resolution"], "portrait", "dark")
    page.emulate_media(media="print")
    page.set_viewport_size({"width": 680, "height": 1000})  # A4 less 15 mm each side, at 96 px to the inch
    for chrome in (".dw-header-tools", ".dw-rule", ".dw-beside", ".dw-tools"):
        assert not page.locator(chrome).is_visible(), chrome
    answer, form = (page.locator(each).bounding_box() for each in (".dw-verdict", ".dw-form"))
    assert answer["y"] < form["y"]
    ink = page.evaluate("getComputedStyle(document.querySelector('h1')).color")
    assert ink == "rgb(28, 34, 38)"  # --dw-ink of the light palette
    cut = page.evaluate("""[...document.querySelectorAll(".dw-table-frame, .dw-article")]
        .filter(each => each.scrollWidth > document.documentElement.clientWidth)
        .map(each => each.outerHTML.slice(0, 120))""")
    assert cut == []


def test_reading_pages_download_little(open_page, server):
    page = open_page(PAGES["how-to"])
    page.wait_for_load_state("networkidle")
    sent = {request.path.lstrip("/"): request.sent_bytes for request in server.requests}
    assert any(path.endswith(".woff2") for path in sent)
    assert not any(path.startswith("engine/") for path in sent)
    assert sum(sent.values()) <= 600_000
