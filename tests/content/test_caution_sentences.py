"""Sixty sentences, half of which need a caution: each brings the cautions of what
it tells the reader to do, and no others.
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


def test_half_of_sixty_different_sentences_need_no_caution():
    assert len({said for said, _ in SENTENCES}) == 60
    assert len(WRITTEN["needed"]) == len(WRITTEN["not_needed"]) == 30


@pytest.mark.parametrize(("said", "ids"), SENTENCES, ids=[said for said, _ in SENTENCES])
def test_a_sentence_brings_the_cautions_of_what_it_calls_for_and_no_others(said, ids):
    assert {each.id for each in cautions_for(said)} == set(ids)
