"""Rows, and rows within rows: how many letters a set of markings has."""

from __future__ import annotations

from dataclasses import dataclass

from calculators.declare import NEITHER, Calculator, measure, number, rows, table, text, whole_number, words


@dataclass(frozen=True, kw_only=True)
class Line:
    letters: str = text("Letters", default="12", most=20)
    gap_mm: float | None = number("Gap", unit="mm", low=0, high=50, without="none is left.")


@dataclass(frozen=True, kw_only=True)
class Marking:
    copies: int = whole_number("Copies", unit="", low=1, high=99, default=2)
    width_mm: float = number("Width", unit="mm", low=0.1, high=500, default=25.4)
    lines: tuple[Line, ...] = rows("Lines", row=Line, default=(Line(letters="12"),), fewest=0, most=3)


@dataclass(frozen=True, kw_only=True)
class RowsInRowsInputs:
    markings: tuple[Marking, ...] = rows(
        "Markings",
        row=Marking,
        default=(Marking(), Marking(copies=1, lines=(Line(letters="Teasel"),))),
        fewest=1,
        most=4,
        help="One row a marking.",
    )


@dataclass(frozen=True, kw_only=True)
class MarkingLetters:
    text: str = words("Text")
    width_mm: float = measure("Width", unit="mm", decimals=1)
    letters: int = measure("Letters in all", decimals=0)


@dataclass(frozen=True, kw_only=True)
class RowsInRowsOutputs:
    letters: int = measure("Letters in all", decimals=0)
    each: tuple[MarkingLetters, ...] = table("Each marking", row=MarkingLetters)


def rows_in_rows(inputs: RowsInRowsInputs) -> RowsInRowsOutputs:
    """Return how many letters the markings have, copies counted."""
    each = tuple(
        MarkingLetters(
            text=" / ".join(line.letters for line in marking.lines) or "-",
            width_mm=marking.width_mm,
            letters=marking.copies * sum(len(line.letters) for line in marking.lines),
        )
        for marking in inputs.markings
    )
    return RowsInRowsOutputs(letters=sum(row.letters for row in each), each=each)


ROWS_IN_ROWS = Calculator(
    id="rows-in-rows",
    title="How many letters?",
    summary="Counts the letters of a set of markings.",
    stage="sheet",
    about=NEITHER,
    inputs=RowsInRowsInputs,
    outputs=RowsInRowsOutputs,
    compute=rows_in_rows,
)
