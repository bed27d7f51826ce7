"""Reasons that the calculators of the stage finish give."""

COATS_FEW = (
    "The edge is {edge} high. Clear of {dry} buries it and leaves enough to sand: {coats}, at most {passes} passes."
)
COATS_MANY = "The edge is {edge} high. Clear of {dry} buries it and leaves enough to sand: {coats}, or {passes} passes."
COATS_TOO_MANY = (
    "The edge is {edge} high and needs clear of {dry}: {coats} even at best. So much clear traps solvent and buries"
    " detail."
)
COATS_SANDED = "Clear rises over marking and paint alike. So coats alone never remove the step: only sanding does."
COATS_OF_TABLE = (
    "Film, solids and wet film are ranges of the tables (estimates). Measure the edge, and take the solids from the"
    " data sheet of your clear: the range gets narrower."
)
COATS_OF_YOURS = "What you did not type is from the tables, as a range (estimates)."
COATS_WINDOW = "Lay each coat within {until} of the one before. After that, leave it {late} first."
COATS_NO_WINDOW = "This clear has no window that closes: wait {between} between coats, and longer does no harm."
COATS_TIME = "With the usual waits that takes {time} before you may sand."
DO_FEW_COATS = "Protect the marking with light passes first, then level, then sand wet."
DO_MANY_COATS = "Divide the coats over several days. Sand after a few, look, and stop as soon as the outline has gone."
DO_OTHER_WAY = "Take thinner film, a clear with more solids, or a stencil and paint, which leave no edge."
FROM_TO_UM = "{low_um} to {high_um}"
ABOUT_UM = "{one_um}"
FROM_TO_COUNT = "{low} to {high}"
COATS_BEST, COATS_WORST = "At best", "At worst"
CLEAR_ALT = (
    "The edge of the film in section, heights to one scale: {edge} of film and seal on the paint, and clear of {dry}"
    " over both. The clear keeps the step of the film, and sanding it flat removes the step."
)
CLEAR_SANDED, CLEAR_COVER, CLEAR_FILM, CLEAR_PAINT = "sanded away", "clear that stays", "film and seal", "paint"
HOURS, DAYS, TO = "{time} h", "{time} days", " to "
MATTED_FIRST = "until it has cured, and matt it lightly"
