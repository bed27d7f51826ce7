"""What lettering in a font says to readers."""

NO_LIBRARY = "Fonts are read with the library fontTools, which is not installed here"
INSTALL_LIBRARY = "Install it with: pip install decalwright[fonts]"
NO_FILE = "There is no font file yet. Choose yours, or take one of the fonts in the list of letters."
TOO_LARGE = "{name} has {size} MB, and a font file may have at most {most}"
NOT_A_FONT = "{name} is not a font file that can be read"
FONT_KINDS = "TTF, OTF, WOFF and WOFF2 files can be."
COLLECTION = "{name} is a collection of several fonts"
SAVE_ONE = "Save one of them as a file of its own."
OLD_KIND = "{name} is a PostScript Type 1 font, which is not read"
CONVERT = "Convert it to OTF with a font editor."
DAMAGED = "{name} is damaged: the font in it cannot be read"
TRY_ANOTHER = "Get the file again, or choose another font."
UNPACKS_TOO_LARGE = "{name} unpacks to more than {most} MB"
LACKS_TABLES = "{name} lacks what a font needs: {tables}"
NO_OUTLINES = "{name} holds its letters as pictures or in a form that is not read, not as plain outlines"
VARIABLE_CFF = "{name} is a variable font with cubic outlines, which is not read"
SAVE_STATIC = "Save the weight that you want as a plain OTF file."
NO_BROTLI = "{name} is a WOFF2 file, and the library that unpacks it is not installed here"
INSTALL_BROTLI = "Install it with: pip install brotli. Or choose the same font as TTF, OTF or WOFF."
TOO_COMPLEX = "{name} draws {character} with more points than are read, or with parts that contain themselves"

SCRIPT = "{script} is not set: its letters {why}"
WHY = {
    "joined": "join with each other",
    "right-to-left": "run from right to left",
    "reordered": "change their order and form beside others",
    "stacked": "stack marks above and below",
}
DRAW_IT = "Set the text in a drawing program, save it as outlines, and use that drawing as a picture."
MARKS = "Marks that are set over or under a letter are not placed: {characters}"
ONE_CHARACTER = "Use the letter with its mark as one character."
LACKS = "The font lacks these characters: {characters}"
ANOTHER_FONT = "Leave them out, or choose another font."
NO_REFERENCE = "{name} has none of the characters {characters}, from which the height of a font is measured"
NOTHING_DRAWN = "None of these characters has an outline in this font"

NOT_THAT_LENGTH = "In this font the text can be {shortest_mm} to {longest_mm} long, not {length_mm}."
MADE_SMALLER = "Letters {asked_mm} high would be too long for the surface. These are {chosen_mm} high."
STRETCHED = "Letters were made {percent} % as wide, and their upright strokes with them."
ARC_TOO_TIGHT = "An arc of this radius is too tight for the text. It takes at least {least_mm}."
ONE_LINE_ON_ARC = "Only one line runs along an arc."
STROKE_MEASURED = "The stroke is the thinner one of the H: its stem or its bar."
STROKE_WORKED_OUT = "The stroke is worked out from the area of all letters and the length of their edges."
OWN_SHAPES = "Where a rule holds, draw by the rule: a font has sizes of its own."
FONT_RIGHTS = "Fonts have licences: look whether yours lets you use it for this."

LENGTH, CAPITALS, FIGURES, STROKE, RADIUS = (
    "Length of the text",
    "Height of the capitals",
    "Height of the figures",
    "Width of the strokes",
    "Radius of the arc",
)
