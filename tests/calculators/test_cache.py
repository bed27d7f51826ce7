"""The picture cache: entries by file and operation, within a limit of bytes."""

import json
from pathlib import Path

import pytest

from calculators.answer import answer
from calculators.cache import PICTURES, Cache, size_bytes

DEMO = Path(__file__).resolve().parents[2] / "content" / "demo"


def made(cache: Cache, source: str, operation: tuple, size: int) -> list[str]:
    """Ask for a value of ``size`` bytes and return the steps of its work: none if it was cached."""
    steps = []

    def work():
        yield "step"
        return bytes(size)

    asked = cache.worked_out(source, operation, work)
    while True:
        try:
            steps.append(next(asked))
        except StopIteration as end:
            made_of_it = end.value
            break
    assert len(made_of_it) == size
    return steps


def test_work_is_done_once_for_a_file_and_an_operation():
    cache = Cache()
    assert made(cache, "a", ("colours", 5.0), 10) == ["step"]
    assert made(cache, "a", ("colours", 5.0), 10) == []
    assert made(cache, "a", ("colours", 6.0), 10) == ["step"]
    assert made(cache, "b", ("colours", 5.0), 10) == ["step"]


def test_the_least_recently_used_entry_is_dropped_first():
    cache = Cache(most_bytes=2500)
    for source in ("a", "b", "a", "c"):
        made(cache, source, ("colours",), 1000)
    assert cache.held_bytes <= 2500
    assert made(cache, "a", ("colours",), 1000) == []
    assert made(cache, "b", ("colours",), 1000) == ["step"]


def test_results_over_the_limit_are_not_stored():
    cache = Cache(most_bytes=900)
    made(cache, "a", ("small",), 100)
    made(cache, "a", ("large",), 1000)
    assert made(cache, "a", ("small",), 100) == []
    assert made(cache, "a", ("large",), 1000) == ["step"]


def test_pixels_without_a_file_are_not_stored():
    cache = Cache()
    made(cache, "", ("colours",), 10)
    assert cache.held_bytes == 0


def test_failed_work_leaves_no_entry():
    cache = Cache()

    def fails():
        yield "step"
        raise ValueError("unreadable")

    with pytest.raises(ValueError, match="unreadable"):
        list(cache.worked_out("a", ("colours",), fails))
    assert made(cache, "a", ("colours",), 10) == ["step"]


def test_sizes_count_shared_objects_once_and_include_members():
    shared = bytes(10_000)
    assert 10_000 < size_bytes([shared, shared]) < 11_000
    assert size_bytes([bytes(100) for _ in range(5000)]) == pytest.approx(5000 * (133 + 8), rel=0.02)


def test_calculators_stay_within_the_cache_limit():
    PICTURES.clear()
    for name in ("crest-200px.png", "railcar-panel.png"):
        data = (DEMO / name).read_bytes()
        for calculator in ("picture-check", "white-areas", "underlay"):
            files = {"picture": {"name": name, "bytes": 0}}
            *_, (text, _) = answer(
                json.dumps({"do": "answer", "calculator": calculator, "inputs": {}, "files": files}), [data]
            )
            assert json.loads(text)["outcome"] == "result"
            assert 0 < PICTURES.held_bytes <= PICTURES.most_bytes
