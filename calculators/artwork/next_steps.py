"""The next steps after each verdict of this stage's calculators."""

from calculators.declare import Lead

_CLEAN = Lead("artwork/clean-picture/", "Take the marking out of its picture")
_WHITE = Lead("artwork/white-areas/", "Say which white is meant")
_ON_PAINT = Lead("underlay/underlay/", "See it on the paint, and choose what goes beneath")
_BY_HAND = "artwork/draw-it-again/"
_CHECK = Lead("artwork/picture-check/", "Check whether it is sharp at its printed size")

#: Of whether a picture is good enough at its printed size.
AT_ITS_SIZE = {
    "sharp": (_WHITE, _CLEAN),
    "good-enough": (_WHITE, _CLEAN),
    "steps-show": (
        Lead("artwork/trace/", "Its pixels will show at this size: draw it again as outlines"),
        Lead("size/find-the-size/", "Or make it smaller, if the model allows"),
    ),
    "unknown": (Lead("print/proof-on-paper/", "Print a test at this size, and look at it"), _WHITE),
}

CLEAN_PICTURE = {
    "clean": (_WHITE, _CHECK),
    "whole": (_WHITE, _CHECK),
    "lost": (Lead(_BY_HAND, "Draw the lost parts again"), _WHITE),
    "many": (Lead("artwork/clean-a-scan/", "Reduce its colours to those it was drawn in"), _WHITE),
    "left": (_WHITE, _CHECK),
    "kept": (_WHITE, _CHECK),
    "not-flat": (Lead(_BY_HAND, "Draw it again in flat colours"), _CHECK),
    "fine": (Lead(_BY_HAND, "Draw it again more simply"), _CHECK),
    "nothing": (Lead("artwork/clean-a-scan/", "Lower the background tolerance: how to clean a scan"),),
}

WHITE_AREAS = {
    "none": (_ON_PAINT,),
    "no-need": (_ON_PAINT,),
    "paper": (_CLEAN, _ON_PAINT),
    "needed": (Lead("underlay/underlay/", "Choose a way to get this white"),),
    "empty": (Lead("artwork/bring-artwork-in/", "Bring in a picture with colours in it"),),
    "clear": (Lead("artwork/bring-artwork-in/", "Bring in a picture with something in it"),),
    "scattered": (_CLEAN, Lead(_BY_HAND, "Draw it again in flat colours")),
}

_CUT = Lead("underlay/cut-file/", "Cut it: a stencil, a backing piece or its outline")
_AS_FAR_AS_FOUND = Lead("underlay/underlay/", "See it on the paint as it is")
TRACE = {
    "traced": (_ON_PAINT, _CUT),
    "lost": (Lead(_BY_HAND, "Draw the lost parts again by hand"), _AS_FAR_AS_FOUND),
    "steps": (Lead("artwork/outlines-found/", "See how far such outlines can be trusted"), _ON_PAINT),
    "thin": (Lead(_BY_HAND, "Correct the thin parts by hand"), _ON_PAINT),
    "grainy": (Lead("artwork/clean-picture/", "Take the grain out first, in flat colours"), _AS_FAR_AS_FOUND),
    "not-flat": (Lead(_BY_HAND, "Draw it again by hand, in flat colours"),),
    "noise": (_CLEAN, Lead(_BY_HAND, "Draw it again by hand")),
    "fine": (Lead(_BY_HAND, "Draw it again more simply"),),
    "nothing": (Lead("artwork/bring-artwork-in/", "Bring in a picture with something to trace"),),
}

_PLACE = Lead("apply/place-handed-pairs/", "Place left and right with the template")
_BY_TEMPLATE = Lead("apply/use-a-placement-template/", "Use the template on the model")
PLACEMENT_TEMPLATE = {
    "ready": (_BY_TEMPLATE, _PLACE),
    "narrow": (_BY_TEMPLATE, _PLACE),
    "open": (_BY_TEMPLATE, _PLACE),
    "too-large": (Lead("size/scale-size/", "Check the size on the model"),),
    "inside": (Lead("size/find-the-size/", "Measure the place on the real thing"),),
}
