"""What the calculator of the printer's own error says. It comes with that stage, not with every page."""

#: On the page of bars.
TITLE = "Bars to measure: the printer's own error"
HEADINGS = (
    "Print this page twice, on the film itself.",
    "100 %, no fit to page, arrow first.",
    "Read from the middle of one cross to the middle of the next.",
)

NO_ROOM = "Bars of {length_mm} do not fit on this sheet with these margins."
ROOM_FOR = "They may have at most {most_mm}. Choose a larger sheet or shorter bars."
NO_ROOM_AT_ALL = "Even the shortest do not fit. Choose a larger sheet."

PRINT_TWICE = "No reading is typed yet."
PRINT_TWICE_HOW = "Save the page, print it twice on the film, and read the four lengths of each print."
READINGS_MISSING = "{missing} still missing: {which}."
TYPE_MISSING = "Type all four lengths of each print."
OF_PRINT = "{reading} of print {number}"
BARS = {"across": "A", "down": "B", "falling": "C", "rising": "D"}

FOUND = "In {base_mm}, lengths across come out {across}, lengths down {down}, and lines down {skew}."
TOO_LONG, TOO_SHORT = "{off_mm} too long", "{off_mm} too short"
RIGHT = "right, as far as your ruler sees: within {off_mm}"
SLANT, NO_SLANT = "slant by {skew}°", "have no slant that your ruler sees"
TAKE_OUT = "Take the first step below: it keeps the correction for {printer} on {film}, and every later sheet uses it."
ON_THE_SHEET = "The sheet says what was taken out. Bars on it then measure what they should."

NOT_SEEN = (
    "In {base_mm} these readings would show an error of {across_mm} across and {down_mm} down. There is none so large."
)
NOTHING_TO_DO = "Correct nothing. The first step below keeps that too, for {printer} on {film}."
FINER = "Longer bars, a finer ruler and more prints see smaller errors."

SCATTERS = "The prints differ from each other by more than the ruler explains, which makes the result less certain."
UNSTEADY = "The prints differ from each other as much as from what they should be. No correction helps against that."
UNSTEADY_HOW = "Print two more with the same tray, edge and setting, and add them. Then look at how the film is fed."
UNEVEN = {
    "across": "Lengths across differ far more between the prints than the others: only they count for it.",
    "down": "Lengths down differ far more between the prints than the others: only they count for it.",
    "slant": "The slant differs far more between the prints than the lengths: only it counts for itself.",
}
MISREAD = (
    "The sides and diagonals of print {number} do not belong to one square: they are {misfit_mm} apart. No printer does"
    " that."
)
MISREAD_HOW = "Read all four lengths of print {number} again."
TOO_LARGE_HOW = "Print the page again at 100 %, and measure again. Nothing that you typed is lost."
UNREADABLE_HOW = "Correct the entry, or remove it and measure again."

DRAWN_TIMES = "The error, drawn {times} times as large"
PAGE_ALT = (
    "A sheet with a square. Its top side is bar A, its left side bar B. C is the diagonal from top left to bottom"
    " right, D the other one. Each corner has a cross, and an arrow shows which edge enters the printer first."
)
ERROR_ALT = (
    "A square as it should be, dashed, and over it what the printer makes of it, {times} times exaggerated. Across it"
    " has {across} of its length, down {down}, and it slants by {skew} degrees."
)
