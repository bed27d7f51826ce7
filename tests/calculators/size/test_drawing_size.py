"""Lengths measured in pictures: random cameras view a known drawing, whose true lengths are known."""

import io
import json
from math import cos, dist, radians, sin, sqrt
from random import Random

import pytest
from PIL import Image

from calculators import messages
from calculators.answer import answer
from calculators.declare import asked
from calculators.read import read
from calculators.size.drawing_size import DrawingSizeInputs
from calculators.size.picture_lengths import CORNERS, OnItsSide, carried, mirrored, squared_up, straight

#: The known drawing, in mm: a panel with a mark on it.
PANEL = (1500.0, 1200.0)
CORNERS_MM = {name: (x * PANEL[0], y * PANEL[1]) for name, (x, y) in CORNERS.items()}


def camera(random: Random, width_px: int, height_px: int):
    """Return a pinhole camera that looks at the panel from up to 50 degrees aside, as a map from mm to pixels."""
    yaw, pitch, roll = (radians(random.uniform(-most, most)) for most in (50, 25, 10))
    focal = random.uniform(0.8, 2.0) * width_px
    away = random.uniform(1.05, 1.5) * focal * max(PANEL[0] / width_px, PANEL[1] / height_px) * 1.3
    shift = (random.uniform(-80, 80), random.uniform(-80, 80))

    def seen(point):
        x, y, z = point[0] - PANEL[0] / 2, point[1] - PANEL[1] / 2, 0.0
        x, y = x * cos(roll) - y * sin(roll), x * sin(roll) + y * cos(roll)
        y, z = y * cos(pitch) - z * sin(pitch), y * sin(pitch) + z * cos(pitch)
        x, z = x * cos(yaw) + z * sin(yaw), -x * sin(yaw) + z * cos(yaw)
        x, y, z = x + shift[0], y + shift[1], z + away
        return width_px / 2 + focal * x / z, height_px / 2 + focal * y / z

    return seen


def mark(random: Random):
    """Return two points of the panel at least 300 mm apart."""
    while True:
        ends = [(random.uniform(0, PANEL[0]), random.uniform(0, PANEL[1])) for _ in range(2)]
        if dist(*ends) > 300:
            return ends


def pictured(points, seen, blurred=lambda part: part):
    return {name: tuple(map(blurred, seen(point))) for name, point in points.items()}


def views(count: int, size=(1600, 1200)):
    random = Random(435)
    for _ in range(count):
        seen = camera(random, *size)
        yield random, seen, dict(zip(("mark_from", "mark_to"), mark(random), strict=True))


def test_exact_points_give_the_exact_length():
    for _random, seen, ends in views(200):
        found = squared_up(pictured(ends, seen), pictured(CORNERS_MM, seen), *PANEL)
        assert found.mm == pytest.approx(dist(*ends.values()), rel=1e-9)


def test_whole_pixels_of_a_photograph_give_half_a_percent():
    """Points on whole pixels of a 4000 x 3000 photograph, so up to half a pixel wrong."""
    for _random, seen, ends in views(200, (4000, 3000)):
        found = squared_up(pictured(ends, seen, round), pictured(CORNERS_MM, seen, round), *PANEL)
        assert found.mm == pytest.approx(dist(*ends.values()), rel=0.005)


@pytest.mark.parametrize("error", ["rounded", "jittered"])
def test_uncertainty_covers_the_truth(error):
    covered, claimed = 0, []
    for random, seen, ends in views(200):
        blurred = round if error == "rounded" else lambda part, random=random: part + random.uniform(-1, 1)
        found = squared_up(pictured(ends, seen, blurred), pictured(CORNERS_MM, seen, blurred), *PANEL)
        claim = carried(found.mm, found)
        covered += abs(found.mm - dist(*ends.values())) <= claim
        claimed.append(claim / found.mm)
    assert covered >= 180
    assert sorted(claimed)[100] < 0.02  # the stated uncertainty is not excessive either


def test_uncertainty_square_on_covers_the_truth():
    random, covered = Random(12), 0
    for _ in range(200):
        truth = {name: (random.uniform(0, 1500), random.uniform(0, 1100)) for name in ("mark_from", "mark_to")}
        known = {"known_from": (100, 100), "known_to": (random.uniform(500, 1500), random.uniform(100, 1000))}
        right = 1000 * dist(*truth.values()) / dist(*known.values())
        blurred = [
            {name: tuple(part + random.uniform(-1, 1) for part in point) for name, point in each.items()}
            for each in (truth, known)
        ]
        found = straight(*blurred, 1000)
        covered += abs(found.mm - right) <= carried(found.mm, found)
    assert covered >= 180


def test_slopes_match_finite_differences():
    for _random, seen, ends in views(20):
        corners, points = pictured(CORNERS_MM, seen), pictured(ends, seen)
        slopes = squared_up(points, corners, *PANEL).slopes
        for name in (*points, *corners):
            for axis in (0, 1):
                lengths = []
                for step in (1e-3, -1e-3):
                    moved = {
                        each: tuple(part + step * (each == name and place == axis) for place, part in enumerate(point))
                        for each, point in (points | corners).items()
                    }
                    lengths.append(
                        squared_up(
                            {each: moved[each] for each in points}, {each: moved[each] for each in corners}, *PANEL
                        ).mm
                    )
                numeric = (lengths[0] - lengths[1]) / 2e-3 / (sum(lengths) / 2)
                assert slopes[name][axis] == pytest.approx(numeric, rel=1e-4, abs=1e-8)


def test_uncertainty_square_on_is_that_of_the_guide():
    """JCGM 100:2008: u(x) = a / sqrt(3) (4.3.7), relative ones of a quotient add by squares (5.1.6), U = 2 u (6.2.1).

    Each length has two ends, one pixel either way: u(length) = sqrt(2) / sqrt(3) px.
    """
    found = straight({"a": (0, 0), "b": (300, 0)}, {"c": (0, 9), "d": (0, 759)}, 1500)
    relative = sqrt((sqrt(2 / 3) / 300) ** 2 + (sqrt(2 / 3) / 750) ** 2)
    assert found.mm == pytest.approx(600)
    assert carried(found.mm, found) == pytest.approx(2 * relative * 600)


# -- Through the surface of the page -----------------------------------------------------------------


def ask(inputs, files=None):
    envelope = {"do": "answer", "calculator": "drawing-size", "inputs": inputs}
    buffers = []
    for name, data in (files or {}).items():
        envelope.setdefault("files", {})[name] = {"name": name, "bytes": len(buffers)}
        buffers.append(data)
    *_, (text, _) = answer(json.dumps(envelope), buffers)
    return json.loads(text)


def test_both_ways_agree_on_a_drawing():
    results = [ask({"way": way})["result"] for way in ("straight", "four-corners")]
    assert [each["full_size_mm"] for each in results] == pytest.approx([600, 600])
    assert [each["model_size_mm"] for each in results] == pytest.approx([600 / 43.5] * 2)


def test_a_second_length_gives_the_scale():
    """1500 mm measured as 35.0 mm on the model: 1:42.857, and the mark 600 mm is 14 mm there."""
    reply = ask({"model_length_mm": "35"})
    assert reply["result"]["true_scale"] == pytest.approx(1500 / 35)
    assert reply["result"]["fitted_size_mm"] == pytest.approx(14)
    assert reply["view"]["true_scale"]["shown"] == "1:42.86"
    assert "and not 1:43.5" in reply["view"]["verdict"]["reasons"][-1]


def test_second_length_that_agrees_says_so():
    reasons = ask({"model_length_mm": "34.5"})["view"]["verdict"]["reasons"]
    assert "That agrees with 1:43.5" in reasons[-1]


@pytest.mark.parametrize(
    ("inputs", "verdict", "weighs"),
    [
        ({}, "close", None),
        ({"scale": "20"}, "free-only", "mark"),
        ({"scale": "20", "mark_to": "500, 430"}, "rough", "mark"),
        ({"scale": "4", "known_to": "270, 830"}, "rough", "known"),
        (
            {"scale": "4", "way": "four-corners", "corner_top_right": "270, 130", "corner_bottom_right": "270, 730"},
            "rough",
            "corners",
        ),
    ],
)
def test_verdict(inputs, verdict, weighs):
    view = ask(inputs)["view"]["verdict"]
    assert view["value"] == verdict
    assert view["reasons"][1:] == ([messages.POINTS_WEIGH[weighs]] if weighs else [])


@pytest.mark.parametrize(
    ("inputs", "field", "text"),
    [
        ({"mark_to": "465, 430"}, "mark_to", messages.POINTS_TOO_NEAR),
        ({"known_to": "240.5 830"}, "known_to", messages.POINTS_TOO_NEAR),
        (
            {"way": "four-corners", "corner_top_right": "990, 730", "corner_bottom_right": "990, 130"},
            "corner_top_right",
            "The top right and bottom right corners look swapped",
        ),
        (
            {"way": "four-corners", "corner_bottom_right": "400, 300"},
            "corner_bottom_right",
            "The bottom right corner is inside the other three",
        ),
        (
            {"way": "four-corners", "corner_top_right": "240, 400"},
            "corner_top_left",
            "The top left corner is on a straight line with its neighbours",
        ),
        # The sides of this view meet at x = 1480: the panel is invisible beyond.
        (
            {
                "way": "four-corners",
                "corner_top_right": "860, 280",
                "corner_bottom_right": "860, 580",
                "mark_to": "1490, 430",
            },
            "mark_to",
            messages.BEYOND_HORIZON,
        ),
    ],
)
def test_points_that_cannot_be_measured(inputs, field, text):
    reply = ask(inputs)
    assert reply["outcome"] == "problems"
    (problem,) = reply["problems"]
    assert (problem["field"], problem["text"]) == (field, text)
    assert problem["hint"]


def png(width, height):
    file = io.BytesIO()
    Image.new("L", (width, height)).save(file, "PNG")
    return file.getvalue()


def test_points_on_the_edge_pass_and_outside_fail():
    """Points that the chosen method does not use are ignored."""
    typed = {"known_from": "0, 0", "known_to": "500, 0", "mark_from": "0, 9"}
    files = {"picture": png(500, 340)}
    assert ask(typed | {"mark_to": "500, 340"}, files)["outcome"] == "result"
    (problem,) = ask(typed | {"mark_to": "500, 340.5"}, files)["problems"]
    assert problem["field"] == "mark_to"
    assert problem["text"] == "Marking, other end is outside the picture"
    assert problem["hint"] == "It is at 500, 340.5; the picture has 500 × 340 px."
    problems = ask(typed | {"mark_to": "500, 340", "model_length_mm": "35", "second_from": "240, 830"}, files)[
        "problems"
    ]
    assert [each["field"] for each in problems] == ["second_from", "second_to"]


POINTS = {"known_from": "100, 700", "known_to": "850, 700", "mark_from": "200, 300", "mark_to": "500, 300"}


@pytest.mark.parametrize("size", [(1200, 900), (2400, 900), (1000, 850)])
@pytest.mark.parametrize("left", POINTS)
def test_no_answer_while_example_points_are_unmoved(left, size):
    """Both the delivered points and those that the page spreads over a picture, to a tenth of a pixel."""
    files = {"picture": png(*size)}
    default = getattr(DrawingSizeInputs(), left)
    spread = ", ".join(f"{part * side / fit:.1f}" for part, side, fit in zip(default, size, (1200, 900), strict=True))
    for typed in (POINTS | {left: spread}, {name: text for name, text in POINTS.items() if name != left}):
        reply = ask(typed, files)
        assert (reply["outcome"], reply["view"]["verdict"]["value"]) == ("result", "unplaced")
        assert all(reply["result"][name] is None for name in reply["result"] if name.endswith("mm") or "scale" in name)
        (reason,) = reply["view"]["verdict"]["reasons"]
        named = {name for name in POINTS if messages.in_sentence(asked(DrawingSizeInputs)[name].label) in reason}
        assert named == {left}
        assert ask(typed | {"points_in_place": "all"}, files)["view"]["verdict"]["value"] != "unplaced"


def test_points_that_were_all_moved_are_measured():
    """750 px are 1500 mm, so 300 px are 600 mm."""
    assert ask(POINTS, {"picture": png(1000, 850)})["result"]["full_size_mm"] == pytest.approx(600)


def test_unused_points_need_not_be_placed():
    files = {"picture": png(1200, 900)}
    assert ask(POINTS, files)["view"]["verdict"]["value"] == "close"
    assert ask(POINTS | {"model_length_mm": "35"}, files)["view"]["verdict"]["value"] == "unplaced"
    assert ask(POINTS | {"way": "four-corners"}, files)["view"]["verdict"]["value"] == "unplaced"


def test_points_of_another_picture_need_confirmation():
    files = {"picture": png(1200, 900)}
    reply = ask(POINTS | {"points_in_place": "not-yet"}, files)
    assert reply["view"]["verdict"]["value"] == "unplaced"
    assert reply["view"]["verdict"]["reasons"][0].startswith(
        "These points are not in place yet: known length, one end;"
    )


def test_typed_points_without_a_picture_are_measured():
    assert ask({})["view"]["verdict"]["value"] == "close"


def turned(corners, by):
    """The same places, with names shifted by ``by`` corners."""
    places = list(corners.values())
    return dict(zip(corners, places[by:] + places[:by], strict=True))


def test_corners_in_the_wrong_order_are_found_in_every_view():
    """A quarter turn exchanges width and height; half a turn or mirroring changes no length."""
    for _, seen, ends in views(200):
        corners, truth = pictured(CORNERS_MM, seen), dist(*ends.values())
        assert not mirrored(corners)
        for by in (1, 3):
            with pytest.raises(OnItsSide):
                mirrored(turned(corners, by))
        mirror = dict(
            zip(
                corners,
                [
                    corners[name]
                    for name in ("corner_top_right", "corner_top_left", "corner_bottom_left", "corner_bottom_right")
                ],
                strict=True,
            )
        )
        for named in (turned(corners, 2), mirror, turned(mirror, 2)):
            assert mirrored(named)
            assert squared_up(pictured(ends, seen), named, *PANEL).mm == pytest.approx(truth, rel=1e-9)
        for by in (1, 3):
            with pytest.raises(OnItsSide):
                mirrored(turned(mirror, by))


@pytest.mark.parametrize(("by", "place"), [(1, "top right"), (3, "bottom left")])
def test_corners_rotated_by_a_quarter_are_reported_with_cure(by, place):
    """600 mm across a panel of 1500 by 1200 mm would be 480: width and height exchanged."""
    example = DrawingSizeInputs()
    corners = turned({name: getattr(example, name) for name in CORNERS}, by)
    reply = ask({"way": "four-corners"} | {name: "{}, {}".format(*point) for name, point in corners.items()})
    (problem,) = reply["problems"]
    assert (problem["field"], problem["text"]) == ("corner_top_left", messages.CORNERS_TURNED)
    assert f"top left is at the {place}" in problem["hint"]


def test_mirrored_corners_are_measured_and_reported():
    corners = turned({name: getattr(DrawingSizeInputs(), name) for name in CORNERS}, 2)
    reply = ask({"way": "four-corners"} | {name: "{}, {}".format(*point) for name, point in corners.items()})
    assert reply["result"]["full_size_mm"] == pytest.approx(600)
    assert messages.CORNERS_MIRRORED in reply["view"]["verdict"]["reasons"]


def test_an_outline_drawing_is_reported():
    (problem,) = ask({}, {"picture": b'<svg xmlns="http://www.w3.org/2000/svg"/>'})["problems"]
    assert problem["field"] == "picture"
    assert "has no pixels" in problem["text"]


@pytest.mark.parametrize(
    ("typed", "point"),
    [
        ("1, 2", (1, 2)),
        ("1,2", (1, 2)),
        ("1 2", (1, 2)),
        ("1;2", (1, 2)),
        ("1,5 2,5", (1.5, 2.5)),
        ("1.5, 2.25", (1.5, 2.25)),
        ("(10, 20) ", (10, 20)),
        ("10 px, 20 px", (10, 20)),
        ("100000 0", (100_000, 0)),
    ],
)
def test_point_is_read(typed, point):
    assert read(DrawingSizeInputs, {"mark_from": typed}).inputs.mark_from == point


@pytest.mark.parametrize(
    ("typed", "text", "quoted"),
    [
        ("12", "takes a point such as 120, 40", "“12”. Type two numbers"),
        ("1,5,2,5", "takes a point", "“1,5,2,5”. Type two numbers"),
        ("1, 2, 3", "takes a point", "“1, 2, 3”. Type two numbers"),
        ("left, top", "takes a point", "“left”. Type digits"),
        ("-1, 5", "takes 0 to 100000 px from the left and from the top", "“-1, 5”"),
        ("5, 100000.5", "takes 0 to 100000", "“5, 100000.5”"),
        ("1 mm, 2 mm", "takes a point", "“1 mm”. Type the number alone, or with px"),
    ],
)
def test_point_that_cannot_be_read(typed, text, quoted):
    (problem,) = read(DrawingSizeInputs, {"mark_from": typed}).problems
    assert problem.field == "mark_from"
    assert text in problem.text
    assert quoted in problem.hint
