"""Where the calculators of this stage lead next, by verdict."""

from calculators.declare import Lead

_ERRORS = {"printer-errors": ("errors",)}
_SETTINGS = Lead("print/print-at-exact-size/", "Look for a scaling that is still on")
_HOW = Lead("print/take-the-error-out/", "Read how to measure it well")

_PROOF = Lead("print/proof-on-paper/", "Print it on plain paper first, and try the pieces on the model")
_TABS = Lead("sheet/leave-holding-tabs/", "How to cut and use the holding tabs")

PRINT_ERROR = {
    "unmeasured": (_HOW, Lead("print/find-the-coated-side/", "Find the coated side of the film first")),
    "incomplete": (_HOW,),
    "corrected": (
        Lead("sheet/sheet/", "Keep this correction for every later sheet, and lay one out", carries=_ERRORS),
        Lead("print/run-the-line-test/", "Find out which lines this printer holds on this film"),
    ),
    "none": (
        Lead("sheet/sheet/", "Keep that nothing is corrected, and lay a sheet out", carries=_ERRORS),
        Lead("print/run-the-line-test/", "Find out which lines this printer holds on this film"),
    ),
    "unsteady": (Lead("print/why/", "Read where such errors come from"), _SETTINGS),
    "misread": (_HOW,),
    "no-room": (Lead("reference/papers/", "Look the sizes of sheets up"), _HOW),
    "too-large": (_SETTINGS, Lead("print/why/", "Read where such errors come from")),
}

SHEET = {
    "fits": (_PROOF, _TABS),
    "several": (_PROOF, _TABS),
    "incomplete": (Lead("job/", "See in the list of markings what is missing"), _PROOF),
    "left-out": (
        Lead("artwork/handed-pairs/", "Split what is too large where the model has a line"),
        Lead("sheet/lay-out-a-sheet/", "How to lay a sheet out"),
    ),
    "refused": (Lead("sheet/use-a-part-used-sheet/", "How a part-used sheet has to be"),),
    "no-room": (Lead("sheet/lay-out-a-sheet/", "How to measure the margin that the printer does not reach"),),
    "too-many": (Lead("job/", "Lower the copies of some markings"),),
    "nothing": (Lead("job/", "Add markings to the job, or count what is printed"),),
}
