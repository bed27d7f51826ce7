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
    "Printers of this kind lose {lines} thinner than {printed_low_mm} to {printed_high_mm}, whatever"
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
DETAIL_HELP = "An estimate, the least where it cannot be known; the verdict goes by it."
DETAIL_UNKNOWN = (
    "The picture is soft throughout. Whether it was enlarged or was never sharp cannot be known: it has the detail of {least_px}"
    " to {file_px} across. All that follows takes it to be the least."
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
WHITE_IN_LETTER = "What runs round it looks from within as from outside, as a letter with an outline or a shadow does."
WHITE_IN_RING = "One stroke of one colour runs round it, as in a ring or a letter."

TAKING_OUT = "Taking the marking out"
BACKGROUND_TAKEN = "The background {colour} is taken out, {percent} % of the picture, from the border inwards."
BACKGROUND_TAKEN_ALL = "The background {colour} is taken out wherever it is, {percent} % of the picture."
BACKGROUND_IS_CLEAR = "Round the marking the picture is clear already."
BACKGROUND_UNEVEN = (
    "No colour makes half of the picture's border, so nothing was taken out. Raise the tolerance, or crop the picture"
    " closer first."
)
BACKGROUND_LEFT = "The background is left as it is."
FLAT_COLOURS = "The marking has {count} flat colours. The shades along its edges are not counted."
FLAT_COLOUR = "The marking has one flat colour. The shades along its edges are not counted."
MANY_COLOURS = (
    "Flat artwork has few colours. If some of these are one colour that was scanned unevenly, raise the colour tolerance, or say"
    " how many there are."
)
NOT_FLAT = (
    "The picture has at least {colours} colours that do not fall into flat areas: a photograph, a drawing with soft shades,"
    " or noise. Say how many colours it may have, and it is brought down to them; or print it as a photograph."
)
WORKED_SMALLER = "It was done at {width_px} by {height_px}, halved from {from_width_px} by {from_height_px}, to keep the wait short."
NO_INK_FOR = "No printer at home has ink for this: {names}."
WHITE_IS_BARE = "White in it is left to the bare film."
NOTHING_LEFT = "Every pixel was taken out or is clear. Lower the tolerance, or drop fewer colours."
PICTURE_IS_CLEAR = "Every pixel of the picture is clear: there is no marking in it. Save it again with the layer of the marking shown."
PICTURE_IS_ONE_COLOUR = "The picture is one flat colour, {colour}, all over: nothing in it tells a marking from its background."
ALL_IS_BACKGROUND = "So all of it was taken out as background. Leave the background if the colour itself is the marking."
NO_SUCH_COLOUR = "There is no colour {number} in this picture"
COLOURS_ARE = "It has the colours 1 to {count}."
JOINS_ITSELF = "A colour cannot join itself"
JOINS_OTHER = "Type the number of another colour."
COLOUR_NUMBERED = "Colour {number}"
JOINED_TO = "Joined to {number}"
BEFORE, AFTER = "before", "after"
CLEANED_ALT = "The picture as it is, and the marking taken out of it: {count} colours, {width_px} by {height_px}, on a ground of squares where it is clear."
NOT_CLEANED_ALT = "The picture as it is."
PICTURE_TOO_SCATTERED = "The picture falls into more pieces than can be told apart: it is noise, or a photograph. Nothing was told of it."
WRITING_PICTURE = "Writing the picture"

COMPARING = "Comparing the result with the picture"
STROKE_LOST = "A thin stroke is lost at 1 place, {length} px of it. A box in the drawing marks it."
STROKES_LOST = "Thin strokes are lost at {count} places, {length} px in all. Boxes in the drawing mark them."
COLOUR_MERGED = "{was} in the picture became {now}, which looks different. Dots in the drawing mark it."
COLOURS_MERGED = "{count} colours became others that look different: {changes}. Dots in the drawing mark them."
ONE_CHANGE = "{was} became {now}"
WASHED = "Thin parts look washed towards their ground: {changes}. Dots in the drawing mark them."
WASHED_JOIN = "Under changes to colours, let a colour that was washed join the one that it was, or give it a new colour."
PROBABLY_WAS = "{now} is perhaps {was}"
LOST_CURE = "Lower the colour tolerance, take a larger picture, or draw those parts again."
LOST_CURE_COUNT = "Ask for more colours, take a larger picture, or draw those parts again."
LOST_ALT = "{count} places are marked where the picture lost something."

MARK_NOT_READ = "A mark must be the number of an area, or the letter of a group, and what it means"
MARK_HINT = "You typed {typed}. Type a mark such as 3 hole, 5 wanted or A background, with commas between."
NO_AREA_NUMBERED = "There is no area {number} in this picture"
AREAS_NUMBERED_TO = "It has the areas 1 to {count}. Marks that belong to another picture can be taken away."
NO_AREAS_THERE = "It has no white areas. Marks that belong to another picture can be taken away."
AREAS_COUNTED = "Background: {background}. Wanted white: {wanted}. Holes: {hole}."
WHITE_NEEDED = "It needs white beneath it, or white film; left alone it is bare film, and the paint shows."
NO_BACKGROUND = "Nothing white or clear reaches round it. If its ground is a colour, take the marking out of its picture first."
ARE_GUESSES = "These are guesses: look at each, and change what is wrong."
MARKED_OTHERWISE = "By your marks {count} of them mean something else than was guessed."
AREAS_UNNUMBERED = "Only the largest areas are numbered; {count} smaller ones follow their group, or keep their guess."
WHITES_BY_COLOUR = "It is not flat artwork, so white was told by the colour of each pixel alone."
GUESSED = "{guess}. {why}"
GUESSED_TOGETHER = "{guess}, {count} areas: {numbers}. {why}"
NUMBERS_FROM_TO, SO_MANY_MORE = "{first} to {last}", "{count} without a number"
PAPER_GROUND = (
    "Its ground is {colour}, which is {difference} ΔE from white: paper in a scan or a photo looks like that. If it is paper,"
    " set the white tolerance to {tolerance}; as it is, the ground counts as a colour, to be printed."
)
AREAS_ALT = "The picture with its areas numbered. {areas}."
NO_AREAS_ALT = "The picture. It has no white areas."
