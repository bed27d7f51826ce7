"""Check pixel by pixel whether a picture suits a printed size, and make a page that prints it exactly."""

from __future__ import annotations

from collections.abc import Generator
from dataclasses import dataclass

from calculators import example, messages, tables
from calculators.artwork import next_steps
from calculators.artwork.judgement import LEVELS, Judgement, Looked, SeenFrom, detail_px, of_picture, printed_ppi
from calculators.artwork.preview_figure import preview_figure
from calculators.declare import (
    MARKING,
    Calculator,
    Figure,
    Lead,
    Message,
    NamedFile,
    Progress,
    choice,
    figure,
    file_result,
    folded,
    leads,
    measure,
    message,
    named,
    reasons,
    table,
    verdict,
    yes_no,
)
from calculators.files import NEEDS
from calculators.files.picture import Picture
from calculators.files.proof_page import NoRoom, ProofPage
from calculators.job_fields import (
    looked_at_from,
    marking_edges,
    marking_lines,
    marking_picture,
    marking_printer,
    own_width,
    own_width_result,
    printed_width,
    width_is_of,
)
from calculators.marking_widths import Widths, with_widths
from calculators.pixels.inspection import Inspection

ENLARGED = {
    "no": "No sign of it",
    "nearest": "Yes, by repeating pixels",
    "smooth": "Yes, smoothly",
    "unknown": "Nobody can tell",
}
TRANSPARENT = {
    "none": "None",
    "clear": "Transparent areas with hard edges",
    "partial": "Transparent areas with soft edges",
}
DAMAGE = {"no": "No sign of it", "yes": "Yes, near its edges"}


@dataclass(frozen=True, kw_only=True)
class PictureCheckInputs:
    picture: Picture | None = marking_picture(without="the page uses the demonstration crest.")
    width_of: str = width_is_of()
    width_mm: float = printed_width()
    own_width_mm: float = own_width()
    viewing_distance_mm: float = looked_at_from()
    edges: str = marking_edges()
    printer: str = marking_printer()
    line: str = marking_lines()
    sheet: str = choice("Sheet to print on", table="papers", default="a4")
    crosses: bool = folded(
        yes_no(
            "Register crosses on the page to print",
            default=False,
            help="At the same places as in stencils and backing pieces that are cut for it.",
        )
    )


@dataclass(frozen=True, kw_only=True)
class PictureCheckOutputs:
    verdict: str = verdict("Verdict", levels=LEVELS)
    reasons: tuple[Message, ...] = reasons()
    width_px: int = measure("Picture width", unit="px", decimals=0)
    height_px: int = measure("Picture height", unit="px", decimals=0)
    printed_width_mm: float = measure("Printed width", unit="mm", decimals=2)
    own_width_mm: float | None = own_width_result()
    printed_height_mm: float = measure("Printed height", unit="mm", decimals=2)
    printed_ppi: float = measure("Printed resolution", unit="ppi", decimals=0, help="From the pixels in the file.")
    true_detail_width_px: int = measure("Real detail, across", unit="px", decimals=0, help=messages.DETAIL_HELP)
    true_detail_ppi: float = measure("Detail in print", unit="ppi", decimals=0)
    enlarged: str = named("Enlarged before", names=ENLARGED)
    edges: str = named("Edges", names={"soft": "Soft, with in-between shades", "hard": "Hard, stepped"})
    transparency: str = named("Transparency", names=TRANSPARENT)
    jpeg_damage: str = named("JPEG damage", names=DAMAGE, help="An estimate.")
    largest_sharp_width_mm: float = measure("Widest that stays sharp", unit="mm", decimals=1)
    largest_good_width_mm: float = measure("Widest that stays good enough", unit="mm", decimals=1)
    preview: Figure | None = figure("The marking on its sheet, at true proportion")
    page: NamedFile | None = file_result(
        "Page to print, PDF", help="With bars of 100 mm to measure and a ladder of thin lines."
    )
    at_distances: tuple[SeenFrom, ...] = table(
        "The same at other distances", row=SeenFrom, decides=("place", "distance_mm", "verdict")
    )
    next_steps: tuple[Lead, ...] = leads(next_steps.AT_ITS_SIZE)


def picture_check(inputs: PictureCheckInputs) -> Generator[Progress, None, PictureCheckOutputs]:
    """Return the true detail of a picture at a printed size, and a page that prints it exactly.

    The detail, the edges and the JPEG damage are estimates from the pixels; sizes are exact. Yields
    progress. If the marking does not fit on the sheet, there is no page, and a reason says so.
    """
    looked_at = inputs.picture or example.picture()
    inputs, widths = with_widths(inputs, looked_at)
    height_mm = looked_at.height_mm(inputs.width_mm)
    looked = Looked(inputs.viewing_distance_mm, inputs.edges, tables.row("printers", inputs.printer), inputs.line)
    found, looked, judgement = yield from of_picture(looked_at, inputs.width_mm, None, looked)
    yield Progress(0.6, messages.WRITING_PAGE)
    try:
        page: ProofPage | NoRoom = ProofPage.laid_out(inputs.sheet, inputs.width_mm, height_mm)
    except NoRoom as room:
        page = room
    return _outputs(inputs, looked_at, found, looked.edges, judgement, widths, page)


def _outputs(
    inputs: PictureCheckInputs,
    looked_at: Picture,
    found: Inspection,
    edges: str,
    judgement: Judgement,
    widths: Widths,
    page: ProofPage | NoRoom,
) -> PictureCheckOutputs:
    reasons = [*judgement.reasons, *widths.reasons]
    height_mm = looked_at.height_mm(inputs.width_mm)
    made = preview = None
    width_px, height_px = looked_at.size_px
    if isinstance(page, NoRoom):
        reasons.append(message(messages.NO_ROOM_ON_SHEET, widest_mm=page.widest_mm))
    else:
        title = looked_at.name.rpartition(".")[0] or looked_at.name
        made = NamedFile(f"{title}.pdf", "application/pdf", page.written(looked_at, title, crosses=inputs.crosses))
        preview = preview_figure(page, "picture" if inputs.picture else None, crosses=inputs.crosses)
    return PictureCheckOutputs(
        verdict=judgement.verdict,
        reasons=tuple(reasons),
        width_px=width_px,
        height_px=height_px,
        printed_width_mm=inputs.width_mm,
        own_width_mm=widths.own_mm,
        printed_height_mm=height_mm,
        printed_ppi=printed_ppi(width_px, height_px, inputs.width_mm, height_mm),
        true_detail_width_px=detail_px(found)[0],
        true_detail_ppi=judgement.printed_ppi,
        enlarged=found.detail.enlarged or ("unknown" if found.detail.least_width_px else "no"),
        edges=edges,
        transparency=found.transparency,
        jpeg_damage="yes" if found.jpeg.found else "no",
        largest_sharp_width_mm=judgement.largest_sharp_width_mm,
        largest_good_width_mm=judgement.largest_good_width_mm,
        preview=preview,
        page=made,
        at_distances=judgement.at_distances,
    )


CALCULATOR = Calculator(
    id="picture-check",
    title="What does this picture really hold?",
    summary="Shows its true detail, its edges and its faults at printed size, and makes a page that prints it exactly.",
    also=("dpi", "blurry", "fuzzy", "unsharp", "jpeg", "image quality", "upscaled", "pixelated"),
    stage="artwork",
    about=MARKING,
    inputs=PictureCheckInputs,
    outputs=PictureCheckOutputs,
    compute=picture_check,
    sources=("iso-8596", tables.COMMON_PRACTICE, tables.ESTIMATE),
    needs=NEEDS,
    limit_s=60,
    order=20,
)
