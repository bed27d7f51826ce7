"""Where the calculators of this stage lead next, by verdict."""

from calculators.declare import Lead
from calculators.job_fields import OF_MARKING


def _as_width(words: str, *of: str) -> Lead:
    """Lead to the picture, and carry the size on the model there as the marking's own width."""
    return Lead("artwork/picture-check/", words, carries={"own-width": of}, sets={"width-of": OF_MARKING})


_ON_MODEL = _as_width("Check your picture at this size: it becomes the marking's own width", "model_size_mm")
_THIN_LINES = "size/check-the-thinnest-line/"

#: Of a size at a scale, whether its thinnest line is judged or the whole marking.
SCALE_SIZE = {
    "prints": (_ON_MODEL,),
    "depends-on-printer": (_ON_MODEL, Lead("print/run-the-line-test/", "Find out what your own printer holds")),
    "too-fine-to-see": (Lead(_THIN_LINES, "Its thinnest line is hard to see: thicken it or leave it out"), _ON_MODEL),
    "too-fine-to-print": (
        Lead(_THIN_LINES, "Its thinnest line will not print: thicken it, leave it out or paint it"),
        _ON_MODEL,
    ),
    "whole-prints": (_ON_MODEL, Lead(_THIN_LINES, "Measure its thinnest line, and check that")),
    "whole-depends-on-printer": (_ON_MODEL, Lead("print/run-the-line-test/", "Find out what your own printer holds")),
    "whole-too-fine-to-see": (Lead(_THIN_LINES, "It is hard to see at this size: enlarge it or leave it out"),),
    "whole-too-fine-to-print": (Lead(_THIN_LINES, "It will not print at this size: enlarge it or paint it"),),
}

FULL_SIZE = (
    Lead(
        "size/scale-size/",
        "Check at your scale whether its thinnest line prints",
        carries={"full-size": ("full_size_mm",)},
    ),
)

_FITTED = _as_width(
    "Check your picture at this size: it becomes the marking's own width", "fitted_size_mm", "model_size_mm"
)
DRAWING_SIZE = {
    "unplaced": (Lead("size/measure-a-drawing/", "Put every point in its place: how to do it well"),),
    "close": (
        _FITTED,
        Lead("size/scale-size/", "Check whether its thinnest line prints", carries={"full-size": ("full_size_mm",)}),
    ),
    "free-only": (_FITTED, Lead("print/proof-on-paper/", "Try the size on paper before you print on film")),
    "rough": (Lead("size/measure-a-drawing/", "Measure it more closely: a larger picture, a longer known length"),),
}

_ON_PAINT = Lead("underlay/underlay/", "See it on the paint, and what has to lie beneath")
_LETTERS_PRINT = (_ON_PAINT, Lead("artwork/placement-template/", "Make a template that places it on both sides"))
_LETTERS_DEPEND = (Lead("print/run-the-line-test/", "Find out what your own printer holds"), _ON_PAINT)
LETTERING = {
    "prints": _LETTERS_PRINT,
    "depends-on-printer": _LETTERS_DEPEND,
    "too-fine-to-see": (Lead(_THIN_LINES, "Its strokes are hard to see: thicken them"), _ON_PAINT),
    "departs": (Lead("size/size-lettering/", "Compare it with a photograph: how to size lettering"), _ON_PAINT),
    "forbidden": (Lead("reference/rules/", "See what the rule allows"), _ON_PAINT),
    "too-fine-to-print": (Lead(_THIN_LINES, "It will not print: thicken its strokes, enlarge it or paint it"),),
    "not-drawn": (Lead("size/size-lettering/", "Measure it on a photograph: how to size lettering"),),
}

LOAD_LINE = {verdict: steps for verdict, steps in LETTERING.items() if verdict not in ("departs", "forbidden")}

#: Of letters by a rule or in a font.
LETTERING_OR_FONT = {
    **LETTERING,
    "font-prints": _LETTERS_PRINT,
    "font-depends-on-printer": _LETTERS_DEPEND,
    "font-too-fine-to-see": (Lead(_THIN_LINES, "Its strokes are hard to see: take a bolder font"), _ON_PAINT),
    "no-font": (Lead("size/size-lettering/", "Without a font file: how to size lettering"),),
}
