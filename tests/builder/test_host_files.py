"""What the code host is given: forms whose choices are ours, and workflows whose commands exist."""

import re
from pathlib import Path

import pytest
import yaml

from calculators.stages import STAGES

ROOT = Path(__file__).resolve().parents[2]
HOST = ROOT / ".github"
FORMS = sorted((HOST / "ISSUE_TEMPLATE").glob("[0-9]*.yml"))
WORKFLOWS = sorted((HOST / "workflows").glob("*.yml"))


def read(path):
    return yaml.safe_load(path.read_text("utf-8"))


@pytest.mark.parametrize("path", FORMS, ids=lambda path: path.stem)
def test_a_form_is_whole(path):
    form = read(path)
    assert {"name", "description", "body"} <= set(form)
    asked = [each for each in form["body"] if each["type"] != "markdown"]
    assert {each["type"] for each in asked} <= {"input", "textarea", "dropdown", "checkboxes"}
    ids = [each["id"] for each in asked]
    assert len(set(ids)) == len(ids)
    assert all(each["attributes"]["label"] for each in asked)
    assert any(each.get("validations", {}).get("required") for each in asked)


def test_the_form_for_an_entry_offers_the_nine_stages():
    body = {each.get("id"): each for each in read(HOST / "ISSUE_TEMPLATE" / "1-entry.yml")["body"]}
    assert body["stage"]["attributes"]["options"] == list(STAGES)


@pytest.mark.parametrize("path", WORKFLOWS, ids=lambda path: path.stem)
def test_a_workflow_calls_what_there_is(path):
    targets = set(re.findall(r"(?m)^([a-z]+):", (ROOT / "Makefile").read_text("utf-8")))
    workflow = read(path)
    steps = [step for job in workflow["jobs"].values() for step in job["steps"]]
    run = "\n".join(step.get("run", "") for step in steps)
    called = set(re.findall(r"\bmake ([a-z]+)\b", run))
    assert called - targets <= {"git"} and (called & targets or ".ci/run" in run)
    for script in re.findall(r"(?m)^(\.ci/\S+)$", run):
        assert (ROOT / script).is_file()
    assert workflow["permissions"]["contents"] == "read"
    assert all(re.fullmatch(r"[\w-]+/[\w-]+@v\d+", step["uses"]) for step in steps if "uses" in step)
    # No address of anything that is fetched: clients know their own.
    assert "http" not in path.read_text("utf-8")


def test_what_a_pull_request_is_asked_names_commands_that_exist():
    text = (HOST / "pull_request_template.md").read_text("utf-8")
    makefile = (ROOT / "Makefile").read_text("utf-8")
    assert all(re.search(rf"(?m)^{command}:", makefile) for command in re.findall(r"`make ([a-z]+)`", text))
