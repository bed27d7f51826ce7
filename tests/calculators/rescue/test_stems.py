"""Stemming: Porter's own examples for step 1, and word families that describe faults."""

import pytest

from calculators.rescue.stems import EMPTY, porter_step_1, stem, words

#: M. F. Porter, An algorithm for suffix stripping, Program 14 (1980) 130-137: the
#: examples printed beside rules 1a, 1b and 1c.
PORTER = {
    "caresses": "caress",
    "ponies": "poni",
    "ties": "ti",
    "caress": "caress",
    "cats": "cat",
    "feed": "feed",
    "agreed": "agree",
    "plastered": "plaster",
    "bled": "bled",
    "motoring": "motor",
    "sing": "sing",
    "conflated": "conflate",
    "troubled": "trouble",
    "sized": "size",
    "hopping": "hop",
    "tanned": "tan",
    "falling": "fall",
    "hissing": "hiss",
    "fizzed": "fizz",
    "failing": "fail",
    "filing": "file",
    "happy": "happi",
    "sky": "sky",
}


@pytest.mark.parametrize(("word", "left"), PORTER.items())
def test_porters_examples_of_step_1(word, left):
    assert porter_step_1(word) == left


@pytest.mark.parametrize(
    "family",
    [
        "silver silvery silvering silvered",
        "frost frosty frosted frosting",
        "wrinkle wrinkles wrinkled wrinkling",
        "fog foggy fogged",
        "crease creases creased",
        "tear tears tearing torn tore",
        "yellow yellowed yellowing yellowish",
        "grey greyish gray",
        "curl curls curled curling",
        "smudge smudges smudged",
        "crack cracks cracked cracking",
        "colour colours coloured color colored",
        "patch patches",
        "tack tacky",
    ],
)
def test_a_family_is_one_word(family):
    assert len({stem(each) for each in family.split()}) == 1


@pytest.mark.parametrize("pair", ["sticky stick", "tape tap", "seal seam", "patchy patch", "bed bead", "film fill"])
def test_similar_unrelated_words_stay_apart(pair):
    one, other = pair.split()
    assert stem(one) != stem(other)


def test_words_of_a_text():
    assert words("The film won't lie flat; it's Milky — “like fog”!") == ["film", "lie", "flat", "milky", "fog"]
    assert words("") == words("It was.") == words("123 4") == []
    assert "silver" not in EMPTY
