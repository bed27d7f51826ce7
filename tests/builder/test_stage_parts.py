"""The needs of each stage follow from the sources: imports, and the tables and data files that they name."""

from __future__ import annotations

from pathlib import Path

import pytest

from builder.runtime import APART, LATE, OWNERS, parts_of_modules
from builder.stage_parts import ENGINE, LIGHT, SMALL, needed_files, part_alone, parts, stages_of
from calculators import catalogue, tables
from calculators.job_requests import MODULE

SOURCES = {
    "calculators/__init__.py": "",
    "calculators/declare/__init__.py": "from pkgutil import iter_modules\nMODULES = [*iter_modules(__path__)]\n",
    "calculators/declare/number.py": "",
    "calculators/answer.py": "from calculators import declare, tables\nSHOWN = {'solvents': 1}\n",
    "calculators/__main__.py": "import calculators.size.width\n",
    "calculators/tables/__init__.py": "NAMES = ['scales', 'ways', 'solvents', 'coats']\n",
    "calculators/_tables/scales.json": "[]",
    "calculators/_tables/ways.json": "[]",
    "calculators/_tables/ways.names.json": "[]",
    "calculators/_tables/solvents.json": "[]",
    "calculators/_tables/coats.json": "[]",
    "calculators/colour/__init__.py": "",
    "calculators/colour/inks.py": "FILE = 'inks.bin'\n",
    "calculators/colour/inks.bin": "",
    "calculators/colour/mixing.py": (
        "from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    from calculators.colour.never import Kind\n"
    ),
    "calculators/colour/never.py": "",
    "calculators/size/__init__.py": "",
    "calculators/size/width.py": "from ..tables import NAMES\nfrom . import text\nASKED = dict(table='scales')\n",
    "calculators/size/text.py": "WAYS = 'ways'\n",
    "calculators/underlay/__init__.py": "",
    "calculators/underlay/whites.py": (
        "def compute():\n    import calculators.colour.inks\n    from calculators.colour import mixing\n"
        "    from calculators.colour.rare import found\n"
    ),
    "calculators/colour/rare.py": "import calculators.colour.rarer\nimport calculators.colour.mixing\n",
    "calculators/colour/rarer.py": "",
    "further/__init__.py": "",
    "further/bench.py": "import calculators.colour.mixing\n",
    "further/loose.dat": "",
}
CALCULATORS = {"calculators.size.width": "size", "calculators.underlay.whites": "underlay", "further.bench": "sheet"}
TABLES = ("scales", "ways", "solvents", "coats")
RARE = {"calculators.colour.rare": "rare"}


@pytest.fixture
def needed(tmp_path) -> dict[str, set[str]]:
    for name, text in SOURCES.items():
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text)
    found = needed_files(tmp_path, ["calculators", "further"], ["calculators.answer"], CALCULATORS, TABLES, RARE)
    return {name: set(stages) for name, stages in found.items()}


def test_imports_of_the_engine_belong_to_it(needed):
    assert sorted(name for name in needed if needed[name] == {ENGINE}) == [
        "calculators/__init__.py",
        "calculators/answer.py",
        "calculators/declare/__init__.py",
        "calculators/declare/number.py",
        "calculators/tables/__init__.py",
    ]


def test_imports_in_functions_and_relative_ones_are_followed(needed):
    assert needed["calculators/colour/inks.py"] == {"underlay"}
    assert needed["calculators/size/text.py"] == {"size"}


def test_a_shared_module_belongs_to_both_stages(needed):
    assert {"underlay", "sheet"} <= needed["calculators/colour/mixing.py"] == needed["calculators/colour/__init__.py"]


def test_a_late_module_and_what_it_alone_needs_are_a_part(needed):
    assert needed["calculators/colour/rare.py"] == needed["calculators/colour/rarer.py"] == {"rare"}
    assert needed["calculators/colour/mixing.py"] == {"underlay", "sheet", "rare"}


def test_a_late_module_that_is_imported_at_once_is_in_its_stage_too(needed, tmp_path):
    (tmp_path / "calculators/underlay/whites.py").write_text("import calculators.colour.rare\n")
    found = needed_files(tmp_path, ["calculators"], ["calculators.answer"], CALCULATORS, TABLES, RARE)
    assert found["calculators/colour/rarer.py"] == {"underlay", "rare"}


def test_a_late_part_of_one_stage_has_none_of_its_files(needed, tmp_path):
    owners = {"rare": "underlay"}
    found = needed_files(tmp_path, ["calculators"], ["calculators.answer"], CALCULATORS, TABLES, RARE, owners)
    assert found["calculators/colour/rare.py"] == found["calculators/colour/rarer.py"] == {"rare"}
    assert found["calculators/colour/mixing.py"] == {"underlay"}


def test_a_calculator_apart_leaves_out_what_has_come_before_it(needed, tmp_path):
    (tmp_path / "calculators/underlay/all_whites.py").write_text("from calculators.underlay import whites\n")
    apart = {"calculators.underlay.all_whites": "white"} | CALCULATORS
    owners = {"white": "underlay"}
    found = needed_files(tmp_path, ["calculators"], ["calculators.answer"], apart, TABLES, RARE, owners)
    assert found["calculators/underlay/all_whites.py"] == {"white"}
    assert found["calculators/underlay/whites.py"] == found["calculators/colour/inks.bin"] == {"underlay"}


def test_a_table_belongs_to_the_modules_naming_it(needed):
    assert needed["calculators/_tables/scales.json"] == {"size"}
    assert needed["calculators/_tables/ways.json"] == needed["calculators/_tables/ways.names.json"] == {"size"}
    assert not {"calculators/_tables/solvents.json", "calculators/_tables/coats.json"} & needed.keys()


def test_a_data_file_belongs_to_its_module_or_package(needed):
    assert needed["calculators/colour/inks.bin"] == {"underlay"}
    assert needed["further/loose.dat"] == {"sheet"}


def test_unused_modules_and_the_command_line_are_left_out(needed):
    assert not {"calculators/colour/never.py", "calculators/__main__.py"} & needed.keys()


def test_small_shared_files_are_duplicated_and_large_ones_separate():
    needed = {"a": {"size"}, "b": {"size", "rescue"}, "c": {"artwork", "size"}, "d": {"artwork", "size"}, "e": {ENGINE}}
    weights = {"a": 1, "b": SMALL, "c": SMALL, "d": 1, "e": 1}
    split = parts({name: frozenset(stages) for name, stages in needed.items()}, weights)
    assert split == {"artwork-size": ["c", "d"], "engine": ["e"], "rescue": ["b"], "size": ["a", "b"]}
    assert [stages_of(part) for part in split] == [["artwork", "size"], [], ["rescue"], ["size"]]


def test_light_pieces_that_mostly_load_together_are_one():
    needed = {"a": {"apply", "print", "seal", "size"}, "b": {"print", "rescue", "seal", "size"}, "c": {"print", "seal"}}
    weights = dict.fromkeys("abc", SMALL + 1)
    split = parts({name: frozenset(stages) for name, stages in needed.items()}, weights)
    assert split == {"apply-print-rescue-seal-size": ["a", "b"], "print-seal": ["c"]}
    heavy = parts({name: frozenset(stages) for name, stages in needed.items()}, weights | {"a": LIGHT + 1})
    assert [*heavy] == ["apply-print-seal-size", "print-rescue-seal-size", "print-seal"]


def test_every_project_file_gets_a_part():
    root = Path(__file__).resolve().parents[2]
    engine = ["calculators.answer", "calculators.catalogue"]
    found = needed_files(root, ["calculators"], engine, parts_of_modules(), tables.TABLES, LATE, OWNERS)
    own: dict[str, set[str]] = {}
    for id, each in catalogue.every().items():
        own.setdefault(each.stage, {each.stage}).add(APART.get(id, each.stage))
    for part, owner in OWNERS.items():
        own.get(owner, set()).add(part)
    for name, needing in found.items():
        folder = name.split("/")[1]
        assert folder not in own or needing <= own[folder], name
    assert found["calculators/colour/inks.bin"] == {"white"}
    assert found["calculators/files/picture.py"] == {ENGINE}
    # The sheet draws outlines whatever it is asked.
    assert found["calculators/files/svg_painting.py"] == {"svg", "layout"}


def test_no_page_of_a_calculator_but_the_sheet_loads_what_only_jobs_need():
    root = Path(__file__).resolve().parents[2]
    found = needed_files(root, ["calculators"], ["calculators.answer"], parts_of_modules(), tables.TABLES, LATE, OWNERS)
    assert "calculators/answer.py" in found
    of_jobs = {name: needing for name, needing in found.items() if name.startswith("calculators/jobs/")}
    assert set(of_jobs.values()) <= {frozenset({"layout"})}, of_jobs


def test_the_part_for_jobs_has_no_calculator_and_brings_its_tables():
    root = Path(__file__).resolve().parents[2]
    engine = ["calculators.answer", "calculators.catalogue"]
    files = part_alone(root, ["calculators"], engine, MODULE, tables.TABLES, LATE)
    folders = {name.split("/")[1] for name in files}
    assert {"calculators/jobs/requests.py", "calculators/jobs/migrate.py", "calculators/job_fields.py"} <= set(files)
    assert not folders & {*(each.stage for each in catalogue.every().values()), "pixels", "answer.py"}
    assert "calculators/jobs/commands.py" not in files


def test_a_part_of_its_own_leaves_out_what_functions_import(needed, tmp_path):
    files = part_alone(tmp_path, ["calculators"], ["calculators.answer"], "calculators.underlay.whites", TABLES, RARE)
    assert files == ["calculators/underlay/__init__.py", "calculators/underlay/whites.py"]
    files = part_alone(tmp_path, ["calculators"], ["calculators.answer"], "calculators.size.width", TABLES, RARE)
    assert "calculators/size/text.py" in files and "calculators/_tables/scales.json" in files
