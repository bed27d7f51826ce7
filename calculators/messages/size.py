"""Reasons that the calculators of the stage size give."""

STROKE_PRINTS = (
    "{what} is {stroke_mm} on the model. The thinnest {lines} that printers of this kind hold are {printed_low_mm} to"
    " {printed_high_mm}, and an eye at {distance_mm} sees {seen_mm}: it prints, and you see it."
)
STROKE_DEPENDS = (
    "{what} is {stroke_mm} on the model. The thinnest {lines} that printers of this kind hold are {printed_low_mm} "
    "at best"
    " and {printed_high_mm} at worst: print the line test before you trust it."
)
STROKE_TOO_FINE = (
    "{what} is {stroke_mm} on the model. The thinnest {lines} that printers of this kind hold are {printed_low_mm} at"
    " best: it will break up, fill in or vanish."
)
STROKE_UNSEEN = (
    "{what} is {stroke_mm} on the model. At {distance_mm} an eye resolves {seen_mm}, so it"
    " prints but you see a tint at most."
)
SOLID_LINES, REVERSED_LINES, MIXED_LINES = "dark solid lines", "light lines on dark", "lines of a mixed colour"
THINNEST_LINE, WHOLE_MARKING = "The thinnest line", "The whole marking"
TYPE_THINNEST_LINE = "Type its thinnest line to get a verdict on it."

SAVE_AS_PIXELS = "Save it as PNG, at least 2000 pixels wide, and choose that file."
POINTS_TOO_NEAR = "The two ends are at the same place"
MOVE_POINTS_APART = "Put them on the two ends of the length, at least a pixel apart."
BEYOND_HORIZON = "This point is beyond the horizon of the panel"
BEYOND_HORIZON_HINT = "No part of the panel can be there. Check the four corners, then this point."
CORNER_PLACES = ("top left", "top right", "bottom right", "bottom left")
CORNERS_CROSSED = "The {one} and {other} corners look swapped"
CORNERS_IN_ORDER = "The sides of the rectangle cross. Swap the two corners."
CORNER_DENTED = "The {corner} corner is inside the other three"
CORNERS_ON_LINE = "The {corner} corner is on a straight line with its neighbours"
CORNER_WHERE_EDGES_MEET = (
    "The corners of a rectangle stick out from every viewpoint. Put this one where the two edges meet."
)
CORNERS_TURNED = "The corners do not have the names that the picture shows"
NAME_CORNERS_AS_SEEN = (
    "The one named top left is at the {place}. Name all four by their places in the picture. The width is then "
    "its top side."
)
CORNERS_MIRRORED = "The corners are named from right to left or upside down in the picture. The size is the same."
POINTS_NOT_MOVED = (
    "You have not moved these points on this picture: {points}. Drag each to its place, or choose that all are "
    "in place as they are."
)
POINTS_OF_ANOTHER_PICTURE = (
    "These points are not in place yet: {points}. Put each in its place on this picture, then choose that they "
    "are in place."
)
LENGTH_CLOSE = (
    "If every point is right to one pixel either way, the marking is right to {plus_minus_mm} on the model,"
    " {share} % of its size. Nobody places it closer by hand."
)
LENGTH_FREE = (
    "If every point is right to one pixel either way, the marking is right to {plus_minus_mm} on the model,"
    " {share} % of its size. Nobody sees that on a marking by itself, but one that must meet an edge may miss it."
)
LENGTH_ROUGH = (
    "If every point is right to one pixel either way, the marking is right only to {plus_minus_mm} on the model,"
    " {share} % of its size."
)
#: By what weighs most in the uncertainty.
POINTS_WEIGH = {
    "mark": "Most of that comes from the ends of the marking: use a picture in which it is larger.",
    "known": "Most of that comes from the ends of the known length: choose one that is longer in the picture.",
    "corners": "Most of that comes from the corners: choose a larger rectangle, or one with the marking inside it.",
}
SCALE_AGREES = (
    "By the second length your model is 1:{true}, give or take {error}. That agrees with 1:{stated};"
    " {fitted_mm} fits it best."
)
SCALE_DIFFERS = (
    "By the second length your model is 1:{true}, give or take {error}, and not 1:{stated}."
    " To fit your own model, make the marking {fitted_mm}."
)
