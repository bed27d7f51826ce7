"""The index: the numbers of BM25F by its formula, and the entries as they are."""

import math
from collections import Counter

import pytest

from calculators import tables
from calculators.rescue import symptom_index
from calculators.rescue.stems import stem, words
from calculators.rescue.symptom_index import FIELDS, FULL, built, opened
from calculators.tables.rows import Cause, Trouble


def entry(id, title, see, cause="Damp.", test="Look.", now="Wait.", said=()):
    return Trouble(
        id=id,
        title=title,
        stage="seal",
        see=see,
        causes=(Cause(cause=cause, test=test, now=now),),
        avoid=(),
        never=(),
        related=(),
        source=None,
        said=said,
    )


SMALL = [
    entry("veil", "White veil", "The seal is white and frosty.", said=("like frost on a window", "white fog", "misty")),
    entry(
        "silver",
        "Silver patches",
        "Silvery, silver spots under the film.",
        cause="Air.",
        test="Silver moves.",
        now="Prick the silver.",
    ),
    entry("tear", "The film tears", "A split.", now="Keep the film {soak}."),
]


def by_the_formula(entries, place, term):
    """Robertson and Zaragoza (2009), section 3.6: a weighted, length-normalised frequency
    over fields, then saturation with k1 = 4.
    """
    fields = [symptom_index._fields(each) for each in entries]
    counts = [{name: Counter(map(stem, words(text))) for name, text in each.items()} for each in fields]
    frequency = 0.0
    for name, (weight, slope) in FIELDS.items():
        lengths = [sum(each[name].values()) for each in counts]
        mean = max(1, sum(lengths) / len(lengths))
        frequency += weight * counts[place][name][term] / ((1 - slope) + slope * lengths[place] / mean)
    return frequency / (4 + frequency)


@pytest.mark.parametrize(("place", "term"), [(1, "silver"), (0, "white"), (0, "frost"), (2, "film"), (1, "film")])
def test_the_weight_of_a_word_in_an_entry(place, term):
    index = opened(built(SMALL))
    term = stem(term)
    found = index.term(term)
    block = dict(
        zip(
            index.places[found.start : found.start + found.count],
            index.impacts[found.start : found.start + found.count],
            strict=True,
        )
    )
    assert block[place] / FULL == pytest.approx(by_the_formula(SMALL, place, term), abs=1 / FULL)


def test_rarer_words_weigh_more():
    """ln(1 + (N - n + 0.5) / (n + 0.5)), the idf of Robertson and Zaragoza kept positive."""
    index = opened(built(SMALL))
    assert index.rarity(1) == pytest.approx(math.log(1 + 2.5 / 1.5))
    assert index.rarity(1) > index.rarity(2) > index.rarity(3) > 0


def test_titles_outweigh_tests_and_cures_do_not_count():
    titled = [
        entry("a", "Milky veil", "It."),
        entry("b", "Other", "It.", test="Milky water."),
        entry("c", "Third", "It.", now="Milky water."),
    ]
    index = opened(built(titled))
    found = index.term(stem("milky"))
    assert list(index.places[found.start : found.start + found.count]) == [0, 1]
    assert index.impacts[found.start] > 1.5 * index.impacts[found.start + 1]


def test_the_shipped_index_matches_the_entries():
    index = symptom_index.shipped()
    entries = tables.load("troubleshooting")
    assert index.ids == [each.id for each in entries]
    assert index.titles == [each.title for each in entries]
    assert index.stages == [each.stage for each in entries]
    assert index.see(len(entries) - 1) == entries[-1].see
    assert index.term("no-such-word") is None


def test_wait_names_are_not_words_of_entries():
    index = opened(built(SMALL))
    assert index.term("soak") is None


def test_an_index_without_entries():
    index = opened(built([]))
    assert (index.ids, dict(index.terms)) == ([], {})
