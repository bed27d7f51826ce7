"""Questions about the sheet: what lies on it, and what the printer makes of it."""
"""Stage sheet: how does all of it fit on this film, with spares?"""
