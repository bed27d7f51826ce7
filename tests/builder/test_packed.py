"""Pyodide is asked again exactly for what depends on what has changed."""

from __future__ import annotations

import json
import zipfile
from dataclasses import replace
from pathlib import Path

import pytest

from builder import packed
from builder.packed import Inputs, Library, Split
from builder.stored import Stored

SOURCES = {
    "ours/calculators/__init__.py": "",
    "ours/calculators/size.py": "WIDTH = 1",
    "ours/calculators/jobs.py": "import csv",
    "ours/calculators/vapour.py": "",
    "ours/calculators/table.json": "[]",
    "ours/further/__init__.py": "",
    "ours/further/bench.py": "import calculators.size",
    "pyodide/pyodide.mjs": "",
    "pyodide/pyodide.asm.mjs": "",
    "pyodide/pyodide.asm.wasm": "",
    "pyodide/pyodide-lock.json": "{}",
    "made/none": "",
}
NEEDED = {
    "calculators/__init__.py": ["engine"],
    "calculators/size.py": ["size"],
    "calculators/table.json": ["size"],
}
SPLIT = Split(NEEDED, "jobs", ["calculators/jobs.py"])
#: What a survey of our own packages finds, in the place of Pyodide.
SURVEYED = {
    "imported": ["calc", "json", "socket"],
    "texts": {},
    "library": ["csv", "json", "logging", "socket", "ssl"],
}
#: What else is imported when something is asked.
IMPORTED = {"jobs": ["csv", "json"], "library fonts": ["fontlib", "logging"], "calculator bench": ["csv"]}
#: Files of ours that are used when something is asked, in truth.
USED = {"calculator size": ["calculators/size.py"]}


class Recorded:
    """Stands in for Pyodide: records what it is asked, and writes something for each."""

    def __init__(self, made: Path) -> None:
        self.made = made
        self.asked: list[str] = []

    def ask(self, request):
        if "script" not in request:
            self.asked += request["asks"]
            asked = {
                what: {"imported": IMPORTED.get(what, []), "texts": {}, "used": USED.get(what, [])}
                for what in request["asks"]
            }
            return {"report": None, "asked": asked}
        values = request["globals"]
        if request["script"].endswith("survey.py"):
            self.asked.append(f"survey of {' '.join(values['packages'])}")
            return {"report": {**SURVEYED, "every": SURVEYED["imported"]}, "asked": {}}
        for number, each in enumerate(values["modules"]):
            self.asked.append(each["name"])
            (self.made / str(number)).write_text(json.dumps(each))
        if not values["modules"]:
            self.asked.append(f"library of {' '.join(values['names'])}")
            (self.made / "library.zip").write_text(values["ready_made"])
        return {"report": 0, "asked": {}}


def zipped(path: Path, **modules: str) -> Path:
    with zipfile.ZipFile(path, "w") as archive:
        for name, source in modules.items():
            archive.writestr(zipfile.ZipInfo(f"{name}.py"), source)
    return path


@pytest.fixture
def inputs(tmp_path) -> Inputs:
    for name, text in SOURCES.items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(text)
    sources = zipped(tmp_path / "sources.zip", csv="0", json="1", logging="2", socket="3", ssl="4")
    fonts = Library(zipped(tmp_path / "fonts.zip", fontlib="5", unused="6"), ["calculators.size"])
    own = {
        "size": ["calculators/__init__.py", "calculators/size.py", "calculators/table.json"],
        "vapour": ["calculators/__init__.py", "calculators/vapour.py"],
    }
    return Inputs(tmp_path / "pyodide", sources, tmp_path / "ours", [], own, [], [], [], [], {"fonts": fonts})


@pytest.fixture
def asked(tmp_path, inputs):
    """Pack, and return what Pyodide was asked and what was packed."""

    def pack(inputs: Inputs = inputs, split: Split = SPLIT):
        python = Recorded(tmp_path / "made")
        stored = Stored(tmp_path / "stored")
        result = packed._Packer(python, tmp_path / "made", inputs, stored).packed(split)
        return sorted(python.asked), result

    return pack


SURVEY = ["jobs", "library fonts", "survey of calculators"]
ALL = [
    "calculator size",
    "calculator vapour",
    "calculators/__init__.py",
    "calculators/jobs.py",
    "calculators/size.py",
    "csv.py",
    "jobs",
    # What a page never needs is left out, unless Python itself has it at the start.
    "library fonts",
    "library of csv.py json.py socket.py",
    "survey of calculators",
]


def test_everything_is_asked_once(asked):
    first, result = asked()
    assert first == sorted(ALL)
    again, stored = asked()
    assert again == [] and stored == result
    assert result.engine == ["calculators"] and result.used == ["json", "socket"]
    assert sorted(result.parts) == ["engine", "jobs", "size"]


def test_a_changed_module_is_compiled_alone_and_its_calculators_asked(asked, inputs):
    asked()
    (inputs.ours / "calculators" / "size.py").write_text("WIDTH = 2")
    assert asked()[0] == ["calculator size", "calculators/size.py", *SURVEY]


def test_changed_data_asks_its_calculators_and_changes_its_part(asked, inputs):
    _first, before = asked()
    (inputs.ours / "calculators" / "table.json").write_text("[1]")
    got, after = asked()
    assert got == ["calculator size", *SURVEY]
    assert [name for name in before.parts if before.parts[name] != after.parts[name]] == ["size"]


def test_a_new_file_is_surveyed(asked, inputs):
    asked()
    (inputs.ours / "calculators" / "more.json").write_text("[]")
    assert asked()[0] == SURVEY


def test_an_answer_that_used_other_files_depends_on_all(asked, inputs, monkeypatch):
    monkeypatch.setitem(USED, "calculator vapour", ["calculators/table.json"])
    asked()
    assert asked()[0] == []
    (inputs.ours / "calculators" / "jobs.py").write_text("import json")
    assert asked()[0] == ["calculator vapour", "calculators/jobs.py", *SURVEY]


@pytest.mark.parametrize("name", ["pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm", "pyodide-lock.json"])
def test_another_pyodide_is_asked_for_everything(asked, inputs, name):
    asked()
    (inputs.pyodide / name).write_text("{ }")
    assert asked()[0] == ALL


def test_another_library_of_python_is_asked_for_everything(asked, inputs):
    asked()
    zipped(inputs.sources, csv="0", json="1", logging="2", socket="3", ssl="5")
    assert asked()[0] == ALL


@pytest.mark.parametrize("name", ["survey.py", "pack.py", "pack.mjs", "task.mjs", "ready_made.py"])
def test_changed_scripts_do_their_own_work_again(asked, tmp_path, monkeypatch, name):
    scripts = tmp_path / "scripts"
    scripts.mkdir()
    for each in packed.SCRIPTS.iterdir():
        if each.is_file():
            (scripts / each.name).write_bytes(each.read_bytes())
    for attribute, path in (("SCRIPTS", scripts), ("_SURVEY", scripts / "survey.py"), ("_PACK", scripts / "pack.py")):
        monkeypatch.setattr(packed, attribute, path)
    asked()
    with (scripts / name).open("a") as script:
        script.write("\n")
    of_library = [each for each in ALL if each.startswith("library of")]
    of_survey = [each for each in ALL if each.startswith(("calculator ", "survey")) or each in SURVEY]
    compiled = [each for each in ALL if each not in of_survey]
    assert asked()[0] == {"survey.py": of_survey, "pack.py": compiled, "ready_made.py": of_library}.get(name, ALL)


def test_what_dataclasses_execute_belongs_to_their_module(asked, inputs, monkeypatch):
    asked()
    (inputs.ours / "calculators" / "table.json").write_text("[2]")
    monkeypatch.setitem(SURVEYED, "texts", {"calculators.size": ["def __init__(self): pass"]})
    assert asked()[0] == ["calculator size", "calculators/size.py", *SURVEY]


def test_what_python_imports_at_the_start_is_in_its_library(asked, inputs, monkeypatch):
    asked()
    (inputs.ours / "calculators" / "table.json").write_text("[3]")
    monkeypatch.setitem(SURVEYED, "imported", ["json", "socket", "ssl"])
    # And so every calculator is asked, which may import something that was there before.
    again = ["calculator size", "calculator vapour", "library of csv.py json.py socket.py ssl.py", *SURVEY]
    assert asked()[0] == sorted(again)


def test_a_late_part_brings_its_library(asked, inputs):
    split = replace(SPLIT, needed={**NEEDED, "calculators/size.py": ["fonts"]})
    got, result = asked(split=split)
    assert got == sorted([*ALL, "fontlib.py", "logging.py"])
    zipped(inputs.libraries["fonts"].sources, fontlib="7", unused="6")
    assert asked(split=split)[0] == sorted(["calculator size", "calculator vapour", "fontlib.py", *SURVEY])
    assert b"library/fontlib.pyc" in result.parts["fonts"]


def test_included_packages_are_surveyed_after_ours(asked, inputs):
    asked()
    library = inputs.ours / "other" / "__init__.py"
    library.parent.mkdir()
    library.write_text("8")
    including = replace(inputs, include=["further"], included=["bench"], needs=["other"])
    got, result = asked(including)
    assert got == ["calculator bench", "survey of further"]
    # What all pages have by then comes with no part.
    assert result.used == ["csv", "json", "socket"] and b"csv.pyc" not in result.parts["jobs"]
    (inputs.ours / "further" / "bench.py").write_text("")
    assert asked(including)[0] == ["calculator bench", "survey of further"]
    library.write_text("9")
    assert asked(including)[0] == ["calculator bench", "survey of further"]
    (inputs.ours / "calculators" / "size.py").write_text("WIDTH = 3")
    assert asked(including)[0] == sorted(
        ["calculator bench", "calculator size", "calculators/size.py", *SURVEY, "survey of further"]
    )
