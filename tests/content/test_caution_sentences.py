"""Sixty sentences, half of which need a caution: each gets the cautions for what it asks the reader to do, and no
others.
"""

from pathlib import Path

import pytest
import yaml

from builder.cautions import cautions_for

WRITTEN = yaml.safe_load((Path(__file__).parent / "caution_sentences.yaml").read_text("utf-8"))
SENTENCES = [
    *((each["says"], each["names"]) for each in WRITTEN["needed"]),
    *((each, []) for each in WRITTEN["not_needed"]),
]


def test_half_of_the_sixty_sentences_need_no_caution():
    assert len({sentence for sentence, _ in SENTENCES}) == 60
    assert len(WRITTEN["needed"]) == len(WRITTEN["not_needed"]) == 30


@pytest.mark.parametrize(("sentence", "ids"), SENTENCES, ids=[sentence for sentence, _ in SENTENCES])
def test_a_sentence_gets_exactly_the_cautions_it_needs(sentence, ids):
    assert {each.id for each in cautions_for(sentence)} == set(ids)
