"""The packed runtime has everything that calculators import, and stays within its weight."""

from __future__ import annotations

import ast
import gzip
import json
import os
import shutil
import sys
from pathlib import Path
from typing import Any

import pytest

from calculators import catalogue
from tests.engine.conftest import run_node
from tests.engine.made import build

ROOT = Path(__file__).resolve().parents[2]

#: What unpacks WOFF2 fonts: the worker loads it with the first of them.
_FOR_FONTS = {"brotli", "brotliWasm"}


def _ask(engine, tmp_path, *ids: str, plain: bool = False, asked: str = "yes") -> dict[str, Any]:
    site, config = engine
    requests = [
        {"do": "answer", "calculator": id, "inputs": {} if id == "resolution" else {"asked": asked}} for id in ids
    ]
    report = run_node("ask.mjs", {"site": str(site), "config": config, "plain": plain, "requests": requests}, tmp_path)
    assert [each["outcome"] for each in report["answers"]] == ["result"] * len(ids), report["answers"]
    return report


def test_unchanged_inputs_are_not_packed_again(larger_engine, package):
    folder, config = larger_engine
    without_node = os.pathsep.join(
        each for each in os.environ["PATH"].split(os.pathsep) if not (Path(each) / "node").exists()
    )
    assert build(folder, package, PATH=without_node) == config


@pytest.mark.parametrize("plain", [False, True])
def test_a_library_comes_with_the_part_of_its_calculator(larger_engine, tmp_path, plain):
    report = _ask(larger_engine, tmp_path, "needs-a-library", "resolution", plain=plain)
    assert report["answers"][0]["result"]["got"] == "dict"
    folder, config = larger_engine
    bringing = {path for path in _parts(config) if "iniconfig/__init__.pyc" in _packed(folder / path)}
    assert bringing == {*config["parts"]["rescue"]}


def test_imports_for_defaults_are_in_the_engine(larger_engine, tmp_path):
    assert _ask(larger_engine, tmp_path, "imports-late")["waitedFor"] == []


def test_a_late_import_is_read_from_the_library(larger_engine, tmp_path):
    report = _ask(larger_engine, tmp_path, "imports-late", "imports-late", asked="no")
    assert report["answers"][0]["result"]["got"] == "b"
    assert len(report["waitedFor"]) == 1 and larger_engine[1]["files"]["library"] in report["waitedFor"][0]


def test_what_dataclasses_are_made_of_was_compiled_when_it_was_packed(larger_engine, tmp_path):
    assert _ask(larger_engine, tmp_path, "is-ready-made")["answers"][0]["result"]["got"] == "[True, True]"


def test_of_pyodides_script_only_what_python_here_can_call_is_left(own_engine):
    site, config = own_engine
    script = (site / config["files"]["module"]).read_text("utf-8")
    # It begins with sound, windows and 3D drawing: "SDL" and "glGet" stand in it some thousand times.
    assert "createPyodide" not in script and "_emscripten_gl" not in script
    assert len(script) < 330_000


def test_random_numbers_differ_between_starts(larger_engine, tmp_path):
    drawn = [_ask(larger_engine, tmp_path, "draws-a-lot")["answers"][0]["result"]["got"] for _ in range(2)]
    assert drawn[0] != drawn[1]


def test_every_import_of_calculators_is_available(own_engine, tmp_path):
    site, config = own_engine
    named = set()
    packed = {name.removesuffix("c") for path in _parts(config) for name in _packed(site / path)}
    sources = {path for path in packed if path.endswith(".py") and (ROOT / path).is_file()}
    assert {f"{name.replace('.', '/')}.py" for name in catalogue.modules()} <= sources
    for path in sorted(sources):
        for node in ast.walk(ast.parse((ROOT / path).read_text("utf-8"))):
            if isinstance(node, ast.Import):
                named.update(each.name for each in node.names)
            elif isinstance(node, ast.ImportFrom) and not node.level:
                named.add(node.module)
    named = {each for each in named if each.partition(".")[0] in {"calculators", *sys.stdlib_module_names}}
    assert {"dataclasses", "json", "calculators.declare"} <= named
    # The library under the name that Python looks for.
    library = tmp_path / "library.zip"
    shutil.copyfile(site / config["files"]["library"], library)
    task = {
        "pyodide": str(ROOT / "node_modules" / "pyodide"),
        "library": str(library),
        "parts": [str(site / each) for each in sorted(_parts(config))],
        "modules": sorted(named),
    }
    assert run_node("imports.mjs", task, tmp_path) == []


def _packed(part: Path) -> list[str]:
    """Return the paths of the files in a part, from its head as theme/worker/parts.mjs describes it."""
    content = gzip.decompress(part.read_bytes())
    head = json.loads(content[4 : 4 + int.from_bytes(content[:4], "little")])
    return [path for path, _size in head]


def _parts(config: dict[str, Any]) -> set[str]:
    """Return the paths of all parts of our packages."""
    return {config["files"]["engine"], *(path for paths in config["parts"].values() for path in paths)}


def test_each_start_fits_the_page_weight_limit(own_engine):
    # 6 MB for a page with one calculator (tests/bench measures it), of which the page itself takes less than 0.2 MB.
    site, config = own_engine
    files = {name: (site / path).read_bytes() for name, path in config["files"].items()}
    assert set(files) == {"pyodide", "module", "wasm", "library", "engine", "snapshot", *_FOR_FONTS}
    scripts = len(gzip.compress(files["pyodide"])) + len(gzip.compress(files["module"]))
    for stage, parts in config["parts"].items():
        own = sum((site / part).stat().st_size for part in parts)
        for way in (("snapshot",), ("library", "engine")):
            assert scripts + len(files["wasm"]) + own + sum(len(files[each]) for each in way) < 5_800_000, (stage, way)
