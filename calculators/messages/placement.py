"""About paper templates that place a marking on the model."""

TEMPLATE_SIDES = {"left": "Left side of the model", "right": "Right side of the model"}
TEMPLATE_SHORT = {"left": "LEFT", "right": "RIGHT"}
TEMPLATE_LIES = {"left": "Thick left side", "right": "Thick right side", "above": "Thick top", "below": "Thick bottom"}
TEMPLATE_TO_EDGE = "{lies}: {name}, {distance}\u00a0mm to the marking"
TEMPLATE_TO_CENTRE = "{lies}: {name}, {distance}\u00a0mm to its centre"
TEMPLATE_TITLE = "Placement template for {name}"
TEMPLATE_MEASURE = "Measure the bar, from outer edge to outer edge of its ticks: it must be 100 mm."
TEMPLATE_ALT = (
    "Paper templates with a window for the marking, its centre lines, and the distances to two edges of the model. "
    "Thick lines lie on those edges. Each piece is {width} by {height} mm."
)
TEMPLATE_HOW = (
    "Print it at 100 % and measure the bar. Cut along the outer lines and the window, and lay the thick lines on the "
    "edges of the model."
)
TEMPLATE_SIZE = "Each paper piece is {width_mm} by {height_mm}. The window shows the marking with {rim_mm} of film."
TEMPLATE_RIGHT_MIRRORED = "The right piece is the mirror image of the left, with its window."
TEMPLATE_RIGHT_TEXT = (
    "The right piece has the mirrored distances, but the window of the unmirrored marking. The left piece turned over "
    "does not serve for the right side."
)
TEMPLATE_NARROW = (
    "Only {strip_mm} of paper is left between the window and the {name}. Use thin card, so that it does not bend."
)
TEMPLATE_OPEN = (
    "The film reaches the {name}, so the template is open there. Place the film by the other edge and the centre line."
)
TEMPLATE_TOO_LARGE = (
    "A piece of {width_mm} by {height_mm} does not fit on this sheet. Choose a larger sheet or a nearer edge, or print "
    "the SVG in parts."
)
TEMPLATE_BOX = (
    "No outline was found in this picture, so the window is a rectangle. Trace it, or draw it in flat colours, for its "
    "own outline."
)
TEMPLATE_LETTERS = "The PDF shows a question mark for letters that its font does not have. The SVG shows them all."
EDGE_IN_MARKING = (
    "The {name} would run through the marking: its centre is {least_mm} from its own edge. Type at least that, or "
    "measure to the nearest edge."
)
