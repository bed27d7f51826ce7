"""Does this picture hold at that size, looked into pixel by pixel, and a page that prints it exactly?"""

from __future__ import annotations

from collections.abc import Generator
from dataclasses import dataclass

from calculators import example, messages, sight, tables
from calculators.artwork.preview_figure import preview_figure
from calculators.artwork.resolution import LEVELS, ResolutionInputs, ResolutionOutputs, SeenFrom, resolution
from calculators.declare import (
    Calculator,
    Figure,
    NamedFile,
    Progress,
    Said,
    choice,
    figure,
    file_result,
    measure,
    named,
    number,
    reasons,
    said,
    table,
    verdict,
)
from calculators.files.pdf import NEEDS
from calculators.files.picture import Picture
from calculators.files.proof_page import NoRoom, ProofPage
from calculators.job_fields import marking_picture, printed_width
from calculators.pixels import inspection
from calculators.units import MM_PER_INCH

ENLARGED = {
    "no": "No sign of it",
    "nearest": "Yes, by repeating pixels",
    "smooth": "Yes, smoothly",
}
TRANSPARENT = {"none": "None", "clear": "Clear areas with hard edges", "partial": "Clear areas with soft edges"}
DAMAGE = {"no": "No sign of it", "yes": "Yes, near its edges"}


@dataclass(frozen=True, kw_only=True)
class PictureCheckInputs:
    picture: Picture | None = marking_picture(without="the crest of the demonstration is looked at.")
    width_mm: float = printed_width()
    viewing_distance_mm: float = number(
        "Looked at from", unit="mm", low=50, high=10_000, default=sight.IN_THE_HAND_MM,
        help="In the hand is about 300 mm, a shelf 800 mm.",
    )  # fmt: skip
    printer: str = choice("Printer", table="printers", default="inkjet-pigment")
    sheet: str = choice("Sheet to print on", table="papers", default="a4")


@dataclass(frozen=True, kw_only=True)
class PictureCheckOutputs:
    verdict: str = verdict("Verdict", levels=LEVELS)
    reasons: tuple[Said, ...] = reasons()
    width_px: int = measure("Picture width", unit="px", decimals=0)
    height_px: int = measure("Picture height", unit="px", decimals=0)
    printed_width_mm: float = measure("Printed width", unit="mm", decimals=2)
    printed_height_mm: float = measure("Printed height", unit="mm", decimals=2)
    printed_ppi: float = measure("Printed resolution", unit="ppi", decimals=0, help="By the pixels that the file has.")
    true_detail_width_px: int = measure(
        "Detail it really has, across", unit="px", decimals=0, help="An estimate; the verdict goes by it."
    )
    true_detail_ppi: float = measure("Detail in print", unit="ppi", decimals=0)
    enlarged: str = named("Enlarged before", names=ENLARGED)
    edges: str = named("Edges", names={"soft": "Soft, with in-between shades", "hard": "Hard, stepped"})
    transparency: str = named("Transparency", names=TRANSPARENT)
    jpeg_damage: str = named("JPEG damage", names=DAMAGE, help="An estimate.")
    largest_sharp_width_mm: float = measure("Widest that stays sharp", unit="mm", decimals=1)
    largest_good_width_mm: float = measure("Widest that stays good enough", unit="mm", decimals=1)
    preview: Figure | None = figure("The marking on its sheet, at true proportion")
    page: NamedFile | None = file_result("Page to print, PDF", help="With bars of 100 mm to measure and a ladder of thin lines.")
    at_distances: tuple[SeenFrom, ...] = table("The same, seen otherwise", row=SeenFrom)


def picture_check(inputs: PictureCheckInputs) -> Generator[Progress, None, PictureCheckOutputs]:
    """Return what a picture really holds at a printed size, and a page that prints it exactly.

    The detail, the edges and the JPEG damage are estimates from the pixels; sizes are exact. Yields
    progress. Where the marking does not fit on the sheet, no page is made, and that is told.
    """
    looked_at = inputs.picture or example.picture()
    width_px, height_px = looked_at.width_px, looked_at.height_px
    height_mm = inputs.width_mm * height_px / width_px
    yield Progress(0.1, messages.LOOKING_AT_PIXELS)
    found = inspection.inspected(looked_at)
    judged = resolution(ResolutionInputs(
        width_px=found.detail.width_px, height_px=found.detail.height_px, width_mm=inputs.width_mm, height_mm=height_mm,
        viewing_distance_mm=inputs.viewing_distance_mm, edges=found.edges, printer=inputs.printer,
    ))  # fmt: skip
    yield Progress(0.6, messages.WRITING_PAGE)
    try:
        page = ProofPage.laid_out(inputs.sheet, inputs.width_mm, height_mm)
    except NoRoom as room:
        return _outputs(inputs, looked_at, found, judged, room)
    return _outputs(inputs, looked_at, found, judged, page)


def _outputs(
    inputs: PictureCheckInputs, looked_at: Picture, found: inspection.Inspection, judged: ResolutionOutputs,
    page: ProofPage | NoRoom,
) -> PictureCheckOutputs:  # fmt: skip
    enlarged = found.detail.enlarged or "no"
    told = list(judged.reasons)
    if enlarged != "no":
        told.append(said(messages.DETAIL_BELOW_PIXELS, has_px=found.detail.width_px, file_px=looked_at.width_px))
    if found.jpeg.found:
        told.append(said(messages.JPEG_MARKS))
    made = shown = None
    if isinstance(page, NoRoom):
        told.append(said(messages.NO_ROOM_ON_SHEET, widest_mm=page.widest_mm))
    else:
        title = looked_at.name.rpartition(".")[0] or looked_at.name
        made = NamedFile(f"{title}.pdf", "application/pdf", page.written(looked_at, title))
        shown = preview_figure(page, "picture" if inputs.picture else None)
    return PictureCheckOutputs(
        verdict=judged.verdict,
        reasons=tuple(told),
        width_px=looked_at.width_px,
        height_px=looked_at.height_px,
        printed_width_mm=inputs.width_mm,
        printed_height_mm=inputs.width_mm * looked_at.height_px / looked_at.width_px,
        printed_ppi=looked_at.width_px / inputs.width_mm * MM_PER_INCH,
        true_detail_width_px=found.detail.width_px,
        true_detail_ppi=judged.printed_ppi,
        enlarged=enlarged,
        edges=found.edges,
        transparency=found.transparency,
        jpeg_damage="yes" if found.jpeg.found else "no",
        largest_sharp_width_mm=judged.largest_sharp_width_mm,
        largest_good_width_mm=judged.largest_good_width_mm,
        preview=shown,
        page=made,
        at_distances=judged.at_distances,
    )


CALCULATOR = Calculator(
    id="picture-check",
    title="What does this picture really hold?",
    summary="Its true detail, its edges and its faults at printed size, and a page that prints it exactly.",
    stage="artwork",
    inputs=PictureCheckInputs,
    outputs=PictureCheckOutputs,
    compute=picture_check,
    sources=("iso-8596", tables.COMMON_PRACTICE),
    needs=NEEDS,
    limit_s=60,
    order=20,
)
