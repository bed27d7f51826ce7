"""Where the calculators of this stage lead next, by verdict."""

from calculators.declare import Lead

_SEAL = Lead("seal/seal-a-sheet/", "Seal the sheet")
_NO_BLUSH = Lead("seal/keep-a-seal-from-blushing/", "Keep a coat from blushing")
_PLACE = Lead("seal/set-up-a-place-to-spray/", "Set up a place to spray")
_STORE = Lead("print/store-film/", "Keep film dry")
_COATS = Lead("reference/coats/", "Look up a coat that suits this air")

DRYING_AIR = {
    "dry": (_SEAL, _PLACE),
    "test-first": (_NO_BLUSH, _SEAL),
    "may-blush": (_NO_BLUSH, _COATS),
    "condenses": (_NO_BLUSH, _COATS),
    "too-cold": (_NO_BLUSH, _COATS),
    "refused": (Lead("safety/", "Read why: safety"), _COATS),
    "film-dry": (Lead("print/find-the-coated-side/", "Find the coated side, and print"), _STORE),
    "film-test": (_STORE, Lead("print/proof-on-paper/", "Print a proof on paper meanwhile")),
    "film-damp": (_STORE,),
}

_SAFETY = Lead("safety/", "Read all cautions: safety")
_SOLVENTS = Lead("reference/solvents/", "Look its solvents up")

VAPOUR = {
    "over": (_PLACE, _SAFETY),
    "near-work": (_PLACE, _SAFETY),
    "unknown": (_SOLVENTS, _PLACE),
    "below": (_PLACE, _SAFETY),
    "refused": (_SAFETY, Lead("reference/coats/", "Look up a clear without hardener")),
}
