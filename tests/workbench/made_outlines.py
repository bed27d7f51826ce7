"""A file of outlines, as tracing makes one, that the reader may keep for the other calculators."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from calculators.declare import MARKING, Calculator, NamedFile, file_result, number
from calculators.files.outline_files import svg_of_outlines
from calculators.job_fields import TRACED_OUTLINES


@dataclass(frozen=True, kw_only=True)
class MadeOutlinesInputs:
    side_mm: float = number("Side", unit="mm", low=1, high=100, default=10)
    wider_mm: float = number("Wider all round by", unit="mm", low=0, high=1, default=0)


@dataclass(frozen=True, kw_only=True)
class MadeOutlinesOutputs:
    svg: NamedFile = file_result("A square, SVG", shares=TRACED_OUTLINES)


def _closed(corners: Sequence[complex]) -> list[tuple[complex, complex]]:
    """Return the sides from corner to corner."""
    return [(corner, corners[at - len(corners) + 1]) for at, corner in enumerate(corners)]


def made_outlines(inputs: MadeOutlinesInputs) -> MadeOutlinesOutputs:
    """Return a red square on nothing. Only a wider one needs a module that Python fetches when it imports it."""
    side = inputs.side_mm
    corners = [complex(x, y) for x, y in ((0.2, 0.2), (0.8, 0.2), (0.8, 0.8), (0.2, 0.8))]
    ring = _closed([side * corner for corner in corners])
    if inputs.wider_mm:
        from calculators.shapes.outer_edges import outer_edges

        edges = outer_edges([ring], inputs.wider_mm, 0.01)
        assert edges, "a square is not tangled"
        ring = _closed(edges[1][0])
    return MadeOutlinesOutputs(
        svg=NamedFile("square.svg", "image/svg+xml", svg_of_outlines([("#b82a2a", [ring])], side, side, "square"))
    )


MADE_OUTLINES = Calculator(
    id="made-outlines",
    title="What is a square?",
    summary="A square as outlines.",
    stage="artwork",
    about=MARKING,
    inputs=MadeOutlinesInputs,
    outputs=MadeOutlinesOutputs,
    compute=made_outlines,
)
