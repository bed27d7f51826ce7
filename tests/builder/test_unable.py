"""A machine that cannot build the site gets one sentence, without a trace."""

import pytest

import builder.site
from builder.__main__ import main
from builder.node import RuntimeFault
from builder.packages import PackageMissing


def output_for(error, monkeypatch, tmp_path, capsys) -> tuple[int, str]:
    """Return the exit code of a build that fails with ``error``, and what it says on standard error."""

    def prepare(*_, **__):
        raise error

    monkeypatch.setattr(builder.site, "prepare", prepare)
    code = main(["build", "--out", str(tmp_path / "site"), "--scratch", str(tmp_path / "build")])
    return code, capsys.readouterr().err


def test_a_missing_tool_prints_one_message(monkeypatch, tmp_path, capsys):
    for error in (
        RuntimeFault("node is not on PATH (run make setup)"),
        PackageMissing("no-such: a calculator needs it, but it is not installed"),
    ):
        assert output_for(error, monkeypatch, tmp_path, capsys) == (1, f"The site was not made: {error}\n")


def test_a_fault_of_the_builder_itself_keeps_its_trace(monkeypatch, tmp_path, capsys):
    with pytest.raises(ZeroDivisionError):
        output_for(ZeroDivisionError(), monkeypatch, tmp_path, capsys)
