"""Sentences about tracing a picture."""

WALKING_EDGES = "Walking along the edges"
FITTING_CURVES = "Fitting curves"
UNTANGLING = "Looking for lines that cross"
WRITING_OUTLINES = "Writing the outlines"

TRACED_WITHIN = (
    "Nearly all of the outlines should lie within {up_to_mm} of the edges of the drawing. A pixel is {pixel_mm}"
    " wide at this size."
)
TRACED_STEPS = (
    "Its edges are hard steps without in-between shades, so nobody can tell where in a pixel an edge ran. The "
    "outlines pass"
    " through the steps, at most {up_to_mm} from their middles. A copy with soft edges gives closer outlines."
)
TRACED_LOST_CURE = "Use a larger picture or one without compression, clean it first, or draw those parts again."
TRACED_FLAT_CURE = (
    "Clean the picture with a lower colour tolerance, and give one of them a clearly different colour there: colours"
    " as near as these are traced as one."
)
TRACED_THIN = (
    "Parts of it, {percent} %, are thinner than two pixels. Their width is less certain: use a larger copy, or "
    "draw them again."
)
TRACED_SMALLER = (
    "To keep the wait short, the picture was reduced from {from_width_px} by {from_height_px} to {width_px} by "
    "{height_px}."
)
TRACED_SPECKS = "{count} specks below the smallest area were filled with the colour around them."
TRACED_SPECK = "One speck below the smallest area was filled with the colour around it."
TRACED_EMPTY = "Left out: {outlines} without any area inside. A cutter would follow them and cut nothing out."
TRACED_GROUND = "The background {colour} is left out. White or colour that it does not reach from the border stays."
TRACED_JOINED = "Colours were joined until {count} were left. The edges between them may be steps."
NOT_TRACED_FLAT = (
    "The picture has about {colours} colours that form no flat areas: it is a photograph, a drawing with soft shades,"
    " or noise, so it has no outlines. Type a number of colours to reduce it to, or print it as a picture."
)
NOT_TRACED_NOISE = (
    "The picture has {steps} steps of edge, too many to trace in a page: it is noise, or a photograph."
    " Take the marking out of its picture first, ask for fewer colours, or raise the smallest area."
)
NOT_TRACED_ARCS = (
    "The picture has more than {most} separate stretches of edge, too many to trace in a page: it is grain, or a "
    "screen of dots."
    " Remove the grain first, ask for fewer colours, or trace one marking alone."
)
TRACED_GRAINY = (
    "So many of its edges turn sharply without a corner that the search for corners stopped: that is grain. The rest"
    " was traced as curves. Remove the grain from the picture first, or ask for a larger corner angle."
)
TRACED_SEAMS = (
    "Beneath each edge that two colours share, the files have a line {seam_mm} wide in the colour of the larger area."
    " Nothing shows through between them. A cutter would cut along those lines: switch them off for a cutter."
)
NOT_TRACED_CLEAR = (
    "Every pixel of the picture is transparent: there is nothing to trace. Save it again with the layer of the "
    "marking visible."
)
NOT_TRACED_ONE = "The whole picture is one flat colour, {colour}: it has no edge to trace."
NOT_TRACED_SPECKS = "Everything on the background is below the smallest area. Lower the smallest area."
NOT_TRACED_OPAQUE = "No pixel of the picture is transparent, so transparency gives no outline. Trace its colours."
NO_COLOUR_LEFT = "No colour is left to trace"
COLOUR_NUMBERS = "Colours to leave out takes numbers of colours"
COLOUR_NUMBERS_HINT = (
    "You typed {typed}. Type numbers from the table of colours with commas between them, such as 1, 3."
)
TRACED_COLOURS_ARE = "This picture has {colours}, numbered from 1."
TRACED_ALT = "The outlines: {colours}, {pieces}."
TRACED_ALT_NODES = "The outlines with their nodes: {colours}, {pieces}, {corners}."
DETAIL_ALT = (
    "A detail of {across} by {down} pixels, {times} times its size in print: pixels on the left, outlines on the right."
)
DETAIL_PIXELS, DETAIL_OUTLINES = "pixels", "outlines"
