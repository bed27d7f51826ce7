"""The file for the printer or the print service: each sheet at exact size, and the white plate in register with it.

Everything on a page is drawn through one matrix, the correction of the printer's own error about the sheet's centre:
pieces, bars, crosses and white alike. So nothing can come to lie elsewhere than the rest.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from calculators import tables
from calculators.files.outline_files import path_steps
from calculators.files.pdf import Form, Layer, Sheet, document
from calculators.sheets import sentences
from calculators.sheets.contents import Content, PictureContent, Steps, fits, pixels_of
from calculators.sheets.correction import Correction
from calculators.sheets.drawings import colour_form
from calculators.sheets.model import Item, Part, Placement, SheetLayout
from calculators.sheets.pieces import content_matrix, cut_lines, on_sheet
from calculators.sheets.sheet_marks import draw_bars, draw_crosses, draw_name
from calculators.sheets.white_plate import Plate, white_form
from calculators.values import Message, Progress, message

#: Cut lines on film and on backing pieces are thin and light, so that what is left of them is hardly seen, in mm.
CUT_LINE_MM, CUT_LINE = 0.1, "#8c9498"
#: Backing pieces end so far inside colour, in mm: 0.1 to 0.3 by hand register (common practice).
BACKING_CHOKE_MM = 0.2
#: What is printed white by a printer's own driver is black in its file.
SOLID = "#000000"


class NotPrintable(ValueError):
    """The sheets contradict themselves; ``sentence`` says how."""

    def __init__(self, sentence: Message) -> None:
        super().__init__(sentence.sentence)
        self.sentence = sentence


@dataclass(frozen=True)
class PrintOptions:
    """How sheets are printed. ``title`` and ``date`` are written on each; the date is up to the caller, so that the
    same job gives the same file.

    ``names`` writes each piece's name beside it, ``cut_lines`` adds a hidden layer with them, ``backing_choke_mm`` is
    how far backing pieces end inside colour. ``of`` is how many sheets there are, where the file has only some of them.
    """

    title: str
    date: str
    correction: Correction = Correction.identity
    names: bool = False
    cut_lines: bool = False
    plate: Plate | None = None
    backing_choke_mm: float = BACKING_CHOKE_MM
    of: int = 0


def print_file(layouts: Sequence[SheetLayout], contents: Mapping[str, Content], options: PrintOptions) -> Steps[bytes]:
    """Return the PDF file of sheets, each followed by its white plate if that is wanted on a page of its own.

    Yields progress and asks for pixels. Raises NotPrintable, and TooTangled.
    """
    check(layouts, contents, options.plate)
    drawings = yield from _drawings(layouts, contents, options)
    pages: list[Sheet] = []
    for layout in layouts:
        yield Progress(0.9 + 0.05 * len(pages) / len(layouts), sentences.DRAWING_SHEET.format(number=layout.number))
        pages.append(_page(layout, contents, drawings, options, options.of or len(layouts)))
        if options.plate and options.plate.own_page and drawings.white:
            pages.append(_plate_page(layout, drawings, options, options.plate, options.of or len(layouts)))
    yield Progress(0.96, sentences.WRITING_FILE)
    return document(pages, options.title)


def check(layouts: Sequence[SheetLayout], contents: Mapping[str, Content], plate: Plate | None = None) -> None:
    """Raise NotPrintable where a piece cannot be printed as it is laid out."""
    for layout in layouts:
        for item in items_of([layout]):
            if item.face_down and item.part is not Part.WHITE_UNDER and _has_white(item, layout):
                raise NotPrintable(message(sentences.WHITE_FILM_MIRRORED, name=item.name))
            if item.content not in contents:
                raise NotPrintable(message(sentences.CONTENT_GONE, name=item.name))
            if not fits(contents[item.content], item.size):
                raise NotPrintable(message(sentences.CONTENT_OTHER_SIZE, name=item.name))
        printed = [item for item in items_of([layout]) if has_plate(item)]
        over = [item for item in printed if item.face_down]
        beneath = [item for item in printed if not item.face_down]
        if plate and over and beneath:
            raise NotPrintable(message(sentences.WHITE_ORDER_MIXED, name=over[0].name, other=beneath[0].name))


def items_of(layouts: Sequence[SheetLayout]) -> list[Item]:
    """Return what lies on sheets, each once, in order."""
    return list(dict.fromkeys(each.item for layout in layouts for each in layout.placements))


def has_plate(item: Item) -> bool:
    """Return whether white is printed beneath or over a piece where there is a white plate."""
    return item.part in (Part.COLOUR, Part.TRIAL)


def is_white_film(film: str) -> bool:
    """Return whether a film of the tables of materials or of films is white; one of neither is not."""
    try:
        return film == "white" or tables.row("substrates", film).kind in ("white film", "backing film")
    except KeyError:
        return False


def sheet_words(layout: SheetLayout, options: PrintOptions, count: int, *further: str) -> list[str]:
    """Return what is written along the first check bar of a sheet."""
    name = sentences.SHEET_NAME.format(title=options.title, number=layout.number, count=count)
    return [name, options.date, options.correction.words(), *further]


@dataclass(frozen=True)
class _Drawings:
    """Forms of contents: in colour by their key and bleed, and white by their key and whether it is a backing piece."""

    colour: Mapping[tuple[str, float], Form]
    white: Mapping[tuple[str, bool], Form]


def _drawings(
    layouts: Sequence[SheetLayout], contents: Mapping[str, Content], options: PrintOptions
) -> Steps[_Drawings]:
    """Return each content drawn once. The pixels of a picture are let go before those of the next are asked for."""
    items = items_of(layouts)
    by_content: dict[str, list[Item]] = {}
    for item in items:
        by_content.setdefault(item.content, []).append(item)
    colour: dict[tuple[str, float], Form] = {}
    white: dict[tuple[str, bool], Form] = {}
    for number, (key, held) in enumerate(by_content.items()):
        yield Progress(0.9 * number / len(by_content), sentences.READING_CONTENT.format(name=held[0].name))
        content = yield from _with_shared_pixels(contents[key], held, options)
        for bleed in dict.fromkeys(item.bleed for item in held if item.part is not Part.WHITE_UNDER):
            colour[key, bleed] = yield from colour_form(content, bleed)
        if options.plate and any(map(has_plate, held)):
            white[key, False] = yield from white_form(content, options.plate.choke_mm, options.plate.spot)
        if any(item.part is Part.WHITE_UNDER and not is_white_film(item.film) for item in held):
            fill = options.plate.spot if options.plate else SOLID
            white[key, True] = yield from white_form(content, options.backing_choke_mm, fill)
    return _Drawings(colour, white)


def _with_shared_pixels(content: Content, items: Sequence[Item], options: PrintOptions) -> Steps[Content]:
    """Return a content with its pixels where several drawings need them, so that they are asked for once."""
    if not isinstance(content, PictureContent):
        return content
    by_alpha = bool(options.plate) and content.white is None and content.picture.header.alpha
    if by_alpha or any(item.bleed > 0 for item in items):
        picture = yield from pixels_of(content.picture)
        return replace(content, picture=picture)
    return content


def _page(
    layout: SheetLayout,
    contents: Mapping[str, Content],
    drawings: _Drawings,
    options: PrintOptions,
    count: int,
) -> Sheet:
    sheet = Sheet(layout.size.real, layout.size.imag)
    plate = options.plate
    with sheet.inside(options.correction.about(layout.size / 2)):
        for each in layout.placements:
            if each.item.part is not Part.WHITE_UNDER:
                sheet.form(drawings.colour[each.item.content, each.item.bleed], content_matrix(each))
            elif is_white_film(each.item.film):
                draw_cut_lines(sheet, each, contents[each.item.content], options.backing_choke_mm)
            else:
                sheet.form(drawings.white[each.item.content, True], content_matrix(each))
            draw_crosses(sheet, each)
        draw_bars(sheet, layout, sheet_words(layout, options, count))
        if options.names:
            with sheet.layer(Layer(sentences.NAME_LAYER)):
                for each in layout.placements:
                    draw_name(sheet, each, layout.knife_gap)
        if options.cut_lines:
            with sheet.layer(Layer(sentences.CUT_LAYER, hidden=True)):
                for each in layout.placements:
                    draw_cut_lines(sheet, each, contents[each.item.content], options.backing_choke_mm)
        if plate and plate.in_place:
            with sheet.layer(Layer(plate.name.strip())):
                _draw_white(sheet, layout, drawings)
    return sheet


def _plate_page(layout: SheetLayout, drawings: _Drawings, options: PrintOptions, plate: Plate, count: int) -> Sheet:
    sheet = Sheet(layout.size.real, layout.size.imag)
    is_over = any(each.item.face_down for each in layout.placements)
    order = sentences.PLATE_OVER if is_over else sentences.PLATE_BENEATH
    with sheet.inside(options.correction.about(layout.size / 2)):
        _draw_white(sheet, layout, drawings)
        draw_bars(sheet, layout, sheet_words(layout, options, count, order.format(plate=plate.name.strip())))
    return sheet


def _draw_white(sheet: Sheet, layout: SheetLayout, drawings: _Drawings) -> None:
    for each in layout.placements:
        if has_plate(each.item):
            sheet.form(drawings.white[each.item.content, False], content_matrix(each))


def draw_cut_lines(
    sheet: Sheet, placement: Placement, content: Content, backing_choke_mm: float, stroke: str = CUT_LINE
) -> None:
    """Draw the lines that a piece is cut by."""
    for _layer, run in cut_lines(placement.item, content, backing_choke_mm):
        sheet.path(path_steps(on_sheet(run, placement)), stroke=stroke, line_mm=CUT_LINE_MM)


def _has_white(item: Item, layout: SheetLayout) -> bool:
    return is_white_film(item.film) or is_white_film(layout.film)
