"""What is read from a drawing, on drawings whose colours, widths and white are plain to see."""

import numpy
import pytest

from tests.corpus.drawings import GROUND, WANTED, Drawing, agree
from tests.corpus.truth import BACKGROUND, HOLE, NO_WHITE, OTHER, WANTED_WHITE, delta_e, labels_of, truth_of, whites_of


def drawing(body, box="0 0 100 100"):
    return Drawing(
        "test/drawing", "own", "drawn here", f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box}">{body}</svg>'
    )


RED_ON_WHITE = drawing(
    '<rect width="100" height="100" fill="#ffffff"/><rect x="20" y="45" width="60" height="10" fill="#c4161c"/>'
)


def test_colours_come_with_their_share_and_their_widest_part():
    truth = truth_of(RED_ON_WHITE, clear=False)
    assert [each.rgb for each in truth.colours] == [(255, 255, 255), (196, 22, 28)]
    assert truth.colours[1].share == pytest.approx(0.06, abs=0.001)
    assert truth.colours[1].widest == pytest.approx(0.10, abs=0.002)
    assert truth.flat_share > 0.99


def test_the_centre_line_of_a_bar_runs_along_its_middle():
    bar = truth_of(RED_ON_WHITE, clear=False).colours[1]
    middle = (bar.x > 0.3) & (bar.x < 0.7)
    assert middle.sum() >= 0.39 * 1200
    assert numpy.abs(bar.y[middle] - 0.5).max() < 0.002
    assert bar.width[middle] == pytest.approx(0.1, abs=0.004)


def test_similar_colours_merge_and_small_ones_are_minor():
    body = (
        '<rect width="100" height="100" fill="#1f3b4d"/><rect width="40" height="100" fill="#1f3b50"/>'
        '<rect x="70" width="8" height="8" fill="#f6c800"/>'
    )
    truth = truth_of(drawing(body), clear=False)
    assert delta_e([(31, 59, 77)], [(31, 59, 80)])[0] < 6
    assert [each.rgb for each in truth.colours] == [(31, 59, 77)]
    assert set(truth.every) == {(31, 59, 77), (31, 59, 80), (246, 200, 0)}


def test_transparent_pixels_have_no_colour():
    body = '<rect x="20" y="45" width="60" height="10" fill="#c4161c"/>'
    assert [each.rgb for each in truth_of(drawing(body), clear=True).colours] == [(196, 22, 28)]
    assert len(truth_of(drawing(body), clear=False).colours) == 2


def test_white_means_what_it_was_drawn_as():
    ring = '<circle cx="50" cy="50" r="30" fill="none" stroke="#c4161c" stroke-width="8"/>'
    disc = f'<circle cx="50" cy="50" r="9" fill="{WANTED}"/><path d="M46 20h8v2h-8z" fill="{WANTED}"/>'
    places = (("corner", 2, 2), ("ring", 80, 50), ("inside", 50, 30), ("disc", 50, 50), ("on the ring", 50, 21))
    source = drawing(f'<rect width="100" height="100" fill="{GROUND}"/>{ring}{disc}')
    for clear in (True, False):
        plane = whites_of(source, clear=clear)
        at = {name: plane[int(y * 12), int(x * 12)] for name, x, y in places}
        # On white, no picture can show the disc apart from the hole round it.
        assert at == {
            "corner": BACKGROUND,
            "ring": NO_WHITE,
            "inside": HOLE,
            "disc": WANTED_WHITE if clear else NO_WHITE,
            "on the ring": WANTED_WHITE,
        }


def test_different_renderings_do_not_agree():
    shape = '<rect x="10" y="10" width="80" height="80" fill="#c4161c"/>'
    assert agree(drawing(shape))
    # cairosvg knows no blend modes.
    blended = '<g style="mix-blend-mode:difference"><rect x="10" y="10" width="80" height="80" fill="#c4161c"/></g>'
    assert not agree(drawing('<rect width="100" height="100" fill="#1f3b4d"/>' + blended))


def test_near_colours_share_a_label():
    body = '<rect width="50" height="100" fill="#c4161c"/><rect x="50" width="25" height="100" fill="#c6181c"/>'
    labels = labels_of(drawing(body), [(196, 22, 28), (198, 24, 28), (255, 255, 255)], clear=True, longer_px=200)
    assert labels.shape == (200, 200)
    assert (labels[:, :150] == 0).all() and (labels[:, 150:] == OTHER).all()
    assert (labels_of(drawing(body), [(196, 22, 28), (255, 255, 255)], clear=False, longer_px=200)[:, 151:] == 1).all()
