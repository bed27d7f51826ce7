"""The design of the web pictures: balanced, the same each time, and split into halves by names alone."""

from collections import Counter

from tests.corpus.drawings import Drawing
from tests.corpus.web_design import CHROMAS, FACTORS, JPEG, KERNELS, PNG, QUALITIES, SIZES_PX, cases, sampled

#: As many as make every combination of factor, kernel and way of saving turn up equally often.
DRAWINGS = [Drawing(f"own/{number}", "own", "", '<svg viewBox="0 0 1 1"/>') for number in range(24)]
CASES = cases(DRAWINGS, ["skimage/coins.png"])


def counts(chosen, *names):
    return Counter(tuple(getattr(each, name) for name in names) for each in chosen)


def test_about_three_thousand_pictures_come_of_112_drawings():
    assert (len(CASES) - 3) / 24 == 27
    assert len({case.id for case in CASES}) == len(CASES)


def test_every_size_and_renderer_has_a_png_of_every_drawing():
    plain = [each for each in CASES if each.is_plain and not each.quality and each.renderer]
    assert set(counts(plain, "size_px", "renderer").values()) == {24}


def test_qualities_and_chroma_are_balanced():
    plain = [
        each
        for each in CASES
        if each.is_plain and each.quality and each.file == JPEG and not each.again and each.renderer
    ]
    found = counts(plain, "quality", "chroma", "size_px", "renderer")
    assert len(found) == len(QUALITIES) * len(CHROMAS) * len(SIZES_PX) * 2
    assert set(found.values()) == {3}


def test_factors_kernels_and_savings_are_balanced():
    enlarged = [each for each in CASES if each.factor > 1]
    found = counts(enlarged, "factor", "kernel", "quality")
    assert len(found) == len(FACTORS) * len(KERNELS) * 3
    assert set(found.values()) == {2}


def test_some_are_resaved_decoded_or_reduced():
    assert sum(each.again for each in CASES) == 24
    assert sum(each.is_plain and each.quality > 0 and each.file == PNG for each in CASES) == 48
    assert len([each for each in CASES if each.factor < 1]) == 24


def test_originals_come_as_they_are_blurred_and_as_jpeg():
    originals = [each for each in CASES if each.drawing.startswith("skimage/")]
    assert [(each.blur, each.quality, each.factor) for each in originals] == [(0, 0, 1), (1.5, 0, 1), (0, 85, 1)]


def test_samples_are_reproducible_and_keep_drawings_together():
    sample = sampled(CASES, 60)
    assert sample == sampled(CASES[::-1], 60) and len(sample) == 60
    names = [each.drawing for each in sample]
    assert names == sorted(names)
    assert {each.half for each in sample} == {"tuning", "test"}
