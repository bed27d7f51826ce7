"""Lettering drawn by published rules: sizes of a rule, an alphabet of strokes, lines of text, and marks of ships."""
