"""The calculators of the bench book: one declaration each, read by page, command line and tests.

Nothing in here knows a browser or a site. ``catalogue`` finds the calculators, ``answer`` runs one.
"""
