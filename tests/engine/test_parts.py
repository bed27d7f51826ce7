"""A page loads the parts of its own stage, and those of other stages on demand."""

from __future__ import annotations

import gzip
import json
from collections.abc import Callable
from functools import cache
from typing import Any

import pytest

from builder.runtime import APART
from calculators import catalogue
from tests.engine.conftest import run_node
from tests.engine.made import STRAYING

#: The part of each calculator.
PARTS = {id: APART.get(id, each.stage) for id, each in catalogue.every().items()}


def _ask(engine, tmp_path, *ids: str, plain: bool = False) -> dict[str, Any]:
    folder, config = engine
    requests = [{"do": "answer", "calculator": id, "inputs": {}} for id in ids]
    return run_node("ask.mjs", {"site": str(folder), "config": config, "plain": plain, "requests": requests}, tmp_path)


def _parts(engine, addresses: list[str]) -> set[str]:
    """Return the names of the parts among the addresses that were fetched, the engine's left out."""
    known = {path for paths in engine[1]["parts"].values() for path in paths}
    return {path.split("/")[1].split(".")[0] for path in known if any(each.endswith(path) for each in addresses)}


@pytest.fixture(scope="module")
def part_asked(own_engine, tmp_path_factory) -> Callable[[str, bool], tuple[list[str], dict[str, Any]]]:
    """Ask a new engine, once for all tests, every calculator of a part; return their ids in this order and the report.

    Those that use a late part come last.
    """
    used = own_engine[1]["used"]

    @cache
    def ask(part: str, plain: bool) -> tuple[list[str], dict[str, Any]]:
        ids = sorted((id for id, own in PARTS.items() if own == part), key=used.__contains__)
        return ids, _ask(own_engine, tmp_path_factory.mktemp("part"), *ids, plain=plain)

    return ask


@pytest.mark.parametrize("plain", [False, True], ids=["snapshot", "plain"])
@pytest.mark.parametrize("part", sorted({*PARTS.values()}))
def test_calculators_answer_with_their_own_parts_alone(own_engine, part_asked, part, plain):
    ids, report = part_asked(part, plain)
    assert [each["outcome"] for each in report["answers"]] == ["result"] * len(ids), report["answers"]
    # Python would wait only for a part that the sources do not name.
    assert _parts(own_engine, report["waitedFor"]) == set()
    names = [part]
    for id, (reached, _waited) in zip(ids, report["reached"], strict=True):
        names += own_engine[1]["used"].get(id, [])
        wanted = {path.split("/")[1].split(".")[0] for name in names for path in own_engine[1]["parts"][name]}
        assert _parts(own_engine, report["fetched"][:reached]) == wanted, id
    # The engine's modules are in the memory snapshot, and are not fetched a second time.
    assert any(own_engine[1]["files"]["engine"] in each for each in report["fetched"]) == plain


def test_each_part_has_these_files(own_engine):
    named = {
        part: {path.split("/")[1].split(".")[0] for path in paths} for part, paths in own_engine[1]["parts"].items()
    }
    pixels, areas = "artwork-cutting-layout-white", "artwork-cutting-white"
    # Light pieces in one file: what draws in a PDF, and what reads and joins outlines.
    common, traced = "artwork-cutting-layout-letters-outlines-print-sheet-svg", "artwork-cutting-tracing"
    assert named == {
        "size": {"size"},
        "artwork": {"artwork", common, pixels, areas, traced},
        "underlay": {"underlay"},
        # It comes after the underlay's, of which it uses all about colour.
        "white": {"white", "underlay", pixels, areas},
        "cutting": {"cutting", "cutting-layout", common, pixels, areas, traced},
        "sheet": {"sheet", common},
        # The sheet draws whatever the others make: pictures, outlines, pieces that are cut, and white beneath.
        "layout": {"layout", "cutting-layout", "layout-svg", common, pixels},
        "tracing": {"tracing", traced},
        "raster": {"raster", "letters-raster"},
        "print": {"print", common},
        "seal": {"seal"},
        "apply": {"apply"},
        "finish": {"finish"},
        "rescue": {"rescue"},
        "jobs": {"jobs"},
        "svg": {"svg", "layout-svg", common},
        "outlines": {"outlines", common},
        "letters": {"letters", "letters-raster", common},
        # It comes after letters, and brings the library that reads fonts.
        "fonts": {"fonts"},
    }


def test_a_part_is_fetched_only_once(own_engine, tmp_path):
    report = _ask(own_engine, tmp_path, "resolution", "seen-colour", "picture-check", "underlay", "resolution")
    assert {each["outcome"] for each in report["answers"]} == {"result"}
    packed = [each.rpartition("/")[2] for each in report["fetched"] if each.endswith(".packed")]
    # WebAssembly, snapshot, the five files of artwork, and two that only the underlay's calculators need.
    assert len(packed) == len(set(packed)) == 9


DRAWING = b'<svg width="4mm" height="2mm" viewBox="0 0 2 1"><path fill="#7a2232" d="M0 0L2 0L2 1Z"/></svg>'


@pytest.mark.parametrize("plain", [False, True], ids=["snapshot", "plain"])
@pytest.mark.parametrize(
    ("content", "waits", "outcome"),
    [
        pytest.param(DRAWING, False, "result", id="as-text"),
        # The reader itself says that it takes no packed file.
        pytest.param(gzip.compress(DRAWING), False, "problems", id="packed"),
        # The worker looks no further than a few kilobytes: then Python waits for the part.
        pytest.param(b"<!--" + b"x" * 10_000 + b"-->" + DRAWING, True, "result", id="late-in-the-file"),
    ],
)
def test_the_reader_of_drawings_comes_with_the_first_svg_file(own_engine, tmp_path, content, waits, outcome, plain):
    folder, config = own_engine
    path = tmp_path / "drawing.svg"
    path.write_bytes(content)
    files = {"picture": {"name": path.name, "path": str(path)}}
    # A small marking, which takes a tenth of the time.
    drawn = {"do": "answer", "calculator": "underlay", "inputs": {"width_mm": "4"}, "files": files}
    task = {"site": str(folder), "config": config, "plain": plain, "requests": [drawn, drawn]}
    # Without a drawing it does not come: the first test of this file sees that.
    report = run_node("ask.mjs", task, tmp_path)
    assert [each["outcome"] for each in report["answers"]] == [outcome, outcome], report["answers"]
    assert ("svg" in _parts(own_engine, report["fetched"])) != waits
    assert ("svg" in _parts(own_engine, report["waitedFor"])) == waits


def test_outer_edges_come_with_the_first_template(own_engine, part_asked):
    ids, report = part_asked("artwork", False)
    at = ids.index("placement-template")
    assert at > 0
    before, after = (report["reached"][each][0] for each in (at - 1, at))
    assert "outlines" not in _parts(own_engine, [*report["fetched"][:before], *report["waitedFor"]])
    assert "outlines" in _parts(own_engine, report["fetched"][:after])


#: All parts: a module that several share may be in any of them.
EVERY = "every part"


@pytest.mark.parametrize("plain", [False, True], ids=["snapshot", "plain"])
@pytest.mark.parametrize(
    ("id", "loads"),
    [
        ("of-a-stage", {"underlay", "white", "cutting"}),
        ("of-a-shared-package", EVERY),
    ],
)
def test_importing_a_module_loads_its_missing_part(larger_engine, tmp_path, id, loads, plain):
    report = _ask(larger_engine, tmp_path, id, "symptom-finder", plain=plain)
    assert [each["outcome"] for each in report["answers"]] == ["result", "result"], report["answers"]
    assert report["answers"][0]["result"]["got"] == STRAYING[id]
    assert _parts(larger_engine, report["fetched"]) == {"rescue"}
    parts = larger_engine[1]["parts"]
    loaded = {path.split("/")[1].split(".")[0] for each in (parts if loads is EVERY else loads) for path in parts[each]}
    assert _parts(larger_engine, report["waitedFor"]) == loaded - {"rescue"}


def test_importing_an_unknown_module_is_a_fault(larger_engine, tmp_path):
    [got] = _ask(larger_engine, tmp_path, "of-none")["answers"]
    assert got["outcome"] == "fault" and "there_is_none" in got["text"]


def test_migration_and_unknown_calculators_need_no_part(own_engine, tmp_path):
    folder, config = own_engine
    job = {"format": 1, "revision": 3, "calculators": {}}
    requests = [{"do": "migrate", "job": job}, {"do": "answer", "calculator": "there-is-none"}]
    report = run_node(
        "ask.mjs", {"site": str(folder), "config": config, "plain": False, "requests": requests}, tmp_path
    )
    migrated, unknown = report["answers"]
    assert migrated["outcome"] == "job" and migrated["job"]["revision"] == 3
    assert unknown["outcome"] == "fault" and "there-is-none" in unknown["text"]
    assert _parts(own_engine, report["fetched"]) == set()


@pytest.mark.parametrize("plain", [False, True], ids=["snapshot", "plain"])
def test_a_new_stage_barely_adds_to_other_pages(own_engine, larger_engine, tmp_path, plain):
    report = _ask(larger_engine, tmp_path, "takes-room", plain=plain)
    assert [each["outcome"] for each in report["answers"]] == ["result"], report["answers"]
    own = sum((larger_engine[0] / path).stat().st_size for path in larger_engine[1]["parts"]["sheet"])
    assert own >= 200_000
    for id in ("scale-size", "resolution"):
        before, after = (_weight(each, _ask(each, tmp_path, id, plain=plain)) for each in (own_engine, larger_engine))
        assert after - before <= 50_000


def _weight(engine, report: dict[str, Any]) -> int:
    """Return the compressed bytes of the fetched runtime files, including the configuration."""
    folder, config = engine
    scripts = [config["worker"], config["files"]["pyodide"], config["files"]["module"]]
    fetched = {f"engine/{each.rpartition('/engine/')[2]}" for each in report["fetched"] if "/engine/" in each}
    assert len(fetched) >= 3
    packed = sum(len(gzip.compress((folder / path).read_bytes(), 6)) for path in scripts)
    return (
        packed
        + len(gzip.compress(json.dumps(config).encode(), 6))
        + sum((folder / path).stat().st_size for path in fetched)
    )
