"""After the page says that it is ready offline, the whole site works with the server stopped; updates wait for a new visit."""

from __future__ import annotations

import re
import shutil
from collections import Counter
from collections.abc import Iterator
from time import sleep

import pytest

from builder.offline import write_offline_worker
from calculators.messages import PAGE
from tests.servers import Server

ANSWERED = ".dw-answer[data-state=answered]"


@pytest.fixture
def context(whole_browser):
    made = whole_browser.new_context(viewport={"width": 1180, "height": 820})
    made.set_default_timeout(20_000)
    yield made
    made.close()


@pytest.fixture(params=["server", "sub_server"])
def host(request) -> Server:
    """The site at the top of a host, and below a path."""
    return request.getfixturevalue(request.param)


@pytest.fixture
def copied(site_root, tmp_path) -> Iterator[Server]:
    """A copy of the site that a test may change."""
    shutil.copytree(site_root.folder, tmp_path / "site")
    with Server(tmp_path / "site", site_root.below, packs=True) as server:
        yield server


def save(page, host: Server, path: str = "artwork/resolution/") -> None:
    """Open a calculator and wait until its page says that it is ready offline."""
    page.goto(host.url + path)
    page.wait_for_selector(ANSWERED)
    page.wait_for_selector(".dw-offline[data-state=ready]")


def ask(page, field: str, typed: str, result: str, shown: str) -> None:
    """Type into a field and wait for the answer."""
    page.fill(f"[name={field}]", typed)
    page.wait_for_selector(f"[data-result={result}] [data-part=shown]:text-is('{shown}')")


def test_everything_works_with_the_server_stopped(context, host):
    page = context.new_page()
    save(page, host)
    host.stop()
    # Instant navigation first, in the visit that saved; then new visits.
    page.click(".dw-rule a[href*='size/']")
    page.wait_for_url(f"{host.url}size/")
    page.goto(f"{host.url}size/scale-size/")
    # 12 in, the height of a registration mark, at 1:24 is half an inch, 12.7 mm (14 CFR 45.29).
    page.fill("[name=scale]", "1:24")
    ask(page, "full_size_mm", "12 in", "model_size_mm", "12.70")
    assert page.evaluate("dwEngine.way") == "snapshot"
    page.goto(f"{host.url}artwork/resolution/?engine=plain")
    ask(page, "width_mm", "50.8 mm", "printed_ppi", "100")
    assert page.evaluate("dwEngine.way") == "plain"
    assert context.new_page().goto(host.url).status == 200


def test_every_page_and_file_of_the_site_is_there(context, host):
    page = context.new_page()
    save(page, host)
    listed = re.findall(r'^\["([^"]+)"', (host.folder / "offline-worker.js").read_text("utf-8"), re.MULTILINE)
    host.stop()
    unread = page.evaluate(
        """async ([root, paths]) => {
          const unread = [];
          for (const path of paths) if (!(await fetch(root + path).catch(() => ({}))).ok) unread.push(path);
          return unread;
        }""",
        [host.url, listed],
    )
    assert len(listed) > 50 and unread == []


def test_addresses_are_answered_as_a_host_does(context, host):
    page = context.new_page()
    save(page, host)
    host.stop()
    gone = page.goto(f"{host.url}there/is/nothing/")
    assert gone.status == 404 and page.locator("h1").count() == 1
    page.goto(f"{host.url}size?a=b#c")
    assert page.url == f"{host.url}size/?a=b#c"
    part = page.evaluate(
        """async (address) => {
          const reply = await fetch(address, { headers: { Range: "bytes=2-5" } });
          return [reply.status, (await reply.text()).length, reply.headers.get("Content-Range").split("/")[0]];
        }""",
        f"{host.url}logo.svg?x",
    )
    assert part == [206, 4, "bytes 2-5"]


def test_nothing_is_saved_before_the_first_answer_and_nothing_fetched_twice(context, server):
    page = context.new_page()
    server.delays[r"engine/wasm"] = 5.0
    page.goto(f"{server.url}artwork/resolution/")
    page.wait_for_timeout(1_000)
    assert page.evaluate("dwEngine.state") == "loading"
    assert "/offline-worker.js" not in server.counts()
    server.delays.clear()
    page.wait_for_selector(ANSWERED)
    page.wait_for_selector(".dw-offline[data-state=ready]")
    assert "/offline-worker.js" in server.counts()
    # What this visit has fetched is taken from the browser's own cache, or found unchanged.
    again = Counter(request.path for request in server.requests if request.sent_bytes and request.path.startswith("/engine/"))
    assert len(again) > 4 and set(again.values()) == {1}


def test_saving_can_be_begun_by_hand_on_a_page_without_a_calculator(context, server):
    page = context.new_page()
    page.goto(server.url)
    page.wait_for_load_state("networkidle")
    assert not any("offline-worker" in request.path or "engine/" in request.path for request in server.requests
                   if not request.path.startswith("/assets/"))  # fmt: skip
    page.click(".dw-offline")
    page.wait_for_selector(".dw-offline[data-state=ready]")


def test_a_line_that_breaks_is_told_and_saving_goes_on_from_there(context, server):
    page = context.new_page()
    server.broken[r"/search/"] = 503
    page.goto(server.url)
    page.click(".dw-offline")
    page.wait_for_selector(".dw-offline[data-state=failed]")
    server.clear()
    page.click(".dw-offline")
    page.wait_for_selector(".dw-offline[data-state=ready]")


def test_where_the_device_has_no_room_that_is_said_and_saving_goes_on_once_it_has(context, server):
    page = context.new_page()
    origin = {"origin": server.url.rstrip("/")}
    room = context.new_cdp_session(page)
    room.send("Storage.overrideQuotaForOrigin", {**origin, "quotaSize": 2_000_000})
    page.goto(server.url)
    page.click(".dw-offline")
    page.wait_for_selector(".dw-offline[data-state=full]")
    assert page.inner_text(".dw-offline [data-part=words]") == PAGE["offline_full"]
    # The book itself goes on, from the network.
    page.goto(f"{server.url}artwork/resolution/")
    page.wait_for_selector(ANSWERED)
    room.send("Storage.overrideQuotaForOrigin", origin)
    page.click(".dw-offline")
    page.wait_for_selector(".dw-offline[data-state=ready]")


def test_a_new_version_waits_for_a_new_visit_and_fetches_only_what_changed(context, copied):
    page, other = context.new_page(), context.new_page()
    save(page, copied)
    home = copied.folder / "index.html"
    home.write_text(home.read_text("utf-8").replace("<title>", "<title>Changed: "), "utf-8")
    write_offline_worker(copied.folder)
    copied.requests.clear()
    other.goto(copied.url)
    assert "Changed" not in other.title()
    # The browser looks for a new version by itself as a visit begins; here it is asked to.
    other.evaluate(
        """() => {
          const late = new Promise((_, refuse) => setTimeout(refuse, 20_000, new Error("no new version came to wait")));
          const came = async () => {
            const registration = await navigator.serviceWorker.ready;
            await registration.update();
            while (!registration.waiting) await new Promise((resolve) => setTimeout(resolve, 20));
          };
          return Promise.race([came(), late]);
        }"""
    )
    fetched = [request.path for request in copied.requests if request.path != "/offline-worker.js"]
    assert fetched == ["/index.html"]
    # Two pages are open: the visit in the other one goes on with the version that it began with.
    other.reload()
    assert "Changed" not in other.title()
    page.close()
    other.close()
    # A new visit. The browser takes a moment to forget pages that are closed.
    for _ in range(20):
        visit = context.new_page()
        visit.goto(copied.url)
        if "Changed" in visit.title():
            break
        visit.close()
        sleep(1)
    assert "Changed" in visit.title()
    assert len(visit.evaluate("caches.keys()")) == 1


def test_where_nothing_can_be_saved_the_button_says_so(whole_browser, server):
    context = whole_browser.new_context(service_workers="block")
    context.add_init_script("delete Navigator.prototype.serviceWorker")
    page = context.new_page()
    page.goto(f"{server.url}artwork/resolution/")
    page.wait_for_selector(ANSWERED)
    assert page.get_attribute(".dw-offline", "data-state") == "unavailable"
    assert page.inner_text(".dw-offline [data-part=words]") != ""
    context.close()


def test_saving_rests_while_a_question_is_answered(context, workbench_server):
    page = context.new_page()
    # Slowly, so that saving is still under way when the question comes.
    workbench_server.delays[r"\.html$|/$"] = 0.2
    page.goto(f"{workbench_server.url}sheet/long-work/")
    page.wait_for_selector(ANSWERED)
    page.wait_for_selector(".dw-offline[data-state=saving]")
    page.fill("[name=step_s]", "4")
    page.fill("[name=steps]", "1")
    page.wait_for_selector(".dw-progress:not([hidden])")
    # What was on its way may still come.
    page.wait_for_timeout(800)
    before = len(workbench_server.requests)
    page.wait_for_timeout(1_200)
    assert page.evaluate("dwEngine.working") and len(workbench_server.requests) == before
    page.wait_for_selector("[data-result=steps] [data-part=shown]:text-is('1')")
    workbench_server.clear()
    page.wait_for_selector(".dw-offline[data-state=ready]")
    assert workbench_server.requests
