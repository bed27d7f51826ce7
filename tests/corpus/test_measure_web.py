"""The run over the web pictures goes on after a stop, and measures again what other code produced."""

import json

import pytest

from tests.corpus import measure_web
from tests.corpus.web_design import Case

CASES = [
    Case("own/gradient-0", 120, "cairo"),
    Case("own/gradient-0", 120, "resvg"),
    Case("own/gradient-1", 120, "cairo"),
]


@pytest.fixture
def asked(monkeypatch):
    """Judge in this process without pictures, and tell which cases were judged."""
    ids = []

    class Here:
        def __enter__(self):
            return self

        def __exit__(self, *_):
            pass

        def Pool(self, _count):
            return self

        def imap_unordered(self, _judge, groups):
            for group in groups:
                ids.extend(case.id for case in group)
                yield [{"id": case.id, "size": case.size_px} for case in group]

    monkeypatch.setattr(measure_web, "get_context", lambda _kind: Here())
    return ids


def test_measured_pictures_are_not_repeated(asked, tmp_path):
    file = tmp_path / "kept" / "records.jsonl"
    first = measure_web.measured(CASES[:1], file)
    assert [each["id"] for each in first] == [CASES[0].id]
    every = measure_web.measured(CASES, file)
    assert asked[0] == CASES[0].id and sorted(asked) == sorted(case.id for case in CASES)
    assert [each["id"] for each in every] == [case.id for case in CASES]
    assert sum(map(bool, file.read_text().splitlines())) == 3


def test_a_truncated_record_is_measured_again(asked, tmp_path):
    file = tmp_path / "records.jsonl"
    file.write_text(json.dumps({"id": CASES[0].id}) + "\n" + json.dumps({"id": CASES[1].id})[:-4])
    measure_web.measured(CASES[:2], file)
    assert asked == [CASES[1].id]
    asked.clear()
    measure_web.measured(CASES[:2], file)
    assert asked == []


def test_a_run_that_is_interrupted_returns_what_it_has(asked, monkeypatch, tmp_path):
    def stop(_file, _found):
        raise KeyboardInterrupt

    monkeypatch.setattr(measure_web, "_keep", stop)
    assert 1 <= len(measure_web.measured(CASES, tmp_path / "records.jsonl")) < 3


def test_pictures_of_one_drawing_go_to_one_process():
    assert sorted(len(group) for group in measure_web.groups(CASES)) == [1, 2]


def test_the_name_of_the_records_changes_with_a_calculator(monkeypatch, tmp_path):
    (tmp_path / "calculators").mkdir()
    (tmp_path / "calculators" / "one.py").write_text("1")
    monkeypatch.setattr(measure_web, "ROOT", tmp_path)
    before = measure_web.fingerprint()
    assert measure_web.fingerprint() == before
    (tmp_path / "calculators" / "one.py").write_text("2")
    assert measure_web.fingerprint() != before


def test_a_run_reports_day_half_and_count():
    record = {
        "size": 120,
        "renderer": "cairo",
        "quality": 0,
        "again": False,
        "file": "PNG",
        "factor": 1.0,
        "enlarged": "no",
        "damage_told": False,
        "damaged_share": 0.0,
    }
    page = measure_web.page_of([record], "test", 20, ["openmoji"], "2026-01-31")
    assert [page[each] for each in ("measured", "half", "pictures", "in_all", "without")] == [
        "2026-01-31",
        "test",
        1,
        20,
        ["openmoji"],
    ]
    assert {each["reached"] for each in page["figures"] if each["name"] == "originals called enlarged"} == {0.0}
