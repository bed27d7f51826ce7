"""What the charts of the stage print say. It comes with that stage, not with every page."""

TITLE_LINES, TITLE_SWATCHES = "Lines, type and ink", "Swatches round a colour"
NO_ROOM = "The chart does not fit on this sheet with these margins."
LARGER_SHEET = "Choose a larger sheet, or print one part at a time."
SMALLER_PATCHES = "Choose a larger sheet or smaller patches."

READY = "The chart takes {used_mm} from the leading edge of the sheet, all across it."
PRINT_IT = "Print it at 100 % on the film itself, seal it like a marking, and look at it through a magnifier."
WHAT_TO_FIND = "Find the thinnest line and the smallest type that are whole, in each column by itself."
WHOLE_SHEET = "Feed a whole sheet, or a cut one only where the printer's maker allows it."

COLUMNS = {
    "black": "black",
    "black-reversed": "black, reversed",
    "colour": "your colour",
    "colour-reversed": "colour, reversed",
}
LINES_HEADING, TYPE_HEADING, INK_HEADING = "lines, mm", "capitals, mm", "Touch each patch once, after the time"
SPECIMEN = "Rowan 12 E8"
TIMES = ("10 min", "30 min", "1 h", "3 h", "12 h", "24 h")
SOLIDS = {"#000000": "black", "#0000ff": "blue", "#ff0000": "red", "#008000": "green"}
LINES_ALT = (
    "A strip of film with lines and small letters, black and coloured, dark on bare film and reversed out. Their sizes"
    " are beside them. Beside those are solid patches, six of them with times."
)

BY_THE_TABLE = {
    "holds": ("pass", "Should hold"),
    "may": ("watch", "May hold"),
    "fails": ("fail", "Will break up"),
}

GRID_READY = "From one patch to the next it is a step in one direction: lighter, {high} or {up}, or the other way."
GRID_HOW = (
    "Print it on the film, finish it like the marking, and hold it to the paint. Then type the best patch's name."
)
GRID_SMALL = "{missing} of {count} patches lie outside sRGB: the gamut ends there, and their places stay empty."
GRID_EVERY = "All patches lie within sRGB."
CHOSEN = "{name} is {colour}: {difference} from the colour that you typed."
CHOSEN_HOW = "Print the body of the marking in {colour}. Change no setting after that."
CHOSEN_CENTRE = "{name} is the colour that you typed."
AT_THE_EDGE = "{name} lies at the edge of the grid, so a better one may lie beyond it."
AT_THE_EDGE_HOW = "Type {colour} as the paint and print another grid round it."
FINER = "For a closer match type {colour} as the paint, with half the step."
NO_SUCH_PATCH = "The grid has no patch {name}"
PATCHES_ARE = "Patches are named A1 to {last}: the letter of the column, then the number of the row."
EMPTY_PATCH = "Patch {name} is empty: it lies outside sRGB"
CHOOSE_NEAR = "Choose one that was printed."
LIGHTER, DARKER, SAME = "lighter", "darker", "as typed"
GRID_WORDS = (
    "{first} {low}, {second} as typed, {third} {high}. Left lighter, right darker. Row 1 {up}, row 3 {down}.",
    "A step is {step} dE 2000. {centre} is {colour}.",
)
GRID_ALT = (
    "Three blocks of patches round {colour}, five columns by three rows each: {low}, as typed and {high}. Columns go"
    " from lighter to darker, rows from {up} to {down}. Empty frames lie outside sRGB."
)
