"""The figures of the page on web pictures all come from the last run's file, and a broken file is reported."""

import json
import re
from pathlib import Path

import pytest

from builder import web_pictures

ROOT = Path(__file__).resolve().parents[2]
PAGE = ROOT / "content" / "artwork" / "enlarged-pictures.md"
RUN = {
    "measured": "2026-01-31",
    "half": "test",
    "pictures": 10,
    "in_all": 20,
    "without": [],
    "figures": [
        {
            "group": "colours",
            "name": "no colour missing",
            "kind": "at least",
            "aim": 0.98,
            "reached": 0.5,
            "of": 4.0,
            "unit": "%",
        },
        {
            "group": "colours",
            "name": "- of resvg",
            "kind": "reported",
            "aim": None,
            "reached": 1.0,
            "of": 2.0,
            "unit": "%",
        },
        {
            "group": "damage",
            "name": "damage where there is none",
            "kind": "at most",
            "aim": 0.05,
            "reached": None,
            "of": 0.0,
            "unit": "%",
        },
        {
            "group": "outlines",
            "name": "outlines off",
            "kind": "at most",
            "aim": 0.06,
            "reached": 1.5,
            "of": 3.0,
            "unit": "px",
        },
    ],
    "detail_by_way": [
        {"quality": 85, "kernel": "nearest", "factor": 1.5, "told": 1, "of": 3},
        {"quality": 85, "kernel": "lanczos", "factor": 2.0, "told": 2, "of": 2},
    ],
}


def read(tmp_path, run):
    (tmp_path / "data").mkdir()
    (tmp_path / web_pictures.FILE).write_text(run if isinstance(run, str) else json.dumps(run))
    return web_pictures.read(tmp_path)


def test_each_figure_shows_its_aim_and_any_miss(tmp_path):
    run = read(tmp_path, RUN)
    assert run.table("colours").splitlines()[2:] == [
        "| No colour missing | at least 98 % | 50.0 %, **missed** | 4 |",
        "| … of resvg |  | 100.0 % | 2 |",
    ]
    assert run.table("damage").splitlines()[2] == "| Damage where there is none | at most 5 % | not in this run | |"
    assert run.table("outlines").splitlines()[2] == "| Outlines off | at most 0.06 px | 1.50 px, **missed** | 3 |"


def test_ways_have_methods_as_rows_and_factors_as_columns(tmp_path):
    lines = read(tmp_path, RUN).ways(85).splitlines()
    assert lines[0] == "| Method | 1.5 times | 2 times |"
    assert lines[2] == "| repeating pixels | 1 of 3 | |" and lines[-1] == "| Lanczos | | 2 of 2 |"


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"half": "both"}, "half"),
        ({"pictures": 0}, "pictures"),
        ({"pictures": 21}, "more pictures than there are"),
        ({"figures": [RUN["figures"][0] | {"reached": 1.2}]}, r"figures\[0\]: it is more than all"),
        ({"detail_by_way": [{}]}, "quality, kernel"),
        ({"measured": "yesterday"}, "measured"),
    ],
)
def test_an_invalid_file_is_reported(tmp_path, change, message):
    with pytest.raises(ValueError, match=message):
        read(tmp_path, RUN | change)


def test_a_truncated_file_is_reported_with_its_line(tmp_path):
    with pytest.raises(ValueError, match=r"web-pictures\.json:1"):
        read(tmp_path, json.dumps(RUN)[:-5])


def test_the_page_shows_every_group_of_the_last_run():
    groups = {each["group"] for each in web_pictures.read(ROOT).run["figures"]}
    assert set(re.findall(r'run\.table\("([^"]+)"\)', PAGE.read_text("utf-8"))) == groups


def test_an_unknown_group_is_a_mistake_of_the_page(tmp_path):
    with pytest.raises(ValueError, match="Groups are colours, damage, outlines"):
        read(tmp_path, RUN).table("rings")
