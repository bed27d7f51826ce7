"""A marking of which the full size was decided, in calculators that work with its width on the model."""

from __future__ import annotations

from playwright.sync_api import expect

from tests.browser.forms import answered, result_text, typed, visitor
from tests.browser.test_job_page import open_demo, until


def test_calculators_get_the_width_on_the_model_and_the_full_size_stays(browser, server):
    """The crest is 600 mm wide at full size, and goes onto a railcar at 1:43.5."""
    with visitor(browser, has_touch=True) as device:
        page = device.new_page()
        page.goto(f"{server.url}job/")
        open_demo(page)
        page.goto(f"{server.url}artwork/picture-check/")
        expect(result_text(page, "printed_width_mm")).to_have_text(f"{600 / 43.5:.2f}", timeout=20_000)
        stored = "async () => (await dwStore.present()).job"
        before = page.evaluate(stored)
        assert (before["markings"][0]["width"], before["markings"][0]["size"]) == ("600 mm", "full-size")
        typed(page, "viewing_distance_mm").fill("450")
        until(lambda: page.evaluate(stored)["revision"] > before["revision"], page)
        answered(page)
        after = page.evaluate(stored)
        assert (after["markings"][0]["width"], after["markings"][0]["size"]) == ("600 mm", "full-size")
        assert not {"width", "own-width", "width-of"} & set(after["markings"][0].get("values", {}))
