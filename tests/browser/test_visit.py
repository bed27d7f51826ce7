"""A visit to the published site: its requests, the content policy, and the number of engine starts."""

import re
from contextlib import contextmanager
from urllib.parse import unquote, urljoin

import pytest
from playwright.sync_api import expect

CALCULATORS = ("size/scale-size/", "artwork/resolution/")
ANSWERED_MS = 60_000

#: Reports every violation of the content policy, installed before the first script of a page.
LISTEN = """
globalThis.breaches = [];
document.addEventListener("securitypolicyviolation", (event) =>
  globalThis.breaches.push(`${event.effectiveDirective} ${event.blockedURI} ${event.sourceFile}:${event.lineNumber}`));
"""


@pytest.fixture(params=["server", "sub_server"], ids=["at the top", "below a path"])
def host(request):
    return request.getfixturevalue(request.param)


@contextmanager
def reader(browser, **options):
    """A new reader's page, which records its requests and console messages."""
    context = browser.new_context(**options)
    context.add_init_script(LISTEN)
    page = context.new_page()
    page.asked, page.complaints = [], []
    context.on("request", lambda request: page.asked.append(request.url))
    page.on(
        "console",
        lambda message: page.complaints.append(message.text) if message.type in ("error", "warning") else None,
    )
    page.on("pageerror", lambda error: page.complaints.append(str(error)))
    yield page
    context.close()


@pytest.fixture
def visit(whole_browser):
    with reader(whole_browser) as page:
        yield page


@pytest.fixture
def unsaved(whole_browser):
    """A reader without saving, which would request every file of the site."""
    with reader(whole_browser, service_workers="block") as page:
        yield page


def answered(page):
    expect(page.locator(".dw-answer")).to_have_attribute("data-state", "answered", timeout=ANSWERED_MS)


def test_following_links_keeps_one_engine(host, visit):
    visit.goto(host.url)
    visit.wait_for_load_state("networkidle")  # the list of pages has come, without which a link loads its page
    visit.evaluate("globalThis.sameDocument = true")
    for path in (*CALCULATORS, CALCULATORS[0]):
        stage = path.split("/")[0]
        visit.locator(f'nav.dw-rule a[href$="{stage}/"]').first.click()
        visit.wait_for_url(f"{host.url}{stage}/")
        visit.locator(f'.dw-to-calculator a[href$="{path.split("/")[1]}/"]').first.click()
        visit.wait_for_url(f"{host.url}{path}")
        answered(visit)
    assert visit.evaluate("globalThis.sameDocument") is True
    assert visit.evaluate("globalThis.dwEngine.boots") == 1


def parts(page) -> set[str]:
    """Return the names of the packed files of the engine that were asked for."""
    return set(re.findall(r"/engine/([a-z-]+)\.[0-9a-f]{12}\.packed", " ".join(page.asked)))


def test_each_page_loads_the_part_of_its_stage(host, unsaved):
    unsaved.goto(f"{host.url}size/scale-size/")
    answered(unsaved)
    # Its own, and what it shares with other stages.
    of_size = parts(unsaved)
    assert {"wasm", "snapshot", "size"} <= of_size
    assert all("size" in each for each in of_size - {"wasm", "snapshot"})
    unsaved.wait_for_load_state("networkidle")
    unsaved.evaluate("globalThis.sameDocument = true")
    unsaved.locator('nav.dw-rule a[href$="artwork/"]').first.click()
    unsaved.wait_for_url(f"{host.url}artwork/")
    assert parts(unsaved) == of_size
    unsaved.locator('.dw-to-calculator a[href$="resolution/"]').first.click()
    unsaved.wait_for_url(f"{host.url}artwork/resolution/")
    answered(unsaved)
    of_both = parts(unsaved)
    assert of_size | {"artwork"} <= of_both
    assert all("size" in each or "artwork" in each for each in of_both - {"wasm", "snapshot"})
    assert unsaved.evaluate("[globalThis.sameDocument, globalThis.dwEngine.boots]") == [True, 1]


def test_the_stage_part_loads_in_parallel_with_the_engine(server, unsaved):
    server.broken[r"^/engine/(snapshot|library)\."] = 404
    unsaved.goto(f"{server.url}rescue/symptom-finder/")
    expect(unsaved.locator(".dw-outcome")).to_have_attribute("data-outcome", "no-engine", timeout=ANSWERED_MS)
    assert {"rescue", "engine"} <= parts(unsaved)


def test_no_request_leaves_the_site_or_breaks_the_policy(host, visit):
    for path in ("", *CALCULATORS, "size/", "size/scales/", "size/why/", "safety/", "404.html"):
        visit.goto(host.url + path)
        if path in CALCULATORS:
            answered(visit)
        visit.wait_for_load_state("networkidle")
        assert visit.evaluate("globalThis.breaches") == [], path
        assert visit.complaints == [], path
    origin = host.url.removesuffix(host.below)
    elsewhere = [url for url in visit.asked if not url.startswith((host.url, "data:", f"blob:{origin}/"))]
    assert len(visit.asked) > 10 and elsewhere == []


def test_the_policy_is_in_force(host, visit):
    visit.goto(host.url)
    visit.evaluate("""() => {
      const script = document.createElement("script");
      script.textContent = "globalThis.ranInline = true";
      document.body.append(script);
    }""")
    assert visit.evaluate("globalThis.ranInline") is None
    assert [breach for breach in visit.evaluate("globalThis.breaches") if breach.startswith("script-src-elem inline")]


def test_every_link_and_file_of_every_page_exists(site_root, site_sub):
    for site in (site_root, site_sub):
        missing = []
        pages = sorted(site.folder.rglob("*.html"))
        for page in pages:
            here = f"{site.below}{page.parent.relative_to(site.folder).as_posix()}/".replace("/./", "/")
            for address in re.findall(r'\s(?:href|src)="([^"#?]+)', page.read_text("utf-8")):
                if re.match(r"[a-z]+:|//", address):
                    continue
                path = unquote(urljoin(here, address))
                if not path.startswith(site.below):
                    missing.append(f"{page.relative_to(site.folder)}: {address} leaves the site")
                    continue
                file = site.folder / path.removeprefix(site.below)
                if not (file.is_file() or (file / "index.html").is_file()):
                    missing.append(f"{page.relative_to(site.folder)}: {address}")
        assert len(pages) > 20 and missing == []
