"""Make stencils, backing pieces and outlines of a marking for a knife or a cutter."""

from __future__ import annotations

from collections.abc import Generator

from calculators import tables
from calculators.declare import MARKING, Calculator, PictureStage, Progress
from calculators.files import NEEDS
from calculators.underlay.cut_fields import CutFileInputs, CutFileOutputs


def cut_file(inputs: CutFileInputs) -> Generator[Progress, None, CutFileOutputs]:
    """Return what is cut for a marking: pieces in their frames, judged, drawn and written to files.

    White beneath a colour is choked, colours are spread beneath the next one, and bridges hold what would fall out of
    a loose stencil. Yields progress. Raises Refused for marks and changes that cannot be read.
    """
    # A part of its own, since no other page needs what cuts.
    from calculators.underlay import cut_answer

    return (yield from cut_answer.answered(inputs))


CALCULATOR = Calculator(
    id="cut-file",
    title="How do I get this cut?",
    summary="Makes stencils, backing pieces and outlines from a marking, says where they are hard to cut, and writes "
    "SVG, DXF and PDF.",
    also=("plotter", "cutter", "knife", "weeding", "laser"),
    stage="underlay",
    about=MARKING,
    inputs=CutFileInputs,
    outputs=CutFileOutputs,
    compute=cut_file,
    sources=(tables.COMMON_PRACTICE, tables.ESTIMATE),
    cautions=tuple(tables.row("hazards", each).caution for each in ("blades", "laser-cut-vinyl")),
    needs=NEEDS,
    limit_s=120,
    order=30,
    picture_stage=PictureStage(of="pieces", numbers=("piece_count", "length_mm")),
)
