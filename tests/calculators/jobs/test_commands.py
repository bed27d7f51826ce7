"""The command line for jobs, as a shell would use it."""

from __future__ import annotations

import json

import pytest

from calculators.__main__ import main
from calculators.jobs.archive import read_saved
from calculators.jobs.lists import written
from tests.calculators.jobs.made import FORMAT_2
from tests.conftest import ROOT

CREST = ROOT / "content" / "demo" / "crest-200px.png"


@pytest.fixture
def shell(tmp_path, capsys):
    def run(command: str, *arguments: str, json_output: bool = True) -> tuple[int, dict]:
        more = ["--json"] if json_output else []
        code = main(["job", command, str(tmp_path / "job.zip"), *arguments, *more])
        printed = capsys.readouterr().out
        return code, json.loads(printed) if json_output or code else printed

    return run


def test_a_job_is_made_filled_listed_and_checked(shell, tmp_path):
    assert shell("new", "--name", "Rowanskerry")[0] == 0
    code, reply = shell(
        "add", "--name", "Crest", "--width", "14,5 mm", "--model", "Railcar=1:43.5", "--picture", str(CREST)
    )
    assert (code, reply["result"]["markings"]) == (0, ["crest"])
    assert shell("add", "--partner-of", "crest", "--how", "mirrored", "--name", "Crest, right")[0] == 0
    code, reply = shell("list")
    assert [each["name"] for each in reply["result"]["markings"]] == ["Crest", "Crest, right"]
    code, reply = shell("check")
    rows = reply["result"]["markings"]
    assert code == 0 and [each["next"] for each in rows] == ["Print it", "Print it"]
    assert {each["calculator"] for each in rows[0]["stages"]} == {"scale-size", "resolution"}
    assert "crest" in shell("check", json_output=False)[1]
    saved = read_saved((tmp_path / "job.zip").read_bytes(), "job.zip")
    assert saved.job.marking("crest").width == "14,5 mm" and len(saved.measured) == 1


def test_a_list_is_added_and_written_back(shell, tmp_path):
    (tmp_path / "list.csv").write_text("Name;Width;Copies\nTürschild;12,5;2\nBand;30;1\n", "cp1252")
    assert shell("new")[0] == 0
    assert shell("add", "--csv", str(tmp_path / "list.csv"))[1]["result"]["markings"] == ["turschild", "band"]
    text = shell("list", "--csv", json_output=False)[1]
    job = read_saved((tmp_path / "job.zip").read_bytes(), "job.zip").job
    assert text == written(job.markings)


def test_columns_of_a_list_can_be_mapped(shell, tmp_path):
    (tmp_path / "list.csv").write_text("Titel;Breite\nBand;30\n")
    shell("new")
    code, reply = shell("add", "--csv", str(tmp_path / "list.csv"), "--map", "Titel=Name", "--map", "Breite=Width")
    assert (code, reply["result"]["markings"]) == (0, ["band"])


def test_a_fault_is_told_as_run_tells_it(shell, monkeypatch):
    shell("new")
    monkeypatch.setattr("calculators.jobs.commands.checked", lambda *_of: 1 / 0)
    code, reply = shell("check")
    assert (code, reply["outcome"]) == (1, "fault") and "ZeroDivisionError" in reply["text"]


def test_a_stored_job_of_format_2_becomes_a_file(shell, tmp_path):
    assert shell("new", "--from", str(FORMAT_2 / "job.json"))[0] == 0
    saved = read_saved((tmp_path / "job.zip").read_bytes(), "job.zip")
    assert [each.name for each in saved.job.markings] == ["Marking 1"]
    assert {path.name for path in (FORMAT_2 / "files").iterdir()} == set(saved.files)


@pytest.mark.slow
def test_stages_run_the_calculators_that_a_marking_has_inputs_for(shell):
    shell("new", "--from", str(FORMAT_2 / "job.json"))
    [row] = shell("check", "--stages")[1]["result"]["markings"]
    told = {each["calculator"]: each.get("problems", []) for each in row["stages"]}
    assert {"scale-size", "resolution", "underlay", "white-areas", "drawing-size"} <= set(told)
    assert not any(told.values())


@pytest.mark.parametrize(
    ("command", "arguments", "field"),
    [
        ("add", ("--name", "Crest", "--width", "wide"), "markings[0].width"),
        ("add", ("--name", ""), "markings[0].name"),
        ("add", ("--name", "Crest", "--model", "gone"), "markings[0].model"),
        ("add", ("--name", "Crest", "--copies", "-1"), "markings[0].copies"),
        ("add", ("--name", "Crest", "--picture", "/none.png"), ""),
        ("add", ("--partner-of", "gone"), "partner.of"),
        ("add", ("--name", "Crest", "--picture", str(ROOT / "LICENSE")), "picture"),
        ("new", (), ""),
    ],
)
def test_problems_have_the_exit_code_of_run_and_leave_the_job(shell, tmp_path, command, arguments, field):
    shell("new")
    before = (tmp_path / "job.zip").read_bytes()
    code, reply = shell(command, *arguments)
    assert (code, reply["outcome"]) == (2, "problems")
    assert [each["field"] for each in reply["problems"]] == [field]
    assert (tmp_path / "job.zip").read_bytes() == before


def test_a_list_with_mistakes_is_refused_as_a_whole(shell, tmp_path):
    (tmp_path / "list.csv").write_text("Name,Width\nCrest,14\nBand,wide\n")
    shell("new")
    code, reply = shell("add", "--csv", str(tmp_path / "list.csv"))
    assert code == 2 and [each["field"] for each in reply["problems"]] == ["row 3, Width"]
    assert shell("list")[1]["result"].get("markings", []) == []


def test_a_damaged_job_is_a_problem(shell, tmp_path):
    (tmp_path / "job.zip").write_bytes(b"PK\x03\x04 and no more")
    code, reply = shell("check")
    assert code == 2 and "job.zip is damaged" in reply["problems"][0]["text"]
