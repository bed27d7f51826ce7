"""The placement template in the page: left and right, distances by name, an edge that would run through the marking."""

from __future__ import annotations

import io

import pikepdf
import pytest
from playwright.sync_api import expect

from tests.browser.forms import open_calculator, problem, typed, visitor
from tests.conftest import ROOT

FLEET_NUMBER = ROOT / "content" / "demo" / "fleet-number.svg"


def test_a_template_goes_by_its_distances_and_says_which_edge_runs_through_the_marking(browser, server):
    with visitor(browser, has_touch=True) as device:
        page = open_calculator(device, f"{server.url}artwork/placement-template/")
        drawing, verdict = page.locator("[data-result=templates]"), page.locator("[data-result=verdict]")
        expect(drawing).to_contain_text("Left side of the model")
        expect(drawing).to_contain_text("Right side of the model")
        typed(page, "upright_name").fill("hatch")
        typed(page, "upright_mm").fill("17.25")
        expect(drawing).to_contain_text("hatch")
        expect(drawing).to_contain_text("17.25")
        typed(page, "sides").select_option("left")
        expect(drawing).not_to_contain_text("Right side of the model")
        typed(page, "upright_mm").fill("far")
        expect(problem(page, "upright_mm")).to_be_visible()
        expect(typed(page, "upright_mm")).to_have_value("far")
        typed(page, "measured_to").select_option("centre")
        typed(page, "upright_mm").fill("2")
        expect(verdict).to_contain_text("An edge would run through the marking")
        expect(page.locator(".dw-answer")).to_contain_text("hatch would run through the marking")
        expect(page.locator("[data-result=pdf]")).to_be_hidden()
        typed(page, "measured_to").select_option("edge")
        typed(page, "upright_mm").fill("0.5 in")
        page.set_input_files("#in-picture", FLEET_NUMBER)
        expect(typed(page, "width_mm")).to_have_value("")
        typed(page, "width_mm").fill("22")
        expect(drawing).to_contain_text("12.7")
        save = page.locator("[data-result=pdf]")
        expect(save).to_contain_text("Save")
        with page.expect_download() as saving:
            save.click()
        with pikepdf.open(io.BytesIO(saving.value.path().read_bytes())) as file:
            sides = [float(side) * 25.4 / 72 for side in file.pages[0].MediaBox]
            assert sides == pytest.approx([0, 0, 210, 297], abs=1e-3)
