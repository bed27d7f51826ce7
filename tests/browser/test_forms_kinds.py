"""Every kind of field and result, on the test calculators."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.browser.forms import answered, open_calculator, problem, result_text, typed, visitor


@pytest.fixture
def rows(context, workbench_server):
    return open_calculator(context, f"{workbench_server.url}sheet/rows-in-rows/")


@pytest.fixture
def kinds(context, workbench_server):
    return open_calculator(context, f"{workbench_server.url}artwork/small-kinds/")


def addresses(page) -> list[str]:
    return page.evaluate("[...document.querySelectorAll('[data-field]')].map(each => each.dataset.field)")


def row_button(page, address: str, name: str):
    """The button of that class that belongs to the field or row itself, not to nested ones."""
    return page.locator(f'[data-field="{address}"] > {name}')


def test_added_and_removed_rows_have_their_own_addresses(rows):
    """Letters: two of "12", one "Teasel" of six, as the rows are printed: 2 x 2 + 6."""
    expect(result_text(rows, "letters")).to_have_text("10")
    row_button(rows, "markings", ".dw-row-add").click()
    expect(typed(rows, "markings[2].copies")).to_be_focused()
    expect(result_text(rows, "letters")).to_have_text("14")
    expect(rows.locator("[data-result=each] tbody tr")).to_have_count(3)
    row_button(rows, "markings[2].lines", ".dw-row-add").click()
    typed(rows, "markings[2].lines[1].letters").fill("Otter")
    expect(result_text(rows, "letters")).to_have_text("24")

    rows.locator('[data-field="markings"] > .dw-row-list > .dw-row').first.locator("> .dw-row-remove").click()
    expect(result_text(rows, "letters")).to_have_text("20")
    expect(typed(rows, "markings[1].lines[1].letters")).to_have_value("Otter")
    assert not [each for each in addresses(rows) if "markings[2]" in each]
    label = rows.locator('label[for="in-markings[1].lines[1].letters"]')
    label.click()
    expect(typed(rows, "markings[1].lines[1].letters")).to_be_focused()


def test_row_counts_stay_within_their_limits(rows):
    add = row_button(rows, "markings", ".dw-row-add")
    add.click()
    add.click()
    expect(add).to_be_disabled()
    for _ in range(3):
        rows.locator('[data-field="markings"] > .dw-row-list > .dw-row').first.locator("> .dw-row-remove").click()
    expect(rows.locator('[data-field="markings"] > .dw-row-list > .dw-row > .dw-row-remove')).to_be_disabled()
    expect(add).to_be_enabled()


def test_a_problem_in_a_row_appears_in_that_row(rows):
    typed(rows, "markings[1].width_mm").fill("0")
    expect(problem(rows, "markings[1].width_mm")).to_contain_text("takes a length from")
    expect(problem(rows, "markings[0].width_mm")).to_be_hidden()
    rows.locator(".dw-problems a").click()
    expect(typed(rows, "markings[1].width_mm")).to_be_focused()


def test_rows_are_restored_from_storage_link_and_undo(browser, rows, context):
    context.grant_permissions(["clipboard-read", "clipboard-write"])
    typed(rows, "markings[0].width_mm").fill("1 in")
    rows.locator('[data-field="markings[1].lines"] .dw-row-remove').click()
    row_button(rows, "markings", ".dw-row-add").click()
    typed(rows, "markings[2].lines[0].letters").fill("Skarn & Höhe + 1")
    expect(result_text(rows, "letters")).to_have_text("36")

    def holds(page):
        expect(typed(page, "markings[0].width_mm")).to_have_value("1 in")
        expect(typed(page, "markings[2].lines[0].letters")).to_have_value("Skarn & Höhe + 1")
        expect(typed(page, "markings[1].lines[0].letters")).to_have_count(0)
        expect(result_text(page, "letters")).to_have_text("36")

    rows.reload()
    answered(rows)
    holds(rows)
    rows.locator(".dw-link").click()
    link = rows.evaluate("navigator.clipboard.readText()")
    with visitor(browser) as other:
        holds(open_calculator(other, link))
    rows.locator(".dw-reset").click()
    expect(result_text(rows, "letters")).to_have_text("10")
    rows.locator(".dw-note-action", has_text="Undo").click()
    holds(rows)


def test_lengths_in_rows_follow_the_unit(rows):
    """1 in is 25.4 mm exactly."""
    typed(rows, "markings[1].width_mm").fill("50.8")
    rows.locator(".dw-units").click()
    expect(typed(rows, "markings[0].width_mm")).to_have_value("1")
    expect(typed(rows, "markings[1].width_mm")).to_have_value("2")
    row_button(rows, "markings", ".dw-row-add").click()
    expect(typed(rows, "markings[2].width_mm")).to_have_value("1")
    expect(rows.locator('[data-field="markings[2].width_mm"] .dw-unit')).to_have_text("in")
    expect(rows.locator("[data-result=each] tbody tr").nth(1)).to_contain_text("2.000 in")


def test_a_colour_is_picked_or_typed(kinds):
    typed(kinds, "paint").fill("#abc")
    expect(result_text(kinds, "paint")).to_have_text("#aabbcc")
    expect(kinds.locator(".dw-picker")).to_have_value("#aabbcc")
    swatch = kinds.locator("[data-result=paint] .dw-swatch")
    expect(swatch.locator("rect")).to_have_attribute("fill", "#aabbcc")
    kinds.locator(".dw-picker").fill("#102030")
    expect(typed(kinds, "paint")).to_have_value("#102030")
    expect(result_text(kinds, "paint")).to_have_text("#102030")
    typed(kinds, "paint").fill("maroon")
    expect(problem(kinds, "paint")).to_contain_text("takes a colour")
    kinds.reload()
    expect(typed(kinds, "paint")).to_have_value("maroon")


def test_yes_or_no_and_text(kinds):
    kinds.locator("[data-field=mirrored] label").click()
    expect(result_text(kinds, "shown")).to_have_text("lesaeT")
    typed(kinds, "name").fill('<b>"A" & b</b>')
    expect(result_text(kinds, "shown")).to_have_text('>b/<b & "A">b<')
    typed(kinds, "name").fill("x" * 21)
    expect(problem(kinds, "name")).to_contain_text("20")
    kinds.reload()
    expect(typed(kinds, "mirrored")).to_be_checked()


def test_a_link_result_leads_to_its_page(kinds, workbench_server):
    link = kinds.locator("[data-result=elsewhere] a")
    expect(link).to_have_text("The size of Teasel")
    typed(kinds, "name").fill("Otter")
    expect(link).to_have_text("The size of Otter")
    assert link.evaluate("link => link.href") == f"{workbench_server.url}size/scale-size/"
    kinds.locator("[data-field=mirrored] label").click()
    expect(kinds.locator("[data-result=elsewhere]")).to_be_hidden()


def test_a_drawing_and_a_file_are_returned(kinds):
    typed(kinds, "paint").fill("#102030")
    expect(kinds.locator("[data-result=drawing] rect")).to_have_attribute("fill", "#102030")
    expect(kinds.locator("[data-result=drawing] figcaption")).to_have_text("A bar of #102030.")
    save = kinds.locator("[data-result=label]")
    expect(save).to_contain_text("Save label.txt (7 bytes)")
    with kinds.expect_download() as download:
        save.click()
    assert download.value.suggested_filename == "label.txt"
    assert download.value.path().read_bytes() == b"Teasel\n"
