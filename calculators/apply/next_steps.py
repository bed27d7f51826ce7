"""Where the calculators of this stage lead next, by verdict."""

from calculators.declare import Lead

_SOFTEN = Lead("apply/soften-over-detail/", "Soften a marking over detail")
_SET = Lead("apply/position-with-setting-fluid/", "Position it with setting fluid")
_TEST_PIECE = Lead("underlay/painted-test-piece/", "Make a painted test piece")

WHICH_FLUID = {
    "safe": (_SET, _SOFTEN),
    "test-first": (_TEST_PIECE, _SET),
    "never": (_SET, Lead("apply/lay-over-a-curve/", "Lay it over a curve without softener")),
    "unsealed": (
        Lead("seal/seal-a-sheet/", "Seal the sheet"),
        Lead("seal/judge-the-ink/", "Judge that the ink is dry"),
    ),
    "wrong-film": (Lead("underlay/choose-the-film/", "Choose the film for your printer"),),
    "refused": (Lead("safety/", "Read why: safety"), Lead("reference/coats/", "Look up another clear")),
}
