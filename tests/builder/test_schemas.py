"""The schemas for editors: current, valid for every shipped file, and rejecting the usual mistakes."""

import json
from pathlib import Path

import pytest
import yaml
from jsonschema import Draft7Validator

from builder.schemas import FOLDER, schema, write_schemas
from calculators.tables import FOLDERS, TABLES
from tests.builder.tables import FILES, FOLDER_FILES, TROUBLE

ROOT = Path(__file__).resolve().parents[2]


def test_the_committed_schemas_are_current(tmp_path):
    made = {path.name: path.read_text("utf-8") for path in write_schemas(tmp_path)}
    stored = {path.name: path.read_text("utf-8") for path in (ROOT / FOLDER).glob("*.json")}
    assert stored == made, "run: python -m builder settle"


@pytest.mark.parametrize("table", TABLES)
def test_a_schema_is_one_and_holds_for_the_shipped_rows(table):
    Draft7Validator.check_schema(schema(table))
    paths = sorted((ROOT / "data" / table).glob("*.yaml")) if table in FOLDERS else [ROOT / "data" / f"{table}.yaml"]
    assert paths
    for path in paths:
        up = "../" if table in FOLDERS else ""
        assert path.read_text("utf-8").startswith(f"# yaml-language-server: $schema={up}schemas/{table}.json\n"), path
        errors = Draft7Validator(schema(table)).iter_errors(yaml.safe_load(path.read_text("utf-8")))
        assert [f"{path.name} {list(each.absolute_path)}: {each.message}" for each in errors] == []


@pytest.mark.parametrize("table", FILES)
def test_the_example_rows_hold(table):
    Draft7Validator(schema(table)).validate(yaml.safe_load(FILES[table]))


@pytest.mark.parametrize("table", FOLDER_FILES)
def test_the_example_files_hold(table):
    for text in FOLDER_FILES[table].values():
        Draft7Validator(schema(table)).validate(yaml.safe_load(text))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("stage: seal", "stage: seel"),
        ("stage: seal", "stage: seal\nid: milky"),
        ('veil under the seal"', 'veil under the seal."'),
        ("it was sprayed.", "it was sprayed"),
        ('    test: "It came within a minute of the pass."\n', ""),
        ('"Damp air."', '"Damp air"'),
        ("never: [", 'never: ["A.", "B.", "C.", "D.", '),
        ("related: [ink-runs]", "related: []"),
        ("source: common-practice", "source: common-practice\nstatus: read"),
    ],
)
def test_the_usual_mistakes_of_an_entry_are_underlined(old, new):
    assert old in TROUBLE
    assert not Draft7Validator(schema("troubleshooting")).is_valid(yaml.safe_load(TROUBLE.replace(old, new, 1)))


@pytest.mark.parametrize(
    ("table", "old", "new"),
    [
        ("papers", "  label:", "  lable:"),
        ("papers", '  label: "A4"\n', ""),
        ("papers", 'label: "A4"', "label: 4"),
        ("papers", 'label: "A4"', 'label: "A4 "'),
        ("papers", 'label: "A4"', 'label: "<b>A4</b>"'),
        ("papers", "id: a4", "id: A4 Sheet"),
        ("papers", "    unit: mm", "    unit: cm"),
        ("papers", "    value: 297", "    value: 29700"),
        ("papers", "    value: 297", '    value: "297"'),
        ("papers", "    status: read\n", ""),
        ("papers", "    status: read", "    status: red"),
        ("papers", "low: 209, high: 210", "low: 209"),
        ("papers", "low: 209, high: 210", "value: 210, low: 209, high: 210"),
        ("papers", ', at: "A series"}', "}"),
        ("papers", "source: common-practice}\n  height", "source: common-practice, status: read}\n  height"),
        ("scales", "kinds: [aircraft, ship]", "kinds: []"),
        ("scales", "kinds: [aircraft, ship]", "kinds: [boat]"),
        ("printers", "prints_white: false", 'prints_white: "no"'),
        ("sources", "year: 2007", "year: 207"),
        ("sources", "read: copy", "read: copy\n  url: http://example.org"),
        ("drying-times", "unit: min", "unit: minutes"),
        ("drying-times", "  status: read\n", ""),
        ("fluids", "verdict: safe", "verdict: mostly"),
        ("fluids", "printers/laser", "scales/laser"),
        ("solvents", "status: read}\n  through", "status: memory}\n  through"),
        ("solvents", 'source: {ref: iso-216, at: "REL"}, status: read', "source: common-practice"),
    ],
)
def test_the_usual_mistakes_are_underlined(table, old, new):
    assert old in FILES[table]
    spoilt = yaml.safe_load(FILES[table].replace(old, new, 1))
    assert not Draft7Validator(schema(table)).is_valid(spoilt)


def test_a_forwarding_row_is_a_row():
    validator = Draft7Validator(schema("papers"))
    assert validator.is_valid([{"id": "a4-sheet", "now": "a4"}])
    assert not validator.is_valid([{"id": "a4-sheet", "now": "a4", "label": "A4"}])


def test_a_schema_explains_each_part():
    parts = json.loads(json.dumps(schema("papers")))["items"]["else"]["properties"]
    assert parts["width"]["description"] == "Width: of the upright sheet. Unit: mm."
