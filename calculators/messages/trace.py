"""What the tracing of a picture says."""

WALKING_EDGES = "Walking along the edges"
FITTING_CURVES = "Fitting curves"
UNTANGLING = "Looking for lines that cross"
WRITING_OUTLINES = "Writing the outlines"

TRACED_WITHIN = (
    "The outlines keep within {worst_mm} of where the grey levels of the edges say that the edges run; a pixel is {pixel_mm}"
    " wide at this size."
)
TRACED_STEPS = (
    "Its edges are hard steps without in-between shades, so nobody can tell where within a pixel they ran: the outlines pass"
    " through the steps, {worst_mm} from their middles at worst. A copy with soft edges is traced more closely."
)
TRACED_LOST_CURE = "Take a larger picture or one without compression, clean it first, or draw those parts again."
TRACED_THIN = (
    "Parts of it, {percent} %, are thinner than two pixels. Their width is less sure: take a larger copy, or draw them again."
)
TRACED_SMALLER = "It was traced at {width_px} by {height_px}, halved from {from_width_px} by {from_height_px}, to keep the wait short."
TRACED_SPECKS = "{count} specks smaller than asked for were given to what lies around them."
TRACED_SPECK = "One speck smaller than asked for was given to what lies around it."
TRACED_EMPTY = "{count} outlines enclosed nothing and were left out, so that a cutter does not follow them."
TRACED_GROUND = "The ground {colour} is left out. White or colour that it does not reach from the border stays."
TRACED_JOINED = "Colours were joined until {count} were left; the edges between them may be steps."
NOT_TRACED_FLAT = (
    "The picture has about {colours} colours that do not fall into flat areas: it is a photograph, a drawing with soft shades,"
    " or noise, and has no outlines to find. Say how many colours it may have and it is brought down to them, or print it as a"
    " picture."
)
NOT_TRACED_NOISE = (
    "The picture falls into {steps} steps of edge, more than can be traced in the time that a page should take: it is noise, or a"
    " photograph. Take the marking out of its picture first, ask for fewer colours, or for larger specks to be left out."
)
NOT_TRACED_ARCS = (
    "The edges of the picture fall into more than {most} separate stretches, more than can be traced in the time that a page"
    " should take: it is grain, or a screen of dots. Take the grain out first, ask for fewer colours, or take one marking alone."
)
TRACED_GRAINY = (
    "So much of its edges turns sharply without being a corner that no more corners were looked for: it is grain, and the rest"
    " was traced as curves. Take the grain out of the picture first, or ask for a larger corner angle."
)
TRACED_SEAMS = (
    "Beneath each edge that two colours share the files have a line {seam_mm} wide, in the colour of the larger area, so that"
    " nothing shines through between them. A cutter would take those lines for cuts: leave them out for one."
)
NOT_TRACED_CLEAR = "Every pixel of the picture is clear: there is nothing to trace. Save it again with the layer of the marking shown."
NOT_TRACED_ONE = "The picture is one flat colour, {colour}, all over: it has no edge to trace."
NOT_TRACED_SPECKS = "All that stands on the ground is smaller than the smallest area asked for. Ask for a smaller one."
NOT_TRACED_OPAQUE = "No pixel of the picture is clear, so its transparency gives no outline. Trace its colours."
NO_COLOUR_LEFT = "No colour is left to trace"
COLOUR_NUMBERS = "A colour is given by its number"
COLOUR_NUMBERS_HINT = "You typed {typed}. Type the numbers of the table with commas between, such as 1, 3."
TRACED_COLOURS_ARE = "This picture has the colours 1 to {count}."
TRACED_ALT = "The outlines: {count} colours, {pieces} curves and straight lines."
TRACED_ALT_NODES = "The outlines with their nodes: {count} colours, {pieces} curves and straight lines, {corners} corners."
DETAIL_ALT = "A detail of {across} by {down} pixels, {times} times as large as in print: as pixels at the left, as outlines at the right."
DETAIL_PIXELS, DETAIL_OUTLINES = "pixels", "outlines"
