"""Reasons that the calculators of the stage artwork give."""

PIXEL_SHARP_EYE = (
    "One pixel is {pixel_mm} wide in print, {angle_arcmin} at {distance_mm}. An eye resolves"
    " 1 arcminute: no step is seen."
)
PIXEL_SHARP_AIM = (
    "One pixel is {pixel_mm} wide in print. At {printed_ppi} the picture meets the usual aim of 300 ppi."
)
PIXEL_SOFT_PASSES = (
    "One pixel is {pixel_mm} wide in print, {angle_arcmin} at {distance_mm}. Soft edges pass up to 2."
)
PIXEL_HARD_PASSES = (
    "One pixel is {pixel_mm} wide in print, {angle_arcmin} at {distance_mm}. Hard steps pass up to 1."
)
PIXEL_STEPS = (
    "One pixel is {pixel_mm} wide in print, {angle_arcmin} at {distance_mm}. Hard steps pass up to 1"
    " arcminute: these will show."
)
PIXEL_SOFTNESS = (
    "One pixel is {pixel_mm} wide in print, {angle_arcmin} at {distance_mm}. Soft edges pass up to 2"
    " arcminutes: the softness will show."
)
MAGNIFIER_SHOWS = "Under a magnifier, at {distance_mm}, the steps are seen."
MAGNIFIER_SHOWS_SOFT = "Under a magnifier, at {distance_mm}, the softness is seen."
NARROWER_OR_MORE = "It passes up to {good_mm} wide, or with {wanted_px} across."
UNEVEN_PIXELS = "Across there are {across_ppi}, down {down_ppi}: the picture is stretched, and the lower counts."
PRINTER_LIMITS = (
    "Lines thinner than {printed_low_mm} to {printed_high_mm} are lost by printers of this kind, whatever"
    " the picture holds."
)
AS_TYPED = "As you typed"
UNDER_MAGNIFIER = "Under a magnifier"
ON_SHELF = "On a shelf"
FROM_TO = "{low_mm} to {high_mm}"
SMALLEST_SEEN = ("the smallest step", "an eye sees")
DRAWN_LARGER = "Drawn about {times} times as large"
STEPS_ALT = "A slanting edge in pixels; a pixel is {times} times as wide as the smallest step an eye sees."
OUTLINE_ALT = "A slanting edge without pixels, beside the smallest step an eye sees."
OUTLINES_NO_LIMIT = "The file holds outlines, not pixels: they print sharp at any size."
OUTLINES_HOLD_PICTURE = (
    "A picture made of pixels is placed inside this drawing. That part has the limit of its own pixels:"
    " check it by itself."
)

NO_ROOM_ON_SHEET = (
    "On this sheet there is room for {widest_mm} beside the bars and lines, so no page was made. Choose a"
    " larger sheet, or print it narrower."
)
LOOKING_AT_PIXELS = "Looking at the pixels"
WRITING_PAGE = "Writing the page"
DETAIL_BELOW_PIXELS = (
    "The file has {file_px} across but the detail of about {has_px}: it was enlarged before, and the"
    " verdict goes by the detail."
)
JPEG_MARKS = "Strong compression has left marks beside its edges. A cleaner copy prints cleaner."
PREVIEW_ALT = "The marking, {width_mm} wide and {height_mm} high, on its sheet with two bars of 100 mm and a ladder of lines."

COUNTING_COLOURS = "Counting the colours"
GROUPING_COLOURS = "Grouping the colours"
TELLING_EDGES = "Telling edges from colours"
FINDING_AREAS = "Finding the areas"

WHITE_AT_BORDER = "It reaches the border of the picture."
WHITE_IS_CLEAR = "The picture is clear there, with colour all round."
WHITE_ON_CLEAR = "It was drawn white in a picture that is clear elsewhere."
WHITE_FILLS_BORDER = "It reaches the border, but so does colour all round."
WHITE_HOLDS_COLOUR = "It is enclosed, and colour stands on it."
WHITE_BETWEEN_COLOURS = "It is enclosed by more than one colour."
WHITE_ON_COLOUR = "It stands on colour."
WHITE_ON_WHITE = "What encloses it stands on white that is wanted."
WHITE_IN_OUTLINE = "A thin line runs round it: a white shape with an outline."
WHITE_IN_RING = "One stroke of one colour runs round it, as in a ring or a letter."
