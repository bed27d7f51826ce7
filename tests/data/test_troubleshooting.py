"""The troubleshooting entries together: enough of them, at all stages, without duplicates.

Likeness is the cosine of two entries as vectors of weighted words (Manning, Raghavan, Schütze, Introduction to
Information Retrieval, 2008, section 6.4: logarithmic term frequency times inverse document frequency).
"""

import math
import re
from collections import Counter
from itertools import combinations

import numpy
import pytest

from calculators import tables
from calculators.stages import STAGES

ENTRIES = tables.load("troubleshooting")
#: Maximum likeness of two entries, by symptom and by whole text; the shipped ones stay below 0.42.
MOST_ALIKE = 0.5


def seen(entry):
    return f"{entry.title} {entry.see}"


def sentences(entry):
    return [
        entry.see,
        *(part for each in entry.causes for part in (each.cause, each.test, each.now)),
        *entry.avoid,
        *entry.never,
    ]


def whole(entry):
    return " ".join([entry.title, *sentences(entry)])


def likeness(texts):
    counts = [Counter(re.findall(r"[a-z]+", text.lower())) for text in texts]
    places = {word: place for place, word in enumerate(sorted({word for each in counts for word in each}))}
    weights = numpy.zeros((len(texts), len(places)))
    for row, each in enumerate(counts):
        for word, times in each.items():
            weights[row, places[word]] = 1 + math.log(times)
    weights *= numpy.log(len(texts) / (weights > 0).sum(axis=0))
    weights /= numpy.linalg.norm(weights, axis=1, keepdims=True)
    return weights @ weights.T


def alike(entries, part):
    found = likeness([part(each) for each in entries])
    return [
        f"{entries[a].id} and {entries[b].id}: {found[a, b]:.2f}"
        for a, b in combinations(range(len(entries)), 2)
        if found[a, b] > MOST_ALIKE
    ]


def test_there_are_entries_at_every_stage():
    assert len(ENTRIES) >= 60
    by_stage = Counter(each.stage for each in ENTRIES)
    assert min(by_stage[stage] for stage in STAGES) >= 3, by_stage


@pytest.mark.parametrize("part", [seen, whole])
def test_no_two_entries_are_nearly_the_same(part):
    assert alike(ENTRIES, part) == []


@pytest.mark.parametrize("place", range(0, len(ENTRIES), 8))
def test_a_lightly_reworded_duplicate_is_detected(place):
    entry = ENTRIES[place]

    def changed(text):
        return " ".join("otherwise" if number % 6 == 5 else word for number, word in enumerate(text.split()))

    causes = tuple(type(each)(**{name: changed(text) for name, text in vars(each).items()}) for each in entry.causes)
    copy = type(entry)(
        **{**vars(entry), "id": "copy", "title": changed(entry.title), "see": changed(entry.see), "causes": causes}
    )
    assert any("copy" in each for each in alike([*ENTRIES, copy], whole))


def test_no_two_entries_share_a_sentence():
    where = {}
    for entry in ENTRIES:
        for sentence in sentences(entry):
            where.setdefault(" ".join(re.findall(r"[a-z]+", sentence.lower())), set()).add(entry.id)
    assert {sentence: ids for sentence, ids in where.items() if len(ids) > 1 and len(sentence.split()) > 5} == {}


def test_causes_of_an_entry_differ():
    for entry in ENTRIES:
        for part in ("cause", "test", "now"):
            texts = [getattr(each, part) for each in entry.causes]
            assert len(set(texts)) == len(texts), entry.id


def test_every_entry_is_linked_from_another():
    """Otherwise a reader who mistakes one fault for another never finds it."""
    reached = {each for entry in ENTRIES for each in entry.related}
    assert sorted({each.id for each in ENTRIES} - reached) == []


def test_nearly_every_entry_has_plain_phrases_of_its_own():
    """The symptom finder matches readers' words by these phrases; a shared phrase does not tell entries apart."""
    assert sum(bool(each.said) for each in ENTRIES) >= 0.9 * len(ENTRIES)
    whose = Counter(phrase.lower() for each in ENTRIES for phrase in each.said)
    assert {phrase: count for phrase, count in whose.items() if count > 1} == {}
