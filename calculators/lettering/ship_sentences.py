"""What marks of ships say to readers. It comes with what draws them, not with every page."""

NO_LEVEL = "{part} is no load line. Type its letters and how far it lies above the ring's centre, such as T 52."
LEVEL_TOO_FAR = "{part} is further from the ring's centre than {most} mm."
LINE_TWICE = "The load line {letters} is there twice."
TOO_MANY_LINES = "At most {most} load lines are drawn at once."
TOO_MANY_LETTERS = "At most {most} letters stand beside the ring."
NO_STEP = "Metric draught figures stand at every two decimetres. Type a draught such as 0.4 or 1.2."
BACKWARDS = "The highest figure lies below the lowest one."
TOO_MANY_FIGURES = "These are more than {most} figures, which is the most that is drawn at once."

LETTERS_MEET_LINES = "So many letters beside the ring meet the load lines aft of the vertical line. Type at most two."
RING_LETTERS = "The letters beside the ring are those of who assigned the mark. Their sizes are about so, from memory."
LINE_LETTERS = (
    "Take the levels from the ship's certificate or a photograph. The letters at the lines are as large as we guess."
)
LEFT_OPEN = "Left open by the rule: {words}"
PHOTOGRAPH_OVERRULES = "Compare it with a photograph of the ship, which overrules the rule."

LOAD_LINE_SIZES = (
    "Outer diameter of the ring",
    "Width of all lines",
    "Line through the ring",
    "Height of the letters beside the ring",
    "Width of the letters beside the ring",
    "Length of a load line",
    "From the ring's centre to the vertical line",
)
FIGURE_SIZES = (
    "Height of a figure",
    "From foot to foot of two figures",
    "Width of a figure",
    "Width of the strokes",
    "Height of all figures",
)
DRAWING_ALT = "{title}, {width} mm wide and {height} mm high on the model"
LOAD_LINE_TITLE = "Load line mark"
FIGURES_TITLE = "Draught figures"
