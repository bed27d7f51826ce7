"""Where the calculators of this stage lead next, by verdict."""

from calculators.declare import Lead

_LEVEL = Lead("finish/level-an-edge/", "Level the edge under clear coats")
_PROTECT = Lead("finish/protect-the-marking/", "Protect the marking first")

COATS_NEEDED = {
    "few": (_PROTECT, _LEVEL),
    "many": (_LEVEL, Lead("seal/drying-air/", "Check that the air is right for it")),
    "too-many": (
        Lead("underlay/stencil-instead-of-film/", "Use a stencil and paint: no film, no edge"),
        Lead("underlay/choose-the-film/", "Choose a thinner film"),
    ),
    "refused": (Lead("safety/", "Read why: safety"), Lead("reference/coats/", "Look up another clear")),
}
