"""What the outlines of a traced picture lose of it."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from calculators.pixels.fidelity import losses
from calculators.pixels.lost_parts import NOTHING_LOST, Losses
from calculators.pixels.raster import Raster
from calculators.pixels.traced_labels import labels_of, rendered
from calculators.pixels.tracing import ONE, TRANSPARENCY, Traced


def lost_of(found: Traced, raster: Raster, *, by: str) -> Losses:
    """Return what the outlines lose of the picture; traced as one colour, its other colours are no loss."""
    if by == TRANSPARENCY:
        return NOTHING_LOST
    labels, colours = labels_of(found)
    if by == ONE:
        return replace(
            losses(raster, labels, colours), merged=(), washed=(), gradient=(), unsteady=(), near=(), flat=()
        )
    return losses(raster, labels, colours, rendered=partial(rendered, found))
