"""Colour science: spaces, differences, spectra, inks, layers of white, and their visible colours."""
