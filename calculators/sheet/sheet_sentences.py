"""Sentences about the sheet. They stand here and not in ``messages``, which every page loads."""

# while it is made
READING_JOB = "Reading the job"
READING_ARTWORK = "Reading {name}"
LAYING_OUT = "Laying the pieces out"
LOOKING_FOR_ROOM = "Looking for room for one more"

# the verdict
ON_SHEETS = "{pieces} on {sheets}."
OF_DEMO = "These are the markings of the demonstration job, since this device has none of its own."
LEFT_OUT = "{pieces} of {name} are larger than what the printer reaches on a sheet."
LEFT_OUT_MORE = "{count} further markings do not fit either."
TURN_OR_SPLIT = "Choose a larger sheet, or split what is too large."
NONE_LEFT = "Nothing is left over that the printer would take: its shortest sheet is {shortest_mm} long."
REST = "{rest_mm} are left of sheet {number}. Cut straight across the full width, and mark the whole edge."
TESTS_FIRST = "Print and try the piece marked “to try first” through the whole chain before you print the rest."
NO_ROOM_FOR_BARS = "On sheet {number} there is no room for both bars of 100 mm: they are {across_mm} and {along_mm}."
NO_BARS = "On sheet {number} there is no room for bars to measure."
FIXED = "Stripes, series, pairs and two-part sets lie alike, since a printer stretches feed and width differently."
TEXT_BY_HAND = "{names}: its text would be mirrored too. Draw that side by itself, with its text the right way round."
NOT_PRINTED = "{markings} of the job are on no sheet: the table says why."
PRINTS_NOTHING = "{name} is white and nothing else, so its piece comes out without any ink."
PRINT_ROUND_IT = "White letters on white film: choose their way in the list of markings. Colour is printed round them."
NOTHING = "The job has no marking that still has to be printed."

# the table of what is not on the sheets
TOO_LARGE = "Larger than what the printer reaches on the sheet"
WHY = {
    "too-large": TOO_LARGE,
    "no-width": "Its width is not decided yet",
    "no-picture": "It has no picture or outlines yet",
    "file-gone": "The file of its artwork is no longer on this device",
    "unreadable": "The size of its artwork cannot be read",
    "no-film": "Its way needs no film from your printer",
    "enough": "As many as wanted are printed",
}
TRIAL_NAME = "{name}, to try first"
WHITE_NAME = "{name}, backing piece"
STRIP_NAME = "Test strip"

# sheets that must not go into the printer
USED_UP = "The part-used sheet would be {rest_mm} long, and the printer's shortest sheet is {shortest_mm}."
NO_ROOM_LEFT = "The part-used sheet would be {rest_mm} long, and the margins leave nothing of it."
USE_A_WHOLE_ONE = "Use a whole sheet: a short one does not reach from roller to roller."
NOT_STRAIGHT = "The part-used sheet has to be cut straight across its full width."
CUT_STRAIGHT = "Cut it with a rule, and say so here: the printer takes a narrowed sheet in crooked."
CUT_EDGE_FIRST = "The whole edge of the part-used sheet has to go in first."
TURN_IT = "Turn the sheet, and say so here: a cut edge can catch in the rollers."
TAPE = "No sheet with tape on it may go into a printer."
CUT_TAPE_AWAY = "Cut that part away, and say so here: tape comes off between the rollers."
TONER_PART_USED = "A toner printer takes no part-used or cut sheet unless its maker permits it."
ASK_THE_MAKER = (
    "Look it up in the printer's manual, or use a whole sheet: film can come loose and burn in the hot fuser."
)
NO_ROOM = "Margins and room for marks leave nothing of a sheet of {width_mm} by {height_mm}."
TOO_MANY = "{pieces} are more than are laid out at once: they would fill {sheets} or more."
FEWER = "Lower the copies of some markings: at most {most_pieces} pieces on {most_sheets} sheets."

# problems
FACE_DOWN_ON_WHITE = "{name} is seen through its film, and white film lets nothing be seen through it"
FACE_DOWN_ON_WHITE_HINT = "Print it on clear film. White then goes over the print."
NO_SUCH_MARKING = "The job has no marking called {name}"
NO_SUCH_MARKING_HINT = "It has {names}."

# the files
UNNAMED = "Job"
UNDECODED = "{trouble}. So no file was made with it."
TOO_TANGLED = "The outlines of one piece cross each other too often for white beneath. Draw them more simply."

# the drawing
ALT = "The sheets to scale: {sheets} with {pieces}."
SHEET_TITLE = "Sheet {number}: {film}"
FEED = "goes in first"
LEFT_OVER = "left over: {rest_mm} mm"
MORE_SHEETS = "{count} further sheets are not drawn."
