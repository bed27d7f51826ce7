"""Browsers that lack a feature: the page says which, or works without it."""

from __future__ import annotations

from playwright.sync_api import expect

from calculators.messages import PAGE
from tests.browser.forms import open_calculator, typed

CALCULATOR = "sheet/long-work/"


def test_disabled_webassembly_is_reported_without_fetching(context, workbench_server):
    # As in strict security modes, where the global is undefined.
    context.add_init_script("delete globalThis.WebAssembly")
    page = context.new_page()
    page.goto(workbench_server.url + CALCULATOR)
    expect(page.locator(".dw-outcome-title")).to_have_text(PAGE["no_wasm_title"])
    expect(page.locator(".dw-outcome-text")).to_have_text(PAGE["no_wasm_text"])
    assert workbench_server.sent_bytes("^/engine/") == 0


def test_tabs_sync_without_a_broadcast_channel(context, workbench_server):
    context.add_init_script("delete globalThis.BroadcastChannel")
    one = open_calculator(context, workbench_server.url + CALCULATOR)
    assert one.evaluate("typeof BroadcastChannel") == "undefined"
    other = open_calculator(context, workbench_server.url + CALCULATOR)
    typed(one, "steps").fill("3")
    expect(typed(other, "steps")).to_have_value("3", timeout=10_000)
    expect(other.locator("[data-note=tabs]")).to_contain_text(PAGE["other_tab_changed"])
