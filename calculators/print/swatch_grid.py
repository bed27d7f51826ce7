"""Which printed colour looks like the paint: a grid of neighbours to print, and the patch that was chosen."""

from __future__ import annotations

from dataclasses import dataclass

from calculators import tables
from calculators.declare import (
    MARKING,
    Calculator,
    Figure,
    Lead,
    Message,
    NamedFile,
    Problem,
    Refused,
    advice,
    choice,
    colour_result,
    figure,
    file_result,
    folded,
    leads,
    measure,
    message,
    number,
    reasons,
    table,
    text,
    verdict,
    words,
)
from calculators.files import NEEDS
from calculators.job_fields import film, first_paint, marking_printer, printer_margin
from calculators.messages import quoted
from calculators.numbers import rounded
from calculators.print import chart_sentences as sentences
from calculators.print import next_steps
from calculators.print.chart_page import ChartPage, chart_page, chart_pdf
from calculators.print.swatches import Grid, Swatch, grid_blocks, grid_figure, grid_round, steps_in_words

READY, PARTLY, CHOSEN, EDGE, NO_ROOM = "ready", "partly", "chosen", "edge", "no-room"
LEVELS = {
    READY: ("pass", "Ready to print"),
    PARTLY: ("watch", "Part of the grid is beyond what a screen colour can be"),
    CHOSEN: ("pass", "This is the colour to print"),
    EDGE: ("watch", "A better patch may lie beyond the grid"),
    NO_ROOM: ("fail", "The grid does not fit on this sheet"),
}


@dataclass(frozen=True, kw_only=True)
class SwatchGridInputs:
    paint: str = first_paint()
    step: float = number(
        "Step from patch to patch",
        unit="ΔE",
        low=0.5,
        high=6,
        default=3,
        help="CIEDE2000. Begin with 3, and halve it round the best patch. Below 1 few people see a step.",
    )
    best: str = text(
        "Best patch",
        default="",
        most=8,
        may_be_empty=True,
        help="Its name, such as H2, once the printed grid has lain beside the paint. Empty until then.",
    )
    patch_mm: float = number("Size of a patch", unit="mm", low=3, high=25, default=7)
    printer: str = marking_printer()
    film: str = film()
    paper: str = choice("Sheet", table="papers", default="a4")
    margin_mm: float = folded(printer_margin())


@dataclass(frozen=True, kw_only=True)
class SwatchRow:
    """One patch that is printed."""

    name: str = words("Patch")
    colour: str = colour_result("Colour")
    light: str = words("Lightness")
    chroma: str = words("Strength")
    hue: str = words("Hue")
    difference: float = measure("From the paint", unit="ΔE", decimals=1)


@dataclass(frozen=True, kw_only=True)
class SwatchGridOutputs:
    verdict: str = verdict("Verdict", levels=LEVELS)
    reasons: tuple[Message, ...] = reasons()
    colour: str | None = colour_result("Colour to print")
    difference: float | None = measure("Its difference from the colour typed", unit="ΔE", decimals=1)
    used_mm: float | None = measure("Length of film that the grid takes", unit="mm", decimals=0)
    grid: Figure = figure("The grid")
    patches: tuple[SwatchRow, ...] = folded(
        table("Each patch", row=SwatchRow, decides=("name", "colour", "difference"))
    )
    pdf: NamedFile | None = file_result("Grid to print, PDF")
    next_steps: tuple[Lead, ...] = leads(next_steps.SWATCH_GRID)


def swatch_grid(inputs: SwatchGridInputs) -> SwatchGridOutputs:
    """Return a grid of colours round that of the paint, and the colour of the patch that was chosen.

    Raises Refused where the grid has no such patch.
    """
    grid = grid_round(inputs.paint, inputs.step)
    best = _best(grid, inputs.best)
    page = chart_page(grid_blocks(grid, inputs.patch_mm), inputs.paper, inputs.margin_mm)
    verdict_here, why = _judged(grid, best, page)
    return SwatchGridOutputs(
        verdict=verdict_here,
        reasons=tuple(why),
        colour=best.found.colour if best else None,
        difference=best.found.difference if best else None,
        used_mm=page.used.imag if page else None,
        grid=grid_figure(grid),
        patches=tuple(_rows(grid)),
        pdf=_pdf(page) if page else None,
    )


def _pdf(page: ChartPage) -> NamedFile:
    return NamedFile("swatches.pdf", "application/pdf", chart_pdf(page, sentences.TITLE_SWATCHES))


def _best(grid: Grid, typed: str) -> Swatch | None:
    """Return the patch that was typed. Raises Refused."""
    name = "".join(typed.split()).upper()
    if not name:
        return None
    found = grid.named(name)
    if found is None:
        hint = sentences.PATCHES_ARE.format(last=grid.swatches[-1].name)
        raise Refused(Problem("best", sentences.NO_SUCH_PATCH.format(name=quoted(typed)), hint))
    if not found.found.colour:
        raise Refused(Problem("best", sentences.EMPTY_PATCH.format(name=name), sentences.CHOOSE_NEAR))
    return found


def _judged(grid: Grid, best: Swatch | None, page: ChartPage | None) -> tuple[str, list[Message]]:
    if best:
        return _chosen(best)
    if page is None:
        return NO_ROOM, [message(sentences.NO_ROOM), advice(sentences.SMALLER_PATCHES)]
    missing = sum(each.found.colour is None for each in grid.swatches)
    ways = {"high": grid.axes.chroma[0], "up": grid.axes.hue[0]}
    ready = [message(sentences.GRID_READY, **ways), advice(sentences.GRID_HOW), message(sentences.WHOLE_SHEET)]
    if not missing:
        return READY, [*ready, message(sentences.GRID_EVERY)]
    return PARTLY, [message(sentences.GRID_SMALL, missing=str(missing), count=str(len(grid.swatches))), *ready]


def _chosen(best: Swatch) -> tuple[str, list[Message]]:
    values = {"name": best.name, "colour": best.found.colour}
    if best.is_at_the_edge:
        why = [message(sentences.AT_THE_EDGE, **values), advice(sentences.AT_THE_EDGE_HOW, **values)]
        return EDGE, [*why, message(sentences.CHOSEN, **values, difference=_shown(best))]
    found = message(sentences.CHOSEN, **values, difference=_shown(best))
    if not best.found.difference:
        found = message(sentences.CHOSEN_CENTRE, **values)
    return CHOSEN, [found, advice(sentences.CHOSEN_HOW, **values), message(sentences.FINER, **values)]


def _shown(best: Swatch) -> str:
    return f"{rounded(best.found.difference or 0.0, 1)} ΔE"


def _rows(grid: Grid) -> list[SwatchRow]:
    return [
        SwatchRow(
            name=each.name,
            colour=each.found.colour,
            light=steps_in_words(each.light, (sentences.LIGHTER, sentences.DARKER)),
            chroma=steps_in_words(each.chroma, grid.axes.chroma),
            hue=steps_in_words(each.hue, grid.axes.hue),
            difference=each.found.difference,
        )
        for each in grid.swatches
        if each.found.colour is not None and each.found.difference is not None
    ]


CALCULATOR = Calculator(
    id="swatch-grid",
    title="Which printed colour looks like my paint?",
    summary="Makes a grid of near colours to print on the film, and gives the colour of the patch that matches.",
    also=("colour match", "match paint", "swatches", "colour chart", "body colour", "test patches"),
    stage="print",
    about=MARKING,
    inputs=SwatchGridInputs,
    outputs=SwatchGridOutputs,
    compute=swatch_grid,
    sources=("ciede2000", "iec-61966-2-1", tables.COMMON_PRACTICE, tables.ESTIMATE),
    needs=NEEDS,
    order=20,
)
