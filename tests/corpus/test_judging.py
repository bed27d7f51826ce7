"""The record of a picture: for a plain drawing, and for a calculator that fails."""

import json

import pytest

from tests.corpus import judging
from tests.corpus.web_design import Case

BAND = Case("own/band-0", 120, "cairo")


@pytest.fixture(scope="module")
def band():
    return judging.judged(BAND)


def test_a_plain_band_is_judged_by_every_measure_that_applies(band):
    assert band["colours_true"] == 3
    assert {"missing", "invented", "colour_errors", "clean_level", "trace_level", "clean_lost", "trace_lost"} <= set(
        band
    )
    # Neither enlarged nor of a size at which white is judged, and without lettering.
    assert not {"detail_error", "whites_right", "lettering_lost"} & set(band)


def test_a_record_fits_a_line_of_json(band):
    assert json.loads(json.dumps(band)) == json.loads(json.dumps(band, allow_nan=False))


def test_traced_shapes_stay_in_place(band):
    # Broad slanting stripes in a lossless picture: nothing of them can be lost by outlines that follow them.
    assert band["trace_lost"] < 0.03


def test_a_failing_calculator_is_recorded(monkeypatch):
    monkeypatch.setattr(judging, "answer", lambda *_: iter([(json.dumps({"outcome": "fault", "text": "broken"}), [])]))
    found = judging.judged(BAND)
    assert "broken" in found["no_answer"] and "missing" not in found


def test_enlarged_pictures_are_judged_by_original_width():
    found = judging.judged(Case("own/shield-0", 120, "cairo", factor=3.0, kernel="nearest"))
    assert found["detail_error"] == pytest.approx(0, abs=0.02)
    assert "missing" not in found
