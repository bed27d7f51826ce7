"""Lettering in a font, the reader's own or one of the site: its outlines, its kerning, and a text set in it."""
