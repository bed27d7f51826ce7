"""The next steps of this stage's calculators, by verdict and by way."""

from calculators.declare import Lead
from calculators.messages import in_sentence
from calculators.tables.rows import Way

_SHEET = Lead("sheet/lay-out-a-sheet/", "Lay the markings out on a sheet")
_TEST_PIECE = Lead("underlay/painted-test-piece/", "Try it on a painted test piece")
_WAYS = Lead("underlay/underlay/", "Compare the ways to get white beneath")

SEEN_COLOUR = {
    "passes": (Lead("underlay/underlay/", "See the whole marking on the paint"), _TEST_PIECE),
    "shifts": (_WAYS, _TEST_PIECE),
    "fails": (_WAYS,),
}

#: For a whole marking. The how-to of the way comes first, if there is one.
UNDERLAY = {
    "passes": (_SHEET, _TEST_PIECE),
    "shifts": (_TEST_PIECE, _SHEET),
    "fails": (Lead("underlay/choose-a-way/", "Choose a way to get white beneath"), _TEST_PIECE),
    "too-fine": (
        Lead("size/check-the-thinnest-line/", "It is too fine to print: thicken or leave out its finest parts"),
        Lead("artwork/draw-it-again/", "Draw it again more simply"),
    ),
    "may-be-lost": (Lead("print/run-the-line-test/", "Find out what your own printer holds"), _TEST_PIECE),
    "nothing": (Lead("artwork/white-areas/", "Say which white is wanted"),),
}

_STICK = Lead("apply/use-a-stencil-at-the-model/", "Use a stencil at the model")
_CUT = Lead("underlay/cut-a-stencil-with-a-cutter/", "Cut it with a cutter")
CUT_FILE = {
    "cleanly": (_CUT, _STICK),
    "with-care": (_CUT, _STICK),
    "not-like-this": (_WAYS, Lead("artwork/draw-it-again/", "Draw it again more simply")),
    "too-wide": (Lead("size/find-the-size/", "Check the size on the model"),),
    "many": (Lead("artwork/clean-picture/", "Reduce its colours first"), _WAYS),
    "not-flat": (Lead("artwork/clean-picture/", "Reduce it to flat colours first"), _WAYS),
    "too-fine": (Lead("artwork/draw-it-again/", "Draw it again more simply"), _WAYS),
    "nothing": (Lead("artwork/white-areas/", "Say which white is wanted"),),
}

#: The how-to of each way.
WAY_PAGES = {
    "bare-on-clear": "print/print-on-clear-film/",
    "white-film-cut": "print/print-on-white-film/",
    "white-film-body-colour": "underlay/white-lettering/",
    "backing-piece": "underlay/cut-a-backing-piece/",
    "stencil-and-clear": "underlay/white-through-a-stencil/",
    "stencil-only": "underlay/stencil-instead-of-film/",
    "model-white-masked": "underlay/keep-the-models-white/",
    "white-by-brush": "underlay/white-by-brush/",
    "blank-film-painted": "underlay/paint-blank-film/",
    "white-printer": "print/print-with-white/",
    "white-service": "underlay/white-printing-service/",
}


#: What is cut for a way.
CUT_PIECES = {
    "backing-piece": ("backing", "Make the backing piece"),
    "stencil-and-clear": ("white", "Make the stencil"),
    "stencil-only": ("colours", "Make the stencils"),
    "model-white-masked": ("white", "Make the mask"),
}


def of_way(way: Way) -> tuple[Lead, ...]:
    """Return the steps to the how-to of ``way``, and to what is cut for it, with the middle of its choke."""
    how_to = Lead(WAY_PAGES[way.id], f"How to do it: {in_sentence(way.label)}")
    if way.id not in CUT_PIECES:
        return (how_to,)
    piece, words = CUT_PIECES[way.id]
    choke = {"choke": f"{(way.choke.low + way.choke.high) / 2:g} mm"} if way.choke else {}
    return how_to, Lead("underlay/cut-file/", words, sets={"cut-piece": piece, **choke})
