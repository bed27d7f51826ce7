"""Our own scripts: their number and size, and pages whose scripts arrive late or never."""

from __future__ import annotations

import gzip
import re

import pytest
from playwright.sync_api import expect

from tests.browser.forms import answered, typed, visitor

#: Our scripts, without the theme's bundle and Pyodide.
OURS = re.compile(r"^/(?:assets/dw-\w+/.*\.m?js|engine/worker\.mjs)$")
CALCULATOR, HOW_TO, TABLE = "size/scale-size/", "seal/seal-a-sheet/", "reference/drying-times/"


@pytest.fixture
def device(browser):
    with visitor(browser, first=True) as made:
        yield made


def loaded(page, server, path: str) -> list[str]:
    """Return the paths of our scripts that a first visit to ``path`` asks for, once nothing more is asked."""
    server.requests.clear()
    page.goto(server.url + path)
    page.wait_for_load_state("networkidle")
    return sorted({each for each in map(path_of, server.requests) if OURS.match(each)})


def path_of(request) -> str:
    return request.path.partition("?")[0]


def asked_early(page) -> set[str]:
    """Return the names of the scripts that the page's head asks for, before any script has run."""
    links = page.locator("link[rel=modulepreload]").evaluate_all(
        "links => links.map(link => link.getAttribute('href'))"
    )
    return names(links)


def bytes_packed(site, paths: list[str]) -> int:
    """Return the bytes of some files of a site, each compressed with gzip's best level."""
    return sum(len(gzip.compress((site.folder / path[1:]).read_bytes(), 9)) for path in paths)


def names(paths: list[str]) -> set[str]:
    return {path.rsplit("/", 1)[1] for path in paths}


@pytest.mark.parametrize(
    ("path", "most", "most_bytes", "with_it"),
    [
        # What calculators and the page of a job have in common is in two files of its own.
        ("", 7, 20_000, set()),
        (HOW_TO, 8, 22_000, {"bench.mjs"}),
        (TABLE, 8, 21_000, {"tables.mjs"}),
        # The store of several jobs of many markings took 2.5 kB of these.
        # To find fields that wait for several values, and taps on bridges, took 60 bytes. What the worker knows of
        # further parts and calculators took 0.8 kB; pixels that Python waits for, and fields of the whole job, 0.4.
        (CALCULATOR, 10, 56_800, {"calculators.mjs"}),
        ("job/", 10, 42_000, {"job.mjs"}),
    ],
)
def test_a_page_loads_only_the_scripts_it_needs(device, server, site_root, path, most, most_bytes, with_it):
    page = device.new_page()
    paths = loaded(page, server, path)
    print(f"\n{path or 'home'}: {len(paths)} scripts, {bytes_packed(site_root, paths)} bytes packed")
    assert {"page.mjs", "config.mjs"} <= names(paths)
    assert names(paths) & {"bench.mjs", "tables.mjs", "calculators.mjs", "job.mjs"} == with_it
    workers = {name for name in names(paths) if "worker" in name}
    assert asked_early(page) == names(paths) - workers
    assert len(paths) <= most
    assert bytes_packed(site_root, paths) <= most_bytes


def test_shared_settings_are_not_repeated_in_pages(site_root):
    pages = sorted(site_root.folder.rglob("*.html"))
    settings = [re.search(r'id="dw-config">(.*?)</script>', page.read_text("utf-8"))[1] for page in pages]
    assert len(settings) > 200
    assert max(map(len, settings)) < 300


def test_no_source_map_is_served(site_root):
    scripts = [
        path
        for path in site_root.folder.rglob("*js")
        if OURS.match(f"/{path.relative_to(site_root.folder).as_posix()}")
    ]
    assert len(scripts) > 5
    assert [path.name for path in scripts if b"sourceMappingURL" in path.read_bytes()] == []
    assert list(site_root.folder.rglob("*.map")) == []


def test_calculator_scripts_load_with_the_first_calculator_page(device, server):
    page = device.new_page()
    loaded(page, server, "")
    page.evaluate("globalThis.sameDocument = true")
    server.requests.clear()
    for path in (CALCULATOR, "size/scales/", CALCULATOR):
        page.evaluate(
            "path => { const link = document.querySelector('.dw-rule a'); link.href = path; link.click(); }",
            server.url + path,
        )
        page.wait_for_url(server.url + path)
        if path == CALCULATOR:
            answered(page)
    assert page.evaluate("globalThis.sameDocument") is True
    assert sum(path_of(each).endswith("/calculators.mjs") for each in server.requests) == 1


def test_input_before_the_scripts_load_is_preserved(device, server):
    server.delays[r"/scripts/config\.mjs$"] = 2
    page = device.new_page()
    page.goto(server.url + CALCULATOR, wait_until="commit")
    typed(page, "full_size_mm").fill("20")
    assert "config" in str([each.path for each in server.requests]) and page.evaluate("globalThis.dwEngine") is None
    # The worker loads all the same, since it has its own settings.
    page.wait_for_function("globalThis.dwEarly?.heard.length > 0")
    answered(page)
    expect(typed(page, "full_size_mm")).to_have_value("20")


def test_late_scripts_do_not_touch_the_next_page(device, server):
    page = device.new_page()
    loaded(page, server, "size/")
    page.evaluate("globalThis.sameDocument = true")
    server.delays[r"/scripts/calculators\.mjs$"] = 1
    late = re.compile(r"/calculators\.mjs$")
    with page.expect_response(late):
        # The address changes before the new page is there. A reader who leaves at once never asks for its scripts.
        with page.expect_request(late):
            page.locator(f'.dw-to-calculator a[href$="{CALCULATOR.split("/")[1]}/"]').first.click()
        page.wait_for_url(server.url + CALCULATOR)
        page.locator('nav.dw-rule a[href$="seal/"]').first.click()
        page.wait_for_url(f"{server.url}seal/")
    page.go_back()
    answered(page)
    assert page.evaluate("globalThis.sameDocument") is True


def test_missing_calculator_scripts_are_reported_and_retried(device, server):
    page = device.new_page()
    loaded(page, server, "size/")
    server.broken[r"/scripts/calculators\.mjs$"] = 503
    page.locator(f'.dw-to-calculator a[href$="{CALCULATOR.split("/")[1]}/"]').first.click()
    page.wait_for_url(server.url + CALCULATOR)
    expect(page.locator(".dw-outcome-title")).to_have_text("The calculator has not started")
    server.broken.clear()
    page.locator(".dw-again").click()
    answered(page)


def test_a_how_to_without_bench_scripts_stays_readable(device, server):
    server.broken[r"/scripts/bench\.mjs$"] = 404
    page = device.new_page()
    page.goto(server.url + HOW_TO)
    expect(page.locator(".dw-bench-open")).to_have_count(0)
    expect(page.locator(".dw-article > ol > li").first).to_be_visible()


def test_a_slow_connection_shows_loading_progress(device, server):
    page = device.new_page()
    loaded(page, server, "size/")  # and the list of pages, without which a link reloads the page
    server.bytes_per_s = 1_200_000
    page.locator(f'.dw-to-calculator a[href$="{CALCULATOR.split("/")[1]}/"]').first.click()
    state, strip = page.locator(".dw-state"), page.locator(".dw-loading")
    expect(state).to_have_text(re.compile(r"^Worked example\. Starting… \d\.\d of \d\.\d MB$"))
    expect(strip).to_be_visible(timeout=10_000)
    expect(strip).to_contain_text("Meanwhile you can read the worked example")
    received, expected = map(float, re.search(r"([\d.]+) of ([\d.]+) MB", strip.inner_text()).groups())
    asked = {
        path_of(each)
        for each in server.requests
        if path_of(each).startswith("/engine/") and path_of(each).endswith(".packed")
    }
    assert expected == pytest.approx(sum((server.folder / path[1:]).stat().st_size for path in asked) / 1e6, abs=0.051)
    assert 0 < received < expected
    server.bytes_per_s = 0
    answered(page)
    expect(strip).to_be_hidden()
    assert page.evaluate("[dwEngine.state, dwEngine.boots]") == ["ready", 1]
