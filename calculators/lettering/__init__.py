"""Lettering drawn by published rules: sizes of a rule, an alphabet of strokes, lines of text, and marks of ships.

``fonts`` sets a text in a font in place of that.
"""

#: Letters slant by no more than this where the rule says nothing, in degrees (estimate).
MOST_SLANT = 30.0
#: Corners and styles of characters.
ROUND, SQUARE = "round", "square"
SOLID, STENCILLED = "solid", "stencilled"
#: Where letters come from: the rule's alphabet, a font of the site, or the reader's own.
BY_RULE, SANS, SLAB, CONDENSED, OWN_FONT = "rule", "sans", "slab", "condensed", "own-font"
FONTS = (SANS, SLAB, CONDENSED, OWN_FONT)
#: What the height of letters in a font is measured by.
CAPITALS, FIGURES = "capitals", "figures"
#: The line on which letters in a font stand.
STRAIGHT, ARCH, BOWL = "straight", "arch", "bowl"
