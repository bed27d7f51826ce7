"""A missing tool skips a test on a contributor's machine and fails it in CI."""

import re
from pathlib import Path

import pytest

from tests.tools import program, without

ROOT = Path(__file__).resolve().parents[1]


def test_a_missing_program_skips_with_what_to_install(monkeypatch):
    monkeypatch.delenv("CI", raising=False)
    with pytest.raises(
        pytest.skip.Exception, match=r"There is no no-such-program on PATH\. .*apt-get install no-such-package"
    ):
        program("no-such-program", package="no-such-package")


def test_a_missing_program_fails_in_ci(monkeypatch):
    monkeypatch.setenv("CI", "true")
    with pytest.raises(pytest.fail.Exception, match="There is no no-such-program"):
        program("no-such-program", package="no-such-package")


def test_the_first_available_program_is_used():
    assert Path(program("no-such-program", "sh", package="dash")).name == "sh"


def test_ci_that_is_switched_off_skips(monkeypatch):
    monkeypatch.setenv("CI", "false")
    with pytest.raises(pytest.skip.Exception):
        without("There is nothing.")


def test_no_test_skips_by_another_way():
    skips = re.compile(r"pytest\.skip\(|skipif|importorskip|unittest\.skip|mark\.skip")
    found = [
        path.relative_to(ROOT).as_posix()
        for path in (ROOT / "tests").rglob("*.py")
        if skips.search(path.read_text("utf-8"))
    ]
    assert sorted(found) == ["tests/test_tools.py", "tests/tools.py"]


def test_the_marker_takes_effect(pytester, monkeypatch):
    """The hook of tests/conftest.py, in a session of its own."""
    pytester.makeconftest(
        "from tests.conftest import pytest_runtest_setup  # noqa: F401 - the hook is found by its name\n"
    )
    pytester.makeini("[pytest]\nmarkers = needs: a program\n")
    pytester.makepyfile(
        "from tests.tools import needs\n@needs('no-such-program', 'p')\ndef test_it(): pass\n@needs('sh', 'dash')\n"
        "def test_other(): pass\n"
    )
    monkeypatch.setenv("PYTHONPATH", str(ROOT))
    monkeypatch.delenv("CI", raising=False)
    pytester.runpytest_subprocess("-p", "no:cacheprovider").assert_outcomes(passed=1, skipped=1)
    monkeypatch.setenv("CI", "true")
    pytester.runpytest_subprocess("-p", "no:cacheprovider").assert_outcomes(passed=1, errors=1)
