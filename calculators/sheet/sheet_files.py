"""What pieces draw, and the files of sheets: for the printer by film, the proof, one sheet as PNG or for a cutter."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from calculators.declare import Message, Progress, advice, message
from calculators.files.picture import PictureTrouble, checked_header, decoded_picture, read_picture
from calculators.jobs.whole import Whole
from calculators.pixels.white_areas import BadMark
from calculators.shapes.snap_rounding import TooTangled
from calculators.sheet import sheet_sentences as sentences
from calculators.sheet.sheet import BY_CUTTER, CLEAR, WHITE, SheetInputs
from calculators.sheets.blank import is_blank
from calculators.sheets.collect import UNREADABLE, Artwork, Collected, NotPrinted
from calculators.sheets.contents import Content, Steps, content_of, with_body_colour
from calculators.sheets.correction import Correction, TooLarge
from calculators.sheets.cut_sheet import cut_dxf, cut_svg
from calculators.sheets.layout import STRIP_SIZE
from calculators.sheets.model import TEST_STRIP, Part, SheetLayout
from calculators.sheets.print_file import NotPrintable, PrintOptions, print_file
from calculators.sheets.printer_errors import Unreadable, correction_for
from calculators.sheets.proof import proof_file
from calculators.sheets.trial_strip import strip_content
from calculators.sheets.white_plate import BadPlate, Plate
from calculators.values import NamedFile

#: So far round white lettering the body colour is printed, in mm (estimate).
BODY_MM = 3.0


@dataclass(frozen=True)
class Files:
    """The files that were made, None for those that are not wanted, and what kept others from being made."""

    clear: NamedFile | None = None
    white: NamedFile | None = None
    proof: NamedFile | None = None
    png: NamedFile | None = None
    png_white: NamedFile | None = None
    cut_svg: NamedFile | None = None
    cut_dxf: NamedFile | None = None
    troubles: tuple[Message, ...] = ()


def drawn(whole: Whole, collected: Collected, inputs: SheetInputs) -> Steps[tuple[Collected, dict[str, Content]]]:
    """Return the pieces with the size of what they draw, and their contents; what cannot be read is missing."""
    contents: dict[str, Content] = {TEST_STRIP: strip_content(STRIP_SIZE)}
    backed = {each.content for each in collected.items if each.part is Part.WHITE_UNDER}
    plated = {each.content for each in collected.items if inputs.plate and each.film == CLEAR}
    # On white film the marks say what is cut along, and what colour must not be carried into.
    on_white = {each.content for each in collected.items if each.film == WHITE}
    for place, (key, artwork) in enumerate(collected.contents.items()):
        yield Progress(0.3 * place / len(collected.contents), sentences.READING_ARTWORK.format(name=artwork.name))
        try:
            contents[key] = yield from _content(whole, artwork, with_white=key in backed | plated | on_white)
        except (PictureTrouble, BadMark):
            continue
    gone = {each.id.partition("/")[0]: each.name for each in collected.items if each.content not in contents}
    items = tuple(
        replace(each, size=contents[each.content].size) for each in collected.items if each.content in contents
    )
    missing = (*collected.missing, *(NotPrinted(id, name, UNREADABLE) for id, name in gone.items()))
    return replace(collected, items=items, missing=missing), contents


def _content(whole: Whole, artwork: Artwork, *, with_white: bool) -> Steps[Content]:
    data = whole.files[artwork.hash]
    is_drawing = checked_header(artwork.name, data, wanted=False).kind == "SVG"
    if is_drawing or with_white:
        picture = yield from decoded_picture(artwork.name, data)
    else:
        picture = read_picture(artwork.name, data)
    content = yield from content_of(picture, artwork.width_mm, marks=artwork.marks, with_white=with_white)
    if artwork.body:
        return (yield from with_body_colour(content, artwork.body, BODY_MM))
    return content


def made_files(
    inputs: SheetInputs, title: str, sheets: Sequence[SheetLayout], contents: Mapping[str, Content]
) -> Steps[Files]:
    """Return the files that are wanted. What keeps one from being made is said, and others are made all the same."""
    files = Files()
    troubles: list[Message] = []
    by_film = {film: [each for each in sheets if each.film == film] for film in (CLEAR, WHITE)}
    for film, layouts in by_film.items():
        if not layouts:
            continue
        try:
            options = _options(inputs, title, film, len(sheets))
            data = yield from print_file(layouts, contents, options)
            made = NamedFile(f"{film}-film.pdf", "application/pdf", data)
            files = replace(files, clear=made) if film == CLEAR else replace(files, white=made)
        except (NotPrintable, BadPlate, Unreadable, TooLarge) as trouble:
            troubles.append(trouble.sentence)
        except TooTangled:
            troubles.append(message(sentences.TOO_TANGLED))
        except PictureTrouble as trouble:
            troubles.append(message(sentences.UNDECODED, trouble=trouble.text))
    try:
        data = yield from proof_file(sheets, contents, title, inputs.date)
        files = replace(files, proof=NamedFile("proof.pdf", "application/pdf", data))
        one = next((each for each in sheets if each.number == inputs.file_sheet), sheets[0])
        if inputs.cut_by == BY_CUTTER:
            svg, dxf = cut_svg(one, contents, title), cut_dxf(one, contents)
            files = replace(
                files,
                cut_svg=NamedFile(f"sheet-{one.number}-cuts.svg", "image/svg+xml", svg),
                cut_dxf=NamedFile(f"sheet-{one.number}-cuts.dxf", "image/vnd.dxf", dxf),
            )
        if inputs.png_ppi is not None:
            from calculators.sheets.pixel_sheet import pixel_sheet

            options = _options(inputs, title, one.film, len(sheets))
            data = yield from pixel_sheet(one, contents, options, inputs.png_ppi)
            files = replace(files, png=NamedFile(f"sheet-{one.number}.png", "image/png", data))
            if options.plate:
                data = yield from pixel_sheet(one, contents, options, inputs.png_ppi, white=True)
                files = replace(files, png_white=NamedFile(f"sheet-{one.number}-white.png", "image/png", data))
    except (NotPrintable, BadPlate, Unreadable, TooLarge) as trouble:
        troubles.append(trouble.sentence)
    except TooTangled:
        troubles.append(message(sentences.TOO_TANGLED))
    except PictureTrouble as trouble:
        troubles.append(message(sentences.UNDECODED, trouble=trouble.text))
    return replace(files, troubles=tuple({each.sentence: each for each in troubles}.values()))


def without_ink(inputs: SheetInputs, collected: Collected, contents: Mapping[str, Content]) -> Iterator[Message]:
    """Yield which markings come out without any ink."""
    names = {
        item.name: None
        for item in collected.items
        if item.part is Part.COLOUR and not (inputs.plate and item.film == CLEAR) and is_blank(contents[item.content])
    }
    for name in names:
        yield message(sentences.PRINTS_NOTHING, name=name)
    if names:
        yield advice(sentences.PRINT_ROUND_IT)


def _options(inputs: SheetInputs, title: str, film: str, sheets: int) -> PrintOptions:
    """Return how sheets of a film are printed. Raises BadPlate, Unreadable and TooLarge."""
    return PrintOptions(
        title=title,
        date=inputs.date,
        correction=correction_for(inputs.errors, inputs.printer, film) or Correction.identity,
        names=inputs.names,
        cut_lines=inputs.cut_lines,
        of=sheets,
        plate=Plate(inputs.plate_name, inputs.plate_choke_mm) if inputs.plate and film == CLEAR else None,
    )
