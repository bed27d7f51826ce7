"""Sentences about the files of a sheet, and the words on it; they come with what makes those files."""

WHITE_FILM_MIRRORED = (
    "“{name}” is seen through its film or goes face down, so its white lies over the print. White film would cover it:"
    " print it on clear film."
)
WHITE_ORDER_MIXED = (
    "On “{name}” white lies over the print, and on “{other}” it lies beneath. A plate is printed either before the"
    " colours or after them: put the two on sheets of their own."
)
CONTENT_GONE = "The picture of “{name}” is missing: take the piece off the sheet, or give it its picture again."
CONTENT_OTHER_SIZE = "“{name}” was laid out with another size than it has now: lay the sheet out again."
PLATE_UNNAMED = "The white plate has no name. Type the name that the print service asks for, such as White."
PLATE_TOO_LONG = "The name of the white plate is too long: at most {most} bytes."
PLATE_RESERVED = (
    "“{name}” has a meaning of its own in print files: it is a colour of the press, or all or none of the plates. Use"
    " the name that the print service asks for, such as White."
)
PLATE_BAD_CHARACTER = "The name of the white plate takes characters that can be seen, and blanks."
PPI_OUTSIDE = "A picture for the driver takes {low} to {high} ppi."
PICTURE_TOO_LARGE = (
    "At {ppi} ppi this sheet has {megapixels} megapixels, more than drivers take: at most {most}. Use fewer ppi."
)
READING_CONTENT = "Taking up {name}"
DRAWING_SHEET = "Drawing sheet {number}"
WRITING_FILE = "Writing the file"
DRAWING_ROWS = "Drawing the rows of pixels"

#: What is written beside the bars.
SHEET_NAME = "{title}, sheet {number} of {count}"
PIXEL_NAME = "{title} sheet {number}  {date}"
BAR_LENGTH = "{length} mm"
PAPER_PROOF = "Paper proof, light on purpose: {title}, sheet {number} of {count}"
PLATE_BENEATH = "{plate}: white beneath the colours"
PLATE_OVER = "{plate}: white over the colours"
CUT_LAYER = "Cut lines"
NAME_LAYER = "Names of pieces"
