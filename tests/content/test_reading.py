"""How-tos are read at arm's length with wet hands: short sentences, plain words."""

import pytest

from tests.content.reading import read, syllables_of
from tests.content.test_content import body_of, how_tos, name_of

MOST_WORDS_A_SENTENCE = 15
LONGEST_SENTENCE = 35
HIGHEST_GRADE = 8

#: The preface and one step of a made-up page, counted by hand: sentences of 3, 4, 8 and 4 words.
COUNTED = """
!!! warning "Caution"
    Not counted at all.

Ink dries slowly. Wait {{ wait("soak") }} for it.

1. Press a [clean finger](seal.md) on the waste corner
2. Go on when dry.
"""


def test_sentences_are_counted_by_marks_and_steps():
    reading = read(COUNTED)
    assert (reading.sentences, reading.words) == (4, 19)
    assert reading.longest == "Press a clean finger on the waste corner"


@pytest.mark.parametrize(
    ("word", "count"), [("film", 1), ("marking", 2), ("tape", 1), ("table", 2), ("slowly", 2), ("colour", 2)]
)
def test_syllables(word, count):
    assert syllables_of(word) == count


@pytest.mark.parametrize("page", how_tos(), ids=name_of)
def test_a_how_to_is_easy_to_read(page):
    reading = read(body_of(page))
    assert reading.words_a_sentence <= MOST_WORDS_A_SENTENCE
    assert len(reading.longest.split()) <= LONGEST_SENTENCE, reading.longest
    assert reading.grade <= HIGHEST_GRADE
