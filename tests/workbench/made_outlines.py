"""A file of outlines, as tracing makes one, that the reader may keep for the other calculators."""

from __future__ import annotations

from dataclasses import dataclass

from calculators.declare import MARKING, Calculator, NamedFile, file_result, number
from calculators.files.outline_files import svg_of_outlines
from calculators.job_fields import TRACED_OUTLINES


@dataclass(frozen=True, kw_only=True)
class MadeOutlinesInputs:
    side_mm: float = number("Side", unit="mm", low=1, high=100, default=10)


@dataclass(frozen=True, kw_only=True)
class MadeOutlinesOutputs:
    svg: NamedFile = file_result("A square, SVG", shares=TRACED_OUTLINES)


def made_outlines(inputs: MadeOutlinesInputs) -> MadeOutlinesOutputs:
    """Return a red square on nothing."""
    side = inputs.side_mm
    corners = [complex(x, y) for x, y in ((0.2, 0.2), (0.8, 0.2), (0.8, 0.8), (0.2, 0.8))]
    ring = [(side * start, side * end) for start, end in zip(corners, corners[1:] + corners[:1], strict=True)]
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
