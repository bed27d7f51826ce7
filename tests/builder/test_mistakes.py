"""How mistakes stop a build."""

import pytest

from builder.check import Mistake
from builder.mistakes import Mistakes, stop_for

FOUND = [Mistake("data/a.yaml", 3, 5, "one", "do this"), Mistake("data/b.yaml", 1, 1, "two", "do that")]


def test_nothing_found_stops_nothing(capsys):
    stop_for([])
    assert capsys.readouterr().out == ""


def test_all_mistakes_are_raised_together(monkeypatch, capsys):
    monkeypatch.delenv("GITHUB_ACTIONS", raising=False)
    with pytest.raises(Mistakes) as stopped:
        stop_for(FOUND)
    assert stopped.value.texts == ["data/a.yaml:3:5: one\nFix: do this", "data/b.yaml:1:1: two\nFix: do that"]
    assert capsys.readouterr().out == ""


def test_a_code_host_marks_the_lines(monkeypatch, capsys):
    monkeypatch.setenv("GITHUB_ACTIONS", "true")
    with pytest.raises(Mistakes):
        stop_for(FOUND)
    assert capsys.readouterr().out.splitlines() == [
        "::error file=data/a.yaml,line=3,col=5::one. Fix: do this",
        "::error file=data/b.yaml,line=1,col=1::two. Fix: do that",
    ]
