"""Sentences about making pieces that are cut, and the note that goes with files for a cutter."""

MAKING_PIECES = "Making the pieces"

CUT_NOTE_PIECE = "{number}. {name}"
CUT_NOTE_MATERIAL = "   Material: {material}"
CUT_NOTE_LAYER = "   Layer: {layer}"
CUT_NOTE_SIZE = "   Size: {width} x {height} mm"
CUT_NOTE_COUNT = "   How many: {count}"
CUT_NOTE_MIRRORED = "   Mirrored: yes. The lines are mirrored already, so cut them as they are."
CUT_NOTE_PIECES = "What each piece is"
CUT_NOTE_LENGTH = "Length of all cuts in the file, without register marks and check square: {length} mm."
CUT_NOTE_SHEET = "Size of the page with everything on it: {width} x {height} mm."
CUT_NOTE_READ = "Please read before you cut"
#: Each with the layer that it is about, if any: it is left out where there is nothing on that layer.
CUT_NOTE_POINTS = (
    (None, "All files have the exact size. SVG is in mm. The page of the PDF has the size stated above."),
    (None, "The DXF file (release 12) has no unit. Its numbers are mm."),
    (
        "CHECK",
        "Measure the square on the layer {layer}: each side must be 50 mm. If not, the scale is wrong. Do not cut it.",
    ),
    (None, "The lines are where the edge must be. The blade is not corrected for: set that in the cutter."),
    (None, "The order in the files is the order of cutting: marks first, inside before outside, small before large."),
    (
        "REGISTER",
        "Lines on the layer {layer} align the pieces. Draw them or cut them lightly, never right through.",
    ),
    (
        "WASTE",
        "Lines on the layer {layer} part the waste, so that it comes off easily. You may leave them out.",
    ),
)
CUT_NOTE_VINYL = (
    "Never laser-cut vinyl: it gives off hydrogen chloride. Read the data sheet of a material before a laser cuts it."
)
CUT_CHECK_LABEL = "50 mm: measure, do not cut"
