"""Every sentence that code says to a reader, in one place.

Labels and help stand in the declarations; prose stands in ``content/``. Here are the sentences
about what was typed (problems and their hints), the reasons that calculators give, and the words
of the page's own scripts (``PAGE``), which the site hands to them as JSON.
"""

# -- What was typed -------------------------------------------------------------------------------

ENTER = "Enter {label}"
BETWEEN = "{Label} must be between {low} and {high}{unit}"
NOT_A_NUMBER = "{Label} must be a number"
NOT_WHOLE = "{Label} must be a whole number"
NOT_A_LENGTH = "{Label} must be a length"
NOT_A_RATIO = "{Label} must be a scale such as 1:72"
NOT_ON_LIST = "{Label} must be one of the list"
NOT_YES_OR_NO = "{Label} must be yes or no"
NOT_A_COLOUR = "{Label} must be a colour such as #7a2232"
NOT_A_POINT = "{Label} must be a point such as 120, 40"
POINT_BETWEEN = "{Label} must be between {low} and {high} px from the left and from the top"
OUTSIDE_PICTURE = "{Label} lies outside the picture"
TOO_LONG = "{Label} must be at most {most} characters long"
NOT_TEXT = "{Label} must be text"
NOT_ROWS = "{Label} must be a list of rows"
TOO_FEW_ROWS = "{Label} must have at least {fewest} {rows}"
TOO_MANY_ROWS = "{Label} must have at most {most} rows"
UNKNOWN_FIELD = "There is no field “{name}” here"
UNKNOWN_FILE_FIELD = "No file belongs to “{name}”"
CHOOSE_FILE = "Choose {label}"
NOT_A_FILE = "{Label} must be a file"
FILE_CONTRADICTS = "{Label} is {read} in the picture, but {typed} is typed"

TYPED = "You typed {typed}."
UNKNOWN_LENGTH_UNIT = "You typed {typed}. Use mm, cm, m, in, ft or thou."
NOT_ONE_LENGTH = "You typed {typed}. Type one length, such as 12 mm, 0.5 in or 1'6\"."
NOT_ONE_NUMBER = "You typed {typed}. Type one number."
UNIT_OR_NONE = "Type the number alone, or with {unit}."
DIGITS_ONLY = "Type the number alone."
NOT_READ = "You typed {typed}. Type digits, such as 12 or 0.5."
NOT_TWO_NUMBERS = "You typed {typed}. Type two numbers: pixels from the left, then pixels from the top."
PICTURE_IS_SO_LARGE = "It is at {x_px}, {y_px}; the picture has {width_px} × {height_px} px."
DIVIDED_BY_ZERO = "You typed {typed}. Nothing can be divided by 0."
SEPARATORS = "You typed {typed}. Use one point or comma, and only for the decimals."
COMMA_THOUSANDS = "You typed {typed}. Type {joined} for the large number, or {pointed} for the small one."
MUST_BE_WHOLE = "You typed {typed}. Leave out the decimals."
RATIO_OR_NAME = "Type a ratio such as 1:43.5, or a name from the list."
SEVERAL_SCALES = "{typed} may be {names}. Type the ratio."
LEAVE_OUT = "Or leave it out: {without}"
DID_YOU_MEAN = "Did you mean {meant}?"
ON_THE_LIST = "The list has {names}."
FIELDS_ARE = "The fields are {names}."
COLOUR_HINT = "Type # and six of the characters 0 to 9 and a to f."
COLOUR_OR_NAME = "Type # and six of the characters 0 to 9 and a to f, or a name from the list."
YES_OR_NO_HINT = "Type yes or no."
TAKE_PICTURE_OR_TYPE = "Remove the picture to type another number, or leave the number to the picture."
NO_CALCULATOR = "There is no calculator “{name}”"
CALCULATORS_ARE = "The calculators are {names}."
FIELD_EQUALS_PATH = "A file is given as FIELD=PATH, not as {typed}"
TEXTS_IN_QUOTES = "Write it as text, in quotation marks."
NOT_JSON = "The input must be a JSON object of texts"
NO_FILE_THERE = "The file {path} cannot be read: {why}"

# -- Files that are read --------------------------------------------------------------------------

EMPTY_FILE = "{name} is empty"
NOT_A_PICTURE = "{name} is not a picture that can be read here"
PICTURE_KINDS = "Pictures may be PNG, JPEG, GIF, WebP, BMP, TIFF or SVG. The file begins like {seen}."
CUT_SHORT = "{name} ends before its {kind} header does"
CUT_SHORT_HINT = "It was probably not copied whole. Fetch it again from where it came."
BAD_HEADER = "{name} is a {kind} file with a header that makes no sense"
BAD_HEADER_HINT = "Open it in a drawing program and save it again."
TOO_MANY_PIXELS = "{name} has {width_px} × {height_px} pixels, more than can be worked on"
TOO_MANY_PIXELS_HINT = "Up to {most_px} pixels a side and {megapixels} million in all. Save a smaller copy."
PIXELS_NOT_DECODED = "The pixels of {name} cannot be decoded here"
PIXELS_NOT_DECODED_HINT = "It may be damaged. Open it in a drawing program, save it as PNG and choose that file."
NO_DECODER = "{name} is a {kind}, and browsers do not decode that"
NO_DECODER_HINT = "Open it in a drawing program, save it as PNG, which loses nothing, and choose that file."
OUTLINES_HAVE_NO_PIXELS = "{name} is a drawing of outlines and has no pixels"
OUTLINES_HAVE_NO_PIXELS_HINT = "Choose a PNG, JPEG, GIF, WebP or BMP file."

# -- Reasons: size --------------------------------------------------------------------------------

STROKE_PRINTS = (
    "{what} is {stroke_mm} on the model. The printer holds {printed_low_mm} to"
    " {printed_high_mm}, and an eye at {distance_mm} sees {seen_mm}: it prints, and it is seen."
)
STROKE_DEPENDS = (
    "{what} is {stroke_mm} on the model. Printers of this kind hold {printed_low_mm} at best"
    " and {printed_high_mm} at worst: print the line test before you trust it."
)
STROKE_TOO_FINE = (
    "The thinnest line is {stroke_mm} on the model, below the {printed_low_mm} that printers of this"
    " kind hold at best: it will break up or vanish."
)
STROKE_UNSEEN = (
    "{what} is {stroke_mm} on the model. At {distance_mm} an eye resolves {seen_mm}, so it"
    " prints but is seen as a tint at most."
)
THINNEST_LINE, WHOLE_MARKING = "The thinnest line", "The whole marking"
TYPE_THINNEST_LINE = "Type its thinnest line to have that judged."

# -- Size from a picture --------------------------------------------------------------------------

SAVE_AS_PIXELS = "Save it as PNG, at least 2000 pixels wide, and choose that file."
POINTS_TOO_NEAR = "The two ends lie on each other"
MOVE_POINTS_APART = "Put them on the two ends of the length, at least a pixel apart."
BEYOND_HORIZON = "This point lies beyond the horizon of the panel"
BEYOND_HORIZON_HINT = "No point of the panel is seen there. Check the four corners, then this point."
CORNER_PLACES = ("top left", "top right", "bottom right", "bottom left")
CORNERS_CROSSED = "The {one} and {other} corners look swapped"
CORNERS_IN_ORDER = "As they stand the sides of the rectangle cross. Exchange the two."
CORNER_DENTED = "The {corner} corner lies between the other three"
CORNERS_ON_LINE = "The {corner} corner lies on one line with its neighbours"
CORNER_WHERE_EDGES_MEET = "From wherever a rectangle is seen, its corners stand out. Put it where the two edges meet."
LENGTH_CLOSE = (
    "If every point is right to one pixel either way, the marking is right to {plus_minus_mm} on the model,"
    " {share} % of its size. By hand nobody places it closer."
)
LENGTH_FREE = (
    "If every point is right to one pixel either way, the marking is right to {plus_minus_mm} on the model,"
    " {share} % of its size. That is not seen on a marking that stands free; one that must meet an edge may miss it."
)
LENGTH_ROUGH = (
    "If every point is right to one pixel either way, the marking is right only to {plus_minus_mm} on the model,"
    " {share} % of its size."
)
#: By what weighs most in the uncertainty.
POINTS_WEIGH = {
    "mark": "Most of that comes from the ends of the marking: use a picture in which it is larger.",
    "known": "Most of that comes from the ends of the known length: choose one that is longer in the picture.",
    "corners": "Most of that comes from the corners: choose a larger rectangle, or one that the marking lies inside.",
}
SCALE_AGREES = (
    "By the second length your model is 1:{true}, give or take {error}. That agrees with 1:{stated};"
    " {fitted_mm} fits it best."
)
SCALE_DIFFERS = (
    "By the second length your model is 1:{true}, give or take {error}, and not 1:{stated}."
    " To fit your own model, make the marking {fitted_mm}."
)

# -- Reasons: artwork -----------------------------------------------------------------------------

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

# -- Reasons: underlay ----------------------------------------------------------------------------

THE_PAINT, FIRST_PAINT, SECOND_PAINT = "the paint", "the first paint", "the second paint"
BORDER_HIDDEN = (
    "Over the two paints the marking differs by ΔE {border}, no more than the limit of {limit}: the border is not noticed."
)
BORDER_SHOWS = "Over the two paints the marking differs by ΔE {border}, more than the limit of {limit}: the border shows."
NOT_LEGIBLE = (
    "Over {paint} it is seen as {seen}, only ΔE {contrast} from the paint around it, and {lightness} in lightness of 100:"
    " it is hardly made out."
)
FAR_FROM_MEANT = "Over {paint} it is ΔE {shift} from what was meant: it reads as another colour."
SHIFTED = "Over {paint} it is ΔE {shift} from what was meant: beside the artwork the shift is seen."
AS_MEANT = "It is seen as it was meant, within ΔE {within}."
NO_WHITE_NEEDED = "No white is needed to hide the border."
LAYERS_HIDE = "It takes {layers} of this white beneath to hide the border, even if each hides as little as its range allows."
LAYERS_NEVER = "Even {layers} of this white beneath may leave the border to be seen."
LAYERS, ONE_LAYER = "{count} layers", "1 layer"
LAYERS_READ = "To be made out it takes {layers} of this white beneath."
ENDS_DIFFER = (
    "All this holds if the film and the white hide as little as their ranges allow. If they hide as much as their ranges"
    " allow, the verdict is another: {verdict}."
)
HIDES_LEAST, HIDES_MOST = "Hides as little as its range allows", "Hides as much as its range allows"
AS_IT_IS_MEANT, AS_IT_IS_SEEN = "as meant, on white paper", "as seen, over the paint"
INK, WHITE_BENEATH = "ink", "white, {layers}"
SWATCHES_ALT = "Meant as {meant}. Seen as {seen_a} over {base_a} and as {seen_b} over {base_b}."
SECTION_ALT = "The layers from the paint up: two paints, {layers} of white, {film}, ink. Not to scale."
CHART_BORDER, CHART_CONTRAST = "border", "against the paint"
CHART_LIMIT, CHART_LEGIBLE, CHART_LAYERS = "limit", "hardly made out", "layers of white beneath"
CHART_KEY = "Full lines: hides as little as its range allows. Dashes: as much."
CHART_ALT = (
    "The difference across the border, and the least difference from the paint around, for 0 to {most} layers of white."
    " With {count} the border is ΔE {border_low} to {border_high}, the other ΔE {contrast_low} to {contrast_high}."
)

# -- Printed on a sheet ---------------------------------------------------------------------------

BAR_LABEL = "100 mm"
PRINT_AT_TRUE_SIZE = "Print at 100 %, no fit to page"
MEASURE_BARS = "Measure both bars, from outer edge to outer edge of the ticks: each must be 100 mm."
LADDER_HEADING = "Thinnest line, mm"
LADDER_COLUMNS = ("dark on bare film", "reversed out")

# -- A picture looked into ------------------------------------------------------------------------

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

# -- The page's own words -------------------------------------------------------------------------

#: Read by the scripts of the page under these keys; {braces} are filled there.
PAGE: dict[str, str] = {
    # the form, as printed
    "needs_script": "Without JavaScript this page is a worked example: the form below cannot answer.",
    "optional": "optional",
    "left_out": "Left out, {without}",
    "choose_picture": "Choose a picture, drop it here or paste it",
    "choose_file": "Choose a file or drop it here",
    "take_photograph": "Take a photograph",
    "remove_file": "Remove",
    "eyedropper": "Pick it from a picture",
    "eyedropper_touch": "Touch the picture where the colour is, or move with the arrow keys.",
    "eyedropper_unreadable": "{name} cannot be shown here. Choose a photograph or a drawing: PNG, JPEG, WebP or SVG.",
    "row": "Row",
    "add_row": "Add a row",
    "remove_row": "Remove this row",
    "copy_link": "Copy link",
    "reset": "Back to the worked example",
    "inputs": "What is asked",
    "input_label": "Field",
    "input_takes": "Takes",
    "input_default": "Unless you say otherwise",
    "input_name": "Name on the command line",
    "takes_yes_no": "yes or no",
    "takes_text": "text",
    "takes_colour": "a colour such as #7a2232",
    "takes_point": "a point in the picture: pixels from the left, pixels from the top",
    "takes_picture": "a picture file",
    "only_where_is": "Only where “{label}” is “{value}”.",
    "only_where_given": "Only where “{label}” is given.",
    "takes_file": "a file",
    # the answer
    "answer": "Answer",
    "worked_example": "Worked example",
    "starting": "Worked example. Starting…",
    "older_answer": "The answer to what was typed before",
    "sources": "Sources:",
    "common_practice": "common practice",
    "working": "Working…",
    "stop": "Stop",
    "try_again": "Try again",
    "details": "Details for a report",
    "save_file": "Save {name} ({size})",
    "one_problem": "One thing to put right",
    "several_problems": "{count} things to put right",
    # what kept it from being answered
    "no_engine_title": "The calculator has not started",
    "no_engine_text": "What you typed is kept. The network may have been lost while it was fetched.",
    "fault_title": "The calculator failed",
    "fault_text": "We are sorry: the fault is ours, not yours. What you typed is kept.",
    "too_long_title": "That took too long",
    "too_long_text": "It was ended after {limit} seconds. What you typed is kept.",
    "stopped_title": "Stopped",
    "stopped_text": "You stopped it. What you typed is kept.",
    # files
    "from_picture": "Read from the picture",
    "picture_facts": "{width} × {height} px, {size}",
    "file_too_big": "{name} has {size}, more than the {most} that can be read here.",
    "file_unreadable": "{name} could not be read. It may have been moved, or it may be a folder.",
    "file_not_kept": "The file is used now but not kept for the next visit: this page was not served over https.",
    # tables of data
    "filter_rows": "Show rows with these words",
    "rows_shown": "{shown} of {all} rows",
    "rows_all": "{all} rows",
    "sort_by": "Sort by {column}",
    "sorted_up": "{rows}, sorted by {column}",
    "sorted_down": "{rows}, sorted by {column}, backwards",
    "table_as_files": "The whole table, with every source:",
    "back_to_table": "Back to the table",
    "row_has_moved": "This is found under another name now:",
    "bare_print": "(its bare print)",
    "values_row": "Row",
    "values_part": "What",
    "values_value": "Value",
    "values_source": "Source",
    "status_read": "Read",
    "status_read_means": "Read in the document, or in the copy that its source names.",
    "status_package": "From a package",
    "status_package_means": "Carried by a software package whose version the source names.",
    "status_computed": "Computed",
    "status_computed_means": "Worked out from the rule that the source gives.",
    "status_common_practice": "Common practice",
    "status_common_practice_means": "What the trade does; nothing published was read. A row without a value means its words.",
    "status_memory": "From memory",
    "status_memory_means": "Known, but not looked up. Check before you rely on it.",
    # points on a picture, and the loupe
    "points": "Points on the picture",
    "point_at": "x {x}, y {y}",
    "points_smaller": "Smaller picture",
    "points_larger": "Larger picture",
    "points_whole": "Fit",
    "points_help": "Drag the points to their places. Arrow keys move one by 1 px, with Shift by 10, with Alt by 0.1.",
    "points_spread": "The points of the worked example were spread over this picture. Put each in its place.",
    "points_outside": "Some points lie outside this picture, where the one before was larger.",
    "points_bring_in": "Bring them in",
    "points_unseen": "This browser cannot show the picture. Type the points.",
    "loupe": "Loupe",
    "loupe_times": "{times} times",
    "loupe_step": "Loupe {times} times",
    "loupe_keys": "Arrow keys move it, Escape closes it.",
    # where values come from
    "close": "Close",
    "undo": "Undo",
    "reset_done": "The worked example is back.",
    "link_copied": "A link with these values is on the clipboard.",
    "link_by_hand": "Copy this link; it carries these values.",
    "link_without_files": "Files and pictures are not in it.",
    "from_link": "These values came from a link. Your own are kept until you change something here.",
    "own_values": "Back to my own values",
    "link_version": "This link was made by another version ({version}) of this page and cannot be read here.",
    "link_unknown": "The link names what this calculator does not ask for: {names}.",
    "other_tab_taken": "These values were changed in another tab.",
    "other_tab_waits": "This calculator was changed in another tab. What you type here will replace that.",
    "take_them": "Take the values of the other tab",
    "unkept_unavailable": "This browser keeps nothing for this site, so what you type is gone when the page is closed.",
    "unkept_newer": "A newer version of this site keeps your values. They are left alone; what you type here is not kept.",
    "unkept_older": "Values kept by an older version of this site could not be read. They are left alone; what you type here is not kept.",
    "unkept_failed": "What you typed could not be kept: this device may have run out of room.",
    # the header
    "show_inches": "Show lengths in inches",
    "show_millimetres": "Show lengths in millimetres",
    "offline_off": "Save for offline",
    "offline_saving": "Saving … {percent} %",
    "offline_ready": "Ready offline",
    "offline_failed": "Not saved. Try again",
    "offline_full": "No room to save it",
    "offline_unavailable": "Cannot be saved here",
}


def quoted(text: str, most: int = 40) -> str:
    """Return ``text`` in quotation marks for a hint, shortened in the middle where it is long.

    >>> quoted("12 parsecs"), quoted("x" * 60, 9)
    ('“12 parsecs”', '“xxxx…xxxx”')
    """
    shown = "".join(character if character.isprintable() else "�" for character in text)
    if len(shown) > most:
        half = (most - 1) // 2
        shown = f"{shown[:half]}…{shown[-half:]}"
    return f"“{shown}”"


def as_subject(label: str) -> str:
    """Return ``label`` to begin a sentence with."""
    return label[:1].upper() + label[1:]


def in_sentence(label: str) -> str:
    """Return ``label`` for the middle of a sentence: abbreviations keep their capitals.

    >>> in_sentence("Printed width"), in_sentence("SVG file")
    ('printed width', 'SVG file')
    """
    return label if label[1:2].isupper() else label[:1].lower() + label[1:]
