"""Answers are stored between builds, and recalculated after a change of calculators or data."""

from pathlib import Path

import pytest

from builder.answers import Answers
from builder.worked import worked
from calculators import catalogue

CONTENT = Path(__file__).resolve().parents[2] / "content"
CREST = "demo/crest-200px.png"


@pytest.fixture
def content(tmp_path):
    (tmp_path / "content" / "demo").mkdir(parents=True)
    (tmp_path / "content" / CREST).write_bytes((CONTENT / CREST).read_bytes())
    return tmp_path / "content"


def asked(answers: Answers, id: str = "picture-check", **typed: str) -> bool:
    """Ask, and return whether the answer was calculated."""
    times = []

    def work_out():
        times.append(1)
        return "answer"

    assert answers.of(catalogue.find(id), "worked", typed, work_out) == "answer"
    return bool(times)


def test_the_same_question_is_answered_once(content, tmp_path):
    assert asked(Answers(content, tmp_path / "answers", "one"), picture=CREST, width_mm="14 mm")
    again = Answers(content, tmp_path / "answers", "one")
    assert not asked(again, picture=CREST, width_mm="14 mm")
    assert asked(again, picture=CREST, width_mm="15 mm")
    assert asked(again, "trace", picture=CREST, width_mm="14 mm")


def test_another_picture_of_the_same_name_is_another_question(content, tmp_path):
    assert asked(Answers(content, tmp_path / "answers", "one"), picture=CREST)
    (content / CREST).write_bytes((CONTENT / "demo" / "crest-600px-enlarged.png").read_bytes())
    assert asked(Answers(content, tmp_path / "answers", "one"), picture=CREST)


def test_answers_for_other_data_are_removed(content, tmp_path):
    assert asked(Answers(content, tmp_path / "answers", "one"), picture=CREST)
    assert asked(Answers(content, tmp_path / "answers", "two"), picture=CREST)
    assert [each.name for each in (tmp_path / "answers").iterdir()] == ["two"]


def test_no_folder_or_foreign_calculator_stores_no_answer(content, tmp_path, monkeypatch):
    assert asked(Answers(content)) and asked(Answers(content))
    compute = catalogue.find("full-size").compute
    monkeypatch.setattr(compute, "__module__", "workbench.full_size")
    answers = Answers(content, tmp_path / "answers", "one")
    assert asked(answers, "full-size") and asked(answers, "full-size")


def test_a_stored_answer_equals_the_fresh_one(tmp_path):
    calculator, typed = catalogue.find("underlay"), {"picture": CREST, "width_mm": "13.8 mm"}
    first, stored = (
        Answers(CONTENT, tmp_path, "one").of(calculator, "worked", typed, lambda: worked(CONTENT, calculator, typed))
        for _ in range(2)
    )
    assert stored == first
