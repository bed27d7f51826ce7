"""What lettering says to readers. It comes with the calculators that draw letters, not with every page."""

NO_TEXT = "Type at least one character that is no blank."
TOO_MANY = "{count} characters are more than the {most} that are drawn at once. Make two markings of them."
TOO_MANY_LINES = "{count} lines are more than two, which is the most that is drawn at once."
NOT_DRAWN = "These characters are not drawn: {characters}. The alphabet has A to Z, 0 to 9, . / & - and the blank."

SIZE_MISSING = "This rule leaves the {size} open. Give the one that you measured."
STROKE_TOO_WIDE = (
    "Strokes of {stroke_mm} close letters {width_mm} wide and {height_mm} high. They may have at most {most_mm}."
)
NARROWER_THAN_STROKE = "A character cannot be narrower than its stroke of {stroke_mm}."
BREAK_TOO_WIDE = "Breaks of {gap_mm} would cut through the sides of the letters. They may have at most {most_mm}."
NOT_THAT_LENGTH = "With these strokes the text can be {shortest_mm} to {longest_mm} long, not {length_mm}."
TOO_SLANTED = "Letters slant by at most {most}° from the vertical, not {degrees}°."

OTHER_THAN_RULE = "The rule gives {rule_mm} as the {size}. You chose {chosen_mm}."
LESS_THAN_RULE = "The rule asks for at least {rule_mm} as the {size}. You chose {chosen_mm}."
MORE_THAN_RULE = "The rule allows at most {rule_mm} as the {size}. You chose {chosen_mm}."
SMALLER_AS_ALLOWED = (
    "The surface is too small for {rule_mm}. The rule then asks for the largest that fits: {chosen_mm}."
)
SLANTED = "The rule allows a slant of at most {rule}°. You chose {chosen}°."

SIZES = {
    "height": "height",
    "width": "width of a character",
    "wide": "width of the wide characters",
    "stroke": "width of the strokes",
    "gap": "gap between characters",
}

NOT_IN_RULE = "The rule does not have {characters}."
TOO_LONG = "The rule allows at most {most} characters. The text has {count}."
CHECK_DIGIT_WRONG = "The check digit {written} is wrong. The digit that fits is {right}."
CHECK_DIGIT_MISSING = "The check digit is missing. The digit that fits is {right}."
NO_UIC_NUMBER = "A vehicle number has twelve digits, the last of which is the check digit. This text has {count}."
NO_CONTAINER_CODE = "A container code has three letters of the owner, then U, J or Z, six figures and the check digit."
NO_US_REGISTRATION = (
    "After N come one to five figures, or one to four figures and a letter, or one to three figures and two letters. "
    "The first figure is not 0, and I and O are not used."
)
MEANT = "Perhaps {meant} was meant where the text has {written}."

SERIES_TOO_LONG = "{count} texts are more than the {most} of one series."
SERIES_BACKWARDS = "The series from {first} to {last} runs backwards, or its two ends do not match."
SERIES_TOO_LARGE = (
    "This series is more than is drawn at once: {characters} characters with these outlines, or {pieces} pieces. "
    "Make two of it."
)
SERIES_FORBIDDEN = "The rule forbids {count} of {of} texts, the first of them {text}. The table says why."
KEEP_ROWS = "Keep these {count} texts as the rows of this marking"
NOTHING_AGAINST = "Nothing"

DRAWING_LETTERS = "Drawing the letters"
LAYING_COLOURS = "Laying the colours over each other"
LAYING_OVERLAP = "Extending the colours for print"
DRAWING_ROW = "Drawing text {number} of {count}"
WRITING_FILES = "Writing the files"

SMALLER_THAN_ALLOWED = "The surface is too small for {rule_mm}, and the rule allows no less. {chosen_mm} would fit."
OUTLINE_TOO_NARROW = "An outline is at least {least_mm} wide. Type 0 for none."
TOO_TANGLED = "The outline is so wide that it meets itself too often. Make it narrower."
LEFT_OPEN = "Left open by the rule: {words}"
TYPEFACE_PRESCRIBED = "The rule prescribes a typeface. Our letter shapes are ours."
PHOTOGRAPH_OVERRULES = "Compare it with a photograph of the subject, which overrules the rule."
DRAWING_ALT = "{text}, {length} mm long and {height} mm high on the model"
SERIES_ALT = "{count} texts from {text} on, the longest {length} mm long and {height} mm high on the model"

SIZE_NAMES = (
    "Length of the text",
    "Height of the capitals",
    "Width of a character",
    "Width of the strokes",
    "Gap between characters",
)
