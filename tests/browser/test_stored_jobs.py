"""Several jobs on a device, and what happens to them when tabs write at once or are killed."""

from __future__ import annotations

import base64
import json
import os
import random
import signal
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from calculators.jobs.model import read_job
from tests.browser.forms import (
    READ_JOB,
    WRITE_OLD_JOB,
    answered,
    entries,
    open_calculator,
    result_text,
    type_again,
    typed,
    values,
    visitor,
    wait_for_stored,
)
from tests.conftest import ROOT
from tests.hostile.made import saved

#: How often a tab is killed: KILLS=200 for the long run.
KILLS = int(os.environ.get("KILLS", "20"))

#: Types one text after another, each as soon as the one before is stored; tells the other tabs what it types.
TYPE_ON = """first => {
  const field = document.getElementById("in-width_mm");
  const telling = new BroadcastChannel("typed");
  const written = new BroadcastChannel("decalwright");
  let number = first;
  const next = () => {
    number += 1;
    telling.postMessage(number);
    field.value = String(number);
    field.dispatchEvent(new Event("input", { bubbles: true }));
    field.form.requestSubmit();
  };
  written.onmessage = next;
  next();
}"""
LISTEN = """() => {
  globalThis.typed = 0;
  new BroadcastChannel("typed").onmessage = ({ data }) => (globalThis.typed = data);
}"""


@pytest.fixture
def address(workbench_server):
    return f"{workbench_server.url}rescue/fault-on-demand/"


def renderers(browser: Browser) -> set[int]:
    """Return the processes of the browser that run pages."""
    found = browser.new_browser_cdp_session().send("SystemInfo.getProcessInfo")["processInfo"]
    return {each["id"] for each in found if each["type"] == "renderer"}


@pytest.fixture
def apart(separate_browser, workbench_server) -> Iterator[BrowserContext]:
    """A desk in a browser that gives each tab a process of its own, as a reader's does."""
    with visitor(separate_browser) as made:
        yield made


def test_killing_a_tab_while_it_writes_loses_at_most_the_last_edit(separate_browser, apart, address, workbench_server):
    browser, context = separate_browser, apart
    watcher = context.new_page()
    watcher.goto(workbench_server.url)
    watcher.evaluate(LISTEN)
    first = open_calculator(context, address)
    typed(first, "width_mm").fill("1")
    wait_for_stored(first, lambda found: entries(found).get("fault-on-demand", {})["inputs"]["width_mm"] == "1 mm")
    first.close()
    draw = random.Random(7)
    number = 1
    for _ in range(KILLS):
        others = renderers(browser)
        page = context.new_page()
        page.goto(address)
        # A value that is stored differs from that of the worked example.
        expect(page.locator("#in-width_mm")).to_have_value(str(number))
        page.evaluate(TYPE_ON, number)
        watcher.wait_for_function("number => typed > number", arg=number + draw.randint(1, 12))
        page.wait_for_timeout(draw.randint(0, 15))
        # As a system does that needs the memory: no script of the page runs any more.
        (process,) = renderers(browser) - others
        with page.expect_event("crash"):
            os.kill(process, signal.SIGKILL)
        page.close()
        typed_last = watcher.evaluate("typed")
        found = watcher.evaluate(READ_JOB)
        read_job(found["job"])
        stored = int(entries(found)["fault-on-demand"]["inputs"]["width_mm"].removesuffix(" mm"))
        assert typed_last - 1 <= stored <= typed_last
        assert stored > number
        number = stored


# -- Jobs of the layout that knew one marking


def with_old_job(context: BrowserContext, server, job: dict, files: dict[str, str] | None = None) -> Page:
    """A page of the site on a device that has stored a job as an older version of the site did."""
    page = context.new_page()
    # A page without scripts has not opened the database.
    page.goto(f"{server.url}sitemap.xml")
    page.evaluate(WRITE_OLD_JOB, {"job": job, "files": files or {}})
    return page


def test_a_job_of_format_2_opens_with_nothing_lost(context, workbench_server):
    """Made by the program of its day: tests/jobs/README.md."""
    folder = ROOT / "tests" / "jobs" / "format-2"
    old = json.loads((folder / "job.json").read_text("utf-8"))
    files = {path.name: base64.b64encode(path.read_bytes()).decode() for path in (folder / "files").iterdir()}
    page = with_old_job(context, workbench_server, old, files)
    page.goto(f"{workbench_server.url}artwork/resolution/")
    typed_before = old["calculators"]["resolution"]
    expect(typed(page, "width_mm")).to_have_value(typed_before["inputs"]["width_mm"])
    expect(page.locator(".dw-drop-name")).to_have_text(typed_before["files"]["picture"]["name"])
    found = wait_for_stored(page, entries)
    assert found["old"] is None and set(found["files"]) == set(files)
    job = read_job(found["job"])
    assert [each.name for each in job.markings] == ["Marking 1"]
    for id, entry in old["calculators"].items():
        assert entries(found)[id]["inputs"] == entry["inputs"]
        hashes = {name: each["hash"] for name, each in entries(found)[id].get("files", {}).items()}
        assert hashes == {name: each["hash"] for name, each in entry["files"].items()}
    there = json.dumps(found["job"], ensure_ascii=False)
    for name, each in old["shared"].items():
        assert (each["text"] if "text" in each else values(found)[name]["file"]["hash"]) in there
    # The strip shows its picture.
    expect(page.locator(".dw-current-open")).to_have_text("Marking 1")
    expect(page.locator(".dw-current-open img")).to_be_visible()


def test_a_job_without_shared_values_is_migrated(context, workbench_server):
    entry = {"inputs": {"width_mm": "3 mm"}, "files": {}}
    page = with_old_job(context, workbench_server, {"format": 1, "revision": 7, "calculators": {"resolution": entry}})
    page.goto(f"{workbench_server.url}artwork/resolution/")
    expect(typed(page, "width_mm")).to_have_value("3", timeout=20_000)
    typed(page, "width_mm").fill("30")
    expect(result_text(page, "printed_ppi")).to_have_text("169")
    found = wait_for_stored(page, lambda found: values(found).get("width"))
    assert values(found)["width"] == {"text": "30 mm", "origin": "resolution"}
    assert (found["job"]["format"], found["old"]) == (3, None)


def test_an_older_job_that_cannot_be_migrated_stays_untouched(context, workbench_server):
    old = {"format": 0, "revision": 7, "calculators": {"resolution": {"inputs": {"width_mm": "3 mm"}}}}
    page = with_old_job(context, workbench_server, old)
    page.goto(f"{workbench_server.url}artwork/resolution/")
    answered(page)
    expect(page.locator("[data-note=storage]")).to_contain_text("older version")
    typed(page, "width_mm").fill("30")
    expect(result_text(page, "printed_ppi")).to_have_text("169")
    found = page.evaluate(READ_JOB)
    assert found["old"] == old and found["jobs"] == {}


# -- Several jobs


@pytest.fixture
def page(context, workbench_server):
    made = open_calculator(context, f"{workbench_server.url}artwork/resolution/")
    made.set_input_files(
        "#in-picture", {"name": "crest.png", "mimeType": "image/png", "buffer": saved("RGB", (300, 150), "PNG")}
    )
    expect(made.locator(".dw-drop-name")).to_have_text("crest.png")
    type_again(made, "width_mm", "14")
    answered(made)
    wait_for_stored(made, lambda found: {"picture", "width"} <= set(values(found)))
    return made


def test_a_change_of_a_job_that_another_tab_changed_overwrites_nothing(page, context, workbench_server):
    revision = page.evaluate("async () => (await dwStore.present()).job.revision")
    other = open_calculator(context, f"{workbench_server.url}artwork/resolution/")
    other.evaluate("dwStore.change((job) => { job.name = 'From the other tab'; })")
    why = page.evaluate(
        "revision => dwStore.change((job) => { job.name = 'Mine'; }, { revision }).then(() => '', ({ why }) => why)",
        revision,
    )
    assert why == "changed"
    assert page.evaluate(READ_JOB)["job"]["name"] == "From the other tab"
    name = page.evaluate(
        """async () => {
          const { revision } = (await dwStore.present()).job;
          return (await dwStore.change((job) => { job.name = "Mine"; }, { revision })).name;
        }"""
    )
    assert name == page.evaluate(READ_JOB)["job"]["name"] == "Mine"


def test_a_second_job_begins_empty_and_the_first_opens_as_it_was(page):
    first = page.evaluate(READ_JOB)["id"]
    page.evaluate("dwStore.newJob({ format: 3, name: 'Launch' })")
    expect(page.locator(".dw-drop-name")).not_to_have_text("crest.png")
    typed(page, "width_mm").fill("30")
    wait_for_stored(page, lambda found: values(found).get("width", {}).get("text") == "30 mm")
    listed = page.evaluate("dwStore.jobs()")
    assert [each["name"] for each in listed] == ["Launch", ""]
    assert [each["markings"] for each in listed] == [1, 1] and [each["bytes"] > 0 for each in listed] == [False, True]
    page.evaluate("id => dwStore.openJob(id)", first)
    expect(page.locator(".dw-drop-name")).to_have_text("crest.png")


def test_a_deleted_job_comes_back_whole(page):
    before = page.evaluate(READ_JOB)
    page.evaluate("async (id) => { globalThis.undo = await dwStore.deleteJob(id); }", before["id"])
    expect(page.locator(".dw-drop-name")).not_to_have_text("crest.png")
    gone = page.evaluate(READ_JOB)
    assert gone["jobs"] == {} and gone["files"] == before["files"]
    page.evaluate("undo()")
    expect(page.locator(".dw-drop-name")).to_have_text("crest.png")
    after = page.evaluate(READ_JOB)
    assert after["jobs"] == before["jobs"] and after["files"] == before["files"]


def test_what_is_known_of_a_picture_goes_with_it(page):
    (hash,) = page.evaluate(READ_JOB)["files"]
    page.evaluate("hash => dwStore.putFacts({ [hash]: { measured_by: 1 } })", hash)
    assert page.evaluate("hash => dwStore.facts([hash, 'b'])", hash) == {hash: {"measured_by": 1}}
    copied = page.evaluate("async () => dwStore.copyJob((await dwStore.present()).id)")
    page.evaluate("id => dwStore.openJob(id)", copied)
    page.locator(".dw-drop-remove").click()
    wait_for_stored(page, lambda found: "picture" not in values(found))
    # The other job still has it.
    assert page.evaluate(READ_JOB)["facts"] == [hash]
    other = next(id for id in page.evaluate(READ_JOB)["jobs"] if id != copied)
    page.evaluate("id => dwStore.openJob(id)", other)
    expect(page.locator(".dw-drop-name")).to_have_text("crest.png")
    page.locator(".dw-drop-remove").click()
    wait_for_stored(page, lambda found: found["files"] == [] and found["facts"] == [])


def test_verdicts_that_the_job_no_longer_has_are_removed(page):
    page.evaluate("dwStore.putVerdicts({ a: ['fits'], b: ['fails'] })")
    page.evaluate("dwStore.putVerdicts({ c: [] }, ['b', 'c'])")
    assert page.evaluate("dwStore.verdicts(['a', 'b', 'c'])") == {"b": ["fails"], "c": []}


def test_a_thumbnail_has_at_most_96_px(page):
    (hash,) = page.evaluate(READ_JOB)["files"]
    size = page.evaluate(
        "async hash => { const { width, height } = await createImageBitmap(await dwStore.thumbnail(hash));"
        " return [width, height]; }",
        hash,
    )
    assert size == [96, 48]
    assert page.evaluate("dwStore.thumbnail('0'.repeat(64))") is None
