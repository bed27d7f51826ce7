"""Python and the page agree on typed text and on the position of the border.

README.md beside this file has the cases and their sources.
"""

from __future__ import annotations

import json
import re
import subprocess
from pathlib import Path
from typing import Any

import pytest

from calculators import catalogue, messages, units
from calculators.declare import asked
from calculators.declare.field import parsed
from calculators.read import read
from calculators.shapes.border import Border

HERE = Path(__file__).parent
CASES = json.loads((HERE / "cases.json").read_text("utf-8"))
PEOPLE = json.loads((HERE / "people.json").read_text("utf-8"))
BORDERS = json.loads((HERE / "border.json").read_text("utf-8"))


def cases(name: str) -> Any:
    return pytest.mark.parametrize("case", CASES[name], ids=lambda case: repr(case.get("typed", case.get("text"))))


def understood(calculator: str, field: str, text: str) -> Any:
    """The parsed value of a field in the reply; None if it has no meaning."""
    inputs = catalogue.find(calculator).inputs
    assert field in asked(inputs)
    return parsed(inputs, read(inputs, {field: text}).values).get(field)


@cases("without_unit")
def test_a_length_without_unit_takes_the_page_s_unit(case):
    for unit, size in (("mm", 1), ("in", 25.4)):
        assert units.length_mm(f"{case['typed'].strip()} {unit}") == pytest.approx(case["number"] * size, rel=1e-12)


@cases("with_unit")
def test_a_stated_unit_is_used_or_the_length_refused(case):
    if case["mm"] is None:
        with pytest.raises(units.Unread):
            units.length_mm(case["typed"])
    else:
        assert units.length_mm(case["typed"]) == pytest.approx(case["mm"], rel=1e-12)


@cases("hex_colours")
def test_colour_digits_agree_with_the_picker(case):
    found = understood("seen-colour", "base_a", case["typed"])
    # Only Python understands colour names.
    assert found == (case["colour"] or ("#24468c" if case["typed"] == "royal blue" else None))


@cases("names")
def test_a_file_name_is_shown_on_one_safe_line(case):
    assert messages.display_name(case["typed"]) == case["shown"]


def test_a_long_name_keeps_its_beginning_and_end():
    name = messages.display_name("emblem " + "x" * 4982 + "front.png")
    assert len(name) == messages.MOST_OF_NAME and name.startswith("emblem x") and name.endswith("xfront.png")


@cases("numbers")
def test_numbers_written_by_the_page_are_read_back(case):
    assert understood("underlay", "border_degrees", case["text"]) == case["read"]


@cases("points")
def test_points_written_by_the_page_are_read_back(case):
    assert understood("drawing-size", "mark_to", case["text"]) == case["read"]


@pytest.mark.parametrize(("calculator", "field"), [("white-areas", "marks"), ("underlay", "white_marks")])
@cases("marks")
def test_marks_written_by_the_page_are_read_back(case, calculator, field):
    assert understood(calculator, field, case["text"]) == case["read"]


@pytest.mark.parametrize("case", BORDERS, ids=lambda case: case["why"])
def test_the_border_is_where_geometry_says(case):
    border = Border(case["width"], case["height"], case["percent"], case["degrees"])
    assert (*border.normal, border.limit) == pytest.approx((*case["normal"], case["limit"]), abs=1e-9)
    for polygon, name in zip(border.sides(tuple(case["box"]), case["wide"]), ("first", "second", "band"), strict=True):
        assert corners(polygon) == corners(case[name])


def corners(polygon: list) -> list:
    """The distinct corners of a polygon, independent of its first corner."""
    return sorted({tuple(round(part, 9) + 0.0 for part in corner) for corner in polygon})


def test_the_page_passes_the_same_cases():
    ran = subprocess.run(
        ["node", "--test", "--test-reporter=tap", str(HERE / "typed.test.mjs")],
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert ran.returncode == 0, ran.stdout[-4000:] + ran.stderr[-2000:]
    counted = {name: int(count) for name, count in re.findall(r"^# (tests|pass|fail) (\d+)$", ran.stdout, re.MULTILINE)}
    every = sum(map(len, CASES.values())) + len(BORDERS) + len(PEOPLE["lengths"])
    assert counted == {"tests": every, "pass": every, "fail": 0}
