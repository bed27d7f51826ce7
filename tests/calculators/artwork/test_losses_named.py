"""Each change of a colour is named once, however many areas it concerns."""

from calculators import messages
from calculators.figures.losses import loss_reasons, merged_reasons
from calculators.pixels.lost_parts import Losses, Place

RED, BLUE, GREY, WHITE = (200, 30, 40), (20, 40, 160), (236, 237, 241), (240, 241, 243)


def area(was, now, left=0):
    return Place((left, 0, left + 4, 4), was, now)


def reasons(*merged, flat=()):
    return [(each.sentence, dict(each.values)) for each in loss_reasons(Losses((), 0, merged, flat=flat), "", "")]


def test_two_areas_of_one_change_are_one_colour():
    reason = reasons(area(GREY, WHITE), flat=(area(GREY, WHITE, 8),))
    assert reason[0] == (messages.COLOUR_MERGED, {"was": "#ecedf1", "now": "#f0f1f3"})


def test_different_changes_are_counted_and_named():
    reason = reasons(area(GREY, WHITE), area(GREY, WHITE, 8), area(RED, BLUE))
    changes = "#ecedf1 became #f0f1f3; #c81e28 became #1428a0"
    assert reason[0] == (messages.COLOURS_MERGED, {"count": "2", "changes": changes})


def test_near_colours_are_named_once():
    [reason] = merged_reasons(Losses((), 0, (), near=(area(GREY, WHITE), area(GREY, WHITE, 8))))
    assert reason.values["changes"] == "#ecedf1 became #f0f1f3"
