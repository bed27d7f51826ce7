"""The list that goes with an order for a print with white ink or toner. The page on printing services prints it too."""

SERVICE_NAME = "white-print-list.txt"
SERVICE_TITLE = "A print with white: what goes with the order, and what to ask first"
SERVICE_SEND = "To send"
SERVICE_SENDS = (
    (
        "The artwork at {width} x {height} mm ({width_in} x {height_in} in), as outlines (PDF or SVG) or at 600 pixels "
        "to the inch. How many: {count}."
    ),
    (
        "A white plate of the same size: solid where white lies beneath, nothing elsewhere, as its own layer or spot "
        "colour."
    ),
    (
        "White beneath every colour listed below, ending {low} to {high} mm inside the colour all round (the choke), "
        "and at full size where white itself is the edge."
    ),
    "Layers of white: {layers} by our calculation, at the low end of what white ink hides.",
    "A bar of 100 mm across and one down, printed with it, so that the size can be measured.",
    "At least 3 mm between markings, and the order of the pieces: left and right, with lettering never mirrored.",
    "A test strip of the colours on the same film, with white beneath and without.",
)
SERVICE_COLOURS = "Colours, by their share of the marking"
SERVICE_PAINT = "It goes onto {base_a}."
SERVICE_PAINTS = "It goes onto {base_a} and {base_b}, and the border of the two must not show through."
SERVICE_ASK = "To ask before it is printed"
SERVICE_ASKS = (
    "In which order do you print: white first and colour on it, as waterslide film needs it?",
    (
        "How many layers of white, what contrast ratio do they reach over black and white card, and what does one more "
        "cost?"
    ),
    (
        "How far may white and colour be out of register, and which choke do you want, or do you choke the plate "
        "yourselves?"
    ),
    "What are your thinnest line and gap: in colour, in white, and reversed out?",
    "Which film, how thick, and is the whole sheet film or only the printed part?",
    "Is it sealed, or must I seal it before water? Which softening fluids does it withstand?",
    "Which file: format, colour space, name of the white plate, overprint?",
    "Do you print at 100 %, and do you measure that?",
    "How long does it take, what does a second run cost, and what happens if there is a misprint?",
)
SERVICE_FIRST = "Take one marking through the whole chain on a painted test piece before the rest go onto the model."
