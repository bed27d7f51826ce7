"""Every page of the site: axe-core finds nothing, and HowTo data match the page's steps."""

from __future__ import annotations

import json
import re
from collections.abc import Collection
from concurrent.futures import ThreadPoolExecutor

import pytest
from playwright.sync_api import sync_playwright

from tests.bench.stock import launched
from tests.browser.benches import how_tos
from tests.browser.test_look import AXE
from tests.browser.test_tables import PAGES

#: axe takes some seconds for a long table.
LONGEST_MS = 60_000


@pytest.fixture(scope="module")
def addresses(site_root) -> list[str]:
    """Every page's address below the site's root, without forwarding pages."""
    pages = sorted(
        path for path in site_root.folder.rglob("index.html") if 'http-equiv="refresh"' not in path.read_text("utf-8")
    )
    return [path.parent.relative_to(site_root.folder).as_posix().removeprefix(".") for path in pages]


CLASS = re.compile(r'class="([^"]+)"')


def enough_to_show_all(site, addresses: list[str], others: Collection[str] = ()) -> list[str]:
    """Return a few pages that together with `others` contain every class of element on the site."""
    held = {}
    for address in addresses:
        html = (site.folder / address / "index.html").read_text("utf-8")
        held[address] = {name for names in CLASS.findall(html) for name in names.split()}
    missing, chosen = set().union(*held.values()).difference(*(held[address] for address in others)), []
    while missing:
        best = max(held, key=lambda address: len(held[address] & missing))
        chosen.append(best)
        missing -= held[best]
    return chosen


def test_axe_finds_nothing_on_representative_pages(browser, server, site_root, addresses):
    # test_tables.py shows axe the tables, which take it longest.
    tables = {url.rstrip("/") for url in PAGES.values()}
    chosen = enough_to_show_all(site_root, addresses, tables)
    assert 5 < len(chosen) < 60
    assert found_by_axe(browser, server, chosen) == {}


#: Elements beyond the right edge of the screen, and controls smaller than a thumb. A link within text is as high as
#: its line, and a checkbox is as large as its label.
AT_THE_THUMB = """(least) => {
  const width = document.documentElement.clientWidth;
  const whole = document.documentElement.scrollWidth;
  const beyond = whole > width ? [`${whole} px wide`] : [];
  const small = [...document.querySelectorAll("a, button, input, select, summary, textarea")]
    .filter((each) => each.checkVisibility({ visibilityProperty: true }))
    .filter((each) => !each.matches(".headerlink, [type=checkbox], [type=radio]"))
    .filter((each) => each.localName !== "a" || getComputedStyle(each).display !== "inline")
    .map((each) => ({ each, box: each.getBoundingClientRect() }))
    .filter(({ box }) => box.width && box.height && Math.min(box.width, box.height) < least - 0.5)
    .map(({ each, box }) => [`${each.localName}.${each.className}`, Math.round(box.width), Math.round(box.height)])
    .map(([name, wide, high]) => `${name}: ${wide} x ${high} px`);
  return [...new Set([...beyond, ...small])];
}"""
#: 44 CSS pixels: WCAG 2.2, success criterion 2.5.5 (from memory).
THUMB_PX = 44


def test_every_page_fits_a_portrait_tablet_and_a_thumb(browser, server, site_root, addresses):
    context = browser.new_context(viewport={"width": 820, "height": 1180}, has_touch=True, service_workers="block")
    page = context.new_page()
    found = {}
    for address in enough_to_show_all(site_root, addresses):
        page.goto(f"{server.url}{address}", wait_until="domcontentloaded")
        if wrong := page.evaluate(AT_THE_THUMB, THUMB_PX):
            found[address] = wrong
    context.close()
    assert found == {}


@pytest.mark.bench
def test_axe_finds_nothing_on_any_page(server, addresses):
    assert len(addresses) > 200
    # Half of them each, at the same time: it takes minutes.
    with ThreadPoolExecutor(2) as pool:
        found = pool.map(lambda half: found_in_a_browser(server, half), (addresses[::2], addresses[1::2]))
    assert list(found) == [{}, {}]


def found_in_a_browser(server, addresses: list[str]) -> dict[str, list[str]]:
    """Return what axe finds, in a browser of its own."""
    with sync_playwright() as driver:
        return found_by_axe(launched(driver.chromium), server, addresses)


def found_by_axe(browser, server, addresses: list[str]) -> dict[str, list[str]]:
    """Return everything that axe finds by rule, with the places. The pages are as printed, without our scripts."""
    context = browser.new_context(
        viewport={"width": 1180, "height": 820}, color_scheme="light", service_workers="block"
    )
    context.set_default_timeout(LONGEST_MS)
    context.route("**/scripts/page.mjs", lambda route: route.abort())
    page = context.new_page()
    source = AXE.read_text("utf-8")
    found: dict[str, list[str]] = {}
    for address in addresses:
        page.goto(server.url + address)
        page.evaluate(source)
        for rule in page.evaluate(
            "axe.run(document, {resultTypes: ['violations']}).then(({violations}) => violations)"
        ):
            found.setdefault(rule["id"], []).append(f"{address}: {rule['nodes'][0]['html'][:160]}")
    context.close()
    return found


READ = """async (urls) => {
  const read = [];
  for (const url of urls) {
    const page = new DOMParser().parseFromString(await (await fetch(url)).text(), "text/html");
    const steps = [...page.querySelectorAll(".dw-article > ol:not([class]) > li")].map((step) => {
      for (const shown of step.querySelectorAll("figure, table")) shown.remove();
      return step.textContent.replace(/\\s+/g, " ").trim();
    });
    const told = [...page.querySelectorAll("script[type='application/ld+json']")].map((script) => script.textContent);
    const tell = (name) => page.querySelector(name)?.textContent.replace(/\\s+/g, " ").trim();
    read.push({ url, told, steps, name: tell(".dw-article h1"), description: tell(".dw-article .dw-lead") });
  }
  return read;
}"""


def test_how_to_data_match_the_steps_of_the_page(browser, server, site_root):
    page = browser.new_page()
    page.goto(server.url)
    read = page.evaluate(READ, [server.url + url for url in how_tos(site_root.folder)])
    page.close()
    assert len(read) >= 30
    for each in read:
        (data,) = (json.loads(text) for text in each["told"])
        # schema.org/HowTo: name, description, step; schema.org/HowToStep: position, text. From memory.
        assert set(data) - {"tool", "supply"} == {"@context", "@type", "name", "description", "step"}, each["url"]
        assert (data["@context"], data["@type"]) == ("https://schema.org", "HowTo")
        assert (data["name"], data["description"]) == (each["name"], each["description"])
        assert [step["position"] for step in data["step"]] == list(range(1, len(each["steps"]) + 1))
        assert {step["@type"] for step in data["step"]} == {"HowToStep"}
        assert [step["text"] for step in data["step"]] == each["steps"], each["url"]
