"""Colours in rows: which paints a model carries."""

from __future__ import annotations

from dataclasses import dataclass

from calculators.declare import Calculator, colour, colour_result, rows, table


@dataclass(frozen=True, kw_only=True)
class Coat:
    paint: str = colour("Paint", default="#efe4c4", names="paint-colours")


@dataclass(frozen=True, kw_only=True)
class ColourRowsInputs:
    coats: tuple[Coat, ...] = rows("Coats", row=Coat, default=(Coat(), Coat(paint="#7a2232")), most=4)


@dataclass(frozen=True, kw_only=True)
class Painted:
    paint: str = colour_result("Paint")


@dataclass(frozen=True, kw_only=True)
class ColourRowsOutputs:
    painted: tuple[Painted, ...] = table("Painted", row=Painted)


def colour_rows(inputs: ColourRowsInputs) -> ColourRowsOutputs:
    """Return the paint of each coat, in order."""
    return ColourRowsOutputs(painted=tuple(Painted(paint=each.paint) for each in inputs.coats))


COLOUR_ROWS = Calculator(
    id="colour-rows",
    title="Which paints does the model carry?",
    summary="Each coat, in order.",
    stage="underlay",
    inputs=ColourRowsInputs,
    outputs=ColourRowsOutputs,
    compute=colour_rows,
)
