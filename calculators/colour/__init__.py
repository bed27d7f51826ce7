"""Colour science: spaces, differences, spectra, inks, layers of white, and what is seen of them."""
