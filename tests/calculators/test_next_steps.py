"""Every answer leads on: one or two next steps, to pages that there are, with values that other calculators take."""

from __future__ import annotations

import itertools
from dataclasses import replace
from pathlib import Path

import pytest

from calculators import catalogue, tables, units, view
from calculators.declare import LeadsResult, VerdictResult, answered, asked
from calculators.declare.result import plain
from calculators.underlay.next_steps import WAY_PAGES, of_way

ROOT = Path(__file__).parents[2]
CALCULATORS = list(catalogue.every().values())
EVERY_CALCULATOR = pytest.mark.parametrize("calculator", CALCULATORS, ids=lambda each: each.id)
SHARED = {field.shares for each in CALCULATORS for field in asked(each.inputs).values() if field.shares}


def declared_leads(calculator) -> LeadsResult:
    (found,) = (each for each in answered(calculator.outputs).values() if isinstance(each, LeadsResult))
    return found


def is_page(address: str) -> bool:
    """Whether a page of the site has that address: one of content/, or a calculator's."""
    path = ROOT / "content" / address.rstrip("/")
    return (
        address.endswith("/") and (path.with_suffix(".md").is_file() or (path / "index.md").is_file())
    ) or address in {f"{each.stage}/{each.id}/" for each in CALCULATORS}


@EVERY_CALCULATOR
def test_every_verdict_leads_to_existing_pages(calculator):
    by = declared_leads(calculator).by
    verdict = answered(calculator.outputs).get("verdict")
    assert set(by) == (set(verdict.levels) if isinstance(verdict, VerdictResult) else {""})
    for steps in by.values():
        assert 1 <= len(steps) <= 2
        assert len({each.page for each in steps}) == len(steps)
        assert all(is_page(each.page) for each in steps)
        assert f"{calculator.stage}/{calculator.id}/" not in {each.page for each in steps}


@EVERY_CALCULATOR
def test_what_a_step_carries_is_answered_here_and_asked_elsewhere(calculator):
    results = answered(calculator.outputs)
    for step in itertools.chain(*declared_leads(calculator).by.values()):
        assert {*step.carries, *step.sets} <= SHARED
        assert {each for of in step.carries.values() for each in of} <= set(results)


def test_every_way_to_white_has_its_how_to():
    assert set(WAY_PAGES) == {row.id for row in tables.load("ways")}
    assert all(is_page(step.page) for row in tables.load("ways") for step in of_way(row))


def shown_steps(id: str, **inputs) -> list[dict]:
    calculator = catalogue.find(id)
    outputs = calculator.answer(calculator.inputs(**inputs))
    assert [each["page"] for each in plain(outputs)["next_steps"]] == [
        each["href"].removeprefix("../../") for each in view.view(outputs, units.MM)["next_steps"]["shown"]
    ]
    return view.view(outputs, units.DISPLAYS["in"])["next_steps"]["shown"]


def test_the_model_size_becomes_the_marking_width():
    # 12 in at 1:72 is 4.23 mm, whatever unit the page shows.
    first = shown_steps("scale-size", full_size_mm=304.8, scale=72.0)[0]
    assert first["href"] == "../../artwork/picture-check/"
    assert first["carries"] == {"own-width": "4.23 mm", "width-of": "marking"}


def test_a_fitted_size_precedes_the_size_by_scale():
    typed = {"model_length_mm": 30.0, "second_from": (240, 130), "second_to": (990, 130)}
    # 300 of 750 px of a known 1500 mm are 600 mm; 750 px that are 30 mm on the model make it 12 mm.
    assert shown_steps("drawing-size", **typed)[0]["carries"]["own-width"] == "12.00 mm"
    # Without it, 600 mm at 1:43.5 are 13.79 mm.
    assert shown_steps("drawing-size")[0]["carries"]["own-width"] == "13.79 mm"


def test_pixels_that_show_lead_to_outlines():
    coarse = shown_steps("resolution", width_px=20, height_px=20)
    assert coarse[0]["href"] == "../../artwork/trace/" and "outlines" in coarse[0]["shown"]
    assert "../../artwork/trace/" not in {each["href"] for each in shown_steps("resolution", width_px=2000)}


def test_a_way_that_was_chosen_leads_to_its_how_to():
    assert shown_steps("underlay", way="white-by-brush")[0]["href"] == "../../underlay/white-by-brush/"


def test_a_way_that_is_cut_leads_to_its_piece_with_its_choke():
    """Common practice: 0.1 to 0.3 mm by hand."""
    for way, piece in (("backing-piece", "backing"), ("stencil-and-clear", "white")):
        assert shown_steps("underlay", way=way)[1] | {"shown": ""} == {
            "shown": "",
            "href": "../../underlay/cut-file/",
            "carries": {"cut-piece": piece, "choke": "0.2 mm"},
        }
    assert shown_steps("underlay", way="stencil-only")[1]["carries"]["cut-piece"] == "colours"


def test_a_value_that_is_not_answered_does_not_go_along():
    outputs = catalogue.find("drawing-size").answer(catalogue.find("drawing-size").inputs())
    steps = view.view(replace(outputs, model_size_mm=None), units.MM)["next_steps"]["shown"]
    assert steps[0]["carries"] == {}
