"""python -m builder check as a command: every mistake with its place, annotated in CI, never a trace."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def project(tmp_path):
    """A copy of everything the check needs."""
    for name in ("builder", "calculators", "data"):
        shutil.copytree(ROOT / name, tmp_path / name, ignore=shutil.ignore_patterns("__pycache__"))
    return tmp_path


def run(project, *, github="") -> subprocess.CompletedProcess:
    environment = {**os.environ, "GITHUB_ACTIONS": github, "PYTHONPATH": str(project)}
    return subprocess.run(
        [sys.executable, "-m", "builder", "check"],
        cwd=project,
        env=environment,
        capture_output=True,
        text=True,
        check=False,
    )


def test_data_in_order(project):
    ran = run(project)
    assert (ran.returncode, ran.stdout, ran.stderr) == (
        0,
        "The data is in order. CONTRIBUTING.md says how to send it\n",
        "",
    )


def test_mistakes_are_printed_and_annotated_on_their_lines(project):
    papers, printers = project / "data" / "papers.yaml", project / "data" / "printers.yaml"
    papers.write_text(papers.read_text("utf-8").replace('  label: "A3"', '  lable: "A3"'), "utf-8")
    printers.write_bytes(b"\xff\xfe\x00")
    line = papers.read_text("utf-8").split("\n").index('  lable: "A3"') + 1
    ran = run(project, github="true")
    assert ran.returncode == 1
    assert ran.stderr == (
        f"data/papers.yaml:{line}:3: 'lable' is no part of a row here\nFix: did you mean 'label:'?\n"
        "data/printers.yaml:1:1: the file is UTF-16\nFix: save the file as UTF-8\n2 to put right\n"
    )
    assert ran.stdout == (
        f"::error file=data/papers.yaml,line={line},col=3::'lable' is no part of a row here. Fix: did you mean "
        "'label:'?\n"
        "::error file=data/printers.yaml,line=1,col=1::the file is UTF-16. Fix: save the file as UTF-8\n"
    )
    assert run(project).stdout == ""
