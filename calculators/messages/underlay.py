"""Reasons that the calculators of the stage underlay give."""

from calculators.messages.page import PAGE

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
INK_BEYOND = (
    "No screen shows this ink at its full strength. How much red light it lets through is an estimate: print a patch of"
    " it, and look at it over the paint."
)
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
RENDERING = "Looking at it on the paint"

NOTHING_LIES_HERE = "Nothing of this picture prints, and no white in it is wanted: it is clear or background all over."
MARK_WHAT_IS_WANTED = "If white in it is wanted, mark it: tap it in the drawing below."
PART_BORDER = "{colour}, {share} % of it, differs by ΔE {border} across the border: that is seen."
PART_LOST = "{colour}, {share} % of it, is only ΔE {contrast} from {paint} around it: it is hardly made out."
PART_NO_WHITE = "{share} % of it is wanted white, and nothing white lies there: the paint is seen instead."
PART_FAR = "{colour}, {share} % of it, is ΔE {shift} from what was meant over {paint}: it reads as another colour."
PART_SHIFTS = "{colour}, {share} % of it, shifts by ΔE {shift}: beside the artwork that is seen."
ALL_AS_MEANT = "Every colour is seen as it was meant, within ΔE {within}, and no border shows."
ENDS_OF_WHITE_DIFFER = (
    "This holds if film and white hide as little as their ranges allow. If they hide as much, the verdict is another: {verdict}."
)
FINER_THAN_PRINTED = (
    "{colour} has parts about {has_mm} wide, and this printer ({printer}) holds {low_mm} at best in such a colour: at this size they"
    " run together or are lost, whatever lies beneath."
)
FINE_TO_PRINT = (
    "{colour} has parts about {has_mm} wide, and this printer ({printer}) holds {low_mm} to {high_mm} in such a colour: run the line"
    " test before you count on them."
)
FINE_WHERE = "The narrowest lie about {across} % from the left and {down} % from the top; the drawing rings them."
FINE_CURES = (
    "Thicken those strokes or gaps to {high_mm}, simplify them, leave them out, or make the marking about {wider_mm} wide. Traced outlines alone"
    " do not help: the printer's thinnest line stays."
)
FINE_SERVICE = "A printing service may hold finer lines than a printer at home: ask for its thinnest."
FINE_ALT = "{colour}: its narrowest parts are ringed."
A_COLOUR = "A colour of it"
LAYERS_FOR_ALL = "{layers} of this white on this film would do for every colour."
NO_LAYERS_FOR_ALL = "Even {layers} of this white on this film would not do for every colour."
NO_WHITE_IN_IT = "There is no wanted white in it."
ALL_WHITE = "All of it is wanted white."
STANDS_FOR = "The picture has very many colours; {count} that stand for them are told in the table."
DRAWN_WITH = "The outlines are drawn with {width} × {height} pixels to be looked at, {printed_ppi} at this width."
OUTLINES_MADE_FOR = "They were made {made_mm} wide, and are taken at the {width_mm} typed here."
MADE_SMALLER = "The picture is looked at with {width} × {height} pixels instead of {from_width} × {from_height}."
SCENE_BARE, SCENE_WHITE_FILM, SCENE_LAYERS = "Clear film, nothing beneath", "White film, nothing beneath", "{film}, {layers} of white"
SIDE_BY_SIDE_ALT = "The marking on the paints. {scenes}."
SCENE_MARKED, NOTHING_MARKED = "{scene}: {marks}", "nothing is marked"
MARK_WORDS = {kind: PAGE[f"mark_{kind}"] for kind in ("bare", "lost", "border")}
UNREAD_MARK, UNREAD_MARK_HINT = "The marks of white areas cannot be read", "Write the number of an area and a word, such as 3 hole, 5 wanted, 1 background."
NO_SUCH_AREA, AREAS_ARE = "There is no white area {number} in this picture", "Which areas it has, the page on white areas shows."
