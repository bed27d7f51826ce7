"""Files for the code host: forms that offer our choices, and workflows whose commands exist."""

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
def test_issue_forms_are_complete(path):
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


def jobs_of(path):
    return read(path)["jobs"]


def steps_of(path):
    return [step for job in jobs_of(path).values() for step in job.get("steps", [])]


@pytest.mark.parametrize("path", WORKFLOWS, ids=lambda path: path.stem)
def test_a_workflow_calls_existing_targets(path):
    targets = set(re.findall(r"(?m)^([a-z]+):", (ROOT / "Makefile").read_text("utf-8")))
    run = "\n".join(step.get("run", "") for step in steps_of(path))
    called = set(re.findall(r"\bmake ([a-z]+)\b", run))
    assert called - targets <= {"git"} and (called & targets or ".ci/run" in run)
    for script in re.findall(r"(?m)^(\.ci/\S+)$", run):
        assert (ROOT / script).is_file()
    for job in jobs_of(path).values():
        assert "uses" not in job or (ROOT / job["uses"]).is_file()
    # No download addresses: package clients know their own.
    assert "http" not in path.read_text("utf-8")


@pytest.mark.parametrize("path", WORKFLOWS, ids=lambda path: path.stem)
def test_actions_are_pinned_by_commit_with_their_version_beside(path):
    used = re.findall(r"(?m)uses: (.*)$", path.read_text("utf-8"))
    assert used
    for each in used:
        assert re.fullmatch(r"\./\.github/workflows/\w+\.yml|[\w-]+/[\w-]+@[0-9a-f]{40} # v\d+\.\d+\.\d+", each), each
    hashes = {
        name: commit
        for other in WORKFLOWS
        for name, commit in re.findall(r"uses: ([\w-]+/[\w-]+)@(\w{40})", other.read_text("utf-8"))
    }
    for each in used:
        name, _, rest = each.partition("@")
        assert name.startswith("./") or rest.startswith(hashes[name]), "one version of an action everywhere"


@pytest.mark.parametrize("path", WORKFLOWS, ids=lambda path: path.stem)
def test_each_job_has_only_the_permissions_it_uses(path):
    assert read(path)["permissions"] == {}
    wanted = {
        ("check", "check"): {"contents": "read"},
        ("test", "check"): {"contents": "read"},
        ("test", "test"): {"contents": "read"},
        ("deploy", "test"): {"contents": "read"},
        ("deploy", "build"): {"contents": "read", "pages": "read"},
        ("deploy", "publish"): {"pages": "write", "id-token": "write"},
    }
    for name, job in jobs_of(path).items():
        assert job["permissions"] == wanted[path.stem, name]
        # A job with write permission runs none of our code.
        assert "write" not in job["permissions"].values() or not any("run" in step for step in job["steps"])
    assert all(
        step["with"]["persist-credentials"] is False
        for step in steps_of(path)
        if step.get("uses", "").startswith("actions/checkout")
    )


def test_nothing_is_published_before_every_test_has_passed():
    jobs = jobs_of(HOST / "workflows" / "deploy.yml")
    assert jobs["test"]["uses"] == "./.github/workflows/test.yml"
    assert (jobs["build"]["needs"], jobs["publish"]["needs"]) == ("test", "build")
    assert all("if" not in job for job in jobs.values())
    called = HOST / "workflows" / "test.yml"
    assert "workflow_call" in read(called)[True]  # YAML reads "on" as true
    assert steps_of(called)[-1]["env"] == {"CI": "true"}


def test_every_kind_of_package_is_kept_up_to_date():
    updates = read(HOST / "dependabot.yml")["updates"]
    kinds = {each["package-ecosystem"]: each.get("directories", [each.get("directory")]) for each in updates}
    assert kinds == {"github-actions": ["/"], "pip": ["/"], "npm": ["/", "/tests/corpus/long_run"]}
    for folder in kinds["npm"]:
        assert (ROOT / folder.strip("/") / "package-lock.json").is_file()


def test_what_a_pull_request_is_asked_names_commands_that_exist():
    text = (HOST / "pull_request_template.md").read_text("utf-8")
    makefile = (ROOT / "Makefile").read_text("utf-8")
    assert all(re.search(rf"(?m)^{command}:", makefile) for command in re.findall(r"`make ([a-z]+)`", text))
