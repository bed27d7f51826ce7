"""Colours in rows: which paints a model carries."""

from __future__ import annotations

from dataclasses import dataclass

from calculators.declare import (
    MARKING,
    Calculator,
    NamedFile,
    any_file,
    colour,
    colour_result,
    rows,
    shared,
    table,
    words,
)


@dataclass(frozen=True, kw_only=True)
class Coat:
    paint: str = colour("Paint", default="#efe4c4", names="paint-colours")


@dataclass(frozen=True, kw_only=True)
class ColourRowsInputs:
    coats: tuple[Coat, ...] = rows("Coats", row=Coat, default=(Coat(), Coat(paint="#7a2232")), most=4)
    notes: NamedFile | None = shared("notes", any_file("Notes", accept=".txt", without="none are read."), MARKING)


@dataclass(frozen=True, kw_only=True)
class Painted:
    paint: str = colour_result("Paint")


@dataclass(frozen=True, kw_only=True)
class ColourRowsOutputs:
    painted: tuple[Painted, ...] = table("Painted", row=Painted)
    notes: str | None = words("The notes begin")


def colour_rows(inputs: ColourRowsInputs) -> ColourRowsOutputs:
    """Return the paint of each coat, in order, and the beginning of the notes."""
    return ColourRowsOutputs(
        painted=tuple(Painted(paint=each.paint) for each in inputs.coats),
        notes=inputs.notes.data[:20].decode("utf-8", "replace") if inputs.notes else None,
    )


COLOUR_ROWS = Calculator(
    id="colour-rows",
    title="Which paints does the model carry?",
    summary="Each coat, in order.",
    stage="underlay",
    about=MARKING,
    inputs=ColourRowsInputs,
    outputs=ColourRowsOutputs,
    compute=colour_rows,
)
