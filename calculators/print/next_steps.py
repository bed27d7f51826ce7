"""Where the calculators of this stage lead next, by verdict."""

from calculators.declare import Lead

_PAPERS = Lead("reference/papers/", "Look the sizes of sheets up")
CHARTS = {
    "ready": (
        Lead("print/run-the-line-test/", "Print it, and read what your printer holds"),
        Lead("size/scale-size/", "Compare the thinnest line of your marking with what you found"),
    ),
    "no-room": (_PAPERS,),
}
_MATCH = Lead("underlay/match-with-swatches/", "Print the grid, finish it and compare it with the paint")
SWATCH_GRID = {
    "ready": (_MATCH,),
    "partly": (_MATCH,),
    "chosen": (
        Lead("underlay/white-lettering/", "Print that colour round white letters"),
        Lead("print/print-on-white-film/", "Print it on white film"),
    ),
    "edge": (_MATCH,),
    "no-room": (_PAPERS,),
}
