"""Drawings that calculators of several stages share."""
