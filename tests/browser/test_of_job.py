"""The message to a shop: filled from the current marking, also where only Python knows its width, and copied."""

from __future__ import annotations

from playwright.sync_api import expect

from tests.browser.forms import visitor
from tests.browser.jobs import DEMO, open_demo

SHOP = "underlay/have-it-cut-by-a-shop/"


def test_a_message_has_what_the_job_holds_of_the_current_marking_and_is_copied(browser, server):
    crest, number = DEMO.job.marking("crest"), DEMO.job.marking("fleet-number-right")
    with visitor(browser, has_touch=True) as device:
        device.grant_permissions(["clipboard-read", "clipboard-write"])
        page = device.new_page()
        page.goto(server.url + SHOP)
        message = page.locator(".dw-message")
        expect(message.locator("[data-of=name]")).to_have_text("…")
        page.goto(f"{server.url}job/")
        open_demo(page)
        page.goto(server.url + SHOP)
        expect(message.locator("[data-of=name]")).to_have_text(crest.name)
        # 600 mm at 1:43.5.
        expect(message.locator("[data-of=width]")).to_have_text("13.79 mm", timeout=20_000)
        expect(message.locator("[data-known][data-of=copies]")).to_have_text(str(crest.copies))
        expect(message.locator("[data-of=spares]")).to_have_text(str(crest.spares))
        page.evaluate("id => dwStore.choose(id)", number.id)
        expect(message.locator("[data-of=name]")).to_have_text(number.name)
        # A partner has the spares of its twin.
        expect(message.locator("[data-of=spares]")).to_have_text("2")
        expect(message.locator("[data-of=width]")).to_have_text("7.1 mm")
        message.get_by_role("button").tap()
        expect(message.locator("[role=status]")).to_have_text("The message is on the clipboard.")
        text = page.evaluate("navigator.clipboard.readText()")
        assert f"Marking: {number.name}\n" in text and "hydrogen chloride" in text and "Copy the message" not in text
