"""Each measure on truth made by hand: right, wrong, and too little to count."""

import numpy
import pytest

from tests.corpus import measures
from tests.corpus.truth import BACKGROUND, HOLE, NO_WHITE, WANTED_WHITE, Strokes

WHITE, RED, BLUE = (255, 255, 255), (200, 20, 30), (20, 40, 160)
NOWHERE = numpy.array([])


def strokes(rgb, share=0.3, widest=0.5, x=NOWHERE, y=NOWHERE, width=NOWHERE):
    return Strokes(rgb, share, widest, *(numpy.asarray(each, float) for each in (x, y, width)))


def picture(*rows, alpha=255):
    """Return height x width x 4 pixels of rows of colours."""
    rgb = numpy.array(rows, numpy.uint8)
    return numpy.dstack([rgb, numpy.full(rgb.shape[:2], alpha, numpy.uint8)])


def line_and_ground(width=0.1):
    """Return red ground and a white line across the middle row of 20 x 3 pixels, its centre line at each pixel."""
    line = strokes(WHITE, x=(numpy.arange(20) + 0.5) / 20, y=[0.5] * 20, width=[width] * 20)
    return (strokes(RED), line), picture([RED] * 20, [WHITE] * 20, [RED] * 20)


@pytest.mark.parametrize(
    ("reported", "true", "error"), [(100, 100, 0), (115, 100, 0.15), (400, 100, 3), (50, 100, 0.5)]
)
def test_detail_error_is_relative_to_true_width(reported, true, error):
    assert measures.detail_error(reported, true) == pytest.approx(error)


def test_damage_counts_pixels_off_by_more_than_three():
    lossless = picture([RED] * 10, [RED] * 10)
    pixels = lossless.copy()
    pixels[0, 0, :3] = (202, 21, 31)
    assert measures.damaged_share(pixels, lossless) == 0
    pixels[0, 1, :3] = (120, 20, 30)
    assert measures.damaged_share(pixels, lossless) == pytest.approx(1 / 20)


def test_a_colour_without_a_near_match_is_missing():
    true = (strokes(RED), strokes(BLUE))
    assert measures.missing(true, [(205, 22, 33), BLUE], 100) == []
    assert measures.missing(true, [(205, 22, 33)], 100) == [BLUE]
    assert measures.missing(true, [], 100) == [RED, BLUE]


def test_a_colour_under_two_pixels_wide_cannot_be_missing():
    true = (strokes(RED), strokes(BLUE, widest=0.019))
    assert measures.missing(true, [RED], 100) == []
    assert measures.missing(true, [RED], 110) == [BLUE]


def test_a_colour_far_from_all_of_the_drawing_is_invented():
    assert measures.invented([RED, BLUE], [RED, WHITE, BLUE], [0.5, 0.2, 0.3]) == [WHITE]


def test_a_few_stray_pixels_are_no_invented_colour():
    assert measures.invented([RED], [RED, WHITE], [0.9995, 0.0005]) == []


def test_colour_errors_cover_broad_colours_only():
    true = (strokes(RED, widest=0.04), strokes(BLUE, widest=0.039))
    assert measures.colour_errors(true, [RED], 100) == [pytest.approx(0, abs=1e-6)]
    assert measures.colour_errors(true, [BLUE], 100, broad=False) == [pytest.approx(0, abs=1e-6)]
    assert measures.colour_errors(true, [BLUE], 51, broad=False) == [measures.to_nearest(RED, [BLUE])]


def test_a_whole_line_loses_nothing():
    true, lossless = line_and_ground()
    assert measures.stroke_length(true, 1, lossless, lossless[..., :3].astype(int)).lost == 0


def test_a_broken_line_loses_the_share_that_is_gone():
    true, lossless = line_and_ground()
    reported = lossless[..., :3].astype(int)
    reported[1, 4:9] = RED
    found = measures.stroke_length(true, 1, lossless, reported)
    assert (found.there, found.remaining) == (20, 15)
    assert found.lost == 0.25


def test_a_tinted_line_survives_while_nearest_its_own_colour():
    true, lossless = line_and_ground()
    reported = lossless[..., :3].astype(int)
    reported[1] = (250, 210, 215)
    assert measures.stroke_length(true, 1, lossless, reported).lost == 0
    reported[1] = (215, 70, 80)
    assert measures.stroke_length(true, 1, lossless, reported).lost == 1


def test_losses_of_the_lossless_picture_do_not_count():
    true, lossless = line_and_ground()
    lossless[1, :8, :3] = RED
    assert measures.stroke_length(true, 1, lossless, lossless[..., :3].astype(int)) == measures.Length(12, 12)


def test_a_place_without_any_colour_is_lost():
    true, lossless = line_and_ground()
    reported = numpy.full((3, 20, 3), -1)
    assert measures.stroke_length(true, 1, lossless, reported).lost == 1


def test_answers_of_another_size_are_aligned():
    true, lossless = line_and_ground()
    reported = lossless[..., :3].astype(int).repeat(4, axis=0).repeat(4, axis=1)
    assert measures.stroke_length(true, 1, lossless, reported).lost == 0


@pytest.mark.parametrize(
    ("width_px", "thin", "counted"),
    [(1.4, False, 0), (1.6, False, 20), (1.6, True, 20), (4.1, True, 0), (4.1, False, 20)],
)
def test_strokes_count_by_their_width_in_pixels(width_px, thin, counted):
    true, lossless = line_and_ground(width_px / 20)
    reported = lossless[..., :3].astype(int)
    assert measures.stroke_length(true, 1, lossless, reported, thin=thin).there == counted


def test_too_short_lines_give_no_share():
    assert measures.Length(11, 0).lost is None
    assert measures.Length(12, 0).lost == 1


def test_white_counts_by_area_and_by_what_it_means():
    true = numpy.array([[BACKGROUND, HOLE], [WANTED_WHITE, NO_WHITE]])
    white = numpy.array([[True, True], [True, True]])
    reported = numpy.array([[BACKGROUND, BACKGROUND], [WANTED_WHITE, BACKGROUND]])
    assert measures.whites_right(true, reported, white) == pytest.approx(2 / 3)


def test_white_absent_without_loss_does_not_count():
    true, reported = numpy.full((2, 2), BACKGROUND), numpy.array([[BACKGROUND, BACKGROUND], [HOLE, HOLE]])
    assert measures.whites_right(true, reported, numpy.array([[True, True], [False, False]])) == 1
    assert measures.whites_right(true, reported, numpy.zeros((2, 2), bool)) is None


def test_finer_truth_is_sampled_at_pixel_centres():
    true = numpy.repeat(numpy.repeat([[BACKGROUND, HOLE]], 4, axis=0), 4, axis=1)
    assert measures.whites_right(true, numpy.array([[BACKGROUND, HOLE]]), numpy.ones((1, 2), bool)) == 1


def test_edges_lie_between_pixels_of_different_labels():
    labels = numpy.array([[0, 0, 1, 1], [0, 0, 1, 1]])
    assert measures.edge_points(labels).tolist() == [[0.5, 0.25], [0.5, 0.75]]


def test_outlines_are_off_by_their_distance_from_the_nearest_edge():
    """An upright edge at 60 of 100 pixels; outlines beside it, and one along the frame, which follows no edge."""
    true = numpy.array([(0.6, y / 1000) for y in range(1001)])
    reported = numpy.array([(0.6, 0.5), (0.625, 0.25), (0.0, 0.5), (0.999, 0.5)])
    assert measures.deviations(reported, true, (100, 50)) == pytest.approx([0.0, 2.5])
