"""A paper template that places the marking on the model, left and right."""

from __future__ import annotations

from collections.abc import Generator
from dataclasses import dataclass

from calculators import example, messages, tables
from calculators.artwork import next_steps
from calculators.artwork.template_figure import template_figure
from calculators.artwork.template_files import NoRoom, template_pdf, template_svg
from calculators.artwork.template_layout import (
    ABOVE,
    BELOW,
    FIRM_MM,
    LEFT,
    RIGHT,
    EdgeInside,
    ModelEdge,
    Template,
    left_template,
    right_template,
    strips,
)
from calculators.declare import (
    MARKING,
    Calculator,
    Figure,
    Lead,
    Message,
    NamedFile,
    Progress,
    advice,
    choice,
    figure,
    file_result,
    folded,
    leads,
    measure,
    message,
    number,
    reasons,
    text,
    verdict,
    yes_no,
)
from calculators.files import NEEDS
from calculators.files.outline_pixels import with_pixels
from calculators.files.picture import Picture
from calculators.job_fields import marking_picture, own_width, own_width_result, printed_width, width_is_of
from calculators.marking_widths import with_widths
from calculators.pixels.marking_outline import Outline, box_outline, marking_outline

READY, NARROW, OPEN, TOO_LARGE, INSIDE = "ready", "narrow", "open", "too-large", "inside"
LEVELS = {
    READY: ("pass", "Ready to print and cut"),
    NARROW: ("watch", "One strip of its paper is narrow"),
    OPEN: ("watch", "The window reaches an edge of the paper"),
    TOO_LARGE: ("fail", "The template is larger than the sheet"),
    INSIDE: ("fail", "An edge would run through the marking"),
}
BOTH = "both"
TO_EDGE, TO_CENTRE = "edge", "centre"


@dataclass(frozen=True, kw_only=True)
class PlacementTemplateInputs:
    picture: Picture | None = marking_picture(without="the page uses the demonstration crest.", or_outlines=True)
    width_of: str = width_is_of()
    width_mm: float = printed_width()
    own_width_mm: float = own_width()
    rim_mm: float = number(
        "Film round the marking",
        unit="mm",
        low=0,
        high=20,
        default=1,
        help="How much clear film you leave where you cut it out. The window is as large as the film.",
    )
    measured_to: str = choice(
        "Distances are measured to",
        default=TO_EDGE,
        options={TO_EDGE: "The nearest edge of the marking", TO_CENTRE: "The centre of the marking"},
        help="On the printed marking, without its film.",
    )
    upright_name: str = text("Upright edge on the model", default="door frame", most=40)
    upright_mm: float = number("Distance to the upright edge", unit="mm", low=0, high=300, default=12)
    upright_lies: str = choice(
        "On the left side it lies",
        default=LEFT,
        options={LEFT: "Left of the marking", RIGHT: "Right of the marking"},
        help="As you look at the left side of the model. On the right side it is the other way round.",
    )
    level_name: str = text("Level edge on the model", default="foot of the body", most=40)
    level_mm: float = number("Distance to the level edge", unit="mm", low=0, high=300, default=8)
    level_lies: str = choice(
        "The level edge lies", default=BELOW, options={BELOW: "Below the marking", ABOVE: "Above the marking"}
    )
    sides: str = choice(
        "Templates for", default=BOTH, options={BOTH: "Both sides", LEFT: "Left side", RIGHT: "Right side"}
    )
    mirrored: bool = yes_no(
        "The marking on the right is mirrored",
        default=False,
        help="An emblem may be mirrored. Text and numbers never are.",
    )
    sheet: str = folded(choice("Sheet to print on", table="papers", default="a4"))


@dataclass(frozen=True, kw_only=True)
class PlacementTemplateOutputs:
    verdict: str = verdict("Verdict", levels=LEVELS)
    reasons: tuple[Message, ...] = reasons()
    width_mm: float | None = measure("Width of a paper piece", unit="mm", decimals=1)
    height_mm: float | None = measure("Height of a paper piece", unit="mm", decimals=1)
    own_width_mm: float | None = own_width_result()
    templates: Figure | None = figure("The templates")
    pdf: NamedFile | None = file_result("Templates to print, PDF", help="With a bar of 100 mm to measure.")
    svg: NamedFile | None = file_result("Templates, SVG in millimetres")
    next_steps: tuple[Lead, ...] = leads(next_steps.PLACEMENT_TEMPLATE)


def placement_template(inputs: PlacementTemplateInputs) -> Generator[Progress, None, PlacementTemplateOutputs]:
    """Return paper templates with a window for the marking, whose sides lie on two edges of the model.

    Yields progress.
    """
    picture = yield from with_pixels(inputs.picture or example.picture())
    inputs, widths = with_widths(inputs, picture)
    outline = yield from marking_outline(picture, inputs.width_mm, inputs.rim_mm)
    found = outline or box_outline(picture, inputs.width_mm, inputs.rim_mm)
    yield Progress(0.95, messages.WRITING_PAGE)
    try:
        left = _left(inputs, found)
    except EdgeInside as inside:
        return PlacementTemplateOutputs(
            verdict=INSIDE,
            reasons=(advice(messages.EDGE_IN_MARKING, name=inside.name, least_mm=inside.least_mm), *widths.reasons),
            width_mm=None,
            height_mm=None,
            own_width_mm=widths.own_mm,
            templates=None,
            pdf=None,
            svg=None,
        )
    right = right_template(left, mirrored=inputs.mirrored)
    templates = {BOTH: [left, right], LEFT: [left], RIGHT: [right]}[inputs.sides]
    title = messages.TEMPLATE_TITLE.format(name=picture.name.rpartition(".")[0] or picture.name)
    try:
        pdf: bytes | None = template_pdf(templates, inputs.sheet, title)
    except NoRoom:
        pdf = None
    verdict, why = _judged(inputs, left, fits=pdf is not None)
    if outline is None:
        why.append(advice(messages.TEMPLATE_BOX))
    return PlacementTemplateOutputs(
        verdict=verdict,
        reasons=(*why, *_further(inputs, left, pdf is not None), *widths.reasons),
        width_mm=left.width_mm,
        height_mm=left.height_mm,
        own_width_mm=widths.own_mm,
        templates=template_figure(templates),
        pdf=NamedFile("placement-template.pdf", "application/pdf", pdf) if pdf else None,
        svg=NamedFile("placement-template.svg", "image/svg+xml", template_svg(templates, title)),
    )


def _left(inputs: PlacementTemplateInputs, outline: Outline) -> Template:
    return left_template(
        outline,
        ModelEdge(inputs.upright_name, inputs.upright_lies, inputs.upright_mm),
        ModelEdge(inputs.level_name, inputs.level_lies, inputs.level_mm),
        inputs.rim_mm,
        to_centre=inputs.measured_to == TO_CENTRE,
    )


def _judged(inputs: PlacementTemplateInputs, left: Template, *, fits: bool) -> tuple[str, list[Message]]:
    """Return the verdict, and the reasons that decide it."""
    if not fits:
        too_large = advice(messages.TEMPLATE_TOO_LARGE, width_mm=left.width_mm, height_mm=left.height_mm)
        return TOO_LARGE, [too_large]
    names = (inputs.upright_name, inputs.level_name)
    wide = list(zip(names, strips(left, inputs.rim_mm), strict=True))
    opened = [advice(messages.TEMPLATE_OPEN, name=name) for name, strip in wide if strip <= 0]
    narrow = [
        advice(messages.TEMPLATE_NARROW, strip_mm=strip, name=name) for name, strip in wide if 0 < strip < FIRM_MM
    ]
    return OPEN if opened else NARROW if narrow else READY, [*opened, *narrow]


def _further(inputs: PlacementTemplateInputs, left: Template, fits: bool) -> list[Message]:
    """Return what else is to be known of the templates."""
    made = [message(messages.TEMPLATE_SIZE, width_mm=left.width_mm, height_mm=left.height_mm, rim_mm=inputs.rim_mm)]
    if fits:
        made.append(message(messages.TEMPLATE_HOW))
    if inputs.sides == BOTH:
        made.append(message(messages.TEMPLATE_RIGHT_MIRRORED if inputs.mirrored else messages.TEMPLATE_RIGHT_TEXT))
    names = inputs.upright_name + inputs.level_name
    if names.encode("cp1252", "replace").decode("cp1252") != names:
        made.append(message(messages.TEMPLATE_LETTERS))
    return made


CALCULATOR = Calculator(
    id="placement-template",
    title="How does it get to the same place on both sides?",
    summary="Makes a paper template with a window for the marking, its centre lines and distances to edges of a model.",
    also=("jig", "positioning guide", "alignment", "level", "straight"),
    stage="artwork",
    about=MARKING,
    inputs=PlacementTemplateInputs,
    outputs=PlacementTemplateOutputs,
    compute=placement_template,
    sources=(tables.COMMON_PRACTICE,),
    needs=NEEDS,
    limit_s=120,
    order=60,
)
