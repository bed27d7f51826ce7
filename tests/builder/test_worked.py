"""Calculators run while pages are printed: with typed texts, and with pictures of the demonstration."""

from pathlib import Path

import pytest
from PIL import Image

from builder.worked import shown, worked
from calculators import catalogue

CONTENT = Path(__file__).resolve().parents[2] / "content"


def test_a_picture_is_named_by_its_place_in_content():
    name = "demo/crest-600px-enlarged.png"
    results = worked(CONTENT, catalogue.find("picture-check"), {"picture": name, "width_mm": "13.8 mm"})
    with Image.open(CONTENT / name) as picture:
        assert (results.width_px, results.height_px) == picture.size


def test_results_are_formatted_as_on_the_page():
    result = shown(CONTENT, catalogue.find("full-size"), {"model_size_mm": "10 mm", "scale": "43.5"})
    assert (result["full_size_mm"]["shown"], result["full_size_mm"]["unit"]) == ("435.0", "mm")


def test_every_problem_is_reported():
    with pytest.raises(ValueError, match=r"There is no file content/demo/none\.png"):
        worked(CONTENT, catalogue.find("picture-check"), {"picture": "demo/none.png"})
    with pytest.raises(ValueError, match="scale: "):
        worked(CONTENT, catalogue.find("full-size"), {"scale": "far"})
