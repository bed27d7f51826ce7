"""Reasons that the calculators of the stage artwork give."""

PIXEL_SHARP_EYE = (
    "One pixel is {pixel_mm} wide in print, {angle_arcmin} at {distance_mm}. An eye resolves"
    " 1 arcminute, so nobody sees a step."
)
PIXEL_SHARP_AIM = "One pixel is {pixel_mm} wide in print. At {printed_ppi} the picture meets the usual aim of 300 ppi."
PIXEL_SOFT_PASSES = "One pixel is {pixel_mm} wide in print, {angle_arcmin} at {distance_mm}. Soft edges pass up to 2."
PIXEL_HARD_PASSES = "One pixel is {pixel_mm} wide in print, {angle_arcmin} at {distance_mm}. Hard steps pass up to 1."
PIXEL_STEPS = (
    "One pixel is {pixel_mm} wide in print, {angle_arcmin} at {distance_mm}, and hard steps pass up to 1"
    " arcminute: these will show."
)
PIXEL_SOFTNESS = (
    "One pixel is {pixel_mm} wide in print, {angle_arcmin} at {distance_mm}, and soft edges pass up to 2"
    " arcminutes: the softness will show."
)
MAGNIFIER_SHOWS = "Under a magnifier, at {distance_mm}, you see the steps."
MAGNIFIER_SHOWS_SOFT = "Under a magnifier, at {distance_mm}, you see the softness."
NARROWER_OR_MORE = "It passes up to {good_mm} wide, or with {wanted_px} across."
UNEVEN_PIXELS = "The picture is stretched: it has {across_ppi} across and {down_ppi} down. The lower figure counts."
PRINTER_LIMITS = (
    "Printers of this kind lose {lines} thinner than {printed_low_mm} to {printed_high_mm}, whatever the picture holds."
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
    "This drawing contains a picture made of pixels. That part is only as sharp as its pixels: check it by itself."
)

NO_ROOM_ON_SHEET = (
    "No page was made: beside the bars and lines this sheet has room for {widest_mm}. Choose a larger sheet, or"
    " print the marking narrower."
)
LOOKING_AT_PIXELS = "Looking at the pixels"
WRITING_PAGE = "Writing the page"
DETAIL_BELOW_PIXELS = (
    "The file has {file_px} across but only the detail of about {has_px}: somebody enlarged it. The verdict"
    " goes by the detail."
)
DETAIL_HELP = "An estimate, and the lowest one in doubt. The verdict goes by it."
DETAIL_UNKNOWN = (
    "The picture is soft all over. Nobody can tell whether it was enlarged or was never sharp: it has the detail "
    "of {least_px}"
    " to {file_px} across. The results below use the lowest."
)
JPEG_MARKS = "Strong compression has left marks beside its edges. A cleaner copy prints more cleanly."
PREVIEW_ALT = (
    "The marking, {width_mm} wide and {height_mm} high, on its sheet with two bars of 100 mm and a ladder of lines."
)

COUNTING_COLOURS = "Counting the colours"
GROUPING_COLOURS = "Grouping the colours"
TELLING_EDGES = "Separating edges from colours"
FINDING_AREAS = "Finding the areas"

WHITE_AT_BORDER = "It reaches the border of the picture."
WHITE_IS_CLEAR = "The picture is transparent there, with colour all round."
WHITE_ON_CLEAR = "It was drawn white in a picture that is transparent elsewhere."
WHITE_FILLS_BORDER = "It reaches the border of the picture, but so does colour all round."
WHITE_HOLDS_COLOUR = "It is enclosed, and there is colour on it."
WHITE_BETWEEN_COLOURS = "It is enclosed by more than one colour."
WHITE_ON_COLOUR = "It is on top of colour."
WHITE_ON_WHITE = "What encloses it is on top of wanted white."
WHITE_IN_OUTLINE = "A thin line runs round it: a white shape with an outline."
WHITE_IN_LETTER = "What encloses it looks alike from inside and outside, as in a letter with an outline or a shadow."
WHITE_IN_RING = "One stroke of one colour runs round it, as in a ring or a letter."

TAKING_OUT = "Taking the marking out"
BACKGROUND_TAKEN = "The background {colour} is removed from the border inwards, {percent} % of the picture."
BACKGROUND_TAKEN_ALL = "The background {colour} is removed everywhere, {percent} % of the picture."
BACKGROUND_IS_CLEAR = "The picture is already transparent round the marking."
BACKGROUND_UNEVEN = (
    "No single colour fills half of the picture's border, so nothing was removed. Raise the tolerance, or crop the "
    "picture"
    " closer first."
)
BACKGROUND_FILLED = (
    "Stripes of several colours reach the border, so the whole picture is the marking. If one of them is paper, drop"
    " it under Changes to colours, or remove its colour everywhere."
)
BACKGROUND_LEFT = "The background stays as it is."
FLAT_COLOURS = "The marking has {count} flat colours. The shades along its edges are not counted."
FLAT_COLOUR = "The marking has one flat colour. The shades along its edges are not counted."
MANY_COLOURS = (
    "Flat artwork has few colours. If some of these are one colour that was scanned unevenly, raise the colour "
    "tolerance, or"
    " type the number of colours."
)
NOT_FLAT = (
    "The picture has at least {colours} colours that form no flat areas: it is a photograph, a drawing with soft "
    "shades,"
    " or noise. Type a number of colours to reduce it to, or print it as a photograph."
)
FINE_DETAIL = (
    "A sample of the picture shows about {edges} sides of pixels at the edges of its colours, as a sheet of small "
    "letters or"
    " hatching has. The limit is {most}, so the long work did not begin."
)
FINE_DETAIL_CURE = (
    "Cut out one part and work on that alone, or enlarge the drawing before you save it as pixels. Small letters "
    "that need no change"
    " print best as the picture they are. To try it anyway, answer yes to “Try very fine detail”."
)
WORKED_SMALLER = (
    "To keep the wait short, the picture was reduced from {from_width_px} by {from_height_px} to {width_px} by "
    "{height_px}."
)
NO_INK_FOR = "No printer at home has ink for this: {names}."
WHITE_IS_BARE = "White in it stays bare film."
NOTHING_LEFT = "Every pixel is removed or transparent. Lower the tolerance, or drop fewer colours."
PICTURE_IS_CLEAR = (
    "Every pixel of the picture is transparent: it holds no marking. Save it again with the layer of the "
    "marking visible."
)
PICTURE_IS_ONE_COLOUR = (
    "The whole picture is one flat colour, {colour}: nothing separates a marking from its background."
)
ALL_IS_BACKGROUND = "So all of it was removed as background. If the colour itself is the marking, leave the background."
NO_SUCH_COLOUR = "There is no colour {number} in this picture"
COLOURS_ARE = "It has {colours}, numbered from 1."
JOINS_ITSELF = "A colour cannot join itself"
JOINS_OTHER = "Type the number of another colour."
COLOUR_NUMBERED = "Colour {number}"
JOINED_TO = "Joined to {number}"
BEFORE, AFTER = "before", "after"
CLEANED_ALT = (
    "The picture as it is, and the marking taken out of it: {colours}, {width_px} by {height_px}, with squares "
    "where it is transparent."
)
NOT_CLEANED_ALT = "The picture as it is."
PICTURE_TOO_SCATTERED = (
    "The picture has more separate pieces than this page can handle: it is noise, or a photograph. There is no result."
)
WRITING_PICTURE = "Writing the picture"

COMPARING = "Comparing the result with the picture"
STROKE_LOST = "A thin stroke is lost in 1 place, {length} px of it. A box in the drawing marks it."
STROKES_LOST = "Thin strokes are lost in {count} places, {length} px in all. Boxes in the drawing mark them."
COLOUR_MERGED = "{was} in the picture became {now}, which looks different. Dots in the drawing mark it."
COLOURS_MERGED = "{count} colours became others that look different: {changes}. Dots in the drawing mark them."
ONE_CHANGE = "{was} became {now}"
WASHED = "Thin parts look washed out: {changes}. Dots in the drawing mark them."
WASHED_JOIN = "Under changes to colours, join such a colour to the right one, or give it a new colour."
PROBABLY_WAS = "{now} was perhaps {was}"
SHAPE_LOST = "A small shape is not as it was: a point or a notch of it is lost. A box in the drawing marks it."
SHAPES_LOST = (
    "{count} small shapes are not as they were: points or notches of them are lost. Boxes in the drawing mark them."
)
GRADIENT_CUT = "The picture has a gradient, which was cut into steps of flat colour. Dots in the drawing mark it."
COLOURS_MIXED_UP = (
    "Some colours run into each other without an edge, so the border between them is a guess in places. Dots in the"
    " drawing mark it."
)
TAKEN_AS_ONE = (
    "Colours nearer than the colour tolerance were taken as one: {changes}. To keep them apart, clean the "
    "picture with a lower tolerance."
)
LOST_CURE = "Lower the colour tolerance, use a larger picture, or draw those parts again."
LOST_CURE_FLAT = "Lower the colour tolerance to keep such colours apart."
LOST_CURE_FLAT_COUNT = "Lower the colour tolerance and ask for more colours, to keep such colours apart."
LOST_CURE_COUNT = "Ask for more colours, use a larger picture, or draw those parts again."
LOST_ALT = "Losses marked: {count}."

MARK_NOT_READ = "A mark takes the number of an area or the letter of a group, then what it means"
MARK_HINT = "You typed {typed}. Type marks such as 3 hole, 5 wanted or A background, with commas between them."
NO_AREA_NUMBERED = "There is no area {number} in this picture"
AREAS_NUMBERED_TO = "It has {areas}, numbered from 1. If the mark belongs to another picture, remove it."
NO_AREAS_THERE = "It has no white areas. If the mark belongs to another picture, remove it."
AREAS_COUNTED = "Background: {background}, wanted white: {wanted}, holes: {hole}."
WHITE_NEEDED = "It needs white beneath it, or white film. Without that it is bare film, and the paint shows."
NO_BACKGROUND = (
    "There is no white or transparent background round it. If its background is a colour, take the marking out "
    "of its picture first."
)
ARE_GUESSES = "These are guesses: look at each, and change what is wrong."
MARKED_OTHERWISE = "Your marks change {guesses}."
AREAS_UNNUMBERED = "Only the largest areas have numbers. The others ({count}) follow their group, or keep their guess."
WHITES_BY_COLOUR = "It is not flat artwork, so the colour of each pixel alone decided what is white."
GUESSED = "{guess}. {why}"
GUESSED_TOGETHER = "{guess}, {count} areas: {numbers}. {why}"
NUMBERS_FROM_TO, SO_MANY_MORE = "{first} to {last}", "{count} without a number"
PAPER_GROUND = (
    "Its background is {colour}, ΔE {difference} from white: scanned or photographed paper looks like that. If it "
    "is paper,"
    " set the white tolerance to {tolerance}. Otherwise the background counts as a colour and is printed."
)
AREAS_ALT = "The picture with its areas numbered. {areas}."
NO_AREAS_ALT = "The picture. It has no white areas."
