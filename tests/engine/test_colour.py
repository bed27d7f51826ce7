"""Colours are the same numbers in Pyodide as natively, within 1e-9."""

from __future__ import annotations

from tests.same_numbers import COLOURS_ASKED, check_same


def test_numbers_are_those_of_the_command_line(ask_all):
    answers = ask_all(COLOURS_ASKED)["answers"]
    assert [each["outcome"] for each in answers] == ["result"] * len(COLOURS_ASKED)
    check_same(COLOURS_ASKED, [each["result"] for each in answers])
