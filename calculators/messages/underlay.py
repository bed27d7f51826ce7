"""Reasons that the calculators of the stage underlay give."""

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
RENDERING = "Looking at it on the paint"
