"""Ways to get white beneath web pictures: what counts as a miss when they are measured.

python -m tests.corpus.measure_underlay asks about the pictures themselves.
"""

from tests.corpus.measure_underlay import is_without_a_way, reads_as_if_it_worked, too_small_mm, ways_of
from tests.corpus.test_web_pictures import PICTURES, sample
from tests.corpus.web_pictures import made


def test_records_without_a_way_or_with_a_wrong_headline_are_found():
    good = {"verdict": "too-fine", "level": "fail", "left": 2, "nearest": 0, "first": "Printed with white by a service"}
    assert not is_without_a_way(good) and not reads_as_if_it_worked(good)
    for change in ({"left": 0}, {"first": None}, {"no_answer": "a fault"}):
        assert is_without_a_way({**good, **change}), change
    for change in ({"verdict": "passes"}, {"level": "watch"}, {"no_answer": "a fault"}):
        assert reads_as_if_it_worked({**good, **change}), change


def test_web_pictures_leave_a_way_to_get_white_beneath():
    """Every sixth picture of the sample; the command asks about all."""
    cases = sample()[::6]
    records = [ways_of(case, made(case)) for case in cases]
    assert len(records) == PICTURES // 6
    assert [record for record in records if is_without_a_way(record)] == []


def test_lettering_too_fine_for_any_printer_leaves_a_way_and_says_so():
    case = next(case for case in sample() if case.drawing.startswith("own/shield") and too_small_mm(case))
    record = ways_of(case, made(case), too_small_mm(case))
    assert not is_without_a_way(record) and not reads_as_if_it_worked(record)
