"""Reasons that the calculators of the stage underlay give."""

from calculators.messages.page import PAGE

THE_PAINT, FIRST_PAINT, SECOND_PAINT = "the paint", "the first paint", "the second paint"
BORDER_HIDDEN = (
    "Over the two paints the marking differs by ΔE {border}, within the limit of {limit}: nobody notices the border."
)
BORDER_SHOWS = (
    "Over the two paints the marking differs by ΔE {border}, more than the limit of {limit}: the border shows."
)
NOT_LEGIBLE = (
    "Over {paint} it looks {seen}, only ΔE {contrast} from the paint around it, and {lightness} in lightness of 100:"
    " it is hard to see."
)
FAR_FROM_MEANT = "Over {paint} it is ΔE {shift} from the artwork: it looks like another colour."
SHIFTED = "Over {paint} it is ΔE {shift} from the artwork: side by side you see the shift."
AS_MEANT = "It looks as the artwork does, within ΔE {within}."
INK_BEYOND = (
    "No screen shows this ink at its full strength. How much red light it lets through is an estimate: print a patch"
    " and look at it over the paint."
)
INKS_BEYOND = (
    "No screen shows these inks at their full strength: {colours}. How much light they let through is an estimate: "
    "print a patch of each, and look"
    " at it over the paint."
)
PAPER_TAKEN = (
    "Its ground {colour} is {difference} ΔE from white. It was taken to be off-white paper, which does not print."
)
NO_WHITE_NEEDED = "No white is needed to hide the border."
LAYERS_HIDE = (
    "To hide the border you need {layers} of this white beneath, even if it hides as little as its range allows."
)
LAYERS_NEVER = "Even with {layers} of this white beneath, the border may still show."
LAYERS, ONE_LAYER = "{count} layers", "1 layer"
LAYERS_READ = "To make it easy to see you need {layers} of this white beneath."
ENDS_DIFFER = (
    "All this holds if the film and the white hide as little as their ranges allow. If they hide as much as their "
    "ranges"
    " allow, the verdict changes: {verdict}."
)
HIDES_LEAST, HIDES_MOST = "Hides as little as its range allows", "Hides as much as its range allows"
AS_IT_IS_MEANT, AS_IT_IS_SEEN = "artwork, on white paper", "what you see, over the paint"
INK, WHITE_BENEATH = "ink", "white, {layers}"
SWATCHES_ALT = "The artwork is {meant}. You see {seen_a} over {base_a} and {seen_b} over {base_b}."
SECTION_ALT = "The layers from the paint up: two paints, {layers} of white, {film}, ink. Not to scale."
CHART_BORDER, CHART_CONTRAST = "border", "against the paint"
CHART_LIMIT, CHART_LEGIBLE, CHART_LAYERS = "limit", "hard to see", "layers of white beneath"
CHART_KEY = "Solid lines: hides as little as its range allows. Dashed lines: as much."
CHART_ALT = (
    "The difference across the border, and the smallest difference from the paint around it, for 0 to {most} "
    "layers of white."
    " With {count} the border is ΔE {border_low} to {border_high}, the other ΔE {contrast_low} to {contrast_high}."
)
MEASURING_PARTS = "Measuring the narrowest parts"
RENDERING = "Showing it on the paint"

NOTHING_LIES_HERE = (
    "Nothing in this picture prints, and none of its white is wanted: all of it is transparent or background."
)
MARK_WHAT_IS_WANTED = "If white in it is wanted, mark it: tap it in the drawing below."
PART_BORDER = "{colour}, {share} % of it, differs by ΔE {border} across the border: you see that."
PART_LOST = "{colour}, {share} % of it, is only ΔE {contrast} from {paint} around it: it is hard to see."
PART_NO_WHITE = "{share} % of it is wanted white, and there is nothing white there: you see the paint instead."
PART_FAR = "{colour}, {share} % of it, is ΔE {shift} from the artwork over {paint}: it looks like another colour."
PART_SHIFTS = "{colour}, {share} % of it, shifts by ΔE {shift}: beside the artwork you see that."
ALL_AS_MEANT = "Every colour looks as it does in the artwork, within ΔE {within}, and no border shows."
ENDS_OF_WHITE_DIFFER = (
    "This holds if film and white hide as little as their ranges allow. If they hide as much, the verdict "
    "changes: {verdict}."
)
FINER_THAN_PRINTED = (
    "{colour} has parts about {about_mm} wide, and this printer ({printer}) holds {low_mm} at best in such a colour. "
    "At this size they"
    " run together or vanish, whatever is beneath."
)
FINE_TO_PRINT = (
    "{colour} has parts about {about_mm} wide, and this printer ({printer}) holds {low_mm} to {high_mm} in such a "
    "colour. Run the line"
    " test before you rely on them."
)
FINE_STRICTEST = (
    "The width you typed is judged by the strictest of the colours. In black this printer holds {low_mm} to {high_mm}."
)
FINE_WHERE = "The narrowest parts are about {across} % from the left and {down} % from the top. The drawing rings them."
FINE_CURES = (
    "Thicken those strokes or gaps to {high_mm}, simplify them, leave them out, or make the marking about "
    "{up_to_mm} wide. Tracing outlines does"
    " not help: the printer's thinnest line stays the same."
)
FINE_SERVICE = "A printing service may hold finer lines than a printer at home: ask for its thinnest."
FINE_ALT = "{colour}: rings mark its narrowest parts."
A_COLOUR = "A colour of it"
LAYERS_FOR_ALL = "With this film, every colour works over {layers} of this white."
NO_LAYERS_FOR_ALL = "With this film, not every colour works even over {layers} of this white."
NO_WHITE_IN_IT = "There is no wanted white in it."
ALL_WHITE = "All of it is wanted white."
STANDS_FOR = "The picture has very many colours. The table lists {count} that represent them."
DRAWN_WITH = "For this check the outlines become {width} × {height} pixels, {printed_ppi} at this width."
OUTLINES_MADE_FOR = "They were made {made_mm} wide. This page uses the {width_mm} typed here."
MADE_SMALLER = "For this check the picture is reduced from {from_width} × {from_height} to {width} × {height} pixels."
SCENE_BARE, SCENE_WHITE_FILM, SCENE_LAYERS = (
    "Clear film, nothing beneath",
    "White film, nothing beneath",
    "{film}, {layers} of white",
)
SIDE_BY_SIDE_ALT = "The marking on the paints. {scenes}."
SCENE_MARKED, NOTHING_MARKED = "{scene}: {marks}", "nothing is marked"
MARK_WORDS = {kind: PAGE[f"mark_{kind}"] for kind in ("bare", "lost", "border")}
UNREAD_MARK, UNREAD_MARK_HINT = (
    "A mark takes the number of an area, then what it means",
    "Type the number of an area and a word, such as 3 hole, 5 wanted, 1 background.",
)
NO_SUCH_AREA, AREAS_ARE = (
    "There is no white area {number} in this picture",
    "The drawing of the white areas shows all numbers.",
)
