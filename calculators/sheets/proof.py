"""The paper proof of sheets: pieces in a light tint with the lines they are cut by, to be taped to the model.

It is for plain paper, which a printer stretches otherwise than film, so no error of the printer is taken out.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from calculators.files.pdf import Sheet, document
from calculators.sheets import sentences
from calculators.sheets.contents import Content, Steps
from calculators.sheets.drawings import colour_form
from calculators.sheets.model import Part, SheetLayout
from calculators.sheets.pieces import content_matrix
from calculators.sheets.print_file import BACKING_CHOKE_MM, check, draw_cut_lines
from calculators.sheets.sheet_marks import draw_bars, draw_crosses, draw_name
from calculators.values import Progress

#: How much of the colours is left: enough to tell pieces apart, and little ink.
TINT = 0.35
#: The colour of cut lines on paper.
LINE = "#1c2226"


def proof_file(
    layouts: Sequence[SheetLayout],
    contents: Mapping[str, Content],
    title: str,
    date: str,
    backing_choke_mm: float = BACKING_CHOKE_MM,
) -> Steps[bytes]:
    """Return the PDF file of the paper proof, at exact size. Yields progress and asks for pixels. Raises as
    ``print_file`` does.
    """
    check(layouts, contents)
    drawn = [each.item for layout in layouts for each in layout.placements if each.item.part is not Part.WHITE_UNDER]
    names = {item.content: item.name for item in drawn}
    forms = {}
    for number, (key, name) in enumerate(names.items()):
        yield Progress(0.9 * number / len(names), sentences.READING_CONTENT.format(name=name))
        forms[key] = yield from colour_form(contents[key], 0.0, whole=True)
    pages: list[Sheet] = []
    for layout in layouts:
        yield Progress(0.9, sentences.DRAWING_SHEET.format(number=layout.number))
        sheet = Sheet(layout.size.real, layout.size.imag)
        for each in layout.placements:
            if each.item.part is not Part.WHITE_UNDER:
                with sheet.inside(opacity=TINT):
                    sheet.form(forms[each.item.content], content_matrix(each))
            draw_cut_lines(sheet, each, contents[each.item.content], backing_choke_mm, LINE)
            draw_crosses(sheet, each)
            draw_name(sheet, each, layout.knife_gap)
        words = sentences.PAPER_PROOF.format(title=title, number=layout.number, count=len(layouts))
        draw_bars(sheet, layout, [words, date])
        pages.append(sheet)
    yield Progress(0.96, sentences.WRITING_FILE)
    return document(pages, title)
