"""Input is stored on the device, travels in a link, and can be reset to the worked example."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from calculators.jobs.model import FORMAT
from tests.browser.forms import (
    READ_JOB,
    WRITE_JOB,
    answered,
    entries,
    open_calculator,
    result_text,
    typed,
    visitor,
    wait_for_stored,
)


def wait_for_stored_width(page: Page, text: str) -> None:
    wait_for_stored(
        page,
        lambda found: entries(found).get("fault-on-demand", {}).get("inputs", {}).get("width_mm") == text,
    )


@pytest.fixture
def address(workbench_server):
    return f"{workbench_server.url}rescue/fault-on-demand/"


def test_typed_values_survive_closing_the_page(context, address):
    page = open_calculator(context, address)
    typed(page, "width_mm").fill("12 in")
    expect(result_text(page, "width_mm")).to_have_text("304.8")
    page.close()
    page = open_calculator(context, address)
    expect(typed(page, "width_mm")).to_have_value("12 in")
    expect(result_text(page, "width_mm")).to_have_text("304.8")
    wait_for_stored_width(page, "12 in")
    assert page.evaluate(READ_JOB)["job"]["format"] == FORMAT


def test_unreadable_input_is_saved_too(context, address):
    page = open_calculator(context, address)
    typed(page, "width_mm").fill("a hand")
    expect(page.locator(".dw-problems")).to_be_visible()
    page.reload()
    expect(typed(page, "width_mm")).to_have_value("a hand")
    expect(page.locator(".dw-problems")).to_be_visible(timeout=20_000)


def test_leaving_at_once_saves_the_last_letter(context, address, workbench_server):
    page = open_calculator(context, address)
    typed(page, "width_mm").fill("77")
    page.locator(".dw-rule a", has_text="size").click()
    page.wait_for_url("**/size/")
    page = open_calculator(context, address)
    expect(typed(page, "width_mm")).to_have_value("77")


def test_input_just_before_leaving_is_saved(context, address, workbench_server):
    page = open_calculator(context, address)
    page.evaluate(
        """elsewhere => {
      const field = document.getElementById("in-width_mm");
      field.value = "78";
      field.dispatchEvent(new Event("input", {bubbles: true}));
      location.href = elsewhere;
    }""",
        f"{workbench_server.url}size/",
    )
    page.wait_for_url("**/size/")
    page = open_calculator(context, address)
    expect(typed(page, "width_mm")).to_have_value("78")
    expect(result_text(page, "width_mm")).to_have_text("78.0")
    assert page.evaluate("localStorage.getItem('decalwright-left')") is None


def test_a_suspended_page_blocks_no_other(context, address):
    """A browser may suspend a page during a transaction, which would block every later transaction."""
    page = open_calculator(context, address)
    page.evaluate("""() => {
      const begin = IDBDatabase.prototype.transaction;
      IDBDatabase.prototype.transaction = function (...of) {
        const transaction = begin.apply(this, of);
        if (of[1] === "readwrite") {
          globalThis.begun = new Promise(ended => transaction.addEventListener("abort", () => ended("broken off")));
          // As if the browser had frozen the page here: the transaction has no end of its own.
          const again = () => transaction.objectStore("state").get("present").addEventListener("success", again);
          again();
          dispatchEvent(new PageTransitionEvent("pagehide", {persisted: true}));
        }
        return transaction;
      };
    }""")
    typed(page, "width_mm").fill("79")
    assert (
        page.evaluate(
            "async () => { while (!globalThis.begun) await new Promise(done => setTimeout(done, 20)); return begun; }"
        )
        == "broken off"
    )
    other = open_calculator(context, address)
    expect(typed(other, "width_mm")).to_have_value("79")
    # Shown again, the first page restarts.
    typed(other, "width_mm").fill("80")
    expect(result_text(other, "width_mm")).to_have_text("80.0")
    # Later, since the page may reload before the script that asks for it has returned.
    page.evaluate("setTimeout(() => dispatchEvent(new PageTransitionEvent('pageshow', {persisted: true})), 50)")
    expect(typed(page, "width_mm")).to_have_value("80", timeout=20_000)


def test_back_to_the_worked_example_can_be_undone(context, address):
    page = open_calculator(context, address)
    typed(page, "width_mm").fill("30")
    expect(result_text(page, "width_mm")).to_have_text("30.0")
    page.locator(".dw-reset").click()
    expect(typed(page, "width_mm")).to_have_value("25.4")
    expect(result_text(page, "width_mm")).to_have_text("25.4")
    page.locator(".dw-note-action", has_text="Undo").click()
    expect(typed(page, "width_mm")).to_have_value("30")
    page.reload()
    expect(typed(page, "width_mm")).to_have_value("30")


def test_a_link_carries_what_is_typed(browser, context, address):
    context.grant_permissions(["clipboard-read", "clipboard-write"])
    page = open_calculator(context, address)
    page.locator(".dw-units").click()
    typed(page, "width_mm").fill("2")
    page.locator(".dw-link").click()
    expect(page.locator(".dw-note")).to_contain_text("clipboard")
    link = page.evaluate("navigator.clipboard.readText()")
    assert link == f"{address}#in=1&width_mm=2+in&fails=no"
    with visitor(browser) as other:
        opened = open_calculator(other, link)
        expect(typed(opened, "width_mm")).to_have_value("2 in")
        expect(result_text(opened, "width_mm")).to_have_text("50.8")


def test_a_link_is_displayed_if_the_clipboard_is_blocked(context, address):
    page = open_calculator(context, address)
    page.evaluate("() => { navigator.clipboard.writeText = () => Promise.reject(new Error('closed')) }")
    page.locator(".dw-link").click()
    expect(page.locator(".dw-note-address")).to_have_value(f"{address}#in=1&width_mm=25.4+mm&fails=no")


def test_opening_a_link_overwrites_nothing_until_an_edit(context, address):
    page = open_calculator(context, address)
    typed(page, "width_mm").fill("30")
    expect(result_text(page, "width_mm")).to_have_text("30.0")
    page.close()

    linked = open_calculator(context, f"{address}#in=1&width_mm=40+mm&fails=no")
    expect(typed(linked, "width_mm")).to_have_value("40")
    expect(linked.locator("[data-note=linked]")).to_be_visible()
    assert entries(linked.evaluate(READ_JOB))["fault-on-demand"]["inputs"]["width_mm"] == "30 mm"
    linked.locator(".dw-note-action").click()
    expect(typed(linked, "width_mm")).to_have_value("30")
    linked.close()

    linked = open_calculator(context, f"{address}#in=1&width_mm=40+mm&fails=no")
    typed(linked, "width_mm").fill("41")
    expect(result_text(linked, "width_mm")).to_have_text("41.0")
    expect(linked.locator("[data-note=linked]")).to_have_count(0)
    assert linked.url == address
    wait_for_stored_width(linked, "41 mm")


def test_a_link_with_quotation_marks_is_read(context, address):
    page = open_calculator(context, f"{address}#in=1&width_mm=0.5%22")
    expect(typed(page, "width_mm")).to_have_value('0.5"')
    expect(result_text(page, "width_mm")).to_have_text("12.7")


def test_unusable_parts_of_a_link_are_reported(context, address):
    page = open_calculator(context, f"{address}#in=1&width_mm=40+mm&depth_mm=3&rows%5B2%5D.x=1&fails.x=1")
    expect(page.locator("[data-note=unknown]")).to_contain_text("depth_mm")
    expect(page.locator("[data-note=unknown]")).to_contain_text("rows[2].x")
    expect(typed(page, "width_mm")).to_have_value("40")
    page.close()
    page = open_calculator(context, f"{address}#in=9&width_mm=40+mm")
    expect(page.locator("[data-note=linked]")).to_contain_text("(9)")
    expect(typed(page, "width_mm")).to_have_value("25.4")


def test_another_tab_takes_the_new_values_unless_it_is_edited(context, address):
    first, second = open_calculator(context, address), open_calculator(context, address)
    typed(second, "width_mm").fill("30")
    expect(typed(first, "width_mm")).to_have_value("30")
    expect(first.locator("[data-note=tabs]")).to_be_visible()
    expect(result_text(first, "width_mm")).to_have_text("30.0")
    first.bring_to_front()
    typed(first, "width_mm").focus()
    typed(second, "width_mm").fill("31")
    expect(first.locator("[data-note=tabs] .dw-note-action")).to_be_visible()
    expect(typed(first, "width_mm")).to_have_value("30")
    first.locator("[data-note=tabs] .dw-note-action").click()
    expect(typed(first, "width_mm")).to_have_value("31")


def test_two_tabs_keep_the_values_of_both_calculators(context, address, workbench_server):
    first = open_calculator(context, address)
    second = open_calculator(context, f"{workbench_server.url}artwork/small-kinds/")
    typed(first, "width_mm").fill("30")
    typed(second, "name").fill("Otter")
    expect(result_text(first, "width_mm")).to_have_text("30.0")
    expect(result_text(second, "shown")).to_have_text("Otter")
    both = wait_for_stored(second, lambda found: set(entries(found)) == {"fault-on-demand", "small-kinds"})
    assert both["job"]["revision"] == 2


@pytest.mark.parametrize(("format", "message"), [(99, "newer version"), (0, "older version")])
def test_an_unreadable_job_is_left_alone(context, address, format, message):
    page = open_calculator(context, address)
    other = {"format": format, "revision": 7, "calculators": {"fault-on-demand": {"inputs": {"width_mm": "3 mm"}}}}
    page.evaluate(WRITE_JOB, other)
    page.reload()
    answered(page)
    expect(page.locator("[data-note=storage]")).to_contain_text(message)
    typed(page, "width_mm").fill("30")
    expect(result_text(page, "width_mm")).to_have_text("30.0")
    assert page.evaluate(READ_JOB)["job"] == other


def test_without_storage_the_form_works_and_says_so(context, address):
    context.add_init_script(
        "Object.defineProperty(IDBFactory.prototype, 'open', {value() { throw new DOMException('no', "
        "'SecurityError') }})"
    )
    page = open_calculator(context, address)
    expect(page.locator("[data-note=storage]")).to_be_visible()
    page.locator(".dw-note-close").click()
    typed(page, "width_mm").fill("30")
    expect(result_text(page, "width_mm")).to_have_text("30.0")
    expect(page.locator(".dw-note")).to_have_count(0)


def test_files_are_stored_by_hash_and_removed_when_unused(context, workbench_server):
    """The SHA-256 of "abc" is an example of FIPS 180-2, appendix B.1."""
    page = open_calculator(context, f"{workbench_server.url}artwork/small-kinds/")
    page.set_input_files("#in-notes", {"name": "n.txt", "mimeType": "text/plain", "buffer": b"abc"})
    expect(result_text(page, "notes")).to_have_text("abc")
    found = wait_for_stored(page, lambda found: found["files"])
    assert found["files"] == ["ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"]
    assert entries(found)["small-kinds"]["files"]["notes"]["name"] == "n.txt"
    page.reload()
    answered(page)
    expect(page.locator(".dw-drop-name")).to_have_text("n.txt")
    expect(result_text(page, "notes")).to_have_text("abc")
    page.locator(".dw-drop-remove").click()
    expect(page.locator("[data-result=notes]")).to_be_hidden()
    wait_for_stored(page, lambda found: found["files"] == [])
