"""A picture shown in its place in a figure, for the loupe."""

from __future__ import annotations

from dataclasses import dataclass

from calculators.declare import NEITHER, Calculator, Figure, choice, figure, measure, picture
from calculators.files.picture import Picture

#: The figure is 120 by 90; the picture is at 20, 15 and is 80 by 60.
_FIGURE = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 120 90"><rect class="dw-paper" width="120" height="90"/>'
    '<image class="dw-loupe" data-picture="picture" x="20" y="15" width="80" height="60" preserveAspectRatio="none"'
    ' image-rendering="pixelated"/></svg>'
)
AS_IS, TURNED = "as-is", "turned"


@dataclass(frozen=True, kw_only=True)
class PlacedPictureInputs:
    picture: Picture | None = picture("Picture", without="an empty place is shown.")
    way: str = choice("Shown", default=AS_IS, options={AS_IS: "As it is", TURNED: "Turned half round"})


@dataclass(frozen=True, kw_only=True)
class PlacedPictureOutputs:
    width_px: int | None = measure("Width", unit="px", decimals=0)
    placed: Figure = figure("The picture in its place")


def placed_picture(inputs: PlacedPictureInputs) -> PlacedPictureOutputs:
    """Return the width of the picture in pixels and a figure in which it has its place."""
    drawn = _FIGURE
    if inputs.way == TURNED:
        drawn = drawn.replace("<image ", '<image transform="rotate(180 60 45)" ')
    width_px = inputs.picture.width_px if inputs.picture else None
    return PlacedPictureOutputs(width_px=width_px, placed=Figure(drawn, "The picture in its place."))


PLACED_PICTURE = Calculator(
    id="placed-picture",
    title="Where is it?",
    summary="Shows a picture in its place.",
    stage="artwork",
    about=NEITHER,
    inputs=PlacedPictureInputs,
    outputs=PlacedPictureOutputs,
    compute=placed_picture,
)
