"""Where the calculators of this stage lead next, by verdict."""

from calculators.declare import Lead

_ERRORS = {"printer-errors": ("errors",)}
_SETTINGS = Lead("print/print-at-exact-size/", "Look for a scaling that is still on")
_HOW = Lead("print/take-the-error-out/", "Read how to measure it well")

PRINT_ERROR = {
    "unmeasured": (_HOW, Lead("print/find-the-coated-side/", "Find the coated side of the film first")),
    "incomplete": (_HOW,),
    "corrected": (
        Lead("sheet/lay-out-a-sheet/", "Keep this correction for every later sheet, and lay one out", carries=_ERRORS),
        Lead("print/run-the-line-test/", "Find out which lines this printer holds on this film"),
    ),
    "none": (
        Lead("sheet/lay-out-a-sheet/", "Keep that nothing is corrected, and lay a sheet out", carries=_ERRORS),
        Lead("print/run-the-line-test/", "Find out which lines this printer holds on this film"),
    ),
    "unsteady": (Lead("print/why/", "Read where such errors come from"), _SETTINGS),
    "misread": (_HOW,),
    "no-room": (Lead("reference/papers/", "Look the sizes of sheets up"), _HOW),
    "too-large": (_SETTINGS, Lead("print/why/", "Read where such errors come from")),
}
