"""Ways to get white beneath web pictures: what counts as a miss when they are measured.

python -m tests.corpus.measure_underlay asks about the pictures themselves.
"""

from tests.corpus.measure_underlay import is_without_a_way, reads_as_if_it_worked


def test_records_without_a_way_or_with_a_wrong_headline_are_found():
    good = {"verdict": "too-fine", "level": "fail", "left": 2, "nearest": 0, "first": "Printed with white by a service"}
    assert not is_without_a_way(good) and not reads_as_if_it_worked(good)
    for change in ({"left": 0}, {"first": None}, {"no_answer": "a fault"}):
        assert is_without_a_way({**good, **change}), change
    for change in ({"verdict": "passes"}, {"level": "watch"}, {"no_answer": "a fault"}):
        assert reads_as_if_it_worked({**good, **change}), change
