"""How big is a marking that is measured in a drawing or a photograph of the real thing?"""

from __future__ import annotations

from dataclasses import dataclass
from math import dist
from typing import Any

from calculators import messages, numbers, tables
from calculators.declare import (
    MARKING,
    Calculator,
    Lead,
    Message,
    PictureStage,
    Problem,
    Refused,
    advice,
    asked,
    belonging,
    choice,
    folded,
    leads,
    measure,
    message,
    number,
    picture,
    plus_minus,
    point,
    reasons,
    verdict,
)
from calculators.files.picture import Picture
from calculators.job_fields import scale_of_model
from calculators.shapes.homography import BadCorners, Crossed, DentedIn, check_corners
from calculators.shapes.transforms import Point
from calculators.size import next_steps
from calculators.size.picture_lengths import (
    CORNERS,
    BeyondHorizon,
    Length,
    OnItsSide,
    TooShort,
    carried,
    mirrored,
    squared_up,
    straight,
)

STRAIGHT, FOUR_CORNERS = "straight", "four-corners"
#: The conditions on which fields count.
_SQUARE_ON, _SLANTED, _ON_MODEL = ("way", STRAIGHT), ("way", FOUR_CORNERS), ("model_length_mm", None)

#: The accuracy of placing a marking by hand, in mm (common practice, an estimate).
PLACED_MM = 0.1
#: The relative error of a free-standing marking that goes unnoticed (common practice, an estimate).
FREE_SHARE = 0.02

#: Whether the points are in place on a picture.
MOVED, ALL, NOT_YET = "moved", "all", "not-yet"
#: The page writes points to a tenth of a pixel, so positions are compared to half of that.
SAME_PX = 0.08

CLOSE, FREE, ROUGH, UNPLACED = "close", "free-only", "rough", "unplaced"
LEVELS = {
    UNPLACED: ("watch", "No verdict until every point is in place"),
    CLOSE: ("pass", "Measured closely enough"),
    FREE: ("watch", "Close enough for a marking by itself"),
    ROUGH: ("fail", "Too rough to print from"),
}
_SENTENCES = {CLOSE: messages.LENGTH_CLOSE, FREE: messages.LENGTH_FREE, ROUGH: messages.LENGTH_ROUGH}


@dataclass(frozen=True, kw_only=True)
class DrawingSizeInputs:
    picture: Picture | None = picture(
        "Drawing or photograph",
        help="Put the points on it. It stays on this device.",
        points_fit=(1200, 900),
        placed=("points_in_place", NOT_YET),
        example="demo/railcar-panel.png",
        without="the points below count as typed.",
    )
    way: str = choice(
        "How it shows the marking",
        default=STRAIGHT,
        options={
            STRAIGHT: "Square on, or a drawing: one known length",
            FOUR_CORNERS: "Slanted: the four corners of a known rectangle",
        },
        help="Either way the known length or rectangle must be on the same flat panel as the marking.",
    )
    known_mm: float = belonging(
        number(
            "Known length, on the real thing",
            unit="mm",
            low=1,
            high=1_000_000,
            default=1500,
            help="The longer it is in the picture, the better.",
            only_when=_SQUARE_ON,
        )
    )
    known_from: Point = folded(
        point("Known length, one end", of="picture", group="known", default=(240, 830), only_when=_SQUARE_ON)
    )
    known_to: Point = folded(
        point("Known length, other end", of="picture", group="known", default=(990, 830), only_when=_SQUARE_ON)
    )
    rectangle_width_mm: float = belonging(
        number(
            "Width of the known rectangle, on the real thing",
            unit="mm",
            low=1,
            high=1_000_000,
            default=1500,
            help="Of a door, a window, a panel.",
            only_when=_SLANTED,
        )
    )
    rectangle_height_mm: float = belonging(
        number(
            "Height of the known rectangle, on the real thing",
            unit="mm",
            low=1,
            high=1_000_000,
            default=1200,
            only_when=_SLANTED,
        )
    )
    corner_top_left: Point = folded(
        point("Rectangle, top left corner", of="picture", group="corners", default=(240, 130), only_when=_SLANTED)
    )
    corner_top_right: Point = folded(
        point("Rectangle, top right corner", of="picture", group="corners", default=(990, 130), only_when=_SLANTED)
    )
    corner_bottom_right: Point = folded(
        point("Rectangle, bottom right corner", of="picture", group="corners", default=(990, 730), only_when=_SLANTED)
    )
    corner_bottom_left: Point = folded(
        point("Rectangle, bottom left corner", of="picture", group="corners", default=(240, 730), only_when=_SLANTED)
    )
    mark_from: Point = folded(point("Marking, one end", of="picture", group="mark", default=(465, 430)))
    mark_to: Point = folded(point("Marking, other end", of="picture", group="mark", default=(765, 430)))
    points_in_place: str = choice(
        "Points on your picture",
        default=MOVED,
        options={
            MOVED: "In place once you have moved each",
            ALL: "All in place as they are",
            NOT_YET: "Not yet in place",
        },
        help="Your picture gets no verdict until every point is in its place.",
    )
    scale: float = scale_of_model()
    model_length_mm: float | None = folded(
        belonging(
            number(
                "A second length, measured on your own model",
                unit="mm",
                low=0.1,
                high=10_000,
                help="On the same panel. It gives the true scale of your model.",
                without="the scale counts as typed.",
            )
        )
    )
    second_from: Point = folded(
        point("Second length, one end", of="picture", group="second", default=(240, 130), only_when=_ON_MODEL)
    )
    second_to: Point = folded(
        point("Second length, other end", of="picture", group="second", default=(990, 130), only_when=_ON_MODEL)
    )


@dataclass(frozen=True, kw_only=True)
class DrawingSizeOutputs:
    verdict: str = verdict("Verdict", levels=LEVELS)
    reasons: tuple[Message, ...] = reasons()
    model_size_mm: float | None = measure(
        "Size on the model", unit="mm", decimals=2, uncertainty="model_size_plus_minus_mm"
    )
    model_size_plus_minus_mm: float | None = plus_minus("Size on the model, give or take")
    full_size_mm: float | None = measure(
        "Size on the real thing", unit="mm", decimals=1, uncertainty="full_size_plus_minus_mm"
    )
    full_size_plus_minus_mm: float | None = plus_minus("Size on the real thing, give or take")
    true_scale: float | None = measure(
        "True scale of your model", unit="1:n", decimals=2, uncertainty="true_scale_plus_minus"
    )
    true_scale_plus_minus: float | None = plus_minus("That scale, give or take")
    fitted_size_mm: float | None = measure(
        "Size to fit your own model", unit="mm", decimals=2, uncertainty="fitted_size_plus_minus_mm"
    )
    fitted_size_plus_minus_mm: float | None = plus_minus("Size to fit your own model, give or take")
    next_steps: tuple[Lead, ...] = leads(next_steps.DRAWING_SIZE)


def drawing_size(inputs: DrawingSizeInputs) -> DrawingSizeOutputs:
    """Return the size of a marking from points on a picture, at full size and on the model.

    Square on, one known length sets the scale of the picture; slanted, four corners of a known
    rectangle square it up. Holds on the flat panel in which these lie, for a lens that keeps
    straight lines straight. No verdict on a given picture before its points are in place. Raises Refused where the
    points cannot be measured.
    """
    if inputs.picture and inputs.picture.width_px is None:
        raise Refused(
            Problem(
                "picture", messages.OUTLINES_HAVE_NO_PIXELS.format(name=inputs.picture.name), messages.SAVE_AS_PIXELS
            )
        )
    _check_inside(inputs)
    if unplaced := _unplaced(inputs):
        return _no_verdict(inputs, unplaced)
    mark = _length(inputs, "mark_from", "mark_to")
    error_mm = carried(mark.mm, mark)
    model_mm, model_error_mm = mark.mm / inputs.scale, error_mm / inputs.scale
    made_mm, made_error_mm = model_mm, model_error_mm
    fitted_mm = fitted_error_mm = true_scale = scale_error = None
    on_scale = []
    if inputs.model_length_mm is not None:
        second = _length(inputs, "second_from", "second_to")
        true_scale = second.mm / inputs.model_length_mm
        scale_error = carried(true_scale, second)
        fitted_mm = mark.mm / true_scale
        fitted_error_mm = carried(fitted_mm, mark, second)
        made_mm, made_error_mm = fitted_mm, fitted_error_mm
        on_scale.append(_on_scale(inputs.scale, true_scale, scale_error, fitted_mm))
    share = made_error_mm / made_mm
    verdict_here = CLOSE if made_error_mm <= PLACED_MM else FREE if share <= FREE_SHARE else ROUGH
    why = [message(_SENTENCES[verdict_here], plus_minus_mm=made_error_mm, share=numbers.significant(100 * share, 2))]
    if verdict_here != CLOSE:
        why.append(advice(messages.POINTS_WEIGH[mark.weighs_most()]))
    why += on_scale
    if inputs.way == FOUR_CORNERS and mirrored(_corners(inputs)):
        why.append(message(messages.CORNERS_MIRRORED))
    return DrawingSizeOutputs(
        verdict=verdict_here,
        reasons=tuple(why),
        model_size_mm=model_mm,
        model_size_plus_minus_mm=model_error_mm,
        full_size_mm=mark.mm,
        full_size_plus_minus_mm=error_mm,
        true_scale=true_scale,
        true_scale_plus_minus=scale_error,
        fitted_size_mm=fitted_mm,
        fitted_size_plus_minus_mm=fitted_error_mm,
    )


def _no_verdict(inputs: DrawingSizeInputs, unplaced: list[str]) -> DrawingSizeOutputs:
    """Return results without a size that say which points are left to place."""
    labels = asked(DrawingSizeInputs)
    sentence = messages.POINTS_OF_ANOTHER_PICTURE if inputs.points_in_place == NOT_YET else messages.POINTS_NOT_MOVED
    return DrawingSizeOutputs(
        verdict=UNPLACED,
        reasons=(message(sentence, points="; ".join(messages.in_sentence(labels[name].label) for name in unplaced)),),
        model_size_mm=None,
        model_size_plus_minus_mm=None,
        full_size_mm=None,
        full_size_plus_minus_mm=None,
        true_scale=None,
        true_scale_plus_minus=None,
        fitted_size_mm=None,
        fitted_size_plus_minus_mm=None,
    )


def _unplaced(inputs: DrawingSizeInputs) -> list[str]:
    """Return the used points of a picture that the reader has not placed."""
    picture = inputs.picture
    if picture is None or inputs.points_in_place == ALL:
        return []
    if inputs.points_in_place == NOT_YET:
        return _counting(inputs)
    field: Any = asked(DrawingSizeInputs)["picture"]
    wide, high = picture.size_px
    example = DrawingSizeInputs()
    unplaced = []
    for name in _counting(inputs):
        x, y = getattr(example, name)
        # As delivered, or as the page spreads it over a picture just chosen.
        spread = (x * wide / field.points_fit[0], y * high / field.points_fit[1])
        if any(dist(getattr(inputs, name), there) < SAME_PX for there in ((x, y), spread)):
            unplaced.append(name)
    return unplaced


def _counting(inputs: DrawingSizeInputs) -> list[str]:
    """Return the names of the points that count."""
    ends = [] if inputs.model_length_mm is None else ["second_from", "second_to"]
    return [*(("known_from", "known_to") if inputs.way == STRAIGHT else CORNERS), "mark_from", "mark_to", *ends]


def _on_scale(scale: float, true_scale: float, scale_error: float, fitted_mm: float) -> Message:
    sentence = messages.SCALE_AGREES if abs(true_scale - scale) <= scale_error else messages.SCALE_DIFFERS
    true, error = numbers.with_uncertainty(true_scale, scale_error, 2)
    return message(sentence, stated=numbers.plain(scale), true=true, error=error, fitted_mm=fitted_mm)


def _check_inside(inputs: DrawingSizeInputs) -> None:
    """Raise Refused if used points lie outside the picture; on its edge is allowed."""
    picture = inputs.picture
    if picture is None:
        return
    labels, outside = asked(DrawingSizeInputs), []
    for name in _counting(inputs):
        x, y = getattr(inputs, name)
        if x > picture.width_px or y > picture.height_px:
            hint = messages.PICTURE_IS_SO_LARGE.format(
                x_px=numbers.plain(x), y_px=numbers.plain(y), width_px=picture.width_px, height_px=picture.height_px
            )
            outside.append(Problem(name, messages.OUTSIDE_PICTURE.format(Label=labels[name].label), hint))
    if outside:
        raise Refused(*outside)


def _length(inputs: DrawingSizeInputs, start: str, end: str) -> Length:
    """Return the full-size length between two points, or raise Refused with the fields at fault."""
    ends = {name: getattr(inputs, name) for name in (start, end)}
    try:
        if inputs.way == STRAIGHT:
            known = {name: getattr(inputs, name) for name in ("known_from", "known_to")}
            return straight(ends, known, inputs.known_mm)
        corners = _corners(inputs)
        _check(corners)
        return squared_up(ends, corners, inputs.rectangle_width_mm, inputs.rectangle_height_mm)
    except TooShort as short:
        raise Refused(Problem(short.name, messages.POINTS_TOO_NEAR, messages.MOVE_POINTS_APART)) from None
    except BeyondHorizon as beyond:
        raise Refused(Problem(beyond.name, messages.BEYOND_HORIZON, messages.BEYOND_HORIZON_HINT)) from None


def _corners(inputs: DrawingSizeInputs) -> dict[str, Point]:
    return {name: getattr(inputs, name) for name in CORNERS}


def _check(corners: dict[str, Point]) -> None:
    """Raise Refused if four points cannot be a rectangle's corners in this order and with these names."""
    try:
        check_corners(tuple(corners.values()))
        mirrored(corners)
    except OnItsSide as side:
        hint = messages.NAME_CORNERS_AS_SEEN.format(place=side.place)
        raise Refused(Problem(next(iter(CORNERS)), messages.CORNERS_TURNED, hint)) from None
    except BadCorners as trouble:
        places = [messages.CORNER_PLACES[place] for place in trouble.places]
        fields = [*CORNERS]
        if isinstance(trouble, Crossed):
            text, hint = messages.CORNERS_CROSSED.format(one=places[0], other=places[1]), messages.CORNERS_IN_ORDER
        elif isinstance(trouble, DentedIn):
            text, hint = messages.CORNER_DENTED.format(corner=places[0]), messages.CORNER_WHERE_EDGES_MEET
        else:
            text, hint = messages.CORNERS_ON_LINE.format(corner=places[0]), messages.CORNER_WHERE_EDGES_MEET
        raise Refused(Problem(fields[trouble.places[0]], text, hint)) from None


CALCULATOR = Calculator(
    id="drawing-size",
    title="How big is it in this drawing or photograph?",
    summary="Measures it from points on a picture, and corrects a picture taken at a slant.",
    also=("photo", "blueprint", "plan", "measure from a photo", "perspective"),
    stage="size",
    about=MARKING,
    inputs=DrawingSizeInputs,
    outputs=DrawingSizeOutputs,
    compute=drawing_size,
    sources=("hartley-zisserman", "jcgm-100", tables.COMMON_PRACTICE, tables.ESTIMATE),
    order=30,
    picture_stage=PictureStage(of="picture", numbers=("model_size_mm", "full_size_mm", "true_scale", "fitted_size_mm")),
)
