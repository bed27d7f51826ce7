"""How the ways to get white beneath a marking are judged, in sentences."""

WAY_NOT_FOR_COLOURS = "This way gives only white, and white is {share} % of this marking."
WAY_MEETS_BORDER = "The patch of body colour would have to meet the border of the two paints."
WAY_NO_METALLIC = "No home printer has metallic, pearl or fluorescent colours."
WAY_NO_PRINTER = "It needs a printer with white, and you have none."
WAY_NO_SPRAY = "It needs spraying, and you cannot spray."
WAY_MANY_COLOURS = (
    "It would need {count} stencils, one for each colour. Few people bring more than {most} into register."
)
WAY_PLAIN_ENOUGH = (
    "The whole marking is wide enough to cut from white film, without a patch of body colour that has to match."
)
WAY_ONE_COLOUR = "A sprayed sheet of film has one colour, and this marking has {count}."
WAY_NO_WHITE_PAINT = "Neither paint is white, so the model has no white of its own to keep."
WAY_ON_WHITE = "It is on white paint already: there is nothing to mask."
WAY_PAINTED = "The model is painted already: the mask has to go on before the second paint."
WAY_OUTLINE_FINE = "The outline has parts of {has_mm}, and this way needs at least {needs_mm}."
WAY_INSIDE_FINE = "A colour has parts of {has_mm}, and this way needs at least {needs_mm}."
WAY_BORDER = (
    "{colour} still differs by ΔE {border} across the border, more than {limit}, however much this white hides."
)
WAY_NOT_LEGIBLE = "{colour} is only ΔE {contrast} from the paint around it, however much this white hides."
WAY_FAR = "{colour} is ΔE {shift} from the artwork, however much this white hides."
WAY_HANGS = (
    "It works if the white hides as much as its range allows, but not if it hides as little. Measure yours first."
)
WAY_MATCH = "The patch must match the paint. With swatches you get to about ΔE {match} (estimate)."
WAY_COSTS = "What counts against it most: {terms}."
WAY_NOTHING_AGAINST = "Nothing counts against it."
WAY_BETTER = "“{first}” comes first, before “{second}”. It does better on {gains}."
WAY_BETTER_LOSES = "“{first}” comes first, before “{second}”. It does better on {gains}, and worse on {losses}."
WAY_NEAREST = "No way does everything you ask for. “{first}” comes nearest. Where it falls short:"
WAY_THICKENED = (
    "Parts of it are too narrow for every way. The ranking takes them as {wide_mm} wide: thicken them to that, "
    "or enlarge the marking."
)
WAY_PATCH = (
    "{colour} around the white is the paint's own colour, ΔE {difference} from the paint typed here. Printed on "
    "white film it must match the"
    " paint. For every other way leave it out of the artwork."
)
WAY_UNPAINTED = "Mask before the second paint goes on. Afterwards it is too late for this way."
WAY_ALONE = "“{first}” is the only way left. All others are ruled out."
WAY_LEVEL = "“{first}” and “{second}” are equal. They are listed as in the table of ways."
WAY_CHOSEN_OUT = "You chose “{way}”, and it is ruled out."
WAY_CHOSEN = "You chose “{way}”. {how}"
WAY_ONE_OUTLINE, WAY_OUTLINES = "It needs this outline. {outlines}", "It needs these outlines. {outlines}"
WAY_CHOKE = "Choke the white by {low_mm} to {high_mm} beneath colour."
WAY_CHOKE_WHITE = "Where white itself is the visible edge, along {share} % of the outline, it keeps its size."
WAY_CHOKE_ALL = "White is nowhere the visible edge: colour surrounds all of it, so all of it is choked."
WAY_TERMS = {
    "border": "the border ({value})",
    "contrast": "contrast with the paint ({value})",
    "shift": "the shift of colour ({value})",
    "edge": "the edge ({value})",
    "register": "register ({value})",
    "wait": "waiting ({value})",
    "cost": "cost ({value})",
    "detail": "fine parts ({value})",
}
WAY_INSTEAD, WAY_AND = "{value}; the other {other}", "{one} and {other}"
DETAIL_DOWN_TO, EDGE_UM = "down to {low_mm}", "{low} to {high} µm"
ONE_PIECE, PIECES, NO_PIECES = "1 piece", "{count} pieces", "nothing"
PIECES_WITHIN = "{pieces}, within {low_mm} to {high_mm}"
NO_WAIT, HOURS_WAIT, DAYS_WAIT, MINUTES_WAIT = "none", "{low} to {high} h", "{low} to {high} d", "{low} to {high} min"
NO_TOOLS = "none beyond a printer and a knife"
WANTED_WHITE, PRINTED_COLOUR = "Wanted white", "Printed colour"
WAY_CHOOSE, WAY_IS_CHOSEN = "Choose this way", "Chosen"
WAYS_OUT = "Ruled out: {ways}, each with its reason"
WAY_ORDER = "Why in this order, and what it needs"
WAY_MORE, WAY_HOW, WAY_SPOILS = "How, with what, and what spoils it", "How", "What spoils it"
WAY_TOOLS, WAY_NEEDS = "Tools", "Outlines it needs"
WAY_COSTS_OPEN = "Cost does not count yet: there is no price for {ways}."
WEIGHTS_ARE = "Weights: {weights}. You can change them in the form."
WEIGHT_NAMES = {
    "border": "border",
    "contrast": "contrast with the paint",
    "shift": "shift of colour",
    "edge": "edge",
    "register": "register",
    "wait": "waiting",
    "cost": "cost",
    "detail": "fine parts",
}
