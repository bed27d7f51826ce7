"""The promise on sample pictures that the detector was not tuned on: the test half, made small to be quick.

The whole measurement, both halves at full size and with every resampler, is ``make corpus-detail``.
"""

from __future__ import annotations

import pytest

from tests.corpus.measure_detail import FACTORS, SHARP, Figures, in_words, measured
from tests.corpus.pictures import METHODS, sources

MOST_PX = 240

pytestmark = pytest.mark.bench


@pytest.fixture(scope="module")
def figures() -> Figures:
    pictures = [each for each in sources(most_px=MOST_PX) if each.half == "test" and each.kind in SHARP]
    assert len(pictures) >= 16
    return measured(pictures, each_resampler=False, others=False)


def test_nine_in_ten_enlargements_are_found_within_15_percent(figures):
    print(in_words(figures))
    assert figures.share("sharp") >= 0.9, in_words(figures)


@pytest.mark.parametrize("method", METHODS)
def test_no_method_is_left_behind(figures, method):
    assert figures.share("sharp", methods=[method]) >= 0.8, in_words(figures)


@pytest.mark.parametrize("factor", FACTORS)
def test_no_factor_is_left_behind(figures, factor):
    assert figures.share("sharp", factors=[factor]) >= 0.8, in_words(figures)


def test_at_most_one_original_in_twenty_is_accused(figures):
    accused = [name for names in figures.accused.values() for name in names]
    assert len(accused) <= sum(figures.originals.values()) / 20, accused
