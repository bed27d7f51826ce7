"""How the ways to get white beneath a marking are judged, in sentences."""

WAY_NOT_FOR_COLOURS = "Only white can be had this way, and white is {share} % of this marking."
WAY_MEETS_BORDER = "The patch of body colour would have to meet the border of the two paints."
WAY_NO_METALLIC = "No home printer has metallic, pearl or fluorescent colours."
WAY_NO_PRINTER = "It takes a printer that carries white, and you say there is none."
WAY_NO_SPRAY = "It takes spraying, and you say you cannot."
WAY_MANY_COLOURS = "It would take {count} stencils for as many colours; more than {most} are hardly brought into register."
WAY_PLAIN_ENOUGH = "The whole is wide enough to be cut from white film: a patch of body colour round it would only have to match."
WAY_ONE_COLOUR = "A sheet of film is sprayed in one colour, and this marking has {count}."
WAY_NO_WHITE_PAINT = "Neither paint is white, so the model has no white of its own to keep."
WAY_ON_WHITE = "It lies on the white paint already: there is nothing to mask."
WAY_PAINTED = "You say the model is painted already: the mask has to go on before the second paint."
WAY_OUTLINE_FINE = "The outline has parts of {has_mm}; narrower than {needs_mm} it cannot be done."
WAY_INSIDE_FINE = "A colour has parts of {has_mm}; narrower than {needs_mm} it cannot be done."
WAY_BORDER = "{colour} still differs by ΔE {border} across the border, more than {limit}, however much this white hides."
WAY_NOT_LEGIBLE = "{colour} is only ΔE {contrast} from the paint around it, however much this white hides."
WAY_FAR = "{colour} is ΔE {shift} from what was meant, however much this white hides."
WAY_HANGS = "It works if the white hides as much as its range allows, and not if it hides as little: measure yours first."
WAY_MATCH = "The patch must match the paint; by swatches it comes to about ΔE {match} (estimate)."
WAY_COSTS = "What counts against it most: {terms}."
WAY_NOTHING_AGAINST = "Nothing counts against it."
WAY_BETTER = "“{first}” comes first, before “{second}”. It does better on {gains}."
WAY_BETTER_LOSES = "“{first}” comes first, before “{second}”. It does better on {gains}, and worse on {losses}."
WAY_NEAREST = "No way does all that is asked here. “{first}” comes nearest. What it falls short in:"
WAY_THICKENED = "Parts of it are too narrow for every way. They are all judged as if it had no part narrower than {wide_mm}: thicken it so far, or enlarge it."
WAY_PATCH = (
    "{colour} around the white is the paint's own colour, ΔE {difference} from the paint typed here. Printed on white film it must match the"
    " paint. For every other way leave it out of the artwork."
)
WAY_UNPAINTED = "Mask before the second paint goes on. Afterwards this way is gone."
WAY_ALONE = "“{first}” is the only way that is left; the others are ruled out."
WAY_LEVEL = "“{first}” and “{second}” come out level; the first of the table stands first."
WAY_CHOSEN_OUT = "You chose “{way}”, and it is ruled out."
WAY_CHOSEN = "You chose “{way}”. {how}"
WAY_ONE_OUTLINE, WAY_OUTLINES = "It needs this outline. {outlines}", "It needs these outlines. {outlines}"
WAY_CHOKE = "Choke the white by {low_mm} to {high_mm} beneath colour."
WAY_CHOKE_WHITE = "Where white itself is the edge that is seen, along {share} % of the outline, it keeps its size."
WAY_CHOKE_ALL = "White is nowhere the edge that is seen: all of it lies within colour and is choked."
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
WAY_MORE, WAY_HOW, WAY_SPOILS = "How, with what, and what spoils it", "How", "What spoils it"
WAY_TOOLS, WAY_NEEDS = "Tools", "Outlines it needs"
WAY_COSTS_OPEN = "Cost does not count yet: no price is typed for {ways}."
WEIGHTS_ARE = "Weighed with: {weights}. Disagree? Change them in the form."
WEIGHT_NAMES = {
    "border": "border", "contrast": "contrast with the paint", "shift": "shift of colour", "edge": "edge", "register": "register",
    "wait": "waiting", "cost": "cost", "detail": "fine parts",
}  # fmt: skip
