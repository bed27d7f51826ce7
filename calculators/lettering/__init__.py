"""Lettering drawn by published rules: sizes of a rule, an alphabet of strokes, lines of text, and marks of ships."""

#: Letters slant by no more than this where the rule says nothing, in degrees (estimate).
MOST_SLANT = 30.0
#: Corners and styles of characters.
ROUND, SQUARE = "round", "square"
SOLID, STENCILLED = "solid", "stencilled"
