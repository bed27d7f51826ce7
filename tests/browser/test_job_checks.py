"""Checks of all rows of a job and measuring its pictures: stopped, killed, and gone on with."""

from __future__ import annotations

import os
import signal
from hashlib import sha256
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.forms import READ_JOB, visitor
from tests.browser.jobs import ALL_CHECKED, asked_of, saved_job, until, watch
from tests.browser.test_stored_jobs import renderers
from tests.hostile.made import saved

COUNT = 300
#: Uses the button to stop once so many rows have been checked.
STOP_AFTER = """count => {
  const ask = dwEngine.ask.bind(dwEngine);
  dwEngine.ask = (request, options) => ask(request, { ...options, onProgress: (...progress) => {
    options.onProgress(...progress);
    if (request.do === "job-check" && !--count) document.querySelector("[data-does=stop]").click();
  } });
}"""
#: The same once so many pictures have been measured.
STOP_AFTER_PICTURES = """count => {
  const ask = dwEngine.ask.bind(dwEngine);
  dwEngine.ask = async (request, options) => {
    const reply = await ask(request, options);
    if (request.do === "measure" && !--count) document.querySelector("[data-does=stop]").click();
    return reply;
  };
}"""
#: Tells the other tab each time how many verdicts have been stored.
TELL_STORED = """() => {
  const put = dwStore.putVerdicts.bind(dwStore);
  dwStore.putVerdicts = async (found, ...rest) => {
    await put(found, ...rest);
    new BroadcastChannel("stored").postMessage(Object.keys(found).length);
  };
}"""
#: Remembers the first of them.
LISTEN = """() => {
  globalThis.stored = 0;
  new BroadcastChannel("stored").onmessage = ({ data }) => { stored ||= data; };
}"""


@pytest.fixture
def page(job_page: Page) -> Page:
    return job_page


@pytest.fixture
def many(tmp_path) -> Path:
    """A job of 300 rows, none of which has been checked."""
    return saved_job(
        tmp_path / "many.zip", [{"id": f"m-{at}", "name": f"M {at}", "width": f"{at + 1} mm"} for at in range(COUNT)]
    )


def judged(page: Page) -> int:
    """The rows that show a verdict."""
    return page.locator(".dw-marking:has(.dw-job-verdict)").count()


def test_a_check_of_all_rows_is_stopped_midway_and_goes_on_with_the_rest(page, many):
    page.evaluate(STOP_AFTER, 20)
    page.locator("[data-does=open]").set_input_files(many)
    expect(page.locator(".dw-job-progress")).to_have_text("Stopped. What was checked stays.")
    expect(page.locator(".dw-marking")).to_have_count(COUNT)
    done = judged(page)
    assert 20 <= done < COUNT
    check = page.locator("[data-does=check]")
    expect(check).to_have_text(f"Check {COUNT - done} rows")
    expect(page.locator("[data-does=stop]")).to_be_hidden()
    page.reload()
    expect(check).to_have_text(f"Check {COUNT - done} rows")
    assert judged(page) == done
    watch(page)
    check.tap()
    expect(check).to_have_text(ALL_CHECKED)
    assert page.evaluate("asked.find(each => each.do === 'job-check').only.length") == COUNT - done
    assert judged(page) == COUNT


def test_measuring_pictures_is_stopped_midway_and_goes_on_with_the_rest(page, tmp_path):
    files, markings = {}, []
    for at in range(6):
        data = saved("RGB", (60 + at, 30), "PNG")
        hash = sha256(data).hexdigest()
        files[hash] = data
        file = {"hash": hash, "name": f"{at}.png", "media": "image/png", "size": len(data)}
        picture = {"file": file, "at": 1}
        markings.append(
            {"id": f"m-{at}", "name": f"M {at}", "kind": "picture", "width": "9 mm", "files": {"picture": picture}}
        )
    page.evaluate(STOP_AFTER_PICTURES, 2)
    page.locator("[data-does=open]").set_input_files(saved_job(tmp_path / "six.zip", markings, files))
    expect(page.locator(".dw-job-progress")).to_have_text("Stopped. What was checked stays.")
    measured = page.evaluate(READ_JOB)["facts"]
    assert len(measured) == 2
    check = page.locator("[data-does=check]")
    expect(check).to_have_text("Check 6 rows")
    page.reload()
    expect(check).to_have_text("Check 6 rows")
    watch(page)
    check.tap()
    expect(check).to_have_text(ALL_CHECKED)
    assert asked_of(page).count("measure") == 4
    assert {*measured} < {*page.evaluate(READ_JOB)["facts"]} == {*files}


def test_a_tab_that_is_killed_while_it_checks_keeps_what_it_has_checked(separate_browser, server, many):
    with visitor(separate_browser) as context:
        watcher = context.new_page()
        watcher.goto(f"{server.url}rescue/")
        watcher.evaluate(LISTEN)
        others = renderers(separate_browser)
        page = context.new_page()
        page.goto(f"{server.url}job/")
        expect(page.locator(".dw-job-empty")).to_be_visible()
        page.evaluate(TELL_STORED)
        page.locator("[data-does=open]").set_input_files(many)
        until(lambda: watcher.evaluate("stored") > 0, watcher)
        (process,) = renderers(separate_browser) - others
        with page.expect_event("crash"):
            os.kill(process, signal.SIGKILL)
        page.close()
        page = context.new_page()
        page.goto(f"{server.url}job/")
        expect(page.locator(".dw-marking")).to_have_count(COUNT)
        expect(page.locator(".dw-job-verdict").first).to_be_visible()
        # The engine has not started again for them.
        assert page.evaluate("dwEngine.boots") == 0
        # They were stored while others were still to come.
        assert 1 <= watcher.evaluate("stored") - 1 <= judged(page)
        assert watcher.evaluate("stored") < COUNT


def test_another_job_is_checked_though_the_check_of_the_first_goes_on(page, many, tmp_path):
    watch(page)
    page.locator("[data-does=open]").set_input_files(many)
    until(lambda: "job-check" in asked_of(page), page)
    other = saved_job(tmp_path / "one.zip", [{"id": "m-7", "name": "Other", "width": "9 mm"}])
    page.locator("[data-does=open]").set_input_files(other)
    expect(page.locator(".dw-marking")).to_have_count(1)
    expect(page.locator("[data-does=check]")).to_have_text(ALL_CHECKED)
    expect(page.locator(".dw-job-verdict")).to_have_count(1)
