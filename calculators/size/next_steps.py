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
